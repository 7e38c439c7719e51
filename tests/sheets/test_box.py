"""Boxes: union, inflation and meeting, for any boxes."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from harnessgen.sheets.box import Box, box_around, union_of

coordinate = st.floats(-1000, 1000, allow_nan=False).map(lambda value: round(value, 3))
points = st.tuples(coordinate, coordinate)
boxes = st.tuples(points, points).map(box_around)


@given(boxes, boxes)
def test_union_is_the_smallest_box_that_holds_both(first: Box, second: Box) -> None:
    """A union holds both boxes, and each of its sides lies on one of them."""
    union = first.union(second)
    assert union.contains(first, 0)
    assert union.contains(second, 0)
    assert union_of([first, second]) == union
    for side in ("x0", "y0", "x1", "y1"):
        assert getattr(union, side) in (getattr(first, side), getattr(second, side))


@given(boxes, boxes, st.floats(0.01, 50))
def test_a_gap_is_the_same_as_growing_one_box(first: Box, second: Box, gap_mm: float) -> None:
    """Meeting is mutual, a box in another of some size meets it, and a gap only ever makes more boxes meet."""
    assert first.intersects(second) == second.intersects(first)
    assert first.intersects(second, gap_mm) or not first.intersects(second)
    apart_mm = max(second.x0 - first.x1, first.x0 - second.x1, second.y0 - first.y1, first.y0 - second.y1)
    assert first.intersects(second) == (apart_mm < 0) or 0 in (
        first.width_mm,
        first.height_mm,
        second.width_mm,
        second.height_mm,
    )
    grown = first.inflate(gap_mm)
    assert grown.contains(first)
    assert grown.width_mm == pytest.approx(first.width_mm + 2 * gap_mm)


def test_shared_edges_do_not_meet_and_shrinking_stops_at_the_centre() -> None:
    """Neighbouring cells of a table do not collide; a box cannot be turned inside out."""
    assert not Box(0, 0, 10, 10).intersects(Box(10, 0, 20, 10))
    assert Box(0, 0, 10, 4).inflate(-3) == Box(3, 2, 7, 2)


def test_nothing_has_no_box() -> None:
    """No points and no boxes are refused."""
    with pytest.raises(ValueError, match="at least one point"):
        box_around([])
    with pytest.raises(ValueError, match="at least one box"):
        union_of([])
