"""The test lamp: when it burns, held against a circuit simulator and a step-by-step heating; what its sheets show."""

import math
from pathlib import Path

import pytest

from harnessgen.bench.faults.fault import Exchanged, FaultKind, Meets, Series, Spot, Swapped
from harnessgen.bench.need import Need
from harnessgen.bench.proof import Proof
from harnessgen.bench.setup.instruments import LAMP
from harnessgen.bench.setup.step import Phase
from harnessgen.bench.setup.test_lamp import DARK_SHARE, SEEN_SHARE, Lamp, Light, lamp_of
from harnessgen.bench.simulation.powered import PoweredRig
from harnessgen.bench.steps.lamp_powered import lamp_on_ms
from tests.bench.proving import fitted_of, proofs_of, shown_by, text_of
from tests.bench.read_faults import read_faults
from tests.bench.solved_anew import solved_anew
from tests.physics.simulator import needs_simulator, transient

USUAL = Lamp(12.0, 5.0, 10.0, 0.03)


@needs_simulator
@pytest.mark.parametrize("ohm", [0.1, 10.0, 26.0, 150.0])
@pytest.mark.parametrize("share", [DARK_SHARE, SEEN_SHARE])
def test_the_volts_at_which_it_burns_against_a_circuit_simulator(share: float, ohm: float, tmp_path: Path) -> None:
    """The volts that bring the filament to a share of its own voltage do that in ngspice, its current as a source."""
    volts = USUAL.needed_v(share, ohm)
    lamp = "B1 2 0 I=sgn(V(2)) * min(0.416667 * pow(abs(V(2)) / 12, 0.55), abs(V(2)) / 2.88)"
    found = transient("lamp", [f"V1 1 0 {volts!r}", f"R1 1 2 {ohm!r}", lamp], ["V1"], 1e-3, 3, 1e-5, tmp_path)
    assert found["V1"].mean_a == pytest.approx(USUAL.ampere(share * 12.0), rel=1e-3)


def test_what_it_still_shows_by_hand() -> None:
    """At 4.8 V: 5 W / 12 V x 0.4^0.55 = 0.2518 A, and 11.4 V less 4.8 V over that are 26.2 ohm."""
    assert USUAL.most_seen_through.result == pytest.approx(6.6 / (5.0 / 12.0 * 0.4**0.55))
    assert USUAL.is_seen(11.4, 26.2)
    assert not USUAL.is_seen(11.4, 26.3)
    assert not USUAL.is_seen(11.4, math.inf)
    assert USUAL.is_dark(14.4, math.inf)
    assert USUAL.is_dark(0.0, 0.0)


def test_the_glow_begins_at_798_kelvin() -> None:
    """Draper, 1847: a body begins to glow at 798 K; 2700 K at full volts by the power 0.42 leaves that at 5.5 %."""
    assert 2700.0 * DARK_SHARE**0.42 < 798.0 < 2700.0 * (1.3 * DARK_SHARE) ** 0.42


@pytest.mark.parametrize(("on_s", "period_s"), [(0.01, 0.2), (0.02, 0.2), (0.005, 0.02), (0.15, 0.4)])
def test_the_swing_of_a_pulsed_filament_step_by_step(on_s: float, period_s: float) -> None:
    """The same heating in small steps over twenty periods: heat follows the square of the volts with a lag of 30 ms."""
    step_s, heat, track = 1e-5, 0.0, []
    count = round(period_s / step_s)
    for _ in range(20):
        track = []
        for index in range(count):
            fed = 1.0 if (index + 0.5) * step_s < on_s else 0.0
            heat += (fed - heat) * -math.expm1(-step_s / 0.03)
            track.append(heat)
    peak, trough = USUAL.swing(1.0, on_s, period_s)
    assert peak == pytest.approx(math.sqrt(max(track)), rel=1e-3)
    assert trough == pytest.approx(math.sqrt(min(track)), rel=1e-2)


def test_when_it_flashes() -> None:
    """Ten milliseconds in 200 flash; a pulse too short stays dark, a short pause or fast pulses melt into a glow."""
    assert USUAL.flashes(1.0, 0.010, 0.200)
    assert not USUAL.flashes(1.0, 0.004, 0.200)
    assert not USUAL.flashes(1.0, 0.180, 0.200)
    assert not USUAL.flashes(1.0, 0.010, 0.020)
    assert USUAL.swing(1.0, USUAL.least_on_s(1.0), 60.0)[0] == pytest.approx(SEEN_SHARE)
    assert USUAL.least_on_s(0.3) == math.inf
    assert lamp_on_ms(USUAL, 1.0) / 1000.0 > USUAL.least_on_s(1.0)


def test_the_resistance_that_a_lamp_sees_with_each_fault() -> None:
    """By loading the changed harness with ten ohm and solving it afresh: R = 10 (V / V10 - 1).

    Faults of one element and of several; where the ten ohm themselves would move a relay, nothing is compared.
    """
    fitted = fitted_of(text_of("flat-six"))
    apart = (*fitted.load_connectors, *fitted.controllers)
    rig = PoweredRig(fitted, apart)
    pairs = [(place.node, "G1") for place in fitted.open_places(apart) if place.node.endswith("/1")]
    faults = [
        fault.change
        for fault in proofs_of(text_of("flat-six")).universe.faults
        if isinstance(fault.change, Series | Meets | Swapped | Exchanged)
    ][::5]
    readings = read_faults(rig, ("SW1",), faults, list(dict.fromkeys(sum(pairs, ()))), (), pairs)
    compared = {False: 0, True: 0}
    for row, change in enumerate(faults):
        point = solved_anew(rig, ("SW1",), change)
        for column, (a, b) in enumerate(pairs):
            open_v = point.volts[a] - point.volts[b]
            if math.isnan(open_v) or abs(open_v) < 1.0:
                continue
            loaded = solved_anew(rig, ("SW1",), change, probe=(a, b, 10.0))
            if loaded.pulled_in == point.pulled_in:
                loaded_v = loaded.volts[a] - loaded.volts[b]
                expected = 10.0 * (open_v / loaded_v - 1.0)
                assert readings.ohms[row, column] == pytest.approx(expected, abs=2e-3), (change, a)
                compared[isinstance(change, Swapped | Exchanged)] += 1
    assert compared[False] > 200
    assert compared[True] > 20


