"""The netlist of each state, read back by a circuit simulator."""

import math
import re
import shutil
import subprocess
from pathlib import Path

import pytest

from harnessgen.documents.data.spice import netlist, spice_names
from harnessgen.physics.physics import Physics
from tests.documents.small_designs import CHANGE_OVER, SMALL
from tests.line import FLAT_SIX, edited, physics_of

NGSPICE = shutil.which("ngspice")
RESISTORS = edited(
    ("part: plug-in-make,", "part: plug-in-make, suppression: {kind: resistor, resistance: 560 ohm},"),
)
DESIGNS = {"flat six": FLAT_SIX, "flat six, a resistor across the coil": RESISTORS, **SMALL}


def simulated(text: str, folder: Path) -> dict[str, float]:
    """What the simulator prints: `v(node)`, `@element[i]` or `i(element)` and its value."""
    file = folder / "network.cir"
    file.write_text(text, encoding="utf-8")
    assert NGSPICE is not None
    done = subprocess.run([NGSPICE, "-b", str(file)], capture_output=True, text=True, timeout=60, check=False)
    assert "singular" not in (done.stdout + done.stderr).lower(), done.stdout + done.stderr
    return {name: float(value) for name, value in re.findall(r"^(\S+) = (\S+)\s*$", done.stdout, flags=re.MULTILINE)}


@pytest.mark.skipif(NGSPICE is None, reason="ngspice is not installed")
@pytest.mark.parametrize("name", DESIGNS)
def test_the_simulator_finds_the_same_voltages_and_currents(name: str, tmp_path: Path) -> None:
    """Every node and every element of every state agrees to a millionth, far below the 0.1 % that is promised."""
    physics = physics_of(DESIGNS[name])
    for point in physics.points.values():
        found = simulated(netlist(physics.network, point), tmp_path)
        names = spice_names(physics.network, point)
        compared = 0
        for node, spice in names.nodes.items():
            if spice != "0" and not math.isnan(point.volts[node]) and f"v({spice})" in found:
                assert found[f"v({spice})"] == pytest.approx(point.volts[node], rel=1e-6, abs=1e-9), node
                compared += 1
        for element, spice in names.elements.items():
            key = f"@{spice}[i]" if point.ohms[element] > 0 else f"i({spice})"
            assert found[key] == pytest.approx(point.amperes[element], rel=1e-6, abs=1e-9), element
        live = {node for each in physics.network.electrical.elements for node in (each.a, each.b) if node != "0"
                if each.name in names.elements}  # fmt: skip
        assert compared == len(live)
        assert names.elements


def test_a_resistor_across_a_coil_carries_current_while_the_coil_is_on() -> None:
    """What the coil has across it over 560 ohm, in every state; nothing with the key off."""
    physics = physics_of(RESISTORS)
    for state, point in physics.points.items():
        of = {each.name: point.across(each) for each in physics.network.electrical.elements}
        assert point.amperes["K1 resistor"] == pytest.approx(of["K1 coil"] / 560.0, rel=1e-9)
        assert (point.amperes["K1 resistor"] > 0.02) == (state != "parked")


@pytest.mark.skipif(NGSPICE is None, reason="ngspice is not installed")
def test_a_wrong_resistance_would_be_seen(tmp_path: Path) -> None:
    """A netlist with one wire altered does not agree any more: the comparison can fail."""
    physics = physics_of(FLAT_SIX)
    point = physics.points["boost"]
    text = netlist(physics.network, point)
    card = next(line for line in text.splitlines() if line.startswith("r_31a "))
    altered = simulated(text.replace(card, " ".join([*card.split()[:3], "1.0"])), tmp_path)
    assert altered["@r_31a[i]"] != pytest.approx(point.amperes["31A"], rel=1e-2)


def test_names_are_told_apart_where_spice_sees_no_case() -> None:
    """`C1/1` and `c1/1` get names of their own."""
    physics = physics_of(CHANGE_OVER)
    names = spice_names(physics.network, physics.points["pulled"])
    assert len(set(names.nodes.values())) == len(names.nodes)
    assert len({name.lower() for name in names.nodes.values()}) == len(names.nodes)
    assert names.nodes["C1/1"] != names.nodes["c1/1"]


def test_what_hangs_free_is_left_out_with_a_comment() -> None:
    """Injectors between an open relay and an open output would make the matrix singular; they stand as comments."""
    physics = physics_of(FLAT_SIX)
    lines = netlist(physics.network, physics.points["parked"]).splitlines()
    cards = {line.partition(" ")[0] for line in lines if line[:2] in ("r_", "v_")}
    assert {"r_10a", "r_90a"} <= cards
    assert not {"r_21a", "r_31a", "r_inj1", "r_k1_30_87"} & cards
    assert {"*   21A", "*   31A", "*   INJ1", "*   K1 30-87"} <= set(lines)


def test_a_line_of_a_title_cannot_become_a_card() -> None:
    """A title block with a line break in it stays one comment."""
    text = edited(("  revision: B\n", '  revision: "B\\nv_evil n_bat 0 99"\n'))
    physics = physics_of(text)
    lines = netlist(physics.network, physics.points["parked"]).splitlines()
    assert not any(line.startswith("v_evil") for line in lines)
    assert lines[0].startswith("* ")


def test_the_same_state_gives_the_same_bytes() -> None:
    """Nothing of a netlist depends on the clock or on the order of a set."""
    first: Physics = physics_of(FLAT_SIX)
    second: Physics = physics_of(FLAT_SIX)
    for state in first.points:
        assert netlist(first.network, first.points[state]) == netlist(second.network, second.points[state])
