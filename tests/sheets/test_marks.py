"""Marks: each box holds all of the mark, thin marks have one part per stroke, and moving keeps the shape."""

from math import cos, hypot, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from harnessgen.sheets.box import Box
from harnessgen.sheets.mark_kind import DRAWING_ORDER, HOLLOW_KINDS, TEXT_KINDS, MarkKind
from harnessgen.sheets.marks import Arc, Circle, Conductor, Hatch, Mark, Polygon, Polyline, Rectangle, TextMark, box_of
from harnessgen.sheets.outline import Outline, inside, outlines_touch

coordinate = st.floats(0, 300, allow_nan=False).map(lambda value: round(value, 2))
point = st.tuples(coordinate, coordinate)
runs = st.lists(point, min_size=2, max_size=6).map(tuple)
shapes = st.lists(point, min_size=3, max_size=6, unique=True).map(tuple)
width = st.floats(0.1, 3)
symbol = st.just(MarkKind.SYMBOL)

marks = st.one_of(
    st.builds(Polyline, runs, width, kind=symbol),
    st.builds(Arc, coordinate, coordinate, st.floats(0.5, 40), st.floats(-360, 360), st.floats(-360, 360), kind=symbol),
    st.builds(Circle, coordinate, coordinate, st.floats(0.5, 40), width, kind=symbol),
    st.builds(Polygon, shapes, width, fill=st.sampled_from([None, (0, 0, 0)]), kind=symbol),
    st.builds(Hatch, shapes, st.floats(2, 9), st.floats(0, 180)),
    st.builds(Conductor, runs, st.just("BU"), st.sampled_from(["", "WH"])),
    st.builds(
        TextMark, st.text(max_size=9), coordinate, coordinate, st.floats(2, 9), st.sampled_from(["start", "end"])
    ),
)


@given(marks)
def test_the_box_holds_every_part(mark: Mark) -> None:
    """Box and parts agree: no stroke or area reaches out of the box of its mark."""
    for part in mark.parts:
        assert mark.box.contains(part, 0.5 if isinstance(mark, Arc) else 1e-6)


@given(marks, st.floats(-50, 50), st.floats(-50, 50))
def test_moving_a_mark_moves_its_box(mark: Mark, dx_mm: float, dy_mm: float) -> None:
    """A moved mark is the same mark elsewhere: type, kind, and size of its box stay."""
    moved = mark.shift(dx_mm, dy_mm)
    expected = mark.box.shift(dx_mm, dy_mm)
    assert type(moved) is type(mark)
    assert moved.kind is mark.kind
    for side in ("x0", "y0", "x1", "y1"):
        assert getattr(moved.box, side) == pytest.approx(getattr(expected, side), abs=1e-6)


@given(st.floats(1, 50), st.floats(-400, 400), st.floats(-359, 359), st.floats(0, 1))
def test_the_box_of_an_arc_holds_every_point_of_it(radius_mm: float, start: float, sweep: float, share: float) -> None:
    """Whatever part of a circle is drawn, its points are in the box, and the box is no larger than the circle."""
    arc = Arc(100, 80, radius_mm, start, sweep, 0.0, kind=MarkKind.SYMBOL)
    angle = radians(start + share * sweep)
    assert arc.box.contains_point((100 + radius_mm * cos(angle), 80 + radius_mm * sin(angle)))
    assert Box(100, 80, 100, 80).inflate(radius_mm).contains(arc.box)


def test_a_half_turn_to_the_right_has_the_box_of_a_half_circle() -> None:
    """Positive angles run clockwise on the sheet: from the top over the right to the bottom."""
    box = Arc(10, 10, 4, -90, 180, 0.0, kind=MarkKind.SYMBOL).box
    assert (box.x0, box.y0, box.x1, box.y1) == pytest.approx((10, 6, 14, 14))


