"""Copper's resistance against published tables and formulas."""

import pytest

from harnessgen.physics.electrical.resistance import resistance_at


@pytest.mark.parametrize(("at_degc", "ratio"), [(85.0, 1.255403), (105.0, 1.333988), (200.0, 1.707269)])
def test_hot_copper_has_the_published_ratio(at_degc: float, ratio: float) -> None:
    """FAA AC 43.13-1B CHG 1, paragraph 11-66 d(4): R2 = R1 (234.5 + T2) / (234.5 + T1); ratios recomputed."""
    assert resistance_at(1.0, at_degc) == pytest.approx(ratio, abs=5e-7)


def test_shortened_run_of_the_hot_conductor_example() -> None:
    """FAA AC 43.13-1B CHG 1, example 2: 15.5 ft at 20 degC shrink to about 9.5 ft at about 182 degC (from memory)."""
    assert 15.5 / resistance_at(1.0, 181.56) == pytest.approx(9.481, abs=5e-4)


def test_impossible_copper_is_refused() -> None:
    """A temperature at copper's zero is refused."""
    with pytest.raises(ValueError, match="no resistance law"):
        resistance_at(1.0, -234.5)
