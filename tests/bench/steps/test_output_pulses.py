"""The pulses of an output test: against the published times of an engine cycle, a simulator, and sums by hand."""

from pathlib import Path

import pytest

from harnessgen.bench.steps.output import outputs_of
from harnessgen.bench.steps.output_pulses import MOST_DUTY, PulsePlan, coil_rise, pulse_count, pulse_plans, speeds_of
from harnessgen.bench.steps.pulse import pulse_period
from harnessgen.design.records.device import Load
from harnessgen.measures.quantity import Quantity
from harnessgen.schedules.results.output_test import output_test_on_sheet, output_test_table
from tests.bench.proving import text_of
from tests.line import physics_of
from tests.physics.simulator import SHARP_V, needs_simulator, transient
from tests.schedules.reading import keyed

CYCLES_MS = {
    300: (400, 340),
    600: (200, 170),
    900: (133.3, 113.3),
    1000: (120, 102),
    2000: (60, 51),
    3000: (40, 34),
    4000: (30, 25.5),
    5000: (24, 20.4),
    6000: (20, 17),
    7000: (17.14, 14.57),
    8000: (15, 12.75),
    9000: (13.33, 11.33),
    10000: (12, 10.2),
    12000: (10, 8.5),
}
"""Four-stroke cycle and 85 % of it by engine speed: table of engine cycle times (arithmetic: 120000 / rpm ms, seen)."""


def plans_of(text: str, *speeds: float, seconds: float = 2.0) -> tuple[PulsePlan, ...]:
    from harnessgen.bench.setup.installed import Fitted

    physics = physics_of(text)
    return pulse_plans(outputs_of(Fitted(physics.network, physics)), speeds, seconds)


@pytest.mark.parametrize(("rpm", "published"), CYCLES_MS.items())
def test_the_period_and_the_highest_share_of_it(rpm: int, published: tuple[float, float]) -> None:
    """Period and 85 % of it, as published."""
    period = pulse_period(rpm).result
    assert (period, MOST_DUTY * period) == pytest.approx(published, rel=5e-4)


def test_the_number_of_pulses() -> None:
    """By hand: 2 s hold ten pulses of 200 ms, 1 s five, 30 ms one at least; never more than ten without fuel."""
    assert [pulse_count(200.0, seconds).result for seconds in (2.0, 1.0, 0.99, 0.03, 60.0)] == [10, 5, 4, 1, 10]
    assert pulse_count(20.0, 0.13).result == 6


@needs_simulator
def test_the_heat_of_a_coil_against_the_simulator(tmp_path: Path) -> None:
    """The flat six at 3000 rpm: its heat is I2R of the current that ngspice finds for that coil alone on its own feed.

    12 ohm less 5 % and 14 mH at the volts that the plan's own peak implies; the output clamps far above the supply.
    """
    plan = next(each for each in plans_of(text_of("flat-six"), 3000.0) if each.sees == "its loads")
    assert plan.coil is not None
    ohm = 12.0 * 0.95
    on_s, period_s = plan.on_ms / 1000.0, plan.period.result / 1000.0
    # Settled at the end of the pulse, the current times all resistance is the supply; legs and bank have 0.3 ohm.
    volts = plan.coil.peak_a * (ohm + 0.3)
    lines = [f"Vb bat 0 {volts!r}", "Rw bat x 0.3", "Vm x y 0", f"Rl y z {ohm!r}", "Ll z o 0.014", "Cs o 0 1e-11"]
    lines += [
        "S1 o 0 c 0 sw",
        ".model sw sw(vt=0.5 vh=0 ron=1e-3 roff=1e7)",
        "Df o d sharp",
        f"Vf d 0 {50 - SHARP_V!r}",
    ]
    lines += [f"Vc c 0 pulse(0 1 0 1e-6 1e-6 {on_s - 1e-6!r} {period_s!r})"]
    found = transient("coil", lines, ["vm"], period_s, 4, 1e-5, tmp_path)["vm"]
    assert plan.coil.peak_a == pytest.approx(found.peak_a, rel=0.01)
    assert plan.coil.power.result == pytest.approx(found.rms_a**2 * ohm, rel=0.02)
    assert plan.coil.pulse.result == pytest.approx(plan.coil.power.result * period_s)
    assert plan.coil.burst.result == pytest.approx(10 * plan.coil.pulse.result)


