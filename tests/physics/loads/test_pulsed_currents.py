"""Pulsed outputs in a whole network: every element against a circuit simulator, and balances of energy."""

import math
from pathlib import Path

import pytest

from harnessgen.design.records.device import Driver
from harnessgen.network.electrical import REFERENCE, ElementKind
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.loads.pulsed_currents import StateCurrents
from harnessgen.physics.physics import Physics
from harnessgen.physics.states.current_derivation import current_derivation, wave_derivations
from tests.line import FLAT_SIX, physics_of
from tests.physics.simulator import SHARP_V, Measured, needs_simulator, transient
from tests.physics.small_designs import BANK, changed

BOOST = "pulse: {Q1: {width: 12 ms}}"
SIX = changed(
    FLAT_SIX,
    (
        "boost: {on: [SW1, Q1, Q2],",
        "boost: {on: [SW1, Q1, Q2], speed: 6500 rpm, pulse: {Q1: {width: 6 ms}, Q2: {width: 6 ms}},",
    ),
)
EIGHT = changed(
    (Path(__file__).parents[3] / "designs" / "v8-second-injectors.yaml").read_text(encoding="utf-8"),
    (
        "boost: {on: [SW1, Q1, Q2], title: full boost",
        "boost: {on: [SW1, Q1, Q2], speed: 6000 rpm, pulse: {Q1: {width: 8 ms}, Q2: {width: 5 ms}}, title: full boost",
    ),
)
SHORT = changed(BANK, (BOOST, "pulse: {Q1: {width: 1 ms}}"))
DESIGNS = {
    "bank, settled": BANK,
    "bank, rising": SHORT,
    "bank, diodes, never at nought": changed(
        BANK, (BOOST, "pulse: {Q1: {duty: 60 %, period: 1.5 ms}}"), ("flow-match: 2 %", "suppression: diode")
    ),
    "bank, resistors across the coils": changed(
        BANK, ("flow-match: 2 %", "suppression: {kind: resistor, resistance: 20 ohm}")
    ),
    "bank, one poor leg": changed(BANK, ("at: left-3, title", "at: left-3, resistance: 14 ohm, title")),
    "flat six, two outputs together": SIX,
    "eight cylinders, two outputs of different width": EIGHT,
    "flat six, one after the other": changed(SIX, ("Q2: {width: 6 ms}", "Q2: {width: 6 ms, delay: 50 %}")),
}


def simulated(physics: Physics, state: str, case: Case, at: Path) -> tuple[dict[str, Measured], StateCurrents]:
    """Currents of all elements of a state by a transient of the whole network, and ours."""
    network = physics.network
    given, point = physics.conditions_in(state, case), physics.point_in(state, case)
    ours = physics.currents_in(state, case)
    number = {node: f"n{index}" if node != REFERENCE else "0" for index, node in enumerate(network.electrical.nodes)}
    lines: list[str] = []
    probes: dict[str, str] = {}
    for row, each in enumerate(network.electrical.elements):
        if each.name not in point.ohms or point.amperes[each.name] == 0.0:
            continue
        a, b, ohm, probe = number[each.a], number[each.b], point.ohms[each.name], f"vm{row}"
        probes[each.name] = probe
        lines.append(f"{probe} {a} p{row} 0")
        pulsed = ours.pulsed.get(each.name)
        timing = next((load.timing for load in ours.pulsed.values() if load.timing.driver == each.name), None)
        if each.kind is ElementKind.SUPPLY:
            lines += [f"R{row} p{row} s{row} {max(ohm, 1e-6)!r}", f"Vs{row} s{row} 0 {given.supply_v[each.name]!r}"]
        elif pulsed is not None and pulsed.drive is not None:
            lines += [f"R{row} p{row} q{row} {ohm!r}", f"L{row} q{row} {b} {pulsed.drive.inductance_h!r}"]
            if pulsed.taken_by == "the diode across it":
                # From the low end of the coil back to its fed end, beside the probe: the coil's own current is probed.
                lines += [f"D{row} {b} d{row} sharp", f"Vd{row} d{row} {a} {0.7 - SHARP_V!r}"]
        elif timing is not None:
            assert isinstance(each.device, Driver)
            clamp = each.device.clamp_v.value if each.device.clamp_v is not None else 60.0
            delay, period = timing.delay_s, timing.period_s
            lines += [
                f"S{row} p{row} {b} c{row} 0 sw{row}",
                f".model sw{row} sw(vt=0.5 vh=0 ron={ohm!r} roff=1e7)",
                f"Vc{row} c{row} 0 pulse(0 1 {delay!r} 1e-6 1e-6 {timing.on_s - 1e-6!r} {period!r})",
                f"Dz{row} p{row} z{row} sharp",
                f"Vz{row} z{row} {b} {clamp - SHARP_V!r}",
                f"Cs{row} p{row} {b} 1e-11",
            ]
        else:
            lines.append(f"R{row} p{row} {b} {ohm!r}")
    period_s = next(iter(ours.pulsed.values())).timing.period_s
    periods = max(3, math.ceil(0.012 / period_s))
    found = transient("network", lines, list(probes.values()), period_s, periods, period_s / 800, at)
    return {name: found[probe] for name, probe in probes.items()}, ours


