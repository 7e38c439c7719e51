"""Drivers beyond their limits: each limit at its own value, in the state that exceeds it most."""

import pytest

from harnessgen.physics.electrical.conditions import Case
from harnessgen.rules.loading import driver_overload
from tests.line import FLAT_SIX, physics_of, underlined
from tests.physics.small_designs import BANK, changed

TOLD = [
    ("current: 5 A", "current: 3 A", "3 A", "highest current", "Q1 carries more than it may."),
    ("current: 5 A", "current: 5 A, peak-current: 3 A", "3 A", "peak current", "Q1 carries more than it may."),
    ("current: 5 A", "current: 2 A, peak-current: 9 A", "2 A", "RMS current", "Q1 carries more than it may."),
    ("clamp: 50 V", "clamp: 50 V, clamp-energy: 20 mJ", "20 mJ", "energy in its clamp per pulse",
     "The clamp of Q1 takes more than it may."),
    ("clamp: 50 V", "clamp: 50 V, clamp-power: 1 W", "1 W", "power in its clamp",
     "The clamp of Q1 takes more than it may."),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "blamed", "what", "message"), TOLD)
def test_a_limit_is_told_at_its_value(old: str, new: str, blamed: str, what: str, message: str) -> None:
    """The finding underlines the limit and names the figure that exceeds it."""
    text = changed(BANK, (old, new))
    (finding,) = driver_overload.check(physics_of(text))
    assert underlined(text, finding) == blamed
    assert (finding.subject, finding.message, finding.numbers[0].name) == ("Q1", message, what)
    assert finding.numbers[0].value > finding.numbers[1].value


def test_the_highest_current_is_that_of_cold_coils_at_full_supply() -> None:
    """By hand from the strong case: 14.4 V and coils at their least resistance."""
    text = changed(BANK, ("current: 5 A", "current: 3 A"), ("13.8 V,", "13.8 V +/- 0.6,"))
    physics = physics_of(text)
    (finding,) = driver_overload.check(physics)
    assert finding.numbers[0].value == pytest.approx(physics.point_in("steady", Case.STRONG).amperes["Q1"])
    assert physics.conditions_in("steady", Case.STRONG).supply_v["BAT"] == pytest.approx(14.4)
    assert physics.conditions_in("steady", Case.STRONG).ohms["INJ1"] == pytest.approx(11.4)


def test_the_shipped_bank_is_within_its_drivers() -> None:
    """Three injectors on an output of 5 A, with and without a stated clamp, raise nothing."""
    assert driver_overload.check(physics_of(BANK)) == []
    assert driver_overload.check(physics_of(FLAT_SIX)) == []


def test_just_within_is_silent() -> None:
    """A limit a hair above the figure is kept, a hair below it is not."""
    peak = physics_of(BANK).currents["steady"]["Q1"].peak_a
    above, below = (
        driver_overload.check(physics_of(changed(BANK, ("current: 5 A", f"current: {peak + by:.5f} A"))))
        for by in (1e-3, -1e-3)
    )
    assert (above, len(below)) == ([], 1)
