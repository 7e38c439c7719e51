"""Elements that are no resistors: closed forms, an optimiser on the full equations, a simulator, and balances."""

import math
import random
import re
import subprocess
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harnessgen.physics.electrical.characteristics import ConstantCurrent, ConstantPower, WithDiode
from harnessgen.physics.nodal.newton import Bent, BentSolution, solve_bent
from harnessgen.physics.nodal.solution import Resistor, assemble
from tests.balance import assert_currents_balance
from tests.physics.simulator import NGSPICE, needs_simulator
from tests.samples import some


@dataclass(frozen=True)
class Made:
    """A network with bent elements; node 0 is the supply, node 1 ground."""

    count: int
    resistors: list[Resistor]
    fixed: dict[int, float]
    bent: list[Bent]

    def solved(self) -> BentSolution:
        stand_ins = [Resistor(each.a, each.b, each.ohm) for each in self.bent]
        return solve_bent(assemble(self.count, [*self.resistors, *stand_ins], self.fixed), self.bent)


def one(volts: float, ohm: float, element: Bent) -> Made:
    """A supply at `volts` behind `ohm` with one element (from node 2 to node 1)."""
    return Made(3, [Resistor(0, 2, ohm)], {0: volts, 1: 0.0}, [element])


@given(st.floats(6.0, 30.0), st.floats(0.01, 5.0), st.floats(0.01, 0.95))
@settings(deadline=None)
def test_a_constant_power_has_its_closed_form(volts: float, ohm: float, share: float) -> None:
    """Up to the most that a feed can give, U^2 / 4R, the voltage is the upper root of U v - v^2 = P R."""
    power = share * volts**2 / (4 * ohm)
    found = one(volts, ohm, Bent(2, 1, volts**2 / power, ConstantPower(power, 0.1 * volts))).solved()
    expected = (volts + math.sqrt(volts**2 - 4 * ohm * power)) / 2
    assert found.is_settled
    assert found.volts[0] == pytest.approx(expected, rel=1e-9)
    assert found.volts[0] * found.amperes[0] == pytest.approx(power, rel=1e-9)


@given(st.floats(6.0, 30.0), st.floats(0.01, 5.0), st.floats(1.02, 20.0))
@settings(deadline=None)
def test_more_power_than_the_feed_can_give_is_told(volts: float, ohm: float, share: float) -> None:
    """Beyond U^2 / 4R there is no such voltage, and the solution says that it did not settle."""
    power = share * volts**2 / (4 * ohm)
    found = one(volts, ohm, Bent(2, 1, volts**2 / power, ConstantPower(power, 0.1 * volts))).solved()
    assert not found.is_settled


def test_a_load_that_falls_back_by_its_own_figures_settles() -> None:
    """A converter that takes less below its lowest voltage has a solution there: a resistance beside the feed's."""
    found = one(12.0, 1.0, Bent(2, 1, 3.0, ConstantPower(48.0, 8.0, is_stated=True))).solved()
    ohm = 8.0**2 / 48.0
    assert found.is_settled
    assert found.volts[0] == pytest.approx(12.0 * ohm / (1.0 + ohm), rel=1e-9)


@given(st.floats(6.0, 30.0), st.floats(0.01, 2.0), st.floats(0.01, 0.85))
@settings(deadline=None)
def test_a_constant_current_has_its_closed_form(volts: float, ohm: float, share: float) -> None:
    """The feed loses current times resistance, whatever the voltage."""
    current = share * volts / ohm
    found = one(volts, ohm, Bent(2, 1, volts / current, ConstantCurrent(current, 0.1 * volts))).solved()
    assert found.is_settled
    assert found.volts[0] == pytest.approx(volts - current * ohm, rel=1e-9)
    assert found.amperes[0] == pytest.approx(current, rel=1e-9)


def test_a_diode_the_wrong_way_round_shorts_its_coil() -> None:
    """Across a coil of 90 ohm at 13 V behind 0.1 ohm, a forward diode carries what the feed can give."""
    coil, feed = 90.0, 0.1
    found = one(13.0, feed, Bent(2, 1, coil, WithDiode(coil, 0.7, 0.02, 1.0))).solved()
    through_feed = found.amperes[0]
    across = 13.0 - feed * through_feed
    assert found.is_settled
    assert through_feed == pytest.approx(across / coil + (across - 0.7) / 0.02, rel=1e-9)
    assert through_feed > 100.0


