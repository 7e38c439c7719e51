"""Each wire behind a fuse against that fuse: for every current, the latest opening against what the insulation stands.

What the fuse may carry for ever, the wire has to stand for ever at its rating. What opens it, the wire has to stand
until the latest opening, up to the temperature that its insulation stands once.
"""

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantised import quantised
from harnessgen.network.electrical import Element
from harnessgen.network.route import Leg
from harnessgen.network.wires import Wire
from harnessgen.physics.heat.ampacity import heated
from harnessgen.physics.heat.covering import shell
from harnessgen.physics.heat.harness import WireHeat
from harnessgen.physics.heat.surroundings import surrounding_pressure_pa
from harnessgen.physics.protection.fuse_curve import FuseCurve
from harnessgen.physics.protection.short_current import ShortCurrents
from harnessgen.physics.protection.withstand_time import Heating, Surroundings, heating, steady_current_a, without_loss

if TYPE_CHECKING:
    from harnessgen.physics.physics import Physics

_STEPS = 8
_Key = tuple[str, str, str]
"""A wire's mark, and both ends of the stretch that it lies in."""


@frozen
class Guarded:
    """A wire behind a fuse, in the stretch that it is least guarded in (None: it lies in none).

    `for_ever_a` is what it stands for ever, `must_a` what the fuse may carry for ever. At `at_a` the fuse has opened
    after `opens_s` at the latest, the wire stands `stands_s`: there their ratio `margin` is least over all currents
    that open the fuse, up to `up_to_a`. `margin` is `inf` where no current that can flow opens the fuse.
    """

    wire: Wire
    leg: Leg | None
    around: Surroundings
    heating: Heating
    for_ever_a: float
    must_a: float
    at_a: float
    opens_s: float
    stands_s: float
    up_to_a: float

    @property
    def margin(self) -> float:
        """What the wire stands over the latest opening, at the current where that is least."""
        return math.inf if math.isinf(self.stands_s) else self.stands_s / self.opens_s

    @property
    def is_hurt(self) -> bool:
        """True where the insulation is hurt before the fuse opens, at some current."""
        return self.for_ever_a < self.must_a or self.margin < 1.0

    @property
    def is_itself_the_fuse(self) -> bool:
        """True where even the copper melts first (Onderdonk's case: no heat lost): a remark, no measure."""
        span = math.log(1317.5 / (234.5 + self.heating.start_degc))
        hurt = math.log((234.5 + self.heating.most_degc) / (234.5 + self.heating.start_degc))
        return hurt > 0.0 and self.margin < 1.0 and self.stands_s * span / hurt < self.opens_s


class LegHeats:
    """Every wire in every stretch as the endless states heat it: where a fault finds it."""

    def __init__(self, physics: "Physics") -> None:
        self._hottest: dict[_Key, WireHeat] = {}
        self._pressure_pa = surrounding_pressure_pa(physics.network.design)
        self._known: dict[_Key, Surroundings] = {}
        self._bundles = {_key(wire, each.leg): each for each in physics.heat.bundles for wire in each.wires}
        self._around_mm: dict[int, float] = {}
        for each in (each for found in physics.heat.by_wire.values() for each in found):
            key = _key(each.wire, each.stretch.bundle.leg)
            if each.stretch.lasts_s is None and any(each.stretch.currents_a):
                known = self._hottest.get(key)
                if known is None or each.conductor_degc > known.conductor_degc:
                    self._hottest[key] = each

    def around(self, wire: Wire, leg: Leg | None) -> Surroundings:
        """Surroundings of a wire in a stretch, in the endless state in which it is hottest there."""
        key = _key(wire, leg)
        if key not in self._known:
            self._known[key] = self._surroundings(key)
        return self._known[key]

    def start(self, wire: Wire, leg: Leg | None) -> WireHeat | None:
        """The wire where and when it is as hot as a fault may find it; None where that is the heat of its zone."""
        return self._hottest.get(_key(wire, leg))

    def _surroundings(self, key: _Key) -> Surroundings:
        bundle, at = self._bundles[key], self._hottest.get(key)
        # All wires of a bundle ask for its diameter, and a bundle of a vehicle has a thousand of them.
        if id(bundle) not in self._around_mm:
            self._around_mm[id(bundle)] = bundle.diameter_mm
        around_mm, ambient = self._around_mm[id(bundle)], bundle.ambient_degc
        round_it = shell(around_mm, bundle.covering, self._pressure_pa)
        if at is None:
            return Surroundings(around_mm, 0.0, ambient, ambient, "", round_it)
        if math.isinf(at.conductor_degc):
            return Surroundings(around_mm, math.inf, ambient, at.conductor_degc, at.stretch.state, round_it)
        rows = zip(bundle.bodies, at.stretch.currents_a, at.stretch.found.conductors_degc, strict=True)
        made = [body.heat_made_w_per_m(current, degc) if current else 0.0 for body, current, degc in rows]
        others = math.fsum(made[: at.index] + made[at.index + 1 :])
        return Surroundings(around_mm, others, ambient, at.conductor_degc, at.stretch.state, round_it)


