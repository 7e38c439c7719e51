"""Coils under pulsed outputs: textbook figures, a circuit simulator, and plain numerical integration."""

import math
import random
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harnessgen.design.records.state import Pulse, State
from harnessgen.measures.quantity import Quantity
from harnessgen.physics.loads.coil_pulse import Drive, Loop, driven, fall_time_s, rise_time_s
from harnessgen.physics.loads.waveform import Segment, Wave, mean_product_a2, standing
from tests.physics.simulator import SHARP_V, needs_simulator, transient
from tests.samples import some


@pytest.mark.parametrize(
    ("volts", "ohm", "henry", "pull_in_a", "expected_ms"),
    [
        # Worked example 11: circuit-analysis textbook, first-order circuits, relay circuit example (seen).
        (12.0, 150.0, 0.030, 0.050, 0.1962),
        # Worked example 11, second case: textbook practice problem (from memory).
        (110.0, 200.0, 0.500, 0.350, 2.529),
        # Worked example 11, third case with 40 ohm added in series (recomputed from inputs that were seen).
        (20.0, 9.877 + 40.0, 0.04939, 0.200, 0.6839),
    ],
)
def test_pull_in_delay_of_a_relay(volts: float, ohm: float, henry: float, pull_in_a: float, expected_ms: float) -> None:
    """The time to pull-in is that of the textbook, to the last digit that it prints."""
    assert 1000 * rise_time_s(Loop(volts, ohm), henry, pull_in_a) == pytest.approx(expected_ms, rel=5e-4)


def test_a_relay_settles_at_volts_over_ohms() -> None:
    """Worked example 11 (textbook, seen): final 80 mA, and a coil that cannot reach a current never does."""
    assert Loop(12.0, 150.0).final_a == pytest.approx(0.080, rel=1e-12)
    assert rise_time_s(Loop(12.0, 150.0), 0.03, 0.0801) == math.inf


@pytest.mark.parametrize(("time_ms", "expected_a"), [(0.5, 0.37990), (1.0, 0.61032), (2.0, 0.83485)])
def test_current_within_a_pulse(time_ms: float, expected_a: float) -> None:
    """Worked example 25 (recomputed, inputs from memory): 14 V, 14.5 ohm and 14.5 mH have 1 ms and 0.96552 A."""
    wave = driven(Drive(0.0145, Loop(14.0, 14.5), None, time_ms / 1000, 1.0))
    assert wave.peak_a == pytest.approx(expected_a, abs=5e-6)
    assert Loop(14.0, 14.5).final_a == pytest.approx(0.96552, abs=5e-6)


@pytest.mark.parametrize(
    ("rpm", "cycle_ms", "duty"), [(600.0, 200.0, 0.06), (6000.0, 20.0, 0.60), (8000.0, 15.0, 0.80)]
)
def test_period_of_an_engine_cycle(rpm: float, cycle_ms: float, duty: float) -> None:
    """Worked example 26 (arithmetic): a four-stroke cycle is 120000/rpm ms, and 12 ms of it are 60 and 80 %."""
    state = State(speed_rpm=Quantity(rpm), pulse={"Q1": Pulse(width_s=Quantity(0.012))})
    period_s = state.period_s_of("Q1")
    assert period_s == pytest.approx(cycle_ms / 1000, rel=1e-12)
    assert period_s is not None
    assert 0.012 / period_s == pytest.approx(duty, rel=1e-12)


def test_a_bank_of_three_does_not_settle_within_its_pulse() -> None:
    """Worked example 24 (waveform tutorial in a service manual, seen): 4.4 ohm at 14 V would settle at 3.2 A.

    The tutorial measured about 2 A; three coils of 13.2 ohm and 14 mH (inductance from memory) reach that in about a
    millisecond, so that a purely resistive bank overstates it.
    """
    settled = 3 * Loop(14.0, 13.2).final_a
    assert settled == pytest.approx(3.2, abs=0.05)
    to_two_amperes = rise_time_s(Loop(14.0, 13.2), 0.014, 2.0 / 3)
    assert 0.0008 < to_two_amperes < 0.0012


OFF_LOOPS = {"diode": Loop(-0.7, 12.0), "clamp": Loop(14.0 - 60.0, 12.3), "resistor": Loop(0.0, 692.0)}