def test_a_diode_the_right_way_round_carries_nothing() -> None:
    """The coil has its own current alone, and a diode that is driven neither way does not conduct."""
    law = WithDiode(90.0, 0.7, 0.02, -1.0)
    found = one(13.0, 0.1, Bent(2, 1, 90.0, law)).solved()
    assert found.amperes[0] == pytest.approx(13.0 / 90.1, rel=1e-12)
    assert not law.conducts(13.0)
    assert not law.conducts(math.nan)
    assert law.conducts(-1.0)


def test_what_has_no_path_has_no_current() -> None:
    """A load between two nodes that hang free takes nothing, and is no reason not to settle."""
    made = Made(4, [Resistor(0, 1, 5.0)], {0: 12.0, 1: 0.0}, [Bent(2, 3, 10.0, ConstantPower(20.0, 1.0))])
    found = made.solved()
    assert found.is_settled
    assert found.volts.tolist() == found.amperes.tolist() == [0.0]


def test_a_load_behind_an_open_switch_rests_at_nought() -> None:
    """A load whose far end hangs free takes no current at any law."""
    made = Made(4, [Resistor(0, 2, 0.1)], {0: 12.0, 1: 0.0}, [Bent(2, 3, 10.0, ConstantPower(20.0, 1.0))])
    found = made.solved()
    assert found.is_settled
    assert found.amperes[0] == pytest.approx(0.0, abs=1e-12)


def harness(seed: int) -> Made:
    """Feeds with splices, resistors and loads of all laws between a supply and a ground stud."""
    chance = random.Random(seed)
    resistors = [Resistor(0, 2, chance.uniform(0.002, 0.02)), Resistor(3, 1, chance.uniform(0.001, 0.01))]
    bent: list[Bent] = []
    nodes = 4
    for _ in range(chance.randrange(2, 6)):
        splice = nodes
        nodes += 1
        resistors.append(Resistor(2, splice, chance.uniform(0.01, 0.3)))
        for _ in range(chance.randrange(1, 5)):
            top, bottom = nodes, nodes + 1
            nodes += 2
            resistors += [
                Resistor(splice, top, chance.uniform(0.01, 0.1)),
                Resistor(bottom, 3, chance.uniform(0.01, 0.1)),
            ]
            ohm = chance.uniform(3.0, 60.0)
            law = chance.choice(["power", "current", "none"])
            if law == "power":
                bent.append(Bent(top, bottom, ohm, ConstantPower(13.5**2 / ohm, 1.35)))
            elif law == "current":
                bent.append(Bent(top, bottom, ohm, ConstantCurrent(13.5 / ohm, 1.35)))
            else:
                resistors.append(Resistor(top, bottom, ohm))
    # Rings of wires too, so that currents have several ways.
    resistors += [Resistor(chance.randrange(2, nodes), chance.randrange(2, nodes), chance.uniform(0.5, 5.0))]
    return Made(nodes, resistors, {0: chance.uniform(9.0, 16.0), 1: 0.0}, bent)


def current_law_misses(made: Made, free_v: Sequence[float], free: list[int]) -> np.ndarray:
    """What Kirchhoff's current law misses at each free node, written out element by element."""
    volts = np.zeros(made.count)
    for node, value in made.fixed.items():
        volts[node] = value
    volts[free] = free_v
    missing = np.zeros(made.count)
    flows = [(each.a, each.b, (volts[each.a] - volts[each.b]) / each.ohm) for each in made.resistors]
    flows += [(each.a, each.b, each.character.current_a(float(volts[each.a] - volts[each.b]))) for each in made.bent]
    for a, b, current in flows:
        missing[a] -= current
        missing[b] += current
    return missing[free]


@pytest.mark.parametrize("seed", some(range(40), 10))
def test_random_networks_agree_with_an_optimiser(seed: int) -> None:
    """Loads that keep power or current: the currents agree to 0.1 % with a root search on all node equations."""
    from scipy.optimize import root

    made = harness(seed)
    found = made.solved()
    free = [node for node in range(made.count) if node not in made.fixed]
    straight = assemble(
        made.count, [*made.resistors, *(Resistor(each.a, each.b, each.ohm) for each in made.bent)], made.fixed
    ).solve()
    start = straight.voltages_v[free]
    other = root(lambda volts: current_law_misses(made, volts, free), start, method="hybr", tol=1e-12)
    assert found.is_settled
    volts = dict(zip(free, other.x, strict=True)) | made.fixed
    for each, current in zip(made.bent, found.amperes, strict=True):
        assert each.character.current_a(volts[each.a] - volts[each.b]) == pytest.approx(current, rel=1e-3, abs=1e-6)
    for each, current in zip(made.resistors, found.linear.currents_a, strict=False):
        assert (volts[each.a] - volts[each.b]) / each.ohm == pytest.approx(current, rel=1e-3, abs=1e-5)


