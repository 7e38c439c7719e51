"""Lower bounds: never above the best plan, and as high as their definitions say."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harnessgen.cutting.bounds import bounds_of, l2_bars, least_count
from harnessgen.cutting.problem import Bar, CuttingProblem
from tests.cutting.exact import least_by_trying
from tests.samples import examples


def test_cuts_over_half_need_a_bar_each() -> None:
    """Six cuts of 6 from bars of 10 never share one; cuts of 5 do, and of 3 three."""
    assert l2_bars([6] * 6, 10) == 6
    assert l2_bars([5] * 6, 10) == 3
    assert l2_bars([3] * 9, 10) == 3


def test_what_is_left_beside_long_cuts_may_be_too_little() -> None:
    """Three cuts of 7 leave 3 each, too little for cuts of 4: these need two more bars (K = 4), by material one."""
    assert l2_bars([7, 7, 7, 4, 4, 4], 10) == 5


def test_a_cut_longer_than_the_bar_has_no_bound() -> None:
    """It does not come from any bar."""
    with pytest.raises(ValueError, match="does not come"):
        l2_bars([11], 10)


@settings(max_examples=examples(150), deadline=None)
@given(st.lists(st.integers(1, 20), min_size=1, max_size=7))
def test_no_bound_is_above_the_best_plan(cuts: list[int]) -> None:
    """L2 lies between the bound by material and what trying every plan gives."""
    best = least_by_trying(cuts, [Bar(20, None, 1.0)])
    assert math.ceil(sum(cuts) / 20) <= l2_bars(cuts, 20) <= best


_NEW = st.lists(st.tuples(st.integers(10, 20), st.integers(1, 5)), min_size=1, max_size=2)
_SHELF = st.lists(st.tuples(st.integers(3, 20), st.integers(1, 2)), max_size=2)


@settings(max_examples=examples(150), deadline=None)
@given(st.lists(st.integers(1, 10), min_size=1, max_size=6), _SHELF, _NEW)
def test_bounds_hold_with_a_shelf_and_several_prices(
    cuts: list[int], shelf: list[tuple[int, int]], new: list[tuple[int, int]]
) -> None:
    """With free bars and two kinds for sale, both bounds stay at or below the cheapest plan."""
    bars = [Bar(length, most) for length, most in shelf] + [Bar(length, None, float(price)) for length, price in new]
    bounds = bounds_of(CuttingProblem(tuple(cuts), tuple(bars)))
    assert bounds.material <= bounds.shared + 1e-9
    assert bounds.best <= least_by_trying(cuts, bars) + 1e-9


def test_whole_bars_raise_a_bound() -> None:
    """26 of length from bars of 10 at 3 and of 25 at 7: parted bars would cost 7.28, whole ones 9 or more."""
    problem = CuttingProblem((13, 13), (Bar(10, None, 3.0), Bar(25, None, 7.0)))
    assert least_count(problem, 26, 0, 0.0) == 9.0
    assert least_count(problem, 26, 4, 0.0) == 12.0
    assert least_count(problem, 26, 0, 9.5) == 10.0
