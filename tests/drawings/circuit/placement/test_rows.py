"""Levels from least distances: the arithmetic alone, without a drawing."""

from harnessgen.drawings.circuit.placement.rows import RowBounds, Rows


def chain(*depths_mm: float) -> RowBounds:
    """Things one below the other, each as far below the one before as that is deep, and one conductor."""
    bounds = RowBounds()
    things = [bounds.thing(0.0, depth_mm) for depth_mm in depths_mm]
    for upper, lower, depth_mm in zip(things, things[1:], depths_mm, strict=False):
        bounds.below(upper, lower, depth_mm, 1)
    return bounds


def test_the_earliest_levels_are_the_longest_way() -> None:
    """Each thing stands below all before it, with the conductor that is to be seen between them."""
    rows = Rows(chain(5.0, 3.0, 2.0))
    level = rows.earliest(1.0)
    assert level == [0.0, 6.0, 10.0]
    assert rows.height_mm(level) == 12.0


def test_the_latest_levels_end_at_the_height() -> None:
    """With room to spare everything can stand lower by all of it."""
    rows = Rows(chain(5.0, 3.0, 2.0))
    assert rows.latest(1.0, 20.0) == [8.0, 14.0, 18.0]


def test_things_in_a_row_are_level_at_their_anchors() -> None:
    """The later of two decides, and the other one waits for it."""
    bounds = chain(5.0, 3.0)
    alone = bounds.thing(0.0, 4.0)
    rows = Rows(bounds)
    assert rows.align([(1, 1.0), (alone, 2.0)])
    level = rows.earliest(1.0)
    assert level[1] + 1.0 == level[alone] + 2.0
    assert level[1] >= 6.0


def test_a_row_that_contradicts_the_bounds_is_refused() -> None:
    """Two things of one column cannot stand in one row, nor two rows each below the other."""
    bounds = RowBounds()
    first = [bounds.thing(0.0, 1.0) for _ in range(2)]
    second = [bounds.thing(0.0, 1.0) for _ in range(2)]
    bounds.below(first[0], first[1], 2.0, 1)
    bounds.below(second[0], second[1], 2.0, 1)
    rows = Rows(bounds)
    assert not rows.align([(first[0], 0.0), (first[1], 0.0)])
    assert rows.align([(first[0], 0.0), (second[1], 0.0)])
    before = rows.earliest(1.0)
    assert not rows.align([(first[1], 0.0), (second[0], 0.0)])
    assert rows.earliest(1.0) == before


def test_a_wanted_level_is_kept_where_the_bounds_allow() -> None:
    """A thing can stand lower than it must, and pushes what is below it."""
    rows = Rows(chain(5.0, 3.0, 2.0))
    assert rows.earliest(1.0, {0: 0.0, 1: 9.0, 2: 0.0}) == [0.0, 9.0, 13.0]


def test_what_reaches_upwards_stands_lower() -> None:
    """Nothing reaches above the top of the drawing."""
    bounds = RowBounds()
    bounds.thing(2.5, 1.0)
    assert Rows(bounds).earliest(1.0) == [2.5]
