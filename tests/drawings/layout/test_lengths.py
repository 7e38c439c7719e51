"""Lengths on the layout drawing: what lies in loops, the design's own unit, and the scale that they are drawn to."""

import pytest

from harnessgen.drawings.layout.drawing import layout_sheets
from harnessgen.measures.quantity import LENGTH, parse_quantity
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Polyline, TextMark
from harnessgen.sheets.sheet import Sheet
from tests.drawings.generated import network_of
from tests.sheets.clearance import collisions

HEAD = "format: 2\nharness: {title: Tail, number: TL-1, revision: A}\nsupplies: {BAT: {voltage: 13.8 V, at: a}}\n"
LOOPS = (
    "route: {a: {b: {length: 300, slack: 60, drip-loop: 40, movement: 15}}, "
    "b: {c: {length: 200, built: 215}, d: {length: 150}}}\n"
    "connectors: {C1: {part: sealed-2, at: d, service-loops: {count: 2, each: 15 mm}}}\n"
    "grounds: {G1: {at: c}}\n"
    "circuits: {1: {from: BAT, to: C1/1, size: 0.75 mm2, color: RD},"
    " 2: {from: C1/2, to: G1, size: 0.75 mm2, color: BK}}\n"
)
INCHES = (
    "units: {length: in}\n"
    "route: {a: {b: {length: 14 1/2 +/- 1/4, build: +1/2/-0}}, b: {c: {length: 112 mm, build: +3/-0 mm}, d: 6 3/8}}\n"
    "splices: {S1: {at: a, offset: 3, toward: b}}\n"
)


def texts(sheet: Sheet, kind: MarkKind) -> list[str]:
    return [mark.text for mark in sheet.marks if isinstance(mark, TextMark) and mark.kind is kind]


def test_what_lies_in_loops_stands_beside_its_stretch() -> None:
    """Slack, drip loop and movement each with the sign of a loop; a built length; what each wire has to spare."""
    (sheet,) = layout_sheets(network_of(HEAD + LOOPS))
    labels = texts(sheet, MarkKind.LABEL)
    assert {"slack +60", "drip loop +40", "movement +15", "built 215 in all"} <= set(labels)
    assert [mark.subject for mark in sheet.marks if mark.kind is MarkKind.LOOP] == ["a to b"] * 3 + ["b to c"]
    assert "service loop in each wire: +30" in labels
    assert any("a small loop marks length on top of the dimension" in text for text in labels)
    assert [str(each) for each in collisions(sheet.all_marks, sheet.paper.frame)] == []


def test_without_loops_nothing_is_said_of_them() -> None:
    """A design without any has no sign of a loop and no word of it."""
    (sheet,) = layout_sheets(network_of(HEAD + "route: {a: {b: 300}}\n"))
    assert not [mark for mark in sheet.marks if mark.kind is MarkKind.LOOP]
    assert not any("loop" in text for text in texts(sheet, MarkKind.LABEL))


def test_a_design_in_inches_is_dimensioned_in_inches() -> None:
    """As the builder wrote it; what no rule in inches has a mark for has its millimetres in brackets."""
    (sheet,) = layout_sheets(network_of(HEAD + INCHES))
    assert sorted(texts(sheet, MarkKind.DIMENSION_TEXT)) == ["14 1/2 +1/2/-0", "3", "4.41 +0.12/-0 [112]", "6 3/8"]
    block = [mark.text for mark in sheet.all_marks if isinstance(mark, TextMark) and mark.kind is MarkKind.TITLE_TEXT]
    assert "all lengths inches, [mm], colours IEC 60757" in block
    assert any(" in, scale 1:" in text for text in texts(sheet, MarkKind.LABEL))


@pytest.mark.parametrize("text", [LOOPS, INCHES])
def test_a_stretch_is_as_long_as_the_scale_says(text: str) -> None:
    """Where no stretch is broken, the bar and every stretch are their length over the stated scale."""
    (sheet,) = layout_sheets(network_of(HEAD + text))
    words = next(each for each in texts(sheet, MarkKind.LABEL) if ", scale 1:" in each)
    assert any("every stretch is to scale" in each for each in texts(sheet, MarkKind.LABEL))
    bar, scale = words.split(", scale 1:")
    bar_mm = parse_quantity(bar, LENGTH).value
    (drawn,) = [m for m in sheet.marks if isinstance(m, Polyline) and m.kind is MarkKind.GAUGE and m.width_mm == 0.5]
    assert drawn.points[1][0] - drawn.points[0][0] == pytest.approx(bar_mm / float(scale))
    lengths = {"a to b": 300.0, "b to c": 200.0, "b to d": 150.0}
    if text == INCHES:
        lengths = {"a to b": 14.5 * 25.4, "b to c": 112.0, "b to d": 6.375 * 25.4}
    for name, length_mm in lengths.items():
        ends = [p for m in sheet.marks if m.kind is MarkKind.BUNDLE and m.subject == name for p in _points(m)]
        longest = max(max(axis) - min(axis) for axis in zip(*ends, strict=True))
        assert longest == pytest.approx(length_mm / float(scale)), name


def _points(mark: object) -> tuple[tuple[float, float], ...]:
    points: tuple[tuple[float, float], ...] = getattr(mark, "points", ())
    return points
