"""Heat of the whole harness: temperature of every wire in every stretch that it passes, in every state.

The route says which wires share a stretch, its covering and its ambient; the electrical graph says what each of them
carries in a state (RMS, the highest of the three cases). A state with an end starts from the hottest endless state.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache, cached_property, partial
from typing import TYPE_CHECKING

from harnessgen.design.limits.declaration import HEAT_BALANCE
from harnessgen.design.limits.table import chosen, limit
from harnessgen.design.records.design import Design
from harnessgen.design.records.state import State
from harnessgen.lengths.bundles.diameter import bundle_diameter
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantised import quantised
from harnessgen.network.route import Leg
from harnessgen.network.wires import Wire
from harnessgen.parts.covering import CoveringPart
from harnessgen.physics.electrical.element_resistance import ambient_degc
from harnessgen.physics.heat.ampacity import heated
from harnessgen.physics.heat.single_wire import MELTING_DEGC, HeatedWire, crossing
from harnessgen.physics.heat.stretch import SharedHeat, shared_heat
from harnessgen.physics.heat.surroundings import altitude_m, is_in_vacuum, surrounding_pressure_pa
from harnessgen.physics.heat.transient import highest_degc, warmed
from harnessgen.physics.states.solved import SolvedStates

if TYPE_CHECKING:
    from harnessgen.physics.heat.published_tables import OutOfDomain, Published

LOADED_A = 1e-3
"""A wire that carries less is not counted among the loaded ones."""

_BREATH_K = 1e-5


@frozen
class Bundle:
    """The wires that share one part of the route. `leg` is None for a wire that lies in no stretch."""

    leg: Leg | None
    wires: tuple[Wire, ...]
    bodies: tuple[HeatedWire, ...]
    areas_mm2: tuple[float, ...]
    covering: CoveringPart | None
    ambient_degc: float

    @property
    def marks(self) -> tuple[str, ...]:
        """Marks of its wires."""
        return tuple(wire.mark for wire in self.wires)

    @property
    def diameter_mm(self) -> float:
        """Diameter of all its wires together."""
        return bundle_diameter([body.outside_diameter_mm for body in self.bodies]).diameter_mm


@frozen
class StretchHeat:
    """A bundle in a state: RMS currents in A and temperatures.

    `lasts_s` is the time that the state lasts, None for ever; `starts_degc` the temperatures before it (empty for one
    that lasts for ever). `solve` finds the temperatures when they are asked for; `highest_degc` is a bound of them that
    needs no solving, `inf` for a state without end.
    """

    bundle: Bundle
    state: str
    currents_a: tuple[float, ...]
    solve: Callable[[], SharedHeat] = field(repr=False)
    lasts_s: float | None
    starts_degc: tuple[float, ...]
    highest_degc: float

    @property
    def found(self) -> SharedHeat:
        """Its temperatures."""
        return self.solve()


@frozen
class WireHeat:
    """A wire where it lies in one stretch, in one state: `index` says which wire of the bundle it is."""

    stretch: StretchHeat
    index: int

    @property
    def wire(self) -> Wire:
        """The wire."""
        return self.stretch.bundle.wires[self.index]

    @property
    def conductor_degc(self) -> float:
        """Temperature of its conductor; `inf` if there is none below the melting point of copper."""
        return self.stretch.found.conductors_degc[self.index]

    @property
    def current_a(self) -> float:
        """Its RMS current."""
        return self.stretch.currents_a[self.index]

    @property
    def margin_k(self) -> float:
        """What is left to the rating of its insulation; below zero where it is too hot."""
        return self.wire.family.rating_degc.value - self.conductor_degc


@frozen
class Loading:
    """What a wire carries where and when it uses most of what it may: the current there that brings it to its rating.

    The other wires of the stretch carry what they carry in that state. `table` is set where a published table says it.
    """

    at: WireHeat
    allowed_a: float
    table: Published | None = None

    @property
    def used(self) -> float:
        """Share of the allowed current."""
        return self.at.current_a / self.allowed_a if self.allowed_a > 0.0 else math.inf


def lasts_s(design: Design, state: State) -> float | None:
    """How long a state lasts at most: as it says, or by the limits for what passes by itself; None for ever."""
    if state.lasts_s is not None:
        return state.lasts_s.highest
    named = (
        ("stall-lasts", bool(state.stalled)),
        ("inrush-lasts", bool(state.cold)),
        ("cranking-lasts", state.supply == "cranking"),
    )
    times = [limit(name, design.limits).value.highest for name, applies in named if applies]
    return max(times, default=None)


@dataclass(frozen=True)
class HarnessHeat:
    """Temperatures of a harness, each computed when it is first asked for."""

    physics: SolvedStates
    _states: dict[str, tuple[StretchHeat, ...]] = field(default_factory=dict, init=False, repr=False, compare=False)
    _solved: dict[object, SharedHeat] = field(default_factory=dict, init=False, repr=False, compare=False)

    @cached_property
    def bundles(self) -> tuple[Bundle, ...]:
        """Bundles of all parts of the route that hold wires, in its order, then wires that lie in none."""
        network = self.physics.network
        bodies = {wire.mark: heated(wire) for wire in network.wires}

        def bundle(leg: Leg | None, wires: Sequence[Wire], ambient: float) -> Bundle:
            covering = network.parts.coverings.get(leg.stretch.covering) if leg is not None else None
            areas = tuple(wire.figures.area_mm2.value for wire in wires)
            return Bundle(leg, tuple(wires), tuple(bodies[wire.mark] for wire in wires), areas, covering, ambient)

        lying = network.wires_by_leg
        legs = [
            bundle(leg, lying[leg.start, leg.end], ambient_degc(network, leg))
            for leg in network.route.legs
            if (leg.start, leg.end) in lying
        ]
        free = limit("ambient", network.design.limits).value.value
        return (*legs, *(bundle(None, [wire], free) for wire in network.wires if not wire.way))

    @cached_property
    def durations_s(self) -> Mapping[str, float | None]:
        """How long each declared state without a short lasts, in s; None for ever."""
        design = self.physics.network.design
        return {
            name: lasts_s(design, state) for name, state in design.states.items() if name not in self.physics.shorted
        }

    def in_state(self, state: str) -> tuple[StretchHeat, ...]:
        """Temperatures of every bundle in a declared state without a short, in the order of `bundles`.

        Raises:
            KeyError: no such state.
        """
        if state not in self._states:
            lasts = self.durations_s[state]
            starts = self._starts if lasts is not None else ((),) * len(self.bundles)
            self._states[state] = tuple(
                self._stretch(bundle, state, self._currents(state, bundle), lasts, start)
                for bundle, start in zip(self.bundles, starts, strict=True)
            )
        return self._states[state]

    @cached_property
    def by_wire(self) -> Mapping[str, tuple[WireHeat, ...]]:
        """Each wire in each stretch and state, by mark: states in their order, stretches in that of the route."""
        found: dict[str, list[WireHeat]] = {wire.mark: [] for wire in self.physics.network.wires}
        for state in self.durations_s:
            for stretch in self.in_state(state):
                for index, wire in enumerate(stretch.bundle.wires):
                    found[wire.mark].append(WireHeat(stretch, index))
        return {mark: tuple(each) for mark, each in found.items()}

    def hottest(self, mark: str, above_degc: float = -math.inf) -> WireHeat | None:
        """The stretch and state in which a wire is hottest, of equal ones the first; None where there is no state.

        None too where it is surely nowhere hotter than `above_degc`.

        Raises:
            KeyError: no wire has this mark.
        """
        places = (each for each in self.by_wire[mark] if each.stretch.highest_degc > above_degc)
        return max(places, key=lambda each: quantised(each.conductor_degc), default=None)

    def loading(self, mark: str, above: float = 0.0, state: str = "") -> Loading | None:
        """Where and when a wire uses most of its allowed current; None if it never uses the share `above` of it.

        With `state` only that state counts.

        Where its table says nothing it is left out: `table-out-of-domain` tells that.

        Raises:
            KeyError: no wire has this mark.
        """
        found: Loading | None = None
        for each in self.by_wire[mark]:
            if each.current_a == 0.0 or (state and each.stretch.state != state):
                continue
            if self.method(each.wire) != HEAT_BALANCE:
                loading = self._loading_by_table(each)
            elif above > 0.0 and not self._may_use(each, above):
                continue
            else:
                loading = Loading(each, self.allowed_a(each.stretch, each.index))
            if loading is None:
                continue
            if found is None or loading.used > found.used:
                found = loading
        return found if found is not None and found.used >= above else None

    def allowed_a(self, stretch: StretchHeat, index: int, wire: Wire | None = None) -> float:
        """Current that brings one wire of a bundle to its rating while the others carry theirs, in A.

        0 where they, or the zone, make it as hot without. With `wire` this one is taken in its place.
        By the published table where the design names one; 0 outside its domain.
        """
        table = self.by_table(stretch, index, wire)
        if table is not None:
            from harnessgen.physics.heat.published_tables import Published

            return table.allowed_a if isinstance(table, Published) else 0.0
        bundle = stretch.bundle
        if wire is not None:
            bundle = _with(bundle, index, wire)
        rating = bundle.wires[index].family.rating_degc.value

        @cache
        def excess(square_a2: float) -> float:
            currents = list(stretch.currents_a)
            currents[index] = math.sqrt(square_a2)
            found = self._solve(bundle, tuple(currents), stretch.lasts_s, stretch.starts_degc)
            return min(found.conductors_degc[index], 2.0 * MELTING_DEGC) - rating

        if excess(0.0) >= 0.0:
            return 0.0
        highest = max(stretch.currents_a[index], 1.0) ** 2
        while excess(highest) < 0.0:
            highest *= 4.0
        return math.sqrt(crossing(excess, 0.0, highest))

    def exchanged(self, stretch: StretchHeat, index: int, wire: Wire) -> StretchHeat:
        """The stretch with another wire in one place, while all in it carry what they carry."""
        bundle = _with(stretch.bundle, index, wire)
        solve = cache(partial(self._solve, bundle, stretch.currents_a, stretch.lasts_s, stretch.starts_degc))
        return replace(stretch, bundle=bundle, solve=solve, highest_degc=math.inf)

    def method(self, wire: Wire) -> str:
        """The method by which a wire's allowed current is found."""
        return chosen("ampacity", wire.limits, self.physics.network.design.limits)[0]

    def by_table(self, stretch: StretchHeat, index: int, wire: Wire | None = None) -> Published | OutOfDomain | None:
        """What the published table that the design names for a wire says there; None for the heat balance.

        With `wire` this one is taken in its place. The tables speak of currents for ever.
        """
        wire = wire if wire is not None else stretch.bundle.wires[index]
        method = self.method(wire)
        if method == HEAT_BALANCE:
            return None
        from harnessgen.physics.heat.published_tables import Lying, published

        bundle, design = stretch.bundle, self.physics.network.design
        where = f" from {bundle.leg.name}" if bundle.leg is not None else ""
        lying = Lying(
            wire.size,
            wire.family.rating_degc.value,
            bundle.ambient_degc,
            len(bundle.wires),
            sum(1 for current in stretch.currents_a if current > LOADED_A),
            altitude_m(design),
            is_in_vacuum(design),
        )
        return published(method, f"allowed current of {wire.mark}{where} in state {stretch.state}, by {method}", lying)

    def _loading_by_table(self, each: WireHeat) -> Loading | None:
        table = self.by_table(each.stretch, each.index)
        from harnessgen.physics.heat.published_tables import Published

        return Loading(each, table.allowed_a, table) if isinstance(table, Published) else None

    @cached_property
    def _pressure_pa(self) -> float:
        return surrounding_pressure_pa(self.physics.network.design)

    def carrying(self, at: WireHeat, current_a: float) -> WireHeat:
        """A wire where it lies, with another current of its own, in A; the others of its stretch as they are."""
        stretch = at.stretch
        currents = tuple(current_a if each == at.index else own for each, own in enumerate(stretch.currents_a))
        other = self._stretch(stretch.bundle, stretch.state, currents, stretch.lasts_s, stretch.starts_degc)
        return WireHeat(other, at.index)

    def allowed_alone_a(self, at: WireHeat) -> float:
        """The same with the other wires of its bundle cold and without current."""
        stretch, count = at.stretch, len(at.stretch.currents_a)
        cold = tuple(stretch.bundle.ambient_degc for _ in stretch.starts_degc)
        others = tuple(at.current_a if index == at.index else 0.0 for index in range(count))
        return self.allowed_a(replace(stretch, currents_a=others, starts_degc=cold), at.index)

    def _may_use(self, each: WireHeat, share: float) -> bool:
        """Whether a wire may use more than a share of what it may: it does not if it stands it with all scaled up."""
        at = each.stretch
        if share != 1.0:
            at = self._stretch(
                at.bundle, at.state, tuple(one / share for one in at.currents_a), at.lasts_s, at.starts_degc
            )
        # A breath below, so that what lies just on it is computed and not guessed.
        most_degc = each.wire.family.rating_degc.value - _BREATH_K
        return at.highest_degc > most_degc and at.found.conductors_degc[each.index] > most_degc

    @cached_property
    def _starts(self) -> tuple[tuple[float, ...], ...]:
        """Temperatures before a state that has an end: the hottest of the endless states, else the ambient."""
        endless = [self.in_state(state) for state, lasts in self.durations_s.items() if lasts is None]
        return tuple(
            tuple(
                min(max((state[place].found.conductors_degc[wire] for state in endless), default=ambient), MELTING_DEGC)
                for wire in range(len(bundle.wires))
            )
            for place, bundle in enumerate(self.bundles)
            for ambient in (bundle.ambient_degc,)
        )

    def _currents(self, state: str, bundle: Bundle) -> tuple[float, ...]:
        currents = self.physics.currents[state]
        return tuple(currents[mark].rms_a for mark in bundle.marks)

    def _stretch(
        self,
        bundle: Bundle,
        state: str,
        currents: tuple[float, ...],
        lasts: float | None,
        starts: tuple[float, ...],
    ) -> StretchHeat:
        solve = partial(self._known, bundle, currents, lasts, starts)
        bound = math.inf if lasts is None else highest_degc(bundle.bodies, bundle.areas_mm2, currents, starts, lasts)
        return StretchHeat(bundle, state, currents, solve, lasts, starts, bound)

    def _known(
        self, bundle: Bundle, currents: tuple[float, ...], lasts: float | None, starts: tuple[float, ...]
    ) -> SharedHeat:
        key = (id(bundle), currents, lasts)
        if key not in self._solved:
            self._solved[key] = self._solve(bundle, currents, lasts, starts)
        return self._solved[key]

    def _solve(
        self, bundle: Bundle, currents: tuple[float, ...], lasts: float | None, starts: tuple[float, ...]
    ) -> SharedHeat:
        if lasts is None:
            return shared_heat(bundle.bodies, currents, bundle.covering, bundle.ambient_degc, self._pressure_pa)
        return warmed(
            bundle.bodies,
            bundle.areas_mm2,
            currents,
            starts,
            lasts,
            bundle.covering,
            bundle.ambient_degc,
            self._pressure_pa,
        )


def _with(bundle: Bundle, index: int, wire: Wire) -> Bundle:
    """The bundle with another wire in one place."""
    wires, bodies, areas = list(bundle.wires), list(bundle.bodies), list(bundle.areas_mm2)
    wires[index], bodies[index], areas[index] = wire, heated(wire), wire.figures.area_mm2.value
    return Bundle(bundle.leg, tuple(wires), tuple(bodies), tuple(areas), bundle.covering, bundle.ambient_degc)
