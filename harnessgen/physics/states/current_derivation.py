"""Where a current comes from: a balance at a node where it is steady, closed forms over a period where it is pulsed."""

from harnessgen.evidence.derivation import Balance, Derivation, Evaluated, Input, Solved, evaluated
from harnessgen.evidence.publication import common_practice
from harnessgen.network.electrical import REFERENCE
from harnessgen.network.network import Network
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.electrical.kirchhoff import CURRENT_LAW
from harnessgen.physics.electrical.operating_point import OperatingPoint
from harnessgen.physics.loads.pulsed_currents import Pulsating
from harnessgen.physics.loads.pulsed_load import PulsedLoad
from harnessgen.physics.loads.waveform import Segment, Wave
from harnessgen.physics.states.solved import SolvedStates

FIRST_ORDER = common_practice("first-order response of a resistance and an inductance; averages by integration")
SUBSTITUTION = common_practice("theorem of substitution: each pulsed load as a source of its own current")


def current_derivation(physics: SolvedStates, state: str, element: str, case: Case) -> Derivation:
    """Where the RMS current of an element in a state and case comes from.

    Raises:
        KeyError: there is no such state or element.
    """
    currents = physics.currents_in(state, case)
    if element in currents.pulsed:
        return wave_derivations(currents.pulsed[element])[2]
    part = currents.pulsating.get(element)
    if part is not None and part.pulses_square_a2 > 0.0:
        return _pulsating(f"RMS current of {element} in {state}, {case.value}", part)
    return _steady(physics, state, element, case)


def _pulsating(title: str, part: Pulsating) -> Evaluated:
    inputs = (
        Input("I", "steady part", part.steady_a, "A", CURRENT_LAW),
        Input("m", "average of the pulses", part.pulses_mean_a, "A", SUBSTITUTION),
        Input("q", "average of the square of the pulses", part.pulses_square_a2, "A2", SUBSTITUTION),
    )
    return evaluated(title, "sqrt(max(I**2 + 2 * I * m + q, 0))", inputs, "A", SUBSTITUTION)


def _steady(physics: SolvedStates, state: str, element: str, case: Case) -> Solved:
    title = f"current of {element} in {state}, {case.value}"
    return point_derivation(physics.network, physics.point_in(state, case), element, title)


def point_derivation(network: Network, point: OperatingPoint, element: str, title: str) -> Solved:
    """Where the current of an element at an operating point comes from: the balance of a node at its end.

    Raises:
        StopIteration: there is no such element.
    """
    elements = network.electrical.elements
    mine = next(each for each in elements if each.name == element)
    node = mine.a if mine.a != REFERENCE else mine.b
    terms = tuple(
        (each.name, point.amperes[each.name] if each.a == node else -point.amperes[each.name])
        for each in elements
        if node in (each.a, each.b) and each.a != each.b and point.amperes[each.name] != 0.0
    )
    balance = Balance(f"what leaves {node} through each element", terms, "A")
    equations = "currents of the whole network from Kirchhoff's current law at every node"
    return Solved(title, equations, (balance,), abs(point.amperes[element]), "A", (CURRENT_LAW,))


def wave_derivations(load: PulsedLoad) -> tuple[Evaluated, Evaluated, Evaluated]:
    """Peak, average and RMS current of a pulsed load's own coil over a period, in A."""
    wave = load.coil
    inputs, charges, squares = _integrals(wave)
    period = Input("T", "time from pulse to pulse", wave.period_s, "s")
    mean = evaluated(
        f"average current of {load.name}", f"({' + '.join(charges)}) / T", (*inputs, period), "A", FIRST_ORDER
    )
    rms = evaluated(
        f"RMS current of {load.name}", f"sqrt(({' + '.join(squares)}) / T)", (*inputs, period), "A", FIRST_ORDER
    )
    return _peak(load.name, wave), mean, rms


def _peak(name: str, wave: Wave) -> Evaluated:
    ends = [f"{_end(number, each)}" for number, each in enumerate(wave.segments, start=1)]
    starts = [f"s{number}" for number in range(1, len(wave.segments) + 1)]
    inputs, _, _ = _integrals(wave)
    return evaluated(
        f"peak current of {name}",
        f"max({', '.join(f'abs({each})' for each in (*starts, *ends))}, 0)",
        inputs,
        "A",
        FIRST_ORDER,
    )


def _end(number: int, segment: Segment) -> str:
    if segment.tau_s == 0.0:
        return f"s{number}"
    return f"f{number} + (s{number} - f{number}) * exp(-t{number} / k{number})"


def _integrals(wave: Wave) -> tuple[tuple[Input, ...], list[str], list[str]]:
    """Inputs of all pieces of a wave, and the texts of their charges and of their squares over time."""
    inputs: list[Input] = []
    charges: list[str] = []
    squares: list[str] = []
    for number, each in enumerate(wave.segments, start=1):
        n = str(number)
        words = "after the output is off" if each.is_falling else "while the output is on"
        inputs.append(Input(f"s{n}", f"current at the start of piece {n}, {words}", each.start_a, "A"))
        inputs.append(Input(f"t{n}", f"time of piece {n}", each.duration_s, "s"))
        if each.tau_s == 0.0:
            charges.append(f"s{n} * t{n}")
            squares.append(f"s{n}**2 * t{n}")
            continue
        inputs.append(Input(f"f{n}", f"current that piece {n} moves towards", each.final_a, "A"))
        inputs.append(Input(f"k{n}", f"time constant of piece {n}, L / R", each.tau_s, "s"))
        move, fade = f"(s{n} - f{n})", f"(1 - exp(-t{n} / k{n}))"
        charges.append(f"f{n} * t{n} + {move} * k{n} * {fade}")
        squares.append(
            f"f{n}**2 * t{n} + 2 * f{n} * {move} * k{n} * {fade} + {move}**2 * k{n} / 2 * (1 - exp(-2 * t{n} / k{n}))"
        )
    return tuple(inputs), charges or ["0"], squares or ["0"]
