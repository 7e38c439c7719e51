"""Operating points of designs: supplies by condition, cases paired as physics pairs them, loads of all laws."""

import random
import re
import subprocess
from pathlib import Path

import pytest

from harnessgen.network.electrical import REFERENCE
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.electrical.operating_point import OperatingPoint
from harnessgen.physics.physics import Physics
from tests.line import physics_of
from tests.physics.simulator import NGSPICE, needs_simulator
from tests.physics.small_designs import BANK, LOADS, changed

DESIGNS = Path(__file__).parents[3] / "designs"
TEXTS = {"bank": BANK, "loads": LOADS} | {
    path.stem: path.read_text(encoding="utf-8") for path in sorted(DESIGNS.glob("*.yaml"))
}


def assert_balances(physics: Physics, point: OperatingPoint) -> None:
    """Kirchhoff at every node, and what the supplies give equals what everything else takes."""
    leaving: dict[str, float] = dict.fromkeys(point.volts, 0.0)
    given_w = taken_w = 0.0
    for each in physics.network.electrical.elements:
        current = point.amperes[each.name]
        leaving[each.a] += current
        leaving[each.b] -= current
        if current == 0.0:
            continue
        if each.name in physics.network.design.supplies:
            source = physics.conditions_in(point.state, point.case).supply_v[each.name]
            given_w += -current * source
            taken_w += current**2 * point.ohms[each.name]
        else:
            taken_w += current * point.across(each)
    scale = max(abs(each) for each in point.amperes.values())
    wrong = {node: amperes for node, amperes in leaving.items() if node != REFERENCE and abs(amperes) > 1e-9 * scale}
    assert wrong == {}
    assert given_w == pytest.approx(taken_w, rel=1e-9)


@pytest.mark.parametrize("case", Case)
@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_power_in_is_power_out(text: str, case: Case) -> None:
    """In every state and case the current balances at every node, and the power over the whole network."""
    physics = physics_of(text)
    for state in physics.network.design.states:
        assert_balances(physics, physics.point_in(state, case))


@needs_simulator
@pytest.mark.parametrize("name", sorted(path.stem for path in DESIGNS.glob("*.yaml")))
def test_shipped_designs_agree_with_the_simulator(name: str, tmp_path: Path) -> None:
    """Every state of every shipped design, in all three cases, as one netlist: every voltage to 0.1 %."""
    physics = physics_of((DESIGNS / f"{name}.yaml").read_text(encoding="utf-8"))
    nodes = {node: str(number) for number, node in enumerate(physics.network.electrical.nodes)}
    lines, prints = [name], []
    points = {}
    for row, (state, case) in enumerate((state, case) for state in physics.network.design.states for case in Case):
        point, given = physics.point_in(state, case), physics.conditions_in(state, case)
        points[row] = point
        place = {node: f"x{row}n{number}" if node != REFERENCE else "0" for node, number in nodes.items()}
        for index, each in enumerate(physics.network.electrical.elements):
            if each.name not in point.ohms:
                continue
            a, b, ohm = place[each.a], place[each.b], max(point.ohms[each.name], 1e-7)
            if each.name in given.supply_v:
                lines.append(f"Vx{row}s{index} x{row}s{index} 0 {given.supply_v[each.name]!r}")
                b = f"x{row}s{index}"
            lines.append(f"Rx{row}r{index} {a} {b} {ohm!r}")
        prints += [f"print v({place[node]})" for node, volts in point.volts.items() if abs(volts) > 1e-3]
    file = tmp_path / "design.cir"
    file.write_text("\n".join([*lines, ".control", "set numdgt=15", "op", *prints, "quit", ".endc", ".end", ""]))
    assert NGSPICE is not None
    done = subprocess.run([NGSPICE, "-b", str(file)], capture_output=True, text=True, timeout=120, check=False)
    values = re.findall(r"^v\(x(\d+)n(\d+)\) = (\S+)$", done.stdout.lower(), flags=re.MULTILINE)
    names = {number: node for node, number in nodes.items()}
    assert len(values) == len(prints) > 0, done.stdout + done.stderr
    for row, number, value in values:
        assert points[int(row)].volts[names[number]] == pytest.approx(float(value), rel=1e-3, abs=1e-4)