@needs_simulator
@pytest.mark.parametrize("path", ["diode", "clamp"])
@pytest.mark.parametrize(
    ("on_ms", "period_ms"), [(0.4, 20.0), (3.0, 20.0), (12.0, 20.0), (18.0, 20.0), (1.0, 1.6), (0.2, 0.25)]
)
def test_saturated_drive_agrees_with_the_simulator(path: str, on_ms: float, period_ms: float, tmp_path: Path) -> None:
    """A saturated coil with a diode or a clamp: average, RMS and peak to 1 %, with gaps and without."""
    on_s, period_s, henry = on_ms / 1000, period_ms / 1000, 0.014
    control = f"Vc ctl 0 pulse(0 1 0 1e-6 1e-6 {on_s - 1e-6!r} {period_s!r})"
    coil = ["Rw bat x 0.3", "Vm x y 0", "Rl y z 12", f"Ll z out {henry}", "Cs out 0 1e-11"]
    # A diode across the coil that drops 0.7 V, or the output's clamp at 60 V; the wires have 0.3 ohm.
    taken = ["Df out d sharp", f"Vf d x {0.7 - SHARP_V!r}"]
    if path == "clamp":
        taken = ["Dz out k sharp", f"Vz k 0 {60.0 - SHARP_V!r}"]
    circuit = [*coil, *taken]
    expected = driven(Drive(henry, Loop(14.0, 12.3), OFF_LOOPS[path], on_s, period_s))
    switch = ["S1 out 0 ctl 0 sw", ".model sw sw(vt=0.5 vh=0 ron=1e-3 roff=1e7)", "Vb bat 0 14", control]
    periods = max(3, math.ceil(0.025 / period_s))
    step_s = min(period_s / 600, 1e-5)
    measured = transient("coil", [*circuit, *switch], ["vm"], period_s, periods, step_s, tmp_path)["vm"]
    assert expected.mean_a == pytest.approx(measured.mean_a, rel=0.01)
    assert expected.rms_a == pytest.approx(measured.rms_a, rel=0.01)
    assert expected.peak_a == pytest.approx(measured.peak_a, rel=0.01)


@needs_simulator
@pytest.mark.parametrize("begin", some(range(0, 240, 20), 2))
def test_random_coils_agree_with_the_simulator(begin: int, tmp_path: Path) -> None:
    """Coils of 4 to 40 ohm, 1 to 30 mH, diode or clamp, on for 3 to 97 %, twenty in a netlist: all figures to 1 %."""
    period_s, periods = 0.010, 3
    lines = ["Vb bat 0 14", ".model sw sw(vt=0.5 vh=0 ron=1e-2 roff=1e7)"]
    waves: dict[str, Wave] = {}
    for seed in range(begin, begin + 20):
        chance = random.Random(seed)
        ohm, henry, duty = chance.uniform(4, 40), chance.uniform(0.001, 0.03), chance.uniform(0.03, 0.97)
        fed, volts, off = ("bat", 0.7, Loop(-0.7, ohm)) if seed % 2 else ("0", 50.0, Loop(14.0 - 50.0, ohm))
        lines += [f"Vm{seed} bat y{seed} 0", f"Rl{seed} y{seed} z{seed} {ohm!r}"]
        lines += [f"Ll{seed} z{seed} o{seed} {henry!r}", f"Cs{seed} o{seed} 0 1e-9", f"S{seed} o{seed} 0 c{seed} 0 sw"]
        lines += [f"Vc{seed} c{seed} 0 pulse(0 1 0 1e-6 1e-6 {duty * period_s - 1e-6!r} {period_s!r})"]
        lines += [f"Df{seed} o{seed} d{seed} sharp", f"Vf{seed} d{seed} {fed} {volts - SHARP_V!r}"]
        waves[f"vm{seed}"] = driven(Drive(henry, Loop(14.0, ohm), off, duty * period_s, period_s))
        # It repeats after some time constants.
        periods = max(periods, 2 + math.ceil(6 * henry / ohm / period_s))
    measured = transient("coils", lines, list(waves), period_s, periods, 2e-5, tmp_path)
    for name, wave in waves.items():
        sim = measured[name]
        figures = (wave.mean_a, wave.rms_a, wave.peak_a)
        assert figures == pytest.approx((sim.mean_a, sim.rms_a, sim.peak_a), rel=0.01), name


