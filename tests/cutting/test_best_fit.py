"""The quick ways to a plan: what they choose, and that they always give a plan."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harnessgen.cutting.best_fit import OutOfStock, best_fit_decreasing, fill_in_turn, fullest
from harnessgen.cutting.leftovers import with_longer_ends
from harnessgen.cutting.problem import Bar, CuttingProblem, Packing, Used
from tests.cutting.exact import assert_is_a_plan
from tests.samples import examples


def test_a_cut_comes_from_the_bar_that_it_leaves_least_of() -> None:
    """4 goes beside 6, not beside 5: nothing is left there."""
    packing = best_fit_decreasing(CuttingProblem((5, 6, 4), (Bar(10, None, 1.0),)))
    assert [used.cuts_um for used in packing.used] == [(6, 4), (5,)]


def test_what_is_free_is_used_before_what_counts() -> None:
    """A shelf piece of 4 takes the cut of 4 before a bar is opened."""
    problem = CuttingProblem((4, 9), (Bar(4, 1), Bar(10, None, 1.0)))
    for way in (best_fit_decreasing, fill_in_turn):
        assert {(used.bar, used.cuts_um) for used in way(problem).used} == {(0, (4,)), (1, (9,))}


def test_filling_finds_what_fits_exactly() -> None:
    """Of 7, 6, 5, 3 the bar of 14 takes 6, 5 and 3, where the longest first would leave 1."""
    assert sorted(fullest({7: 1, 6: 1, 5: 1, 3: 1}, 14)) == [3, 5, 6]
    assert fullest({7: 1}, 6) == []


def test_the_shelf_may_not_suffice() -> None:
    """One bar of 10 does not hold 6 and 5; by the metre, what is left over is bought."""
    for way in (best_fit_decreasing, fill_in_turn):
        with pytest.raises(OutOfStock):
            way(CuttingProblem((6, 5), (Bar(10, 1, 1.0),)))
        packing = way(CuttingProblem((6, 5), (Bar(10, 1),), by_the_metre=True))
        assert packing.value == sum(packing.loose_um) == 5


_BARS = st.lists(st.tuples(st.integers(1, 60), st.none() | st.integers(0, 3), st.sampled_from([0.0, 1.0])), max_size=3)


@settings(max_examples=examples(200), deadline=None)
@given(st.lists(st.integers(1, 60), max_size=25), _BARS, st.booleans(), st.integers(0, 20))
def test_every_cut_is_cut_once_and_no_bar_is_overfull(
    cuts: list[int], bars: list[tuple[int, int | None, float]], by_the_metre: bool, tail: int
) -> None:
    """Both ways, and the gathering of ends after them, keep every cut, and count no more than before."""
    # A free bar is always one of a number.
    kinds = tuple(Bar(length, most if weight else most or 0, weight) for length, most, weight in bars)
    for way in (best_fit_decreasing, fill_in_turn):
        try:
            packing = way(CuttingProblem(tuple(cuts), kinds, by_the_metre, tail))
        except OutOfStock:
            assert not by_the_metre
            continue
        assert_is_a_plan(packing)
        gathered = with_longer_ends(packing)
        assert_is_a_plan(gathered)
        assert gathered.value <= packing.value
        assert gathered.left_over >= packing.left_over or gathered.value < packing.value


def test_ends_are_gathered_into_one() -> None:
    """Two bars of 10 with 3 left on each become one used up and one with 6 left, by exchanging 7 = 4 + 3 for 4."""
    problem = CuttingProblem((4, 3, 4, 3), (Bar(10, 2, 1.0),), tail_um=5)
    packing = Packing(problem, (Used(0, (4, 3)), Used(0, (4, 3))))
    assert packing.left_over == 0
    gathered = with_longer_ends(packing)
    assert sorted(gathered.tail_um(used) for used in gathered.used) == [0, 6]


def test_an_offcut_is_used_up_before_a_spool() -> None:
    """A spool that has to be opened anyway still leaves the short cut to the offcut that it fits."""
    problem = CuttingProblem((90, 11), (Bar(1000, 1, 1.0), Bar(11, 1)), tail_um=30)
    packing = Packing(problem, (Used(0, (90, 11)),))
    gathered = with_longer_ends(packing)
    assert {(used.bar, used.cuts_um) for used in gathered.used} == {(0, (90,)), (1, (11,))}
