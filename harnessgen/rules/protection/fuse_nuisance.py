"""A fuse that the inrush of sound lamps and motors may open."""

import math

from harnessgen.evidence.finding import Finding, Later, Number, Severity, at_least, derived, worst_first
from harnessgen.measures.quantity import plain_number
from harnessgen.physics.physics import Physics
from harnessgen.physics.protection.derivation import opening_derivation
from harnessgen.physics.protection.inrush import Inrush, inrushes
from harnessgen.rules.loading.steady import highest_steady
from harnessgen.rules.protection.fuse_too_small import check as too_small
from harnessgen.rules.protection.guards import Guard, guards
from harnessgen.rules.protection.larger_fuses import larger_fuses

RULE = "fuse-nuisance"


def check(physics: Physics) -> list[Finding]:
    """One finding for each fuse, with the state whose start is hardest; `fuse-too-small` comes first."""
    every = {guard.protects.fuse.name: guard for guard in guards(physics)}
    found: list[tuple[float, float, float, Inrush]] = []
    for each in inrushes(physics, frozenset(every)):
        share, time_s, rms_a = each.worst(every[each.fuse].curve)
        if share < 1.0:
            found.append((share, time_s, rms_a, each))
    if not found:
        return []
    told = {each.subject for each in too_small(physics)}
    return worst_first(
        (-share, _finding(physics, every[each.fuse], time_s, rms_a, each))
        for share, time_s, rms_a, each in found
        if each.fuse not in told
    )


def _finding(physics: Physics, guard: Guard, time_s: float, rms_a: float, inrush: Inrush) -> Finding:
    fuse = guard.protects.fuse
    doing = "what stands still" if math.isfinite(inrush.lasts_s) else "the start"
    message = f"{fuse.name} may open by {doing} in state {inrush.state}, though nothing is broken."
    opens = opening_derivation(fuse.name, guard.curve, rms_a, is_longest=False)
    begins = f"{plain_number(inrush.first_a, 1)} A at first, {plain_number(inrush.run_a, 1)} A running"
    if inrush.motors_a > 0.0:
        begins += f"; motors run up in {plain_number(inrush.motor_s, 3)} s, {inrush.run_up.source}"
    numbers = (
        derived("carries", inrush.rms_derivation(time_s), f"RMS over {time_s:.3g} s; {begins}"),
        derived("may open", opens, f"shortest at this current; {guard.curve.source}", 3),
        Number("has to hold", time_s, "s", "as long as this current flows", 3),
    )
    place = fuse.where("rating_a")
    carries_a, _ = highest_steady(physics, guard.protects.element)
    ratings = physics.network.parts.fuses[fuse.form].ratings
    larger = [label for label in ratings if float(label) > max(fuse.rating_a.value, carries_a)]
    return Finding(
        RULE,
        Severity.WARNING,
        fuse.name,
        place,
        message,
        numbers,
        proposals=Later(lambda: larger_fuses(physics, fuse, larger)),
        state=inrush.state,
        deciding=at_least(*numbers[1:]),
    )
