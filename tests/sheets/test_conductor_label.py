"""A labelled conductor: the text stands in a gap of its own conductor and meets nothing."""

import pytest

from harnessgen.sheets.box import Box
from harnessgen.sheets.clearance import collisions
from harnessgen.sheets.conductor_label import labelled_conductor
from harnessgen.sheets.marks import Conductor, Text

AREA = Box(0, 0, 200, 200)


@pytest.mark.parametrize(
    "points",
    [
        ((50.0, 10.0), (50.0, 30.0)),
        ((50.0, 30.0), (50.0, 10.0)),
        ((10.0, 50.0), (90.0, 50.0)),
        ((90.0, 50.0), (10.0, 50.0)),
        ((50.0, 10.0), (90.0, 10.0), (90.0, 60.0)),
    ],
)
def test_the_label_meets_nothing_and_the_ends_stay(points: tuple[tuple[float, float], ...]) -> None:
    """Two pieces run from the first point to the last, with the label between them, clear of both."""
    marks = labelled_conductor(points, "RD", "YE", "21A RD/YE 0.75", "21A")
    first, second, text = marks
    assert isinstance(first, Conductor)
    assert isinstance(second, Conductor)
    assert isinstance(text, Text)
    assert (first.points[0], second.points[-1]) == (points[0], points[-1])
    assert {mark.subject for mark in marks} == {"21A"}
    assert [str(fault) for fault in collisions(marks, AREA)] == []
    gap = Box(*first.points[-1], *first.points[-1]).union(Box(*second.points[0], *second.points[0]))
    assert text.box.centre == pytest.approx(gap.centre, abs=1e-6)


def test_an_upright_stroke_is_preferred() -> None:
    """An upright stroke gives up least of its length, so the label stands there even beside a longer level one."""
    marks = labelled_conductor(((10, 10), (190, 10), (190, 30)), "BK", "", "90A BK 1.5", "90A")
    assert marks[2].box.centre == pytest.approx((190, 20))


def test_a_conductor_too_short_for_its_label_is_refused() -> None:
    """No conductor is drawn without its label; the caller has to give it room."""
    with pytest.raises(ValueError, match="no stroke of conductor 21A"):
        labelled_conductor(((10, 10), (10, 15)), "RD", "", "21A RD 0.5", "21A")
