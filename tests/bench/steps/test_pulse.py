"""Length and distance of pulses, with where they come from."""

import pytest

from harnessgen.bench.setup.load_figures import LoadFigures
from harnessgen.bench.steps.pulse import LEAST_ON_MS, on_time, on_time_ms, pulse_period
from harnessgen.measures.quantity import Quantity


def coil(ohm: float, henry: float | None) -> LoadFigures:
    return LoadFigures("INJ1", "coil", Quantity(ohm, 0.05 * ohm, 0.05 * ohm), henry)


@pytest.mark.parametrize(("rpm", "period_ms"), [(300, 400), (600, 200), (900, 133.3), (6000, 20), (12000, 10)])
def test_one_pulse_in_a_four_stroke_cycle(rpm: float, period_ms: float) -> None:
    """Two turns of the crankshaft: 120000 / rpm ms (arithmetic; 400 ms at 300, 200 ms at 600 turns a minute)."""
    period = pulse_period(rpm)
    assert period.result == pytest.approx(period_ms, rel=5e-4)
    assert period.again() == period.result
    with pytest.raises(ValueError, match="no cycle"):
        pulse_period(0.0)


def test_a_pulse_lets_the_current_settle() -> None:
    """Five time constants of the slowest coil: 14 mH over 11.4 ohm is 6.1 ms, rounded up to 10 ms."""
    derived = on_time([coil(12.0, 0.014), coil(12.0, 0.002)])
    assert derived is not None
    assert derived.result == pytest.approx(5 * 14 / 11.4)
    assert derived.again() == derived.result
    assert on_time_ms([coil(12.0, 0.014)]) == 10.0
    assert on_time_ms([coil(12.0, 0.030)]) == 15.0
    assert on_time_ms([coil(12.0, None)]) == LEAST_ON_MS