def stepped(drive: Drive, periods: int, steps: int) -> tuple[float, float, float]:
    """Average, RMS and peak by stepping the coil's own equation forward, by midpoints of small steps."""
    step_s = drive.period_s / steps
    current = 0.0
    samples: list[float] = []
    for _ in range(periods):
        samples = []
        has_peaked = is_held = False
        for number in range(steps):
            loop: Loop | None = drive.on
            if (number + 0.5) * step_s >= drive.on_s:
                loop, is_held = drive.off, False
                current = current if loop is not None else 0.0
            elif drive.hold_a is not None and drive.peak_a is not None:
                has_peaked = has_peaked or current >= drive.peak_a
                is_held = is_held or (has_peaked and (drive.off is None or current <= drive.hold_a))
                loop = drive.off if has_peaked else drive.on
                current = drive.hold_a if is_held else current
            if loop is None or is_held:
                samples.append(current)
                continue
            middle = current + (loop.emf_v - loop.ohm * current) / drive.inductance_h * step_s / 2
            samples.append(max(middle, 0.0))
            current = max(current + (loop.emf_v - loop.ohm * middle) / drive.inductance_h * step_s, 0.0)
    values = np.array(samples)
    return float(values.mean()), float(np.sqrt((values**2).mean())), float(values.max())


@pytest.mark.parametrize("path", [*OFF_LOOPS, None])
@pytest.mark.parametrize(("peak_a", "hold_a"), [(None, None), (4.0, 1.0), (20.0, 1.0)])
def test_drives_agree_with_steps_in_time(path: str | None, peak_a: float | None, hold_a: float | None) -> None:
    """Saturated and peak-and-hold drive agree with plain stepping in time to 0.5 %, whatever takes the current over."""
    off = OFF_LOOPS[path] if path is not None else None
    low_ohm = Loop(14.0, 2.5) if hold_a is not None else Loop(14.0, 12.3)
    drive = Drive(0.003, low_ohm, off, 0.004, 0.010, peak_a, hold_a)
    mean, rms, peak = stepped(drive, periods=3, steps=8000)
    wave = driven(drive)
    assert (wave.mean_a, wave.rms_a, wave.peak_a) == pytest.approx((mean, rms, peak), rel=5e-3)


def test_peak_and_hold_reaches_its_peak_and_then_its_hold() -> None:
    """A coil of 2.5 ohm and 3 mH rises to 4 A, falls through the clamp to 1 A, and holds it to the end of the pulse."""
    drive = Drive(0.003, Loop(14.0, 2.5), Loop(-46.0, 2.4), 0.005, 0.020, 4.0, 1.0)
    wave = driven(drive)
    rise, fall, hold, end = wave.segments
    assert rise.end_a == pytest.approx(4.0)
    assert (fall.start_a, fall.end_a) == pytest.approx((4.0, 1.0))
    assert (hold.start_a, hold.end_a) == (1.0, 1.0)
    assert math.fsum((rise.duration_s, fall.duration_s, hold.duration_s)) == pytest.approx(0.005)
    assert end.end_a == pytest.approx(0.0, abs=1e-12)
    assert rise.duration_s == pytest.approx(rise_time_s(drive.on, 0.003, 4.0))
    assert fall.duration_s == pytest.approx(fall_time_s(drive, 4.0, 1.0))


def test_a_weak_supply_holds_what_it_can() -> None:
    """Where the supply cannot bring the peak, the coil comes to what it can, and no more is held."""
    wave = driven(Drive(0.003, Loop(6.0, 8.0), Loop(-46.0, 2.4), 0.010, 0.020, 4.0, 1.0))
    assert wave.peak_a == pytest.approx(0.75, rel=1e-6)


DRIVES = st.builds(
    lambda henry, ohm, volts, duty, period, off: Drive(henry, Loop(volts, ohm), off, duty * period, period),
    st.floats(1e-4, 0.1),
    st.floats(0.5, 100.0),
    st.floats(5.0, 30.0),
    st.floats(0.01, 0.99),
    st.floats(1e-4, 0.5),
    st.sampled_from([None, *OFF_LOOPS.values()]),
)


@given(DRIVES)
@settings(deadline=None)
def test_average_rms_and_peak_stand_in_order(drive: Drive) -> None:
    """Average is at most RMS, RMS at most peak, and no peak lies above volts over ohms."""
    wave = driven(drive)
    assert 0.0 <= wave.mean_a <= wave.rms_a * (1 + 1e-9)
    assert wave.rms_a <= wave.peak_a * (1 + 1e-9)
    assert wave.peak_a <= drive.on.final_a * (1 + 1e-9)


