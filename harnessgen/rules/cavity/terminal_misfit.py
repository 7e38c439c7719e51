"""A wire whose copper the terminal at its end, or the barrel of its splice, does not hold."""

from collections.abc import Iterator

from harnessgen.evidence.finding import Finding, Number, Severity
from harnessgen.network.network import Network
from harnessgen.network.wires import EndKind, Wire, WireEnd
from harnessgen.parts.covering import SplicePart
from harnessgen.parts.terminal import Contact

RULE = "terminal-misfit"


def check(network: Network) -> list[Finding]:
    """One finding for each end of a wire that does not fit."""
    return [finding for wire in network.wires for end in wire.ends for finding in _misfit(network, wire, end)]


def _misfit(network: Network, wire: Wire, end: WireEnd) -> Iterator[Finding]:
    part: Contact | SplicePart | None = network.contact_at(end)
    if end.kind is EndKind.SPLICE:
        part = network.splice_part(end.designator)
    if part is None:
        # A shield's free end is cut back and crimped to nothing.
        return
    area = wire.figures.area_mm2.value
    lowest, highest = part.from_mm2.value, part.to_mm2.value
    # Of a splice only one side's sum has to reach the lower bound, so that a thin branch alone is no misfit.
    if area <= highest and (area >= lowest or end.kind is EndKind.SPLICE):
        return
    word = "thick" if area > highest else "thin"
    message = f"Wire {wire.mark} is too {word} for the {part.name} at {end}."
    bound = highest if area > highest else lowest
    numbers = (
        Number("copper", area, "mm2", f"{wire.size} of {wire.family.name}"),
        Number("takes", bound, "mm2", f"{'at most' if area > highest else 'at least'}, {part.publication}"),
    )
    mend = f"a size from {lowest:g} to {highest:g} mm2, or a terminal that takes this one"
    yield Finding(RULE, Severity.ERROR, wire.mark, wire.size_place, message, numbers, mend=mend)
