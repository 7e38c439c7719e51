"""The probability of being too short: closed form, simulation, and cases that are known exactly."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harnessgen.lengths.measured_length import Doubt, Spread, combined_mm
from harnessgen.lengths.too_short.probability import (
    DRAWS,
    Method,
    compare,
    drawn_probability,
    normal_probability,
    verdict_of,
)
from harnessgen.measures.quantity import Quantity
from tests.lengths.designs import length_of, measured
from tests.samples import examples


def doubt(name: str, uncertainty: float, spread: Spread, freedom: float = math.inf) -> Doubt:
    return Doubt(name, name, uncertainty, 1.0, spread, freedom)


def five_sigmas(probability: float) -> float:
    """Five standard deviations of a share that so many draws give."""
    return 5 * math.sqrt(probability * (1 - probability) / DRAWS)


@pytest.mark.parametrize(
    ("sigmas", "probability"),
    [(0.0, 0.5), (1.0, 0.158655), (2.0, 0.022750), (3.0, 0.001350), (-1.0, 0.841345)],
)
def test_closed_form_is_the_table_of_the_normal_distribution(sigmas: float, probability: float) -> None:
    """Upper tails of the standard normal distribution, as every table of it prints them."""
    assert normal_probability(sigmas * 3.7, 3.7) == pytest.approx(probability, abs=5e-7)


@pytest.mark.parametrize("spare_mm", [0.0, 2.0, 5.0, 9.0])
def test_simulation_and_closed_form_agree_for_normal_doubts(spare_mm: float) -> None:
    """Two normal doubts of 3 and 4 mm make one of 5 mm."""
    doubts = (doubt("a", 3.0, Spread.NORMAL), doubt("b", 4.0, Spread.NORMAL))
    exact = normal_probability(spare_mm, 5.0)
    assert drawn_probability(spare_mm, doubts) == pytest.approx(exact, abs=five_sigmas(exact))


@pytest.mark.parametrize("spare_mm", [-3.0, 0.0, 4.0, 9.0, 11.5])
def test_two_equal_bounds_make_a_triangle(spare_mm: float) -> None:
    """The sum of two even doubts of 6 mm either way is spread as a triangle over 12 mm either way."""
    doubts = tuple(doubt(name, 6 / math.sqrt(3), Spread.EVEN) for name in "ab")
    share = (1 - abs(spare_mm) / 12) ** 2 / 2
    exact = share if spare_mm >= 0 else 1 - share
    assert drawn_probability(spare_mm, doubts) == pytest.approx(exact, abs=five_sigmas(exact))


@pytest.mark.parametrize("spare_mm", [1.0, 5.0, 40.0])
def test_two_readings_leave_a_long_tail(spare_mm: float) -> None:
    """One degree of freedom is the Cauchy distribution: a share of 1/2 - atan(m / u) / pi lies beyond m."""
    exact = 0.5 - math.atan(spare_mm / 2.0) / math.pi
    drawn = drawn_probability(spare_mm, (doubt("readings", 2.0, Spread.STUDENT, 1),))
    assert drawn == pytest.approx(exact, abs=five_sigmas(exact))


def test_many_bounds_are_nearly_normal() -> None:
    """Twelve even doubts (JCGM 100:2008 G.2.2): closed form and simulation differ by less than half a per cent."""
    doubts = tuple(doubt(str(number), 1.0, Spread.EVEN) for number in range(12))
    for sigmas in (0.5, 1.0, 2.0):
        spare_mm = sigmas * combined_mm(doubts)
        assert drawn_probability(spare_mm, doubts) == pytest.approx(normal_probability(spare_mm, 12**0.5), abs=0.005)


def test_equal_cases_give_equal_numbers() -> None:
    """A simulation is repeated exactly, so that no verdict changes by itself."""
    doubts = (doubt("a", 3.0, Spread.EVEN), doubt("b", 1.0, Spread.STUDENT, 4))
    assert drawn_probability(4.0, doubts) == drawn_probability(4.0, doubts)


def test_bounds_settle_what_they_can() -> None:
    """Where no value inside the bounds is short, the probability is nought, whatever a normal tail says."""
    verdict = compare(100.0, (doubt("way", 5 / math.sqrt(3), Spread.EVEN),), Quantity(107.0, 2.0, 2.0), "cut")
    assert (verdict.probability, verdict.method) == (0.0, Method.BOUNDS)
    assert verdict.normal_probability > 0.01
    short = compare(100.0, (doubt("way", 5 / math.sqrt(3), Spread.EVEN),), Quantity(93.0, 2.0, 2.0), "cut")
    assert (short.probability, short.method) == (1.0, Method.BOUNDS)
    exact = compare(100.0, (), Quantity(100.0), "cut")
    assert (exact.probability, exact.uncertainty_mm) == (0.0, 0.0)


def test_a_one_sided_cut_counts_at_its_middle() -> None:
    """A cut of 100 +6/-0 is most likely 103 long."""
    verdict = compare(100.0, (doubt("way", 4.0, Spread.NORMAL),), Quantity(100.0, 6.0, 0.0), "cut")
    assert verdict.spare_mm == 3.0
    assert verdict.uncertainty_mm == pytest.approx(math.hypot(4.0, math.sqrt(3.0)))
    assert verdict.method is Method.DRAWS


def test_the_verdict_of_a_wire_joins_way_and_wire() -> None:
    """Way 120 +/- 3 and 40 of 500 +/- 6, wire 190 +/- 2: the margin is most likely 3 mm."""
    verdict = verdict_of(length_of(measured(("to: V1/1}", "to: V1/1, have: 190 +/- 2 mm}")), "20B"))
    assert verdict.spare_mm == pytest.approx(3.0)
    assert verdict.uncertainty_mm == pytest.approx(math.hypot(3, 0.48, 2) / math.sqrt(3))
    assert verdict.derivation.again() == verdict.normal_probability
    # Of the two wide bounds alone the tail beyond 3 mm is a corner of their rectangle: (5 - 3)^2 / 2 / (6 * 4).
    assert verdict.probability == pytest.approx(2 / 24, abs=0.01)


@settings(max_examples=examples(30), deadline=None)
@given(
    spare_mm=st.floats(-30, 30),
    spreads=st.lists(st.tuples(st.floats(0.1, 5), st.sampled_from(Spread)), min_size=1, max_size=4),
)
def test_more_to_spare_is_never_less_sure(spare_mm: float, spreads: list[tuple[float, Spread]]) -> None:
    """The probability lies between 0 and 1 and falls with the margin; both signs of a margin make a whole."""
    doubts = tuple(doubt(str(number), wide, spread, 3.0) for number, (wide, spread) in enumerate(spreads))
    drawn = [drawn_probability(spare_mm + more, doubts, draws=4000) for more in (0.0, 3.0)]
    assert 0.0 <= drawn[1] <= drawn[0] <= 1.0
    both = drawn_probability(spare_mm, doubts, draws=20_000) + drawn_probability(-spare_mm, doubts, draws=20_000)
    assert both == pytest.approx(1.0, abs=0.04)
