"""Node voltages and currents against a circuit simulator, where one is installed."""

import random
import re
import shutil
import subprocess
from pathlib import Path

import numpy as np
import pytest

from harnessgen.physics.nodal import Resistor, assemble
from tests.physics.networks import Drawn, harness_network

NGSPICE = shutil.which("ngspice")

pytestmark = pytest.mark.skipif(NGSPICE is None, reason="ngspice is not installed")


def deck(drawn: Drawn) -> str:
    """The network as a netlist that prints every node voltage, and every supply current, to 15 digits."""
    lines = ["network of resistors"]
    lines += [f"V{node} n{node} 0 {volts!r}" for node, volts in drawn.fixed.items()]
    lines += [f"R{row} n{each.a} n{each.b} {each.ohm!r}" for row, each in enumerate(drawn.resistors)]
    wanted = [f"v(n{node})" for node in range(drawn.node_count)] + [f"i(V{node})" for node in drawn.fixed]
    prints = [f"print {each}" for each in wanted]
    return "\n".join([*lines, ".control", "set numdgt=15", "op", *prints, "quit", ".endc", ".end", ""])


def simulated(drawn: Drawn, folder: Path) -> tuple[np.ndarray, dict[int, float]]:
    """Node voltages and the current that each fixed node feeds in, as the simulator sees them."""
    file = folder / "network.cir"
    file.write_text(deck(drawn), encoding="ascii")
    assert NGSPICE is not None
    done = subprocess.run([NGSPICE, "-b", str(file)], capture_output=True, text=True, timeout=60, check=False)
    found = dict(re.findall(r"^([vi]\([nv]\d+\)) = (\S+)$", done.stdout.lower(), flags=re.MULTILINE))
    volts = np.array([float(found[f"v(n{node})"]) for node in range(drawn.node_count)])
    return volts, {node: -float(found[f"i(v{node})"]) for node in drawn.fixed}


def connected_network(seed: int, low: float, high: float) -> Drawn:
    """A network in one piece: a random tree with further resistors across it."""
    chance = random.Random(seed)
    count = chance.randrange(4, 25)
    pairs = [(node, chance.randrange(node)) for node in range(1, count)]
    pairs += [(chance.randrange(count), chance.randrange(count)) for _ in range(chance.randrange(count))]
    resistors = [Resistor(a, b, float(10.0 ** chance.uniform(low, high))) for a, b in pairs]
    return Drawn(count, resistors, {0: chance.uniform(6.0, 28.0), 1: 0.0})


@pytest.mark.parametrize("seed", range(20))
def test_random_networks_agree_with_the_simulator(seed: int, tmp_path: Path) -> None:
    """Random networks of 1 ohm to 10 kohm: voltages and supply currents agree to 1e-6."""
    drawn = connected_network(seed, 0.0, 4.0)
    volts, supplied = simulated(drawn, tmp_path)
    found = assemble(drawn.node_count, drawn.resistors, drawn.fixed).solve()
    np.testing.assert_allclose(found.voltages_v, volts, rtol=1e-6, atol=1e-9)
    for node, current in supplied.items():
        assert found.supplied_a[node] == pytest.approx(current, rel=1e-6, abs=1e-9)


@pytest.mark.parametrize("seed", range(20, 26))
def test_milliohms_and_megohms_agree_with_the_simulator(seed: int, tmp_path: Path) -> None:
    """Networks of 1 milliohm to 1 Mohm agree to 1e-6; the simulator's own rounding allows no wider spread."""
    drawn = connected_network(seed, -3.0, 6.0)
    volts, supplied = simulated(drawn, tmp_path)
    found = assemble(drawn.node_count, drawn.resistors, drawn.fixed).solve()
    np.testing.assert_allclose(found.voltages_v, volts, rtol=1e-6, atol=1e-8)
    for node, current in supplied.items():
        assert found.supplied_a[node] == pytest.approx(current, rel=1e-6, abs=1e-9)


def test_harness_agrees_with_the_simulator(tmp_path: Path) -> None:
    """A harness of 300 elements with contacts, joints and loads agrees to 1e-6 at every node."""
    drawn = harness_network(60)
    volts, supplied = simulated(drawn, tmp_path)
    found = drawn.assembled().solve()
    np.testing.assert_allclose(found.voltages_v, volts, rtol=1e-6, atol=1e-9)
    assert found.supplied_a[0] == pytest.approx(supplied[0], rel=1e-6)
