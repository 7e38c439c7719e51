"""One driver: which loads it works, which must not stir, and the current that it takes, from the solution."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from harnessgen.bench.setup.installed import Fitted, listed
from harnessgen.bench.setup.instruments import CLAMP_METER
from harnessgen.bench.setup.load_figures import LoadFigures
from harnessgen.bench.setup.section_nets import cold_ohm
from harnessgen.bench.setup.step import Expected, Reactions, Step, TouchPlace
from harnessgen.bench.steps.pulse import HOLD_S, MOST_HELD_W, on_time_ms, pulse_period
from harnessgen.physics.electrical.operating_point import OperatingPoint, stated
from harnessgen.physics.electrical.switched_outputs import switched_on

WORKS_SHARE = 0.3
"""A load counts as working from this share of the supply's volts on (common practice, no source)."""
_STIRS_SHARE = 0.02
"""A load counts as at rest below this share."""
_SAME = 0.02
"""Currents that lie closer than this share are one current."""


def shares_of(fitted: Fitted, point: OperatingPoint) -> Mapping[str, float]:
    """Volts across each load as a share of the supply's."""
    return _shares(fitted, {each.name: point.across(each) for every in fitted.load_elements.values() for each in every})


def _shares(fitted: Fitted, volts: Mapping[str, float]) -> Mapping[str, float]:
    """The same from the volts across each element of a load."""
    supply_v = fitted.supply_v or 1.0
    return {
        name: max(abs(volts[element.name]) for element in elements) / supply_v
        for name, elements in fitted.load_elements.items()
    }


def reactions_of(fitted: Fitted, shares: Mapping[str, float], before: Mapping[str, float]) -> Reactions:
    """Which loads work at their shares of the supply's volts, and which of these already did before."""
    work, rest, unchanged = [], [], []
    for name, share in shares.items():
        if share <= _STIRS_SHARE:
            # A controller's own inputs show nothing.
            if name not in fitted.electronics:
                rest.append(name)
        elif share < WORKS_SHARE:
            unchanged.append(f"{name} (at {share:.0%} of supply volts)")
        elif before.get(name, 0.0) >= WORKS_SHARE:
            unchanged.append(name)
        else:
            work.append(name)
    return Reactions(tuple(work), tuple(rest), tuple(unchanged))


@dataclass(frozen=True, slots=True)
class Output:
    """One driver with `switches` on, the outputs that pull in the relays of its loads among them.

    `figures` are those of the loads that it works, `ampere` its current. `bank_ohm` is the resistance of its loads
    together; `bounds_a` are the currents with its loads at highest and lowest resistance, `hottest_w` the most
    that one of its coils takes while it is held on.
    """

    fitted: Fitted
    name: str
    switches: tuple[str, ...]
    reactions: Reactions
    figures: Mapping[str, LoadFigures]
    ampere: float
    bank_ohm: float
    bounds_a: tuple[float, float]
    hottest_w: float

    @property
    def may_be_held(self) -> bool:
        """Whether it may be held on while a clamp is read."""
        return self.hottest_w <= MOST_HELD_W

    @property
    def on(self) -> tuple[str, ...]:
        """All that is on while it works."""
        return (*self.switches, self.name)

    @property
    def ready(self) -> str:
        """What has to be on before it is worked, as a beginning of the step's action."""
        words = self.fitted.set_words(self.switches)
        return f"{words}; " if words else ""

    def steps(self) -> Iterator[Step]:
        """Pulsed, then held on while its current is read."""
        reactions, figures = self.reactions, self.figures
        ready, named = self.ready, self.fitted.named(self.name)
        if not figures:
            yield Step("", f"{ready}{named} on", Expected("nothing reacts"), on=self.on, reactions=reactions)
            return
        if {load.kind for load in figures.values()} <= {"coil"}:
            on_ms = on_time_ms(figures.values())
            action = f"{ready}pulse {named}: {on_ms:.0f} ms on in every {pulse_period().result:.0f} ms"
        else:
            action = f"{ready}switch {named} on for {HOLD_S:.0f} s"
        signs = listed([f"{name} {figures[name].sign}" for name in reactions.work])
        yield Step("", action, Expected(signs), on=self.on, reactions=reactions)
        if self.may_be_held:
            yield self._held(f"{ready}hold {named} on, {HOLD_S:.0f} s at most")

    def _held(self, action: str) -> Step:
        network = self.fitted.network
        cavity = self.fitted.element_of[self.name].a.removesuffix(" mate")
        marks = tuple(wire.mark for wire in network.wires_at.get(cavity, ()))
        place = TouchPlace(cavity, f"round {listed(marks)}", self.name, "", f"just behind {cavity}", marks)
        words = f"{self.ampere:.2f} A"
        if self.bank_ohm:
            words += f"; its loads together {self.bank_ohm:.2f} ohm"
        limit = network.design.drivers[self.name].current_a
        if limit is not None:
            words += f"; the output may carry {limit.value:g} A"
        low, high = self.bounds_a
        linear = all(load.is_linear for load in self.figures.values())
        bounds = (low - CLAMP_METER.allowance(low), high + CLAMP_METER.allowance(high)) if linear else (None, None)
        return Step("", action, Expected(words, self.ampere, "A", *bounds), CLAMP_METER, place, None, marks, self.on)


