"""Elements whose current does not follow their voltage in a straight line, solved around the linear network.

The linear network is reduced to what the bent elements see of it: a voltage without their current, and how each
current of theirs moves each of their voltages. That small system is solved by damped Newton steps, and it says so when
it comes to no solution, or to one that a real supply would not hold.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantised import SOLVED_DECIMALS
from harnessgen.physics.nodal.solution import ResistiveNetwork, Solution

Floats = NDArray[np.float64]

MOST_STEPS = 60
MOST_HALVINGS = 40

# The voltages of the bent elements are met to this share of the highest of them.
_SETTLED = 1e-11


class Character(Protocol):
    """How an element's current follows its voltage, both counted from its end `a` to its end `b`."""

    def current_a(self, volts: float) -> float:
        """Current at a voltage; none at 0 V."""

    def siemens(self, volts: float) -> float:
        """Slope of the current over the voltage there."""

    @property
    def least_v(self) -> float:
        """Voltage below which the law is made up to reach 0 V; 0 where it holds everywhere."""


@frozen
class Bent:
    """A bent element between two nodes. The linear network holds the resistance `ohm` in its place."""

    a: int
    b: int
    ohm: float
    character: Character


@frozen
class BentSolution:
    """A solved network with bent elements: their voltages and currents stand in the order in which they were given.

    `is_settled` is False when the steps came to no solution, or to one that does not hold by itself; `residual_v` is
    the largest voltage by which the law of an element and the network still differ. `steps` is how many were made.
    """

    linear: Solution
    volts: Floats
    amperes: Floats
    is_settled: bool
    residual_v: float
    steps: int


@dataclass(slots=True)
class _Ports:
    """The linear network as the bent elements see it.

    `open_v` are their voltages with the straight stand-ins alone, `ohm[i, k]` what one ampere more through `k` adds to
    the voltage of `i` (volts per ampere, negative).
    """

    bent: Sequence[Bent]
    open_v: Floats
    ohm: Floats

    def extra_a(self, volts: Floats) -> Floats:
        """What each element draws beyond its straight stand-in."""
        return np.array(
            [each.character.current_a(v) - v / each.ohm for each, v in zip(self.bent, volts.tolist(), strict=True)]
        )

    def fault_v(self, volts: Floats) -> Floats:
        """By how much the voltages differ from those that their currents cause."""
        return np.asarray(volts - self.open_v - self.ohm @ self.extra_a(volts))

    def slope(self, volts: Floats) -> Floats:
        """Jacobian of `fault_v`."""
        steep = [each.character.siemens(v) - 1.0 / each.ohm for each, v in zip(self.bent, volts.tolist(), strict=True)]
        return np.asarray(np.eye(len(self.bent)) - self.ohm * np.array(steep)[None, :])


def solve_bent(network: ResistiveNetwork, bent: Sequence[Bent]) -> BentSolution:
    """Solve a network in which each bent element has its `ohm` as a resistor already.

    An element in a part without a path to a fixed node has neither voltage nor current.

    Raises:
        ArithmeticError: the linear network cannot be solved.
    """
    straight = network.solve()
    a, b = np.array([each.a for each in bent], dtype=np.intp), np.array([each.b for each in bent], dtype=np.intp)
    live = np.nonzero(network.anchored[a] & network.anchored[b])[0]
    volts, amperes = np.zeros(len(bent)), np.zeros(len(bent))
    if not len(live):
        return BentSolution(straight, volts, amperes, True, 0.0, 0)
    reached = [bent[index] for index in live.tolist()]
    ports = _ports(network, reached, straight)
    found, is_settled, steps = _newton(ports)
    fault = float(np.max(np.abs(ports.fault_v(found))))
    extra = ports.extra_a(found)
    injected = np.zeros(network.elements.node_count)
    np.subtract.at(injected, a[live], extra)
    np.add.at(injected, b[live], extra)
    solution = network.solve(injected)
    volts[live] = solution.voltages_v[a[live]] - solution.voltages_v[b[live]]
    # The current that the network was solved with, so that Kirchhoff's law holds to rounding whatever is left over.
    amperes[live] = volts[live] / np.array([each.ohm for each in reached]) + extra
    return BentSolution(solution, volts, amperes, is_settled and _holds(ports, found), fault, steps)


def _ports(network: ResistiveNetwork, bent: Sequence[Bent], straight: Solution) -> _Ports:
    count = len(bent)
    a, b = np.array([each.a for each in bent], dtype=np.intp), np.array([each.b for each in bent], dtype=np.intp)
    drawn = np.zeros((network.elements.node_count, count))
    np.subtract.at(drawn, (a, np.arange(count)), 1.0)
    np.add.at(drawn, (b, np.arange(count)), 1.0)
    quiet = dict.fromkeys(np.nonzero(network.fixed)[0].tolist(), 0.0)
    response = network.solve(drawn, quiet).voltages_v
    return _Ports(bent, straight.voltages_v[a] - straight.voltages_v[b], response[a] - response[b])


def _newton(ports: _Ports) -> tuple[Floats, bool, int]:
    volts = ports.open_v.copy()
    fault = ports.fault_v(volts)
    for step in range(MOST_STEPS):
        bound = _SETTLED * max(float(np.max(np.abs(ports.open_v))), float(np.max(np.abs(volts))), 1e-9)
        if float(np.max(np.abs(fault))) <= bound:
            return volts, True, step
        try:
            full = np.linalg.solve(ports.slope(volts), fault)
        except np.linalg.LinAlgError:
            return volts, False, step
        size, share = float(np.linalg.norm(fault)), 1.0
        for _ in range(MOST_HALVINGS):
            tried = volts - share * full
            tried_fault = ports.fault_v(tried)
            if float(np.linalg.norm(tried_fault)) <= (1.0 - 1e-4 * share) * size:
                break
            share /= 2.0
        else:
            return volts, False, step
        volts, fault = tried, tried_fault
    return volts, False, MOST_STEPS


def _holds(ports: _Ports, volts: Floats) -> bool:
    """Whether a real supply would stay at the solution, and every element works inside its own law.

    A load of constant power has a second solution at low voltage, where taking more current gives it less power: there
    the slope of the fault turns negative, and the voltage runs away.
    """
    for each, v in zip(ports.bent, volts.tolist(), strict=True):
        if 0.0 < abs(v) < each.character.least_v and abs(each.character.current_a(v)) > 1e-9:
            return False
    # A slope of nought but for noise is none that holds, on any machine.
    return bool((np.round(np.linalg.eigvals(ports.slope(volts)).real, SOLVED_DECIMALS) > 0.0).all())
