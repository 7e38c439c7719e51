"""What flows in an element and what falls across a load, state by state: the derivations that the rules ask too."""

from collections.abc import Iterator

from harnessgen.design.records.device import Load
from harnessgen.evidence.derivation import Derivation
from harnessgen.explain.thing import Fact
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.loads.model import load_resistance
from harnessgen.physics.physics import Physics
from harnessgen.physics.states.current_derivation import current_derivation, wave_derivations
from harnessgen.physics.states.voltage_drop import LoadDrop
from harnessgen.rules.loading.excess_drop import (
    allowed_derivation,
    drop_limit,
    harness_derivation,
    working_states,
)

_NOTHING_A = 1e-9


def currents(physics: Physics, element: str) -> Iterator[Derivation]:
    """Current of an element in each state in which it carries any: as stated, and RMS in the case that is worst."""
    for state, found in physics.currents.items():
        worst = found[element]
        if abs(physics.points[state].amperes[element]) > _NOTHING_A:
            yield current_derivation(physics, state, element, Case.STATED)
        if worst.rms_a <= _NOTHING_A:
            continue
        if worst.case is not Case.STATED:
            yield current_derivation(physics, state, element, worst.case)
        pulsed = physics.currents_in(state, worst.peak_case).pulsed.get(element)
        if pulsed is not None:
            yield wave_derivations(pulsed)[0]


def volts(physics: Physics, element: str) -> Iterator[Derivation]:
    """Volts across a load or coil in each state that feeds it, hot and at the lowest supply, feed and return apart."""
    for state in physics.network.design.states:
        for case in (Case.STATED, Case.WEAK):
            for drop in physics.drops_in(state, case):
                if drop.load == element:
                    yield drop.derivation
                    yield drop.path_derivation("feed")
                    yield drop.path_derivation("return")


def feed_facts(physics: Physics, load: Load) -> Iterator[Fact]:
    """The state in which a load gets least of its supply, by which way it is fed there, and what the harness may take.

    Of its elements the first that is fed; states that stand for a moment are left out.
    """
    found = weakest(physics, load)
    if found is None:
        return
    allowed = drop_limit(physics.network, found)
    takes, may = harness_derivation(found).result, allowed_derivation(found, allowed).result
    yield Fact(
        "gets least",
        f"{found.across_v:.2f} V in state {found.state}, {found.case.value}: {found.feed_v:.2f} V are lost in the feed,"
        f" {found.return_v:.2f} V in the return, of {found.supply_v:.2f} V at {found.supply}",
    )
    share = f"{100 * allowed.value.value:g} % of it"
    yield Fact("harness takes", f"{takes:.2f} V of the {may:.2f} V that it may, {share}", str(allowed.source))
    yield Fact("fed through", ", ".join(part.element for part in found.feed))
    yield Fact("returns through", ", ".join(part.element for part in found.return_))


def weakest(physics: Physics, load: Load) -> LoadDrop | None:
    """Of the states in which a load has to work, the one whose harness takes most of what it may."""
    elements = {each.name for each in physics.network.electrical.elements if each.device is load}
    drops = [drop for state in working_states(physics) for drop in physics.drops_in(state) if drop.load in elements]
    return max(
        drops,
        key=lambda drop: (
            harness_derivation(drop).result / (drop.supply_v * drop_limit(physics.network, drop).value.value)
        ),
        default=None,
    )


def load_numbers(physics: Physics, load: Load) -> Iterator[Derivation]:
    """A load's resistance in each case, its volts and currents, and its dead time where its family has one."""
    network = physics.network
    for case in Case:
        yield load_resistance(network, load, case).derivation
    for state in network.design.states.values():
        if load.name in (*state.stalled, *state.cold):
            yield load_resistance(network, load, Case.STRONG, state).derivation
    least = weakest(physics, load)
    if least is not None:
        yield harness_derivation(least)
        yield allowed_derivation(least, drop_limit(network, least))
    elements = [each.name for each in network.electrical.elements if each.device is load]
    for element in elements:
        yield from volts(physics, element)
        yield from currents(physics, element)
    for spreads in physics.fuel_spreads.values():
        for spread in spreads:
            yield from (each.dead_time for each in spread.openings if each.load == load.name)
            if spread.openings and any(each.load == load.name for each in spread.openings):
                yield spread.spread