def outputs_of(fitted: Fitted) -> tuple[Output, ...]:
    """Every driver of the design, each solved alone with the switches on that it needs."""
    network, lengths = fitted.network, fitted.physics.lengths
    # The lowest current has loads high and wires hot, the highest loads low and wires at 20 degC.
    low = {**fitted.physics.ohms, **_load_ohms(fitted, "highest")}
    cold = {wire.mark: cold_ohm(network, wire, lengths[wire.mark]) for wire in network.wires}
    high = {**fitted.physics.ohms, **cold, **_load_ohms(fitted, "lowest")}
    together: dict[tuple[str, ...], list[str]] = {}
    for name in network.design.drivers:
        together.setdefault(_switches(fitted, name), []).append(name)
    found = [each for switches, names in together.items() for each in _outputs(fitted, switches, names, (low, high))]
    order = {name: place for place, name in enumerate(network.design.drivers)}
    return tuple(sorted(found, key=lambda output: order[output.name]))


def _outputs(
    fitted: Fitted, switches: tuple[str, ...], names: Sequence[str], ends: tuple[Mapping[str, float], ...]
) -> Iterator[Output]:
    """Outputs that need the same switches; `ends` are the resistances at the lowest and at the highest current."""
    network = fitted.with_apart(())
    before = shares_of(fitted, fitted.solve((), switches))
    loads = [each for elements in fitted.load_elements.values() for each in elements]
    drivers = [fitted.element_of[name] for name in names]
    given = stated(network, "bench", frozenset(switches), fitted.physics.ohms)
    working = switched_on(network, given, drivers, loads)
    bounds = [np.abs(switched_on(network, replace(given, ohms=ohms), drivers, ()).own_a).tolist() for ohms in ends]
    siemens = np.array([1.0 / fitted.physics.ohms[each.name] for each in loads])
    for row, name in enumerate(names):
        volts = dict(zip((each.name for each in loads), working.across_v[row].tolist(), strict=True))
        amperes = dict(zip(volts, (working.across_v[row] * siemens).tolist(), strict=True))
        reactions = reactions_of(fitted, _shares(fitted, volts), before)
        figures = {load: fitted.figures[load] for load in reactions.work}
        watts = {
            load: sum(abs(volts[each.name] * amperes[each.name]) for each in fitted.load_elements[load])
            for load in figures
        }
        ampere = abs(float(working.own_a[row]))
        drawn = sum(max(abs(amperes[each.name]) for each in fitted.load_elements[load]) for load in figures)
        # Where a relay stands between, the loads draw a current that this output does not carry.
        is_direct = ampere > 0.0 and abs(drawn - ampere) <= _SAME * ampere
        bank_ohm = sum(watts.values()) / ampere**2 if is_direct else 0.0
        hottest = max((watts[load] for load, each in figures.items() if each.kind == "coil"), default=0.0)
        bounds_a = (bounds[0][row], bounds[1][row]) if figures else (0.0, 0.0)
        yield Output(fitted, name, switches, reactions, figures, ampere, bank_ohm, bounds_a, hottest)


def _load_ohms(fitted: Fitted, end: str) -> dict[str, float]:
    """Resistance of every element of every load at one end of its bounds."""
    return {
        element.name: max(getattr(fitted.figures[name].ohm, end), 1e-6)
        for name, elements in fitted.load_elements.items()
        for element in elements
    }


def _switches(fitted: Fitted, driver: str) -> tuple[str, ...]:
    """Switches that a driver needs, and outputs that pull in the relays of its loads.

    They are those of the state with it and the fewest others on; without a state, all switches.
    """
    design = fitted.network.design
    having = [state for state in design.states.values() if driver in state.on] if design.declares_states else []
    on = min(having, key=lambda state: len(state.on)).on if having else tuple(design.switches)
    kept = [each for each in dict.fromkeys(on) if each in fitted.lasting and each != driver]
    for held in [each for each in kept if each in fitted.relay_outputs]:
        without = [each for each in kept if each != held]
        if _works(fitted, driver, without) == _works(fitted, driver, kept):
            kept = without
    return tuple(kept)


def _works(fitted: Fitted, driver: str, on: Sequence[str]) -> frozenset[str]:
    """Loads that work with these and the driver on, and not without the driver."""
    with_it, without = (shares_of(fitted, fitted.solve((), each)) for each in ((*on, driver), on))
    return frozenset(name for name, share in with_it.items() if share >= WORKS_SHARE > without[name])