@needs_simulator
@pytest.mark.parametrize("name", DESIGNS)
def test_every_element_agrees_with_the_simulator(name: str, tmp_path: Path) -> None:
    """Average, RMS and peak of every wire, contact, fuse, coil, driver and supply agree to 1 %."""
    physics = physics_of(DESIGNS[name])
    measured, ours = simulated(physics, "boost", Case.STATED, tmp_path)
    largest = max(each.rms_a for each in measured.values())
    assert ours.pulsed
    for element, sim in measured.items():
        found = ours.elements[element]
        figures = (found.mean_a, found.rms_a, found.peak_a)
        expected = pytest.approx((sim.mean_a, sim.rms_a, sim.peak_a), rel=0.01, abs=1e-4 * largest)
        assert figures == expected, element


@pytest.mark.parametrize("name", DESIGNS)
@pytest.mark.parametrize("case", Case)
def test_energy_of_a_period_is_accounted_for(name: str, case: Case) -> None:
    """What the supply gives on average is heat in resistances, in clamps and in diodes, to 0.5 %."""
    physics = physics_of(DESIGNS[name])
    ours, point = physics.currents_in("boost", case), physics.point_in("boost", case)
    given = physics.conditions_in("boost", case)
    supplied = given.supply_v["BAT"] * ours.elements["BAT"].mean_a
    drivers = {load.timing.driver for load in ours.pulsed.values()}
    heat = sum(ohm * ours.elements[each].rms_a ** 2 for each, ohm in point.ohms.items() if each not in drivers)
    for driver in drivers:
        # A driver is a resistance only while it is on; then its current is that of its loads' pieces.
        loads = [load for load in ours.pulsed.values() if load.timing.driver == driver]
        on = ours.elements[driver].rms_a ** 2
        falling = [each for load in loads for each in load.line.segments if each.is_falling]
        on -= len(loads) * sum(each.square_a2s for each in falling) / loads[0].timing.period_s
        heat += point.ohms[driver] * on
    for load in ours.pulsed.values():
        by_diode = 0.7 if load.taken_by == "the diode across it" else 0.0
        volts = load.clamp_v if load.clamp_v is not None else by_diode
        heat += volts * load.coil.falling_c / load.timing.period_s
    assert heat == pytest.approx(supplied, rel=5e-3)


def test_steady_outputs_have_one_figure() -> None:
    """Where nothing is pulsed, peak, average and RMS are the current of the operating point."""
    physics = physics_of(BANK)
    for name, found in physics.currents_in("steady", Case.STATED).elements.items():
        size = abs(physics.points["steady"].amperes[name])
        assert (found.peak_a, found.mean_a, found.rms_a) == (size, size, size)


def test_a_pulse_that_settles_peaks_at_the_steady_current() -> None:
    """After 12 ms, ten time constants, the peak is the steady current and the RMS lies near the root of the duty."""
    physics = physics_of(BANK)
    found = physics.currents_in("boost", Case.STATED).elements["INJ1"]
    steady = physics.points["boost"].amperes["INJ1"]
    assert found.peak_a == pytest.approx(steady, rel=1e-4)
    assert 0.93 * math.sqrt(0.6) < found.rms_a / steady < math.sqrt(0.6)


