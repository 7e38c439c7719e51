"""Clips, tape and grommets on the layout drawing, read back from its SVG against the places that the design gives."""

import re
from xml.etree import ElementTree

import pytest

from harnessgen.drawings.layout.corridor import Setting, corridor
from harnessgen.drawings.layout.drawing import layout_sheets
from harnessgen.drawings.layout.tree import section_board
from harnessgen.sheets.sheet import Sheet
from harnessgen.sheets.svg_writer import svg_text
from tests.drawings.generated import network_of
from tests.drawings.layout.routes import route_text
from tests.drawings.svg_reader import prints
from tests.samples import some
from tests.sheets.clearance import collisions

_SVG = "{http://www.w3.org/2000/svg}"
NUMBER = r"-?\d+(?:\.\d+)?"
HEAD = "format: 2\nharness: {title: Tail, number: TL-1, revision: A}\nsupplies: {BAT: {voltage: 13.8 V, at: a}}\n"
ROUTE = """\
route:
  a:
    b:
      length: 900 mm
      covering: conduit-10
      build: +10/-0
      clips: {at: [300 +/- 5 mm, 520 +10/-0 mm, {at: 80 mm, from: b}]}
      tape: [{part: cloth-19, length: 60 mm}, {part: cloth-19, at: 200 mm, from: b, length: 100 mm}]
      grommets: {GR1: {at: 170 +/- 3 mm, bore: 14 mm, hole: 24 mm}}
  b:
    c: {length: 700 mm, clips: {at: [350 mm]}}
    d: {length: 400 mm, tape: pvc-19, clips: 250 mm}
"""
Box = tuple[float, float, float, float]


def svg_of(sheet: Sheet) -> str:
    return svg_text(sheet.all_marks, sheet.paper.width_mm, sheet.paper.height_mm, "t")


def box_of_group(svg: str, kind: str, subject: str) -> Box:
    """The box of all corners of the group of a kind and subject, without the width of its lines."""
    xs: list[float] = []
    ys: list[float] = []
    for group in ElementTree.fromstring(svg).iter(f"{_SVG}g"):
        if (group.get("data-kind"), group.get("data-subject")) != (kind, subject):
            continue
        for each in group:
            at = each.attrib
            if each.tag == f"{_SVG}rect":
                x, y, w, h = (float(at[key]) for key in ("x", "y", "width", "height"))
                xs, ys = [*xs, x, x + w], [*ys, y, y + h]
            elif each.tag == f"{_SVG}line":
                xs, ys = [*xs, float(at["x1"]), float(at["x2"])], [*ys, float(at["y1"]), float(at["y2"])]
            elif "points" in at:
                values = [float(value) for value in re.findall(NUMBER, at["points"])]
                xs, ys = [*xs, *values[::2]], [*ys, *values[1::2]]
    assert xs, (kind, subject)
    return min(xs), min(ys), max(xs), max(ys)


def along(svg: str, kind: str, subject: str) -> tuple[float, float]:
    low_x, _, high_x, _ = box_of_group(svg, kind, subject)
    return low_x, high_x


def test_each_is_drawn_at_its_place() -> None:
    """Where the stretch is to scale: its distance over the scale from the datum, tape as long as it is."""
    (sheet,) = layout_sheets(network_of(HEAD + ROUTE))
    svg = svg_of(sheet)
    words = [each.words for each in prints(svg)]
    scale = next(float(found[1]) for each in words if (found := re.search(r"scale 1:([\d.]+)", each)))
    assert any("every stretch is to scale" in each for each in words)
    a, b = along(svg, "bundle", "a to b")
    assert b - a == pytest.approx(900.0 / scale, abs=0.01)
    for kind, subject, from_a_mm in (
        ("clip", "clip 300 +/- 5 from a", 300.0),
        ("clip", "clip 520 +10/-0 from a", 520.0),
        ("clip", "clip 80 from b", 820.0),
        ("grommet", "GR1", 170.0),
    ):
        low, high = along(svg, kind, subject)
        assert ((low + high) / 2 - a) * scale == pytest.approx(from_a_mm, abs=0.1), subject
    low, high = along(svg, "tape", "cloth-19 200 from b")
    assert ((low - a) * scale, (high - a) * scale) == pytest.approx((650.0, 750.0), abs=0.1)
    low, high = along(svg, "tape", "cloth-19 to 60 from a")
    # It begins beside the stroke across the end, and ends where it ends.
    assert low - a < 1.5
    assert (high - a) * scale == pytest.approx(60.0, abs=0.1)