def test_a_condition_gives_the_supply_its_range() -> None:
    """Cranking takes the limit's 9.5 V down to 8 V (ISO 16750-2:2012, from memory); other states their own voltage."""
    physics = physics_of(LOADS)
    volts = {
        (state, case): physics.conditions_in(state, case).supply_v["BAT"]
        for state in ("running", "cranking", "charging")
        for case in Case
    }
    assert [volts["running", case] for case in Case] == [13.5, 13.5, 13.5]
    assert [volts["cranking", case] for case in Case] == [9.5, 9.5, 8.0]
    assert [volts["charging", case] for case in Case] == pytest.approx([14.4, 14.7, 14.1])


def test_a_limit_of_the_design_replaces_the_range() -> None:
    """`supply-cranking` set in the design holds in place of the default."""
    text = changed(LOADS, ("states:\n", "limits: {supply-cranking: 7 V +0.5/-0.5}\nstates:\n"))
    conditions = physics_of(text).conditions_in
    assert conditions("cranking", Case.WEAK).supply_v["BAT"] == pytest.approx(6.5)


def test_cold_goes_with_high_supply_and_hot_with_low() -> None:
    """A coil of 10 ohm +/- 10 %: 9 ohm at 20 degC for current, 9 ohm at its zone's 95 degC for drop."""
    ohms = {case: physics_of(LOADS).conditions_in("running", case).ohms["L1"] for case in Case}
    assert ohms[Case.STATED] == 10.0
    assert ohms[Case.STRONG] == pytest.approx(9.0)
    assert ohms[Case.WEAK] == pytest.approx(9.0 * (234.5 + 95.0) / 254.5)


def test_wires_are_cold_for_current_and_hot_for_drop() -> None:
    """A wire in a zone of 95 degC has less resistance in the case of highest current, by the law of copper alone."""
    physics = physics_of(LOADS)
    cold, hot = physics.ohms_in(Case.STRONG)["11A"], physics.ohms_in(Case.WEAK)["11A"]
    assert hot == physics.ohms["11A"]
    assert cold < hot < 1.4 * cold


def test_a_held_motor_and_a_cold_lamp_draw_their_inrush() -> None:
    """Stall by the motor's own resistance or four times its current, a cold lamp ten times (common practice)."""
    conditions = physics_of(LOADS).conditions_in
    stalled, cold = conditions("stalled", Case.STATED).ohms, conditions("switch-on", Case.STATED).ohms
    assert stalled["M1"] == 0.4
    assert stalled["M2"] == pytest.approx(13.5**2 / 60.0 / 4.0)
    assert cold["H1"] == pytest.approx(13.5**2 / 55.0 / 10.0)
    assert cold["M1"] == pytest.approx(13.5**2 / 120.0)


def test_a_converter_draws_more_where_it_gets_less() -> None:
    """A load of constant power has its 60 W in every state, so that cranking brings it the highest current."""
    physics = physics_of(LOADS)
    for state, point in physics.points.items():
        element = next(each for each in physics.network.electrical.elements if each.name == "P1")
        assert point.across(element) * point.amperes["P1"] == pytest.approx(60.0, rel=1e-9), state
    deciding = physics.deciding_state("P1")
    assert deciding is not None
    assert (deciding[0], deciding[1].case) == ("cranking", Case.WEAK)


def test_a_converter_that_cannot_be_fed_is_told() -> None:
    """A feed too thin for the power: the point is not at rest, and says which load finds no voltage."""
    text = changed(LOADS, ("power: 60 W, keeps: power", "power: 2 kW, keeps: power"))
    point = physics_of(text).points["running"]
    assert not point.is_at_rest
    assert "P1" in point.reason
    assert "can keep what it takes" in point.reason