def test_warming_by_hand_and_not_known() -> None:
    """3.85 J into 10 g of copper at 0.385 J/(g K) are 1 K; without the copper nothing is said."""
    rise = coil_rise(Load(name="L1", winding_g=Quantity(10.0)), 3.85)
    assert rise is not None
    assert rise.result == pytest.approx(1.0)
    assert coil_rise(Load(name="L1"), 3.85) is None
    rows = keyed(output_test_table(plans_of(text_of("flat-six"), 600.0)))
    assert {row["warms"] for row in rows} == {"not known", ""}


def test_a_stated_winding_is_printed() -> None:
    """A solenoid with 8 g of copper: its burst in J over 8 x 0.385."""
    text = text_of("v8-second-injectors").replace(
        "part: solenoid, connector", "part: solenoid, winding: 8 g, connector"
    )
    (plan,) = [each for each in plans_of(text, 600.0) if each.output == "Q3" and each.coil is not None]
    assert plan.coil is not None
    assert plan.coil.rise is not None
    assert plan.coil.rise.result == pytest.approx(plan.coil.burst.result / (8.0 * 0.385))


def test_the_limit_of_the_output_bounds_the_time_on() -> None:
    """An output of 3 A works a bank of 3.3 A: the pulse passes it, says so, and has a longest time below its own."""
    text = text_of("flat-six")
    tight = text.replace("current: 5 A, resistance", "current: 3 A, resistance")
    assert tight != text
    plan = next(each for each in plans_of(tight, 600.0) if each.sees == "its loads")
    assert "highest current" in plan.excess
    assert plan.longest_ms is not None
    assert 0.0 < plan.longest_ms < plan.on_ms
    easy = next(each for each in plans_of(text, 600.0) if each.sees == "its loads")
    assert not easy.excess
    assert easy.longest_ms == pytest.approx(170.0)


def test_an_ignition_coil_is_not_held() -> None:
    """Three ohm at 14 V take 60 W for good: its time on ends where the average is 25 W, before 85 % of the time."""
    plan = next(each for each in plans_of(text_of("ignition-sensors"), 600.0) if each.sees == "its loads")
    assert plan.longest_ms is not None
    assert plan.on_ms < plan.longest_ms < 170.0


def test_the_lamp_flashes_at_idle_and_glows_at_speed() -> None:
    """Five flashes in a second are told; fifty melt. An output that may not carry its inrush is not tried with it."""
    shows = {each.rpm: each.shows for each in plans_of(text_of("flat-six"), 600.0, 6000.0) if "lamp" in each.sees}
    assert shows[600.0] == "flashes"
    assert "no single flash" in shows[6000.0]
    (refused,) = [
        each for each in plans_of(text_of("v8-second-injectors"), 600.0) if each.output == "Q3" and "lamp" in each.sees
    ]
    assert refused.on_ms == 0.0
    assert "Q3 may carry 2 A" in refused.excess


def test_speeds_and_tables() -> None:
    """Idle always, and each speed that a state declares; the sheet has the same rows in fewer columns."""
    from harnessgen.bench.setup.installed import Fitted

    physics = physics_of(text_of("flat-six"))
    outputs = outputs_of(Fitted(physics.network, physics))
    stated = {each.speed_rpm.value for each in physics.network.design.states.values() if each.speed_rpm is not None}
    assert set(speeds_of(outputs)) == {600.0, *stated}
    plans = pulse_plans(outputs, (600.0,))
    assert len(output_test_on_sheet(plans).rows) == len(output_test_table(plans).rows) == 2 * len(outputs)
    with pytest.raises(ValueError, match="cannot last"):
        pulse_plans(outputs, (600.0,), 0.0)
