"""A wire that is cut shorter than what is stripped at its two ends."""

from harnessgen.evidence.finding import Finding, Number, Severity
from harnessgen.lengths.wire_length import has_way
from harnessgen.network.network import Network
from harnessgen.network.wires import EndKind, WireEnd
from harnessgen.physics.physics import Physics

RULE = "shorter-than-ends"


def check(physics: Physics) -> list[Finding]:
    """One finding for each wire of which nothing is left between its stripped ends, at its shortest."""
    found = []
    for wire in physics.network.wires:
        length = physics.lengths[wire.mark]
        strips = [_strip_mm(physics.network, end) for end in wire.ends]
        # One without a way is not cut by the list but measured between its ends.
        if not has_way(wire, length) or length.available_mm.value > sum(strips):
            continue
        numbers = (
            Number("cut", length.available_mm.value, "mm", f"length of {wire.mark}", 1),
            Number("stripped", sum(strips), "mm", f"at {wire.a} and {wire.b} together", 1),
        )
        message = f"Wire {wire.mark} is shorter than what is stripped at its ends."
        mend = f"measure the way between {wire.a} and {wire.b}, or give {wire.mark} slack"
        found.append(Finding(RULE, Severity.ERROR, wire.mark, wire.place, message, numbers, mend=mend))
    return found


def _strip_mm(network: Network, end: WireEnd) -> float:
    if end.kind is EndKind.SPLICE:
        return network.splice_part(end.designator).strip_mm.value
    contact = network.contact_at(end)
    return contact.strip_mm.value if contact is not None else 0.0