def _key(wire: Wire, leg: Leg | None) -> _Key:
    return (wire.mark, leg.start, leg.end) if leg is not None else (wire.mark, "", "")


def is_surely_guarded(heats: LegHeats, curve: FuseCurve, up_to_a: float, wire: Element) -> bool:
    """Whether a wire is guarded in every stretch by what is quickly told; where not, `guarded` has to say.

    What it stands for ever hurts it at no time. Above that it loses some heat, and so stands longer than without: in
    logarithms that is a straight line, as the fuse is between its points, so that the points tell it for all between.
    """
    assert wire.wire is not None
    for leg in wire.wire.way or (None,):
        around = heats.around(wire.wire, leg)
        rating, body = wire.wire.family.rating_degc.value, heated(wire.wire)
        if around.start_degc >= rating:
            continue
        for_ever = steady_current_a(body, around, rating)
        if for_ever < min(curve.holds_up_to_a, up_to_a):
            return False
        way = without_loss(body, wire.wire.figures.area_mm2.value, around, _most_degc(wire.wire))
        first = max(for_ever, curve.holds_up_to_a)
        tried = (first, *(current for current, _ in curve.longest if first < current < up_to_a), up_to_a)
        if up_to_a > first and any(way.stands_s(each) < curve.longest_s(each) for each in tried):
            return False
    return True


def _most_degc(wire: Wire) -> float:
    """What its insulation stands until a fuse has opened."""
    overload, rating = wire.family.overload_degc, wire.family.rating_degc.value
    return max(overload.value, rating) if overload is not None else rating


def guarded(heats: LegHeats, curve: FuseCurve, currents: ShortCurrents, wire: Element) -> Guarded | None:
    """One wire against its fuse, in the stretch where it fares worst; None where it is too hot before any fault."""
    assert wire.wire is not None
    legs: Sequence[Leg | None] = wire.wire.way or (None,)
    found = [_in_leg(heats, curve, currents.near.current_a, wire.wire, leg) for leg in legs]
    held = [each for each in found if each is not None]
    if not held:
        return None
    worst = min(held, key=lambda each: (quantised(each.margin), quantised(each.for_ever_a / max(each.must_a, 1e-9))))
    least = min(held, key=lambda each: quantised(each.for_ever_a))
    chosen = least if least.for_ever_a < least.must_a else worst
    return _refined(chosen, curve)


def _in_leg(heats: LegHeats, curve: FuseCurve, up_to_a: float, wire: Wire, leg: Leg | None) -> Guarded | None:
    around = heats.around(wire, leg)
    rating = wire.family.rating_degc.value
    if around.start_degc >= rating:
        return None
    body = heated(wire)
    way = heating(body, wire.figures.area_mm2.value, around, _most_degc(wire))
    for_ever = steady_current_a(body, around, rating)
    must = min(curve.holds_up_to_a, up_to_a)
    begin = Guarded(wire, leg, around, way, for_ever, must, up_to_a, math.inf, math.inf, up_to_a)
    return _least(begin, curve, [current for current, _ in curve.longest])


def _refined(coarse: Guarded, curve: FuseCurve) -> Guarded:
    """The same with currents between the published ones looked at too."""
    first, last = curve.longest[0][0], coarse.up_to_a
    if last <= first:
        return coarse
    edges = [current for current, _ in curve.longest if current < last] + [last]
    currents = [low * (high / low) ** (step / _STEPS) for low, high in pairwise(edges) for step in range(_STEPS + 1)]
    return _least(coarse, curve, currents)


def _least(each: Guarded, curve: FuseCurve, currents: Sequence[float]) -> Guarded:
    """`each` with the current at which the margin is least."""
    tried = [current for current in (*currents, each.up_to_a) if curve.holds_up_to_a <= current <= each.up_to_a]
    rows = [(each.heating.stands_s(current), curve.longest_s(current), current) for current in tried]
    if not rows:
        return each
    stands, opens, at = min(rows, key=lambda row: (quantised(row[0] / row[1]), row[2]))
    return Guarded(
        each.wire, each.leg, each.around, each.heating, each.for_ever_a, each.must_a, at, opens, stands, each.up_to_a
    )