def test_each_is_dimensioned_from_its_datum_with_its_tolerance() -> None:
    """The words stand once each; an arrow head has its tip at the place; the circle is at the datum."""
    (sheet,) = layout_sheets(network_of(HEAD + ROUTE))
    svg = svg_of(sheet)
    words = [each.words for each in prints(svg)]
    for each in ("300 +/- 5", "520 +10/-0", "80", "GR1", "170 +/- 3", "cloth-19", "to 60", "cloth-19, 100 long", "200",
                 "350"):  # fmt: skip
        assert words.count(each) == 1, each
    assert any(each.startswith("pvc-19 over all") for each in words)
    for word, kind, subject in (("300 +/- 5", "clip", "clip 300 +/- 5 from a"), ("170 +/- 3", "grommet", "GR1")):
        (told,) = [each for each in prints(svg) if each.words == word]
        low, high = along(svg, kind, subject)
        assert told.middle[0] == pytest.approx((low + high) / 2, abs=2.0)
    for each in ("clip", "tape", "grommet in its panel"):
        assert each in words, "the key"


def test_signs_differ_without_colour() -> None:
    """A clip is a filled bar, tape a hatched box, a grommet an open ring between strokes: black, white and no other."""
    (sheet,) = layout_sheets(network_of(HEAD + ROUTE))
    root = ElementTree.fromstring(svg_of(sheet))
    shapes = {}
    for group in root.iter(f"{_SVG}g"):
        if group.get("data-kind") in ("clip", "tape", "grommet") and group.get("data-subject") != "key":
            inks = {value for each in group for key, value in each.attrib.items() if key in ("fill", "stroke")}
            assert inks <= {"#000000", "#ffffff", "none", "#000", "#fff"}, inks
            shapes[group.get("data-kind")] = [each.tag.removeprefix(_SVG) for each in group]
    assert len({tuple(each) for each in shapes.values()}) == len({"clip", "tape", "grommet"})


def test_a_sheet_without_any_has_no_key() -> None:
    """A design that names none says nothing of them, and a bare distance stays in words."""
    (sheet,) = layout_sheets(network_of(HEAD + "route: {a: {b: {length: 300, clips: 150 mm}}}\n"))
    svg = svg_of(sheet)
    assert 'data-kind="clip"' not in svg
    assert 'data-subject="key"' not in svg
    assert "clips every 150" in [each.words for each in prints(svg)]


def test_more_than_can_be_dimensioned_are_numbered() -> None:
    """25 clips on a stretch: their number stands there instead, and nothing overlaps."""
    places = ", ".join(f"{20 * index} mm" for index in range(1, 26))
    (sheet,) = layout_sheets(network_of(HEAD + f"route: {{a: {{b: {{length: 900, clips: {{at: [{places}]}}}}}}}}\n"))
    words = [each.words for each in prints(svg_of(sheet))]
    assert any(each.startswith("25 clips and the like") for each in words)
    assert [str(each) for each in collisions(sheet.all_marks, sheet.paper.frame)] == []


@pytest.mark.parametrize("seed", some([18, 34, 44, 65, 100], 2))
def test_things_at_one_place_are_drawn_apart(seed: int) -> None:
    """A clip on a splice, a grommet on a clip: a break lies between them, and nothing overlaps."""
    for sheet in layout_sheets(network_of(route_text(seed, loops=True, fixings=True))):
        assert [str(each) for each in collisions(sheet.all_marks, sheet.paper.frame)] == []


def test_turning_a_run_keeps_what_is_fixed_in_place() -> None:
    """Distances run from the other end, the datum stays where it was."""
    board = section_board(network_of(HEAD + ROUTE), "A")
    run = next(each for each in board.runs if each.name == "a to b")
    turned = run.turned()
    for one, other in zip(run.fixed, turned.fixed[::-1], strict=True):
        assert (other.low_mm, other.high_mm) == (run.length_mm - one.high_mm, run.length_mm - one.low_mm)
        assert (one.name, one.is_from_start) == (other.name, not other.is_from_start)
    assert turned.turned() == run


def test_a_stretch_takes_a_running_dimension_from_each_datum() -> None:
    """Two datums take two lines beside one another, none takes none."""
    board = section_board(network_of(HEAD + ROUTE), "A")
    runs = {each.name: each for each in board.runs}
    counts = {
        name: len(corridor(run, Setting(0.2, 1e4), (2.0, 2.0), (0.0, 1.0), is_level=True).running)
        for name, run in runs.items()
    }
    assert counts == {"a to b": 2, "b to c": 1, "b to d": 0}