def test_a_state_without_conditions_is_as_it_was() -> None:
    """Solving by a list of what is on gives the point of the state that lists the same."""
    physics = physics_of(BANK)
    by_list = physics.solve("steady", frozenset({"SW1", "Q1"}))
    assert by_list.amperes == physics.points["steady"].amperes


def test_the_deciding_state_is_named_for_each_element() -> None:
    """The state with the highest RMS of an element; none where it never carries current."""
    physics = physics_of(LOADS)
    deciding = {name: physics.deciding_state(name) for name in ("M1", "H1", "F1")}
    expected = {"M1": "stalled", "H1": "switch-on", "F1": "stalled"}
    assert {name: found[0] for name, found in deciding.items() if found is not None} == expected
    for name, found in deciding.items():
        assert found is not None
        assert found[1].rms_a == max(currents[name].rms_a for currents in physics.currents.values())
    never = changed(BANK, ("[SW1, Q1], speed: 6000 rpm, pulse: {Q1: {width: 12 ms}}", "SW1"), ("[SW1, Q1]", "SW1"))
    assert physics_of(never).deciding_state("INJ1") is None


def test_a_diode_the_wrong_way_round_takes_the_current() -> None:
    """With its cathode at 85 the diode shorts the relay's coil while it is fed: tens of amperes, and no pull-in."""
    right = changed(BANK, ("part: plug-in-make,", "part: plug-in-make, suppression: diode,"))
    wrong = changed(BANK, ("part: plug-in-make,", "part: plug-in-make, suppression: {kind: diode, cathode: 85},"))
    good, bad = physics_of(right).points["steady"], physics_of(wrong).points["steady"]
    assert good.amperes["K1 coil"] == pytest.approx(physics_of(BANK).points["steady"].amperes["K1 coil"])
    assert bad.amperes["K1 coil"] > 50.0
    assert good.pulled_in == {"K1"}
    assert bad.pulled_in == frozenset()


def test_the_order_in_the_file_does_not_matter() -> None:
    """Circuits, runs and loads listed otherwise give the same currents to the last digits."""
    lines = LOADS.splitlines(keepends=True)
    loads = [index for index, line in enumerate(lines) if line.startswith(("  M", "  H1", "  P1", "  L1"))]
    runs = [index for index, line in enumerate(lines) if line.startswith("      - {from: S2")]
    chance = random.Random(3)
    turned = list(lines)
    for places in (loads, runs):
        for place, other in zip(places, chance.sample(places, len(places)), strict=True):
            turned[place] = lines[other]
    base, other = physics_of(LOADS), physics_of("".join(turned))
    for state, point in base.points.items():
        for name in ("M1", "M2", "H1", "P1", "L1", "F1", "11A", "BAT"):
            assert other.points[state].amperes[name] == pytest.approx(point.amperes[name], rel=1e-9)


@pytest.mark.parametrize("added", ["resistance: 40 ohm", "power: 30 W, keeps: power", "current: 2 A, keeps: current"])
def test_a_load_more_never_lowers_the_current_of_its_feed(added: str) -> None:
    """Whatever law the further load follows, fuse and supply carry more with it than without."""
    less = physics_of(LOADS)
    text = changed(
        LOADS,
        ("  L1: {title", f"  X1: {{{added}, at: front}}\n  L1: {{title"),
        ("[M1/1, M2/1,", "[X1/1, M1/1, M2/1,"),
        ("      - {from: S2, to: M1/2}\n", "      - {from: S2, to: M1/2}\n      - {from: S2, to: X1/2}\n"),
    )
    more = physics_of(text)
    for state in less.points:
        for element in ("F1", "BAT"):
            before, after = (abs(each.points[state].amperes[element]) for each in (less, more))
            assert after > before
