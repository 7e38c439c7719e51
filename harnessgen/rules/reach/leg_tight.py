"""A wire of stated length that reaches, and by a margin so small that it may well turn out too short."""

from typing import TYPE_CHECKING

from harnessgen.design.limits.table import limit
from harnessgen.evidence.finding import Finding, Number, Proposal, Severity, at_most
from harnessgen.lengths.wire_length import WireLength
from harnessgen.measures.quantity import plain_number
from harnessgen.network.wires import Wire
from harnessgen.physics.physics import Physics
from harnessgen.rules.reach.leg_too_short import is_short

if TYPE_CHECKING:
    from harnessgen.lengths.too_short.probability import LengthVerdict

RULE = "leg-tight"
_MOST_STEPS = 100


def check(physics: Physics) -> list[Finding]:
    """One finding for each wire that reaches at k = 2, and is too short with more than the stated probability."""
    found: list[Finding] = []
    for wire in physics.network.wires:
        length = physics.lengths[wire.mark]
        if wire.cut_mm is None or is_short(wire, length):
            continue
        # Only a wire of stated length has a verdict to be drawn.
        from harnessgen.lengths.too_short.probability import verdict_of

        verdict = verdict_of(length)
        most = limit("short-probability", wire.limits, physics.network.design.limits)
        if verdict.probability > most.value.value:
            found.append(_finding(wire, length, verdict, most.value.value, str(most.source)))
    return found


def _finding(wire: Wire, length: WireLength, verdict: "LengthVerdict", most: float, source: str) -> Finding:
    from harnessgen.lengths.too_short.probability import Method

    how = f"{verdict.spare_mm:.1f} mm to spare, give or take {verdict.uncertainty_mm:.1f} mm (k = 1), "
    how += "closed form" if verdict.method is Method.NORMAL else f"{verdict.method.value}"
    numbers = (
        Number("probability", 100 * verdict.probability, "%", how, 2),
        Number("allowed", 100 * most, "%", source, 2),
    )
    return Finding(
        RULE,
        Severity.WARNING,
        wire.mark,
        wire.cut_place,
        f"Wire {wire.mark} reaches from {wire.a} to {wire.b} with {plain_number(length.margin_mm, 1)} mm to spare,"
        " and may turn out too short.",
        numbers,
        proposals=_longer(wire, length, most),
        deciding=at_most(*numbers, is_set=True),
    )


def _longer(wire: Wire, length: WireLength, most: float) -> tuple[Proposal, ...]:
    """The smallest length on the bench's step that is too short with no more than the allowed probability."""
    from harnessgen.lengths.too_short.probability import verdict_of
    from harnessgen.lengths.too_short.trial import least_cut_mm, recut, recut_text

    first_mm, step_mm = least_cut_mm(length), length.step.value.value
    for number in range(_MOST_STEPS):
        cut_mm = first_mm + number * step_mm
        if verdict_of(recut(length, cut_mm)).probability <= most:
            text = recut_text(length, cut_mm)
            words = f"a new wire, cut to {text}" if length.is_measured else f"cut: {text}"
            return (Proposal(wire.cut_place, text, words),)
    return ()
