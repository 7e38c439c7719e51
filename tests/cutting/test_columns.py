"""Column generation: patterns, bounds and limits by themselves."""

import math

import pytest

from harnessgen.cutting.best_fit import best_fit_decreasing
from harnessgen.cutting.columns import all_patterns, generate_columns, is_worth_while
from harnessgen.cutting.problem import Bar, CuttingProblem, Used
from harnessgen.cutting.relaxation import Relaxation


def test_all_patterns_of_a_small_problem() -> None:
    """From a bar of 10, two cuts of 4 and three of 3 can be had as 4 4, 4 3 3, or 3 3 3; nothing fits beside them."""
    problem = CuttingProblem((4, 4, 3, 3, 3), (Bar(10, None, 1.0),))
    assert all_patterns(problem, 10) == [Used(0, (4, 4)), Used(0, (4, 3, 3)), Used(0, (3, 3, 3))]
    assert all_patterns(problem, 2) is None


def test_listing_patterns_gives_up_where_it_would_take_for_ever() -> None:
    """Where everything fits one bar there is one pattern, and very many that are not full."""
    problem = CuttingProblem(tuple(range(100, 130)) * 5, (Bar(1_000_000, None, 1.0),))
    assert all_patterns(problem, 10) is None


def test_the_bound_of_the_textbook_example() -> None:
    """452.25 rolls, as in Chvatal, Linear Programming (1983), chapter 13: from memory."""
    cuts = (45,) * 97 + (36,) * 610 + (31,) * 395 + (14,) * 211
    problem = CuttingProblem(cuts, (Bar(100, None, 1.0),))
    relaxation = Relaxation(problem, best_fit_decreasing(problem).used)
    prices = relaxation.solve(50, lambda bound, count: False)
    assert relaxation.is_complete
    assert prices.count == pytest.approx(452.25)
    assert relaxation.bound == pytest.approx(452.25)


def test_a_round_proves_a_bound_before_the_last() -> None:
    """The bound after any number of rounds lies below the complete one, and never falls."""
    cuts = tuple(range(200, 550, 7)) * 2
    problem = CuttingProblem(cuts, (Bar(1000, None, 1.0), Bar(700, 20, 0.4)))
    start = best_fit_decreasing(problem).used
    bounds = []
    for rounds in (1, 3, 9, 200):
        relaxation = Relaxation(problem, start)
        count = relaxation.solve(rounds, lambda bound, count: False).count
        assert relaxation.bound <= count + 1e-6
        bounds.append(relaxation.bound)
    assert bounds == sorted(bounds)
    assert relaxation.is_complete
    assert bounds[-1] == pytest.approx(count, rel=1e-6)


def test_short_cuts_call_for_no_columns() -> None:
    """Many cuts of a hundredth of the bar are left to the quick ways; few, or long ones, are not."""
    assert not is_worth_while(CuttingProblem((1000,) * 500, (Bar(100_000, None, 1.0),)))
    assert is_worth_while(CuttingProblem((1000,) * 10, (Bar(100_000, None, 1.0),)))
    assert is_worth_while(CuttingProblem((30_000,) * 500, (Bar(100_000, None, 1.0),)))
    assert not is_worth_while(CuttingProblem((), (Bar(100_000, None, 1.0),)))


def test_limited_bars_are_not_overdrawn() -> None:
    """Two cheap bars and dear ones: three cheap would do for 3, and the bound knows that there are only two."""
    problem = CuttingProblem((6, 6, 6, 4, 4, 4), (Bar(10, 2, 1.0), Bar(12, None, 3.0)))
    generated = generate_columns(problem, [best_fit_decreasing(problem)], math.ceil)
    assert generated.packing.value == 5.0
    assert 3.0 < generated.bound <= 5.0
    assert math.ceil(generated.bound) == 5