def lamp_proofs(name: str) -> list[Proof]:
    return [proof for proof in proofs_of(text_of(name)).proofs if not proof.need.has_meter]


@pytest.mark.parametrize("name", ["flat-six", "twin-fans"])
def test_a_sheet_for_the_lamp_asks_for_nothing_else(name: str) -> None:
    """No step has another instrument, no line speaks of a meter's readings, and every section has a sheet."""
    found = lamp_proofs(name)
    sections = len(fitted_of(text_of(name)).network.sections.sections)
    assert [proof.need for proof in found] == [Need.LAMP_BENCH] * sections + [Need.LAMP_VEHICLE]
    for proof in found:
        assert all(step.instrument in (None, LAMP) for step in proof.procedure.steps)
        assert all(not block.setup.meter_lines for block in proof.procedure.blocks)


def test_on_the_bench_it_shows_every_open_and_touch_and_no_joint() -> None:
    """By hand: an open is dark and a touch lights; 0.2, 1 and 5 ohm lie far below the 26 that it lights through."""
    for proof in lamp_proofs("flat-six")[:2]:
        by_kind = {each.kind: (each.count, each.shown) for each in proof.detection.covered}
        for kind in (FaultKind.WIRE_OPEN, FaultKind.TERMINAL_OPEN, FaultKind.SPLICE_LEG_OPEN, FaultKind.NETS_BRIDGED):
            count, shown = by_kind[kind]
            assert count == shown > 0, kind
        assert by_kind[FaultKind.POOR_JOINT][1] == 0


def test_it_never_feeds_a_load_or_a_controller() -> None:
    """At feeds and grounds loads and controllers are unplugged; in a load's place all loads are."""
    fitted = fitted_of(text_of("flat-six"))
    for block in proofs_of(text_of("flat-six")).pool.blocks:
        if block.setup.phase is Phase.LAMP_FED:
            assert {*fitted.load_connectors, *fitted.controllers} <= set(block.setup.apart)
        if block.setup.phase is Phase.LAMP_WORKED:
            assert set(fitted.load_connectors) <= set(block.setup.apart)
            lights = {step.expected.light for step in block.steps}
            assert lights == {Light.DARK, Light.FLASHING}


def test_an_output_that_may_not_carry_its_inrush_is_left_out_by_name() -> None:
    """A cold lamp of 21 W takes 13.8 V over 0.686 ohm, 20 A: no output of the flat six may carry that."""
    text = text_of("flat-six")
    assert "limits:" not in text
    strong = text + "\nlimits: {test-lamp-power: 21 W}\n"
    assert lamp_of(fitted_of(strong).network.design.limits).cold_ohm == pytest.approx(144.0 / 21.0 / 10.0)
    assert not [block for block in proofs_of(strong).pool.blocks if block.setup.phase is Phase.LAMP_WORKED]


def test_a_break_darkens_the_lamp_in_a_loads_place() -> None:
    """One leg of the return cut: the lamp in that injector's place stays dark, in another's it flashes on."""
    proofs = proofs_of(text_of("flat-six"))
    (block,) = [each for each in proofs.pool.blocks if each.setup.phase is Phase.LAMP_WORKED]
    place = next(
        index
        for index, fault in enumerate(proofs.detection.faults)
        if fault.change == Series(Spot("31C"), math.inf) and fault.kind is FaultKind.WIRE_OPEN
    )
    shown = {step.a.designator for step in block.steps if step.a and step.number in shown_by(proofs.detection)[place]}
    (wire,) = [each for each in fitted_of(text_of("flat-six")).network.wires if each.mark == "31C"]
    assert shown == {end.designator for end in wire.ends if end.designator.startswith("C2")}


def test_a_lamp_for_half_the_volts_gets_no_step_under_power() -> None:
    """13.8 V would burn out a lamp made for 6 V: it is left out, and the sheets say so."""
    weak = text_of("flat-six") + "\nlimits: {test-lamp-voltage: 6 V}\n"
    pool = proofs_of(weak).pool
    assert not [block for block in pool.blocks if block.setup.phase in (Phase.LAMP_FED, Phase.LAMP_WORKED)]
    assert any("6 V 5 W lamp burns out on 13.8 V" in line for line in pool.not_tested)


@pytest.mark.parametrize("name", ["flat-six", "twin-fans"])
def test_no_step_of_a_sheet_for_the_lamp_can_be_spared(name: str) -> None:
    """Each step shows a fault that no other step of its sheet shows."""
    for proof in lamp_proofs(name):
        alone = {next(iter(steps)) for steps in shown_by(proof.detection) if len(steps) == 1}
        assert alone == {step.number for step in proof.procedure.steps}
