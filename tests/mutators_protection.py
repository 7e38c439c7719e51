"""For the rules on fuses over time: a fuse form of the design's own, a hair on either side of what decides."""

from collections.abc import Callable

from harnessgen.evidence.publication import common_practice
from harnessgen.physics.protection.fuse_curve import FuseCurve
from harnessgen.physics.protection.inrush import inrushes
from harnessgen.rules.protection.guards import Guard, guards
from tests.mutators import Change, Good, Mutator, line_with
from tests.mutators_electrical import HAIR, with_block

HOLDS = 1.35
"""Share of its rating that the form of these designs may hold for ever, as the forms of the library do."""
QUICK_S = 1e-4


def _with_form(good: Good, choose: Callable[[Guard], str | None], fails: bool) -> Change | None:
    """The design with a form of its own for the first plain fuse for which `choose` finds the rest of its figures."""
    for guard in guards(good.physics):
        fuse = guard.protects.fuse
        line = good.text.split("\n")[fuse.place.line - 1]
        if "form" in fuse.places or not line.endswith("}") or not guard.wires:
            continue
        rest = choose(guard)
        if rest is None:
            continue
        ohm = good.physics.ohms[fuse.name]
        rating = f"{{{fuse.rating_a.value:g}: {{resistance: {ohm!r} ohm}}}}"
        form = f"{{title: fuse, terminal: tab-6.3, ratings: {rating}, {rest}}}"
        text = with_block(line_with(good.text, fuse.place.line, ", form: own"), "parts", f"{{fuses: {{own: {form}}}}}")
        return Change(text, fuse.place.line if fails else 0) if text is not None else None
    return None


def _slow(good: Good, by: float) -> Change | None:
    """Beyond its one point the fuse keeps that point's I2t, and the wire's falls: a short right behind it decides."""

    def choose(guard: Guard) -> str | None:
        near_a, rating_a = guard.currents.near.current_a, guard.curve.rating_a
        least_a2s = min(near_a**2 * each.heating.stands_s(near_a) for each in guard.wires)
        longest_s = least_a2s / (HOLDS * rating_a) ** 2 * (1.0 + by)
        return f"opening: {{limits: {{135: {{longest: {longest_s:.9f} s}}}}}}"

    return _with_form(good, choose, by > 0.0)


def slow(good: Good) -> Change | None:
    """It lets through a hair more than the least of its wires stands."""
    return _slow(good, HAIR)


def not_slow(good: Good) -> Change | None:
    """It lets through a hair less."""
    return _slow(good, -HAIR)


def _opening_at_start(good: Good, by: float) -> Change | None:
    def choose(guard: Guard) -> str | None:
        first_a = HOLDS * guard.curve.rating_a
        curve = FuseCurve(guard.curve.rating_a, ((first_a, QUICK_S),), ((first_a, 1.0),), common_practice())
        shares = [each.worst(curve)[0] for each in inrushes(good.physics, frozenset({guard.protects.fuse.name}))]
        least = min(shares, default=0.0)
        if not 0.0 < least < 1e6:
            return None
        limits = f"shortest: {(1.0 + by) / least:.12f} s, longest: {QUICK_S} s"
        return f"opening: {{limits: {{135: {{{limits}}}}}}}"

    return _with_form(good, choose, by < 0.0)


def opening_at_start(good: Good) -> Change | None:
    """It may open a hair before the inrush has gone by."""
    return _opening_at_start(good, -HAIR)


def holding_at_start(good: Good) -> Change | None:
    """It holds a hair longer."""
    return _opening_at_start(good, HAIR)


def _bursting(good: Good, by: float) -> Change | None:
    def choose(guard: Guard) -> str | None:
        breaks_a = guard.currents.near.current_a * (1.0 + by)
        return f"opening: {{limits: {{135: {{longest: {QUICK_S} s}}}}}}, breaking: {{capacity: {breaks_a:.6f} A}}"

    return _with_form(good, choose, by < 0.0)


def bursting(good: Good) -> Change | None:
    """It breaks a hair less than a short right behind it draws."""
    return _bursting(good, -HAIR)


def breaking(good: Good) -> Change | None:
    """It breaks a hair more."""
    return _bursting(good, HAIR)


PROTECTION: dict[str, tuple[Mutator, Mutator]] = {
    "fuse-too-slow": (slow, not_slow),
    "fuse-nuisance": (opening_at_start, holding_at_start),
    "breaking-capacity": (bursting, breaking),
}
"""For each of these rules what breaks a good design in that way, and what nearly does."""
