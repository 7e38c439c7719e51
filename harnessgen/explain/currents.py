"""What flows in an element and what falls across a load, state by state: the derivations that the rules ask too."""

from collections.abc import Iterator

from harnessgen.design.device import Load
from harnessgen.evidence.derivation import Derivation
from harnessgen.physics.conditions import Case
from harnessgen.physics.current_derivation import current_derivation, wave_derivations
from harnessgen.physics.load_model import load_resistance
from harnessgen.physics.physics import Physics

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


def load_numbers(physics: Physics, load: Load) -> Iterator[Derivation]:
    """A load's resistance in each case, its volts and currents, and its dead time where its family has one."""
    network = physics.network
    for case in Case:
        yield load_resistance(network, load, case).derivation
    for state in network.design.states.values():
        if load.name in (*state.stalled, *state.cold):
            yield load_resistance(network, load, Case.STRONG, state).derivation
    elements = [each.name for each in network.electrical.elements if each.device is load]
    for element in elements:
        yield from volts(physics, element)
        yield from currents(physics, element)
    for spreads in physics.fuel_spreads.values():
        for spread in spreads:
            yield from (each.dead_time for each in spread.openings if each.load == load.name)
            if spread.openings and any(each.load == load.name for each in spread.openings):
                yield spread.spread