def test_wires_of_a_coil_with_a_diode_rest_while_it_freewheels() -> None:
    """The coil keeps its current after the output is off; its wires do not carry it."""
    physics = physics_of(DESIGNS["bank, diodes, never at nought"])
    found = physics.currents_in("boost", Case.STATED)
    leg = next(each.mark for each in physics.network.wires if each.run.load == "INJ1" and each.circuit == "30")
    assert found.pulsed["INJ1"].taken_by == "the diode across it"
    assert found.elements[leg].mean_a < 0.75 * found.elements["INJ1"].mean_a
    assert found.elements[leg].peak_a == pytest.approx(found.elements["INJ1"].peak_a, rel=1e-6)


def test_outputs_one_after_the_other_have_a_lower_peak() -> None:
    """Half a period apart two banks share no time: the main feed's peak is lower, its average nearly the same."""
    together = physics_of(DESIGNS["flat six, two outputs together"]).currents_in("boost", Case.STATED).elements["F10"]
    apart = physics_of(DESIGNS["flat six, one after the other"]).currents_in("boost", Case.STATED).elements["F10"]
    assert apart.peak_a < 0.6 * together.peak_a
    assert apart.rms_a < 0.8 * together.rms_a
    # Alone a bank gets a little more, since the other takes nothing of the shared feed.
    assert together.mean_a < apart.mean_a < 1.02 * together.mean_a


def test_a_lamp_is_switched_without_delay() -> None:
    """A load without inductance has the steady current for its share of the time: RMS is the root of the duty."""
    text = changed(
        BANK, ("inductance: 14 mH", "keeps: resistance"), (BOOST, "pulse: {Q1: {duty: 25 %, period: 10 ms}}")
    )
    found = physics_of(text).currents_in("boost", Case.STATED)
    steady = found.pulsed["INJ1"].seen.steady_a
    assert found.elements["INJ1"].rms_a == pytest.approx(0.5 * steady, rel=1e-9)
    assert found.elements["INJ1"].mean_a == pytest.approx(0.25 * steady, rel=1e-9)


def test_simplifications_are_said() -> None:
    """A single bank is exact and has no remark; outputs that share a feed say what was taken for them."""
    assert physics_of(BANK).currents_in("boost", Case.STATED).remark == ""
    assert "share a feed" in physics_of(SIX).currents_in("boost", Case.STATED).remark


@pytest.mark.parametrize("name", DESIGNS)
def test_currents_are_their_derivations_evaluated_again(name: str) -> None:
    """Every element's RMS is its printed formula of its printed inputs, or a balance without residual."""
    physics = physics_of(DESIGNS[name])
    found = physics.currents_in("boost", Case.STRONG)
    for element, current in found.elements.items():
        derivation = current_derivation(physics, "boost", element, Case.STRONG)
        assert derivation.result == pytest.approx(current.rms_a, rel=1e-9, abs=1e-12), element
        if hasattr(derivation, "again"):
            assert derivation.again() == pytest.approx(derivation.result, rel=1e-12)
        else:
            assert abs(derivation.balances[0].residual) < 1e-9
    for load in found.pulsed.values():
        peak, mean, rms = wave_derivations(load)
        figures = (load.coil.peak_a, load.coil.mean_a, load.coil.rms_a)
        assert (peak.again(), mean.again(), rms.again()) == pytest.approx(figures, rel=1e-9)


def test_the_worst_of_the_cases_is_kept_with_its_case() -> None:
    """The highest RMS of an injector comes from the cold coil, and no case lies above the figure that is kept."""
    physics = physics_of(BANK)
    kept = physics.currents["boost"]["INJ1"]
    cases = {case: physics.currents_in("boost", case).elements["INJ1"] for case in Case}
    assert kept.case is Case.STRONG
    assert kept.rms_a == max(each.rms_a for each in cases.values())
    assert kept.peak_a == max(each.peak_a for each in cases.values())
