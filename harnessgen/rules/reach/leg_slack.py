"""A wire of stated length that is much longer than the route needs."""

from harnessgen.design.limits.table import Limit, limit
from harnessgen.evidence.finding import Finding, Number, Severity, at_most
from harnessgen.lengths.wire_length import WireLength
from harnessgen.network.wires import Wire
from harnessgen.physics.physics import Physics
from harnessgen.rules.reach.leg_too_short import available_words

RULE = "leg-slack"


def check(physics: Physics) -> list[Finding]:
    """One finding for each wire that is longer, even at its shortest, than it can need by more than the limit."""
    found: list[Finding] = []
    for wire in physics.network.wires:
        length = physics.lengths[wire.mark]
        most = limit("most-slack", wire.limits, physics.network.design.limits)
        if wire.cut_mm is not None and length.margin_mm > most.value.value:
            found.append(_finding(wire, length, most))
    return found


def _finding(wire: Wire, length: WireLength, most: Limit) -> Finding:
    needed = f"{length.longest_need_mm:.1f} mm, and {most.value.value:.1f} mm: {most.source}"
    numbers = (
        Number("available", length.shortest_available_mm, "mm", available_words(length), 1),
        Number("wanted at most", length.longest_need_mm + most.value.value, "mm", needed, 1),
    )
    return Finding(
        RULE,
        Severity.NOTE,
        wire.mark,
        wire.cut_place,
        f"Wire {wire.mark} is {length.margin_mm:.1f} mm longer than its way from {wire.a} to {wire.b} can need.",
        numbers,
        mend=f"take up {length.margin_mm:.1f} mm, or cut it to {length.longest_need_mm:.1f} mm plus its tolerance",
        deciding=at_most(*numbers),
    )
