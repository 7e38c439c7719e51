"""What drivers carry and what their clamps take, against their limits."""

import math

import numpy as np
import pytest

from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.states.driver_stress import DriverStress, clamp_energy
from tests.line import physics_of
from tests.physics.small_designs import BANK, changed


def stress_of(text: str, state: str = "boost") -> DriverStress:
    (found,) = physics_of(text).driver_stresses[state]
    return found


def test_clamp_energy_has_its_closed_form() -> None:
    """U L/R (I0 - F ln(1 + I0/F)) with F = (U - Ub)/R, by integrating the falling exponential to nought (textbook)."""
    physics = physics_of(BANK)
    load = physics.currents_in("boost", Case.STRONG).pulsed["INJ1"]
    assert load.drive is not None
    assert load.drive.off is not None
    start = load.coil.peak_a
    ohm, pull = load.drive.off.ohm, -load.drive.off.final_a
    expected = 50.0 * 0.014 / ohm * (start - pull * math.log(1 + start / pull))
    assert clamp_energy(load).result == pytest.approx(expected, rel=1e-9)


def test_clamp_energy_agrees_with_steps_in_time() -> None:
    """Stepping the coil's equation from its peak to nought gives the same energy to 0.1 %."""
    load = physics_of(BANK).currents_in("boost", Case.STRONG).pulsed["INJ1"]
    assert load.drive is not None
    assert load.drive.off is not None
    current, energy, step = load.coil.peak_a, 0.0, 1e-8
    while current > 0.0:
        slope = (load.drive.off.emf_v - load.drive.off.ohm * current) / load.drive.inductance_h
        energy += 50.0 * (current + slope * step / 2) * step
        current += slope * step
    assert clamp_energy(load).result == pytest.approx(energy, rel=1e-3)


def test_clamp_energy_exceeds_what_the_coils_hold() -> None:
    """The supply goes on giving while the clamp holds, so it takes more than half L I squared of its coils."""
    found = stress_of(BANK)
    loads = physics_of(BANK).currents_in("boost", Case.STRONG).pulsed.values()
    held = sum(0.5 * 0.014 * load.coil.peak_a**2 for load in loads)
    assert held < found.energy.result < 1.5 * held
    assert len(found.clamped) == 3


def test_power_is_energy_times_pulses() -> None:
    """At 6000 rpm there are 50 pulses in a second, one each four-stroke cycle (arithmetic)."""
    found = stress_of(BANK)
    assert found.power is not None
    assert found.power.result == pytest.approx(50.0 * found.energy.result, rel=1e-12)
    assert found.power.again() == found.power.result
    assert found.energy.again() == found.energy.result


def test_an_output_that_is_not_pulsed_takes_the_energy_once() -> None:
    """At the end of the state its coils are settled: the energy is that of the settled current, and no power."""
    pulsed, steady = stress_of(BANK), stress_of(BANK, "steady")
    assert steady.power is None
    # Twelve milliseconds are ten time constants, so both start from nearly the same current.
    assert steady.energy.result == pytest.approx(pulsed.energy.result, rel=0.01)


def test_a_diode_at_the_coil_spares_the_clamp() -> None:
    """Where the coil has its own diode, the driver's clamp takes nothing."""
    text = changed(BANK, ("flow-match: 2 %", "suppression: diode"))
    assert stress_of(text).energy.result == 0.0
    assert stress_of(text, "steady").energy.result == 0.0


LIMITS = [
    ("current: 5 A", "current: 3 A", "highest current"),
    ("current: 5 A", "current: 2 A, peak-current: 9 A", "RMS current"),
    ("current: 5 A", "current: 5 A, peak-current: 3 A", "peak current"),
    ("clamp: 50 V", "clamp: 50 V, clamp-energy: 20 mJ", "energy in its clamp per pulse"),
    ("clamp: 50 V", "clamp: 50 V, clamp-power: 1 W", "power in its clamp"),
]


@pytest.mark.parametrize(("old", "new", "what"), LIMITS)
def test_each_limit_is_held(old: str, new: str, what: str) -> None:
    """A limit below the figure is told with both numbers, and alone."""
    (excess,) = stress_of(changed(BANK, (old, new))).excesses
    assert excess.what == what
    assert excess.value > excess.allowed
    assert "set in the design" in str(excess.source)


def test_a_driver_within_its_limits_is_silent() -> None:
    """Limits above every figure leave nothing to tell; a driver of 5 A carries three injectors."""
    text = changed(BANK, ("clamp: 50 V", "peak-current: 5 A, clamp: 50 V, clamp-energy: 60 mJ, clamp-power: 3 W"))
    assert stress_of(text).excesses == ()
    assert stress_of(text, "steady").excesses == ()


def test_peak_and_hold_is_the_drivers_current() -> None:
    """The drive's peak and hold are those of the output: three low coils share 9 A and 3 A."""
    text = changed(
        BANK,
        ("resistance: 12 ohm +/- 5 %", "resistance: 2.4 ohm"),
        ("inductance: 14 mH", "inductance: 3 mH"),
        ("current: 5 A", "current: 9 A, drive: {peak: 9 A, hold: 3 A}"),
    )
    found = physics_of(text).currents_in("boost", Case.STATED)
    assert found.elements["Q1"].peak_a == pytest.approx(9.0, rel=0.01)
    holding = np.mean([found.pulsed[name].coil.at(0.010) for name in ("INJ1", "INJ2", "INJ3")])
    assert holding == pytest.approx(1.0, rel=0.01)
