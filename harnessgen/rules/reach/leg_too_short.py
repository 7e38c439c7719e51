"""A wire that is cut shorter than the route needs."""

import math

from harnessgen.evidence.finding import Finding, Number, Proposal, Severity
from harnessgen.measures.quantity import Quantity, plain_number, tolerance_text
from harnessgen.network.wires import Wire
from harnessgen.physics.physics import Physics
from harnessgen.physics.wire_length import WireLength

RULE = "leg-too-short"
# Lengths are sums of floats; a millionth of a millimetre is rounding.
_ROUNDING_MM = 1e-6


def check(physics: Physics) -> list[Finding]:
    """One finding for each wire with a stated cut length that may not reach at the far end of every tolerance."""
    return [
        _finding(wire, physics.lengths[wire.mark])
        for wire in physics.network.wires
        if wire.cut_mm is not None and physics.lengths[wire.mark].margin_mm < -_ROUNDING_MM
    ]


def _finding(wire: Wire, length: WireLength) -> Finding:
    short_mm = math.ceil(-length.margin_mm * 10 - 10 * _ROUNDING_MM) / 10
    least_mm = length.cut_mm - length.shortest_available_mm
    factor = plain_number(length.coverage.value.value)
    needed = (
        f"{length.needed_mm:.1f} mm and {length.expanded_mm:.1f} mm for how well the route is measured (k = {factor})"
    )
    available = f"cut to {plain_number(length.cut_mm, 1)} mm"
    if least_mm:
        own = length.given_mm is not None and (length.given_mm.plus or length.given_mm.minus)
        why = "its own tolerance" if own else f"cutting tolerance, {length.cutting.source}"
        available += f", less {plain_number(least_mm, 1)} mm: {why}"
    return Finding(
        RULE,
        Severity.ERROR,
        wire.mark,
        wire.cut_place,
        f"Wire {wire.mark} is {short_mm:.1f} mm too short for its way from {wire.a} to {wire.b}.",
        (
            Number("needed", length.longest_need_mm, "mm", needed, 1),
            Number("available", length.shortest_available_mm, "mm", available, 1),
        ),
        proposals=(_longer(wire, length, least_mm),),
    )


def _longer(wire: Wire, length: WireLength, least_mm: float) -> Proposal:
    """The smallest cut length on the bench's step that still reaches, with the tolerance as the design states it."""
    step_mm = length.step.value.value
    cut_mm = math.ceil((length.longest_need_mm + least_mm) / step_mm - _ROUNDING_MM) * step_mm
    tolerance = tolerance_text(length.given_mm or Quantity(0.0), 3)
    text = " ".join(part for part in (plain_number(cut_mm), tolerance, "mm") if part)
    return Proposal(wire.cut_place, text, f"cut: {text}")
