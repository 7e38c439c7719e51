"""Uncertainty against the examples of the GUM and of a beginner's guide."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from harnessgen.lengths.uncertainty import (
    Contribution,
    combined,
    effective_freedom,
    expanded,
    expanded_derivation,
    mean_of_readings,
    rectangular,
    root_sum_of_squares,
)


def end_gauge() -> list[Contribution]:
    """JCGM 100:2008 annex H.1, in nm: calibrated standard, comparison, expansion, temperature (inputs as printed)."""
    comparison = [
        Contribution("repeated comparison", 5.8, freedom=24),
        Contribution("comparator, random", 3.9, freedom=5),
        Contribution("comparator, systematic", 6.7, freedom=8),
    ]
    length_nm = 50.000623e6
    return [
        Contribution("standard", 25.0, freedom=18),
        Contribution("comparison", combined(comparison), freedom=effective_freedom(comparison)),
        Contribution("difference of expansion", rectangular(1e-6, 1e-6).uncertainty, length_nm * 0.1, 50, "1/K"),
        Contribution("difference of temperature", rectangular(0.05, 0.05).uncertainty, length_nm * 11.5e-6, 2, "K"),
    ]


def test_end_gauge_parts_are_those_of_the_guide() -> None:
    """JCGM 100:2008 H.1: parts 25, 9.7, 2.9, 16.6 nm (printed results from memory)."""
    assert [each.share for each in end_gauge()] == pytest.approx([25.0, 9.7, 2.9, 16.6], abs=0.05)


def test_end_gauge_uncertainty_is_that_of_the_guide() -> None:
    """JCGM 100:2008 H.1: combined 32 nm, 16 effective degrees of freedom, k 2.92, expanded 93 nm (from memory)."""
    parts = end_gauge()
    assert combined(parts) == pytest.approx(31.66, abs=0.005)
    assert effective_freedom(parts[1:2]) == pytest.approx(25.45, abs=0.005)
    assert math.floor(effective_freedom(parts)) == 16
    assert effective_freedom(parts) == pytest.approx(16.75, abs=0.01)
    # The guide rounds the combined uncertainty to 32 nm before it multiplies.
    assert expanded(round(combined(parts)), 2.92) == pytest.approx(93.0, abs=0.5)


def test_tape_measure_example() -> None:
    """Measurement Good Practice Guide No. 11: 6.4 mm combined, 12.8 mm at k = 2 (from memory)."""
    slack = rectangular(20.0, 0.0)
    readings = mean_of_readings(2.1, 10)
    assert readings.uncertainty == pytest.approx(0.66, abs=0.005)
    assert readings.freedom == 9
    assert slack.shift == 10.0
    assert slack.uncertainty == pytest.approx(5.8, abs=0.03)
    reading = rectangular(0.5, 0.5).uncertainty
    assert reading == pytest.approx(0.29, abs=0.005)
    # The guide combines rounded parts and doubles the rounded sum; unrounded it is 6.34 mm.
    total = root_sum_of_squares([0.7, 2.5, 0.29, 5.8])
    assert total == pytest.approx(6.4, abs=0.05)
    assert expanded(round(total, 1)) == pytest.approx(12.8)
    assert root_sum_of_squares([readings.uncertainty, 2.5, reading, slack.uncertainty]) == pytest.approx(6.33, abs=0.01)
    assert 5017.0 + slack.shift == 5027.0


@pytest.mark.parametrize(
    ("plus", "minus", "shift", "half_width"), [(8.0, 8.0, 0.0, 8.0), (10.0, 0.0, 5.0, 5.0), (2.0, 6.0, -2.0, 4.0)]
)
def test_one_sided_tolerance_moves_the_middle(plus: float, minus: float, shift: float, half_width: float) -> None:
    """JCGM 100:2008 4.3.8: limits that are not symmetric put the expectation in their middle."""
    bound = rectangular(plus, minus)
    assert (bound.shift, bound.half_width) == (shift, half_width)
    assert bound.uncertainty == pytest.approx(half_width / math.sqrt(3.0))


def test_unlimited_parts_have_unlimited_freedom() -> None:
    """Bounds known without doubt give infinitely many degrees of freedom; so does nothing at all."""
    assert effective_freedom([Contribution("bound", 1.0), Contribution("bound", 2.0)]) == math.inf
    assert effective_freedom([]) == math.inf
    assert combined([]) == 0.0


PARTS = st.lists(
    st.builds(Contribution, st.just("part"), st.floats(1e-6, 1e3), st.floats(-1e3, 1e3), st.floats(1.0, 100.0))
)


@given(PARTS)
def test_combined_lies_between_the_largest_part_and_the_sum(parts: list[Contribution]) -> None:
    """The combination lies between the largest share and the sum; its freedom is at least that of the worst part."""
    shares = [each.share for each in parts]
    assert max(shares, default=0.0) * (1 - 1e-12) <= combined(parts) <= sum(shares) * (1 + 1e-12)
    assert effective_freedom(parts) >= min((each.freedom for each in parts), default=1.0) * (1 - 1e-9)


def test_derivation_gives_the_number_from_its_own_inputs() -> None:
    """The printed formula gives k times the combined uncertainty, and units stand beside every input."""
    parts = end_gauge()
    derivation = expanded_derivation("U", parts, "nm", 2.92)
    assert derivation.result == derivation.again() == pytest.approx(expanded(combined(parts), 2.92), rel=1e-14)
    assert {each.symbol: each.unit for each in derivation.inputs}["c3"] == "nm per 1/K"
    assert expanded_derivation("U", [], "mm").result == 0.0


def test_impossible_uncertainties_are_refused() -> None:
    """Negative limits and deviations, single readings, no coverage and no freedom are refused."""
    with pytest.raises(ValueError, match=r"\+-1.0/-0.0"):
        rectangular(-1.0, 0.0)
    with pytest.raises(ValueError, match="1 readings"):
        mean_of_readings(1.0, 1)
    with pytest.raises(ValueError, match="coverage factor"):
        expanded(1.0, 0.0)
    with pytest.raises(ValueError, match="coverage factor"):
        expanded_derivation("U", [], "mm", -1.0)
    with pytest.raises(ValueError, match="degrees of freedom"):
        effective_freedom([Contribution("nothing", 1.0, freedom=0.0)])
