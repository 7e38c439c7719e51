"""The best set of cuts for one bar: as good as any that trying finds."""

from itertools import product

import numpy
from hypothesis import given, settings
from hypothesis import strategies as st

from harnessgen.cutting.knapsack import Knapsack, LengthGrid, grid_of
from tests.samples import examples

_ITEMS = st.lists(st.tuples(st.integers(1, 12), st.integers(0, 9), st.integers(1, 3)), min_size=1, max_size=4)


@settings(max_examples=examples(120), deadline=None)
@given(_ITEMS, st.lists(st.integers(1, 25), min_size=1, max_size=2))
def test_no_set_that_fits_is_worth_more(items: list[tuple[int, int, int]], bars: list[int]) -> None:
    """For each bar the value is that of the best set found by trying all, and the set given has it."""
    lengths, values, wanted = ([each[part] for each in items] for part in range(3))
    grid = LengthGrid(1, tuple(lengths), tuple(bars), is_exact=True)
    knapsack = Knapsack(grid, numpy.array(values, dtype=float), wanted)
    for index, bar in enumerate(bars):
        sets = product(*(range(count + 1) for count in wanted))
        fitting = (each for each in sets if sum(map(int.__mul__, each, lengths)) <= bar)
        best = max(sum(map(int.__mul__, each, values)) for each in fitting)
        chosen = knapsack.cuts(index)
        assert knapsack.value(index) == best
        assert sum(values[item] * count for item, count in chosen.items()) == best
        assert sum(lengths[item] * count for item, count in chosen.items()) <= bar
        assert all(count <= wanted[item] for item, count in chosen.items())


def test_a_set_with_a_certain_cut() -> None:
    """The best set of a bar of 10 is 6 and 4; with the cut of 5 it is that and 4, though 1 is left."""
    grid = LengthGrid(1, (6, 5, 4), (10,), is_exact=True)
    knapsack = Knapsack(grid, numpy.array([6.0, 3.0, 4.0]), [1, 1, 1])
    assert knapsack.cuts(0) == {0: 1, 2: 1}
    assert knapsack.cuts(0, 1) == {1: 1, 2: 1}
    assert dict(knapsack.worth_with_each(0))[1] == 7.0


def test_a_fine_grid_is_rounded_to_the_safe_side() -> None:
    """Cuts without a coarse common unit are rounded up and bars down, and the grid says so."""
    cuts = [2_000_001, 3_000_000]
    grid = grid_of(cuts, [10_000_000])
    assert not grid.is_exact
    assert all(cut * grid.unit_um >= length for cut, length in zip(grid.cuts, cuts, strict=True))
    assert grid.bars[0] * grid.unit_um <= 10_000_000
    assert grid_of([2_000_000, 3_000_000], [10_000_000]) == LengthGrid(1_000_000, (2, 3), (10,), is_exact=True)