@given(DRIVES)
@settings(deadline=None)
def test_a_wave_begins_where_it_ended(drive: Drive) -> None:
    """The current at the end of a period is that of its beginning, and no piece leaps."""
    wave = driven(drive)
    pieces = wave.segments
    for before, after in pairwise(pieces):
        assert after.start_a == pytest.approx(before.end_a, rel=1e-9, abs=1e-12)
    if drive.off is not None:
        filled = math.fsum(each.duration_s for each in pieces)
        end_a = pieces[-1].end_a if filled > drive.period_s * (1 - 1e-9) else 0.0
        assert pieces[0].start_a == pytest.approx(end_a, rel=1e-6, abs=1e-6)


@given(DRIVES)
@settings(deadline=None)
def test_energy_of_a_period_balances(drive: Drive) -> None:
    """What the loops put in over a period is what their resistances turn into heat; a coil keeps nothing."""
    if drive.off is None:
        return
    wave = driven(drive)
    loops = [drive.off if each.is_falling else drive.on for each in wave.segments]
    given_j = math.fsum(loop.emf_v * each.charge_c for loop, each in zip(loops, wave.segments, strict=True))
    heat_j = math.fsum(loop.ohm * each.square_a2s for loop, each in zip(loops, wave.segments, strict=True))
    scale = math.fsum(abs(loop.emf_v) * each.charge_c for loop, each in zip(loops, wave.segments, strict=True))
    assert given_j == pytest.approx(heat_j, rel=1e-6, abs=1e-9 * scale + 1e-18)


def sampled(one: Wave, other: Wave, count: int = 20_000) -> float:
    times = [(number + 0.5) * one.period_s / count for number in range(count)]
    return float(np.mean([one.at(time) * other.at(time) for time in times]))


@pytest.mark.parametrize("delay", [0.0, 0.25, 0.5, 0.9])
def test_products_of_waves_agree_with_sampling(delay: float) -> None:
    """The average of the product of two waves, one begun later, agrees with that of its samples."""
    one = driven(Drive(0.014, Loop(14.0, 12.3), OFF_LOOPS["clamp"], 0.008, 0.020))
    other = driven(Drive(0.003, Loop(14.0, 2.5), OFF_LOOPS["diode"], 0.009, 0.020, 4.0, 1.0)).delayed(delay * 0.020)
    assert mean_product_a2(one, other) == pytest.approx(sampled(one, other), rel=2e-3, abs=2e-3)
    assert mean_product_a2(one, one) == pytest.approx(one.rms_a**2, rel=1e-12)


@pytest.mark.parametrize("delay", [0.0, 0.3, 0.7, 1.0])
def test_a_later_start_changes_no_figure(delay: float) -> None:
    """Average, RMS and peak of a wave do not depend on when it is begun."""
    wave = driven(Drive(0.014, Loop(14.0, 12.3), OFF_LOOPS["diode"], 0.008, 0.020))
    later = wave.delayed(delay * wave.period_s)
    figures = (wave.mean_a, wave.rms_a, wave.peak_a)
    assert (later.mean_a, later.rms_a, later.peak_a) == pytest.approx(figures, rel=1e-12)
    assert later.at(delay * wave.period_s + 0.001) == pytest.approx(wave.at(0.001), rel=1e-9)


def test_waves_of_different_periods_have_no_lasting_relation() -> None:
    """Their product averages to that of their averages."""
    one, other = Wave(0.02, (standing(0.01, 2.0),)), Wave(0.03, (standing(0.01, 3.0),))
    assert mean_product_a2(one, other) == pytest.approx(1.0 * 1.0)


@pytest.mark.parametrize(
    ("drive", "words"),
    [
        (Drive(0.01, Loop(14.0, 10.0), None, 0.02, 0.01), "cannot be on for"),
        (Drive(0.0, Loop(14.0, 10.0), None, 0.01, 0.02), "inductance"),
        (Drive(0.01, Loop(14.0, 10.0), Loop(-1.0, 0.0), 0.01, 0.02), "takes a coil's current over"),
        (Drive(0.01, Loop(14.0, 10.0), None, 0.01, 0.02, 1.0, 2.0), "below a peak"),
    ],
)
def test_what_is_no_drive_is_refused(drive: Drive, words: str) -> None:
    """A drive that leaves no wave says what is wrong with it."""
    with pytest.raises(ValueError, match=words):
        driven(drive)


def test_a_piece_can_be_parted() -> None:
    """The parts of a piece have its charge and square together."""
    piece = Segment(0.01, 2.0, -1.0, 0.004)
    first, second = piece.part(0.0, 0.003), piece.part(0.003, 0.01)
    assert first.charge_c + second.charge_c == pytest.approx(piece.charge_c)
    assert first.square_a2s + second.square_a2s == pytest.approx(piece.square_a2s)