def test_an_l_shaped_line_has_a_large_box_and_thin_parts() -> None:
    """The empty quarter beside an L is in its box but in none of its parts; ends are cut square."""
    line = Polyline(((0, 0), (40, 0), (40, 30)), 1.0, kind=MarkKind.LEAD)
    assert line.box == Box(0, -0.5, 40.5, 30)
    assert line.parts == (Box(0, -0.5, 40, 0.5), Box(39.5, 0, 40.5, 30))
    wire = Conductor(((0, 0), (40, 0), (40, 30)), "RD", "", 1.0)
    assert wire.parts == (Box(0, -0.5, 40.5, 0.5), Box(39.5, -0.5, 40.5, 30))
    assert wire.ends == ((0, 0), (40, 30))


def test_what_holds_other_marks_is_in_the_way_only_with_its_edge() -> None:
    """A filled panel has four sides as parts, a filled symbol of the same shape is an area."""
    area = Box(0, 0, 20, 10)
    panel = Rectangle(area, 0.4, fill=(240, 240, 240), kind=MarkKind.PANEL)
    body = Rectangle(area, 0.4, fill=(240, 240, 240), kind=MarkKind.SYMBOL)
    assert len(panel.parts) == 4
    assert len(body.parts) == 1
    assert panel.box == body.box


def test_kinds_of_text_are_drawn_last_and_hold_nothing() -> None:
    """Text lies on top of everything else, so that no fill can hide it."""
    highest = max(DRAWING_ORDER[kind] for kind in MarkKind if kind not in TEXT_KINDS)
    assert min(DRAWING_ORDER[kind] for kind in TEXT_KINDS) > highest
    assert not TEXT_KINDS & HOLLOW_KINDS


@given(shapes, st.floats(1, 9), st.floats(0, 180))
def test_hatching_stays_inside_its_area(corners: tuple[tuple[float, float], ...], spacing: float, angle: float) -> None:
    """The middle of every hatch stroke lies inside the area, and no stroke leaves its box."""
    hatch = Hatch(corners, spacing, angle)
    for (ax, ay), (bx, by) in hatch.strokes:
        assert hatch.box.contains_point((ax, ay), 1e-3)
        assert hatch.box.contains_point((bx, by), 1e-3)
        if hypot(bx - ax, by - ay) > 1e-3:
            assert inside(corners, ((ax + bx) / 2, (ay + by) / 2))


def test_hatching_fills_a_square_with_the_right_length_of_stroke() -> None:
    """Strokes 2 mm apart over 20 by 20 mm add up to area over spacing, at any angle, within the raster."""
    square = Box(0, 0, 20, 20).corners
    for angle in (0, 30, 45, 90, 135):
        drawn = sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in Hatch(square, 0.5, angle).strokes)
        assert drawn == pytest.approx(400 / 0.5, rel=0.03)
    with pytest.raises(ValueError, match="not positive"):
        _ = Hatch(square, 0).strokes


@pytest.mark.parametrize(
    ("first", "second", "touching"),
    [
        (Outline(((0, 0), (10, 10)), 0.5, False), Outline(((0, 10), (10, 0)), 0.5, False), True),
        (Outline(((0, 0), (10, 10)), 0.5, False), Outline(((2, 0), (12, 10)), 0.5, False), False),
        (Outline(((0, 0), (10, 10)), 0.5, False), Outline(((1, 0), (11, 10)), 0.5, False), True),
        (Outline(((0, 0), (9, 0), (0, 9)), 0, True), Outline(((8, 8), (9, 9)), 0.5, False), False),
        (Outline(((0, 0), (9, 0), (0, 9)), 0, True), Outline(((2, 2), (3, 3)), 0.1, False), True),
        (Outline(((0, 0), (9, 0), (0, 9)), 0, True), Outline(((0, 0), (9, 0), (0, 9)), 0, True), True),
        (Outline(((5, 5),), 2, False), Outline(((8, 5),), 0.9, False), False),
        (Outline(((5, 5),), 2, False), Outline(((8, 5),), 1.1, False), True),
    ],
)
def test_slanting_shapes_are_judged_by_their_true_distance(first: Outline, second: Outline, touching: bool) -> None:
    """Boxes of slanting strokes overlap long before the strokes do; only the strokes count."""
    assert outlines_touch(first, second) is touching
    assert outlines_touch(second, first) is touching


def test_no_mark_has_no_box() -> None:
    """The box of nothing is refused rather than invented."""
    with pytest.raises(ValueError, match="no mark"):
        box_of(())