def simulated(made: Made, at: Path) -> dict[str, float]:
    """Node voltages and the supply's current by a circuit simulator, the bent elements as controlled sources."""
    lines = ["loads that keep what they take"]
    lines += [f"V{node} n{node} 0 {volts!r}" for node, volts in made.fixed.items()]
    lines += [f"R{row} n{each.a} n{each.b} {each.ohm!r}" for row, each in enumerate(made.resistors)]
    for row, each in enumerate(made.bent):
        law = each.character
        if isinstance(law, ConstantPower):
            across = f"v(n{each.a},n{each.b})"
            lines.append(
                f"B{row} n{each.a} n{each.b} i = {law.power_w!r} * {across} / max({across}^2, {law.lowest_v**2!r})"
            )
        elif isinstance(law, ConstantCurrent):
            lines.append(f"I{row} n{each.a} n{each.b} {law.steady_a!r}")
    # From 0 V the simulator may find the second solution of a constant power, the one that no supply holds; so it is
    # told where the network would lie with plain resistors.
    stand_ins = [Resistor(each.a, each.b, each.ohm) for each in made.bent]
    straight = assemble(made.count, [*made.resistors, *stand_ins], made.fixed).solve().voltages_v
    lines += [f".nodeset v(n{node})={volts!r}" for node, volts in enumerate(straight.tolist())]
    prints = [f"print v(n{node})" for node in range(made.count)] + ["print i(V0)"]
    file = at / "bent.cir"
    file.write_text("\n".join([*lines, ".control", "set numdgt=15", "op", *prints, "quit", ".endc", ".end", ""]))
    assert NGSPICE is not None
    done = subprocess.run([NGSPICE, "-b", str(file)], capture_output=True, text=True, timeout=60, check=False)
    found = re.findall(r"^([vi]\(\w+\)) = (\S+)$", done.stdout.lower(), flags=re.MULTILINE)
    return {name: float(value) for name, value in found}


@needs_simulator
@pytest.mark.parametrize("seed", some(range(1000, 1120), 20))
def test_random_networks_agree_with_the_simulator(seed: int, tmp_path: Path) -> None:
    """Networks of that kind as netlists: every voltage and the supply's current to 0.1 %."""
    made = harness(seed)
    found, values = made.solved(), simulated(made, tmp_path)
    assert found.is_settled
    for node in range(made.count):
        assert found.linear.voltages_v[node] == pytest.approx(values[f"v(n{node})"], rel=1e-3, abs=1e-4)
    assert found.linear.supplied_a[0] == pytest.approx(-values["i(v0)"], rel=1e-3)


@pytest.mark.parametrize("seed", range(200, 220))
def test_currents_and_power_balance(seed: int) -> None:
    """Kirchhoff holds at every node, and what the supply gives is what wires and loads take."""
    made = harness(seed)
    found = made.solved()
    a = [each.a for each in (*made.resistors, *made.bent)]
    b = [each.b for each in (*made.resistors, *made.bent)]
    wires = found.linear.currents_a[: len(made.resistors)]
    current = [*wires, *found.amperes]
    assert_currents_balance(a, b, current, np.zeros(made.count), found.linear.supplied_a, 1e-8)
    heat = sum(each.ohm * flow**2 for each, flow in zip(made.resistors, wires, strict=True))
    taken = float(np.sum(found.volts * found.amperes))
    assert made.fixed[0] * found.linear.supplied_a[0] == pytest.approx(heat + taken, rel=1e-9)


@pytest.mark.parametrize("seed", range(300, 310))
def test_the_order_of_the_elements_does_not_matter(seed: int) -> None:
    """The same network listed otherwise has the same currents."""
    made = harness(seed)
    turned = Made(made.count, made.resistors[::-1], made.fixed, made.bent[::-1])
    np.testing.assert_allclose(turned.solved().amperes[::-1], made.solved().amperes, rtol=1e-9, atol=1e-12)
