"""Node voltages and currents against a circuit simulator, where one is installed."""

import random
import re
import shutil
import subprocess
from collections.abc import Sequence
from pathlib import Path

import numpy as np
import pytest

from harnessgen.physics.nodal.solution import Resistor, assemble
from tests.physics.nodal.networks import Drawn, harness_network
from tests.samples import some

NGSPICE = shutil.which("ngspice")

pytestmark = pytest.mark.skipif(NGSPICE is None, reason="ngspice is not installed")


def deck(networks: Sequence[Drawn]) -> str:
    """The networks as one netlist that prints every node voltage, and every supply current, to 15 digits."""
    lines, wanted = ["networks of resistors"], []
    for at, drawn in enumerate(networks):
        lines += [f"V{at}x{node} n{at}x{node} 0 {volts!r}" for node, volts in drawn.fixed.items()]
        lines += [f"R{at}x{row} n{at}x{each.a} n{at}x{each.b} {each.ohm!r}" for row, each in enumerate(drawn.resistors)]
        wanted += [f"v(n{at}x{node})" for node in range(drawn.node_count)] + [
            f"i(V{at}x{node})" for node in drawn.fixed
        ]
    prints = [f"print {each}" for each in wanted]
    return "\n".join([*lines, ".control", "set numdgt=15", "op", *prints, "quit", ".endc", ".end", ""])


def simulated(networks: Sequence[Drawn], folder: Path) -> list[tuple[np.ndarray, dict[int, float]]]:
    """For each network its node voltages and the current that each fixed node feeds in, as the simulator sees them."""
    file = folder / "network.cir"
    file.write_text(deck(networks), encoding="ascii")
    assert NGSPICE is not None
    done = subprocess.run([NGSPICE, "-b", str(file)], capture_output=True, text=True, timeout=120, check=False)
    found = dict(re.findall(r"^([vi]\([nv]\d+x\d+\)) = (\S+)$", done.stdout.lower(), flags=re.MULTILINE))
    return [
        (
            np.array([float(found[f"v(n{at}x{node})"]) for node in range(drawn.node_count)]),
            {node: -float(found[f"i(v{at}x{node})"]) for node in drawn.fixed},
        )
        for at, drawn in enumerate(networks)
    ]


def assert_agree(networks: Sequence[Drawn], folder: Path, abs_v: float = 1e-9) -> None:
    """Every voltage and supply current to 1e-6."""
    for drawn, (volts, supplied) in zip(networks, simulated(networks, folder), strict=True):
        found = assemble(drawn.node_count, drawn.resistors, drawn.fixed).solve()
        np.testing.assert_allclose(found.voltages_v, volts, rtol=1e-6, atol=abs_v)
        for node, current in supplied.items():
            assert found.supplied_a[node] == pytest.approx(current, rel=1e-6, abs=1e-9)


def connected_network(seed: int, low: float, high: float) -> Drawn:
    """A network in one piece: a random tree with further resistors across it."""
    chance = random.Random(seed)
    count = chance.randrange(4, 25)
    pairs = [(node, chance.randrange(node)) for node in range(1, count)]
    pairs += [(chance.randrange(count), chance.randrange(count)) for _ in range(chance.randrange(count))]
    resistors = [Resistor(a, b, float(10.0 ** chance.uniform(low, high))) for a, b in pairs]
    return Drawn(count, resistors, {0: chance.uniform(6.0, 28.0), 1: 0.0})


@pytest.mark.parametrize("begin", some(range(0, 400, 50), 2))
def test_random_networks_agree_with_the_simulator(begin: int, tmp_path: Path) -> None:
    """Four hundred random networks of 1 ohm to 10 kohm, fifty of them in a netlist."""
    assert_agree([connected_network(seed, 0.0, 4.0) for seed in range(begin, begin + 50)], tmp_path)


def test_milliohms_and_megohms_agree_with_the_simulator(tmp_path: Path) -> None:
    """Networks of 1 milliohm to 1 Mohm; the simulator's own rounding allows no wider spread."""
    assert_agree([connected_network(seed, -3.0, 6.0) for seed in range(1000, 1030)], tmp_path, 1e-8)


def test_harness_agrees_with_the_simulator(tmp_path: Path) -> None:
    """A harness of 300 elements with contacts, joints and loads."""
    assert_agree([harness_network(60)], tmp_path)
