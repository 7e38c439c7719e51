"""The SVG writer: only allowed elements, millimetres, escaped text, the same bytes each time."""

from collections.abc import Iterator
from dataclasses import dataclass
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from harnessgen.sheets.box import Box
from harnessgen.sheets.lettering import drawn_text, text_width_mm
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Arc, Circle, Conductor, Hatch, Mark, Polygon, Polyline, Rectangle, TextMark
from harnessgen.sheets.outline import Outline
from harnessgen.sheets.sheet import PAPERS, Sheet, sheet_svg
from harnessgen.sheets.svg_writer import ALLOWED, number, svg_text
from harnessgen.sheets.title_block import TitleBlock

K = MarkKind
EVERY_CLASS: tuple[Mark, ...] = (
    TextMark('<C10> & "1"', 20, 20, 2.5, "middle", bold=True, subject='<S1> & "x"'),
    TextMark("upwards", 20, 60, 2.5, rotation=-90),
    Polyline(((10, 10), (20, 10), (20, 40)), 0.3, dash_mm=(1, 0.5), kind=K.SYMBOL),
    Arc(50, 50, 3, 180, 180, kind=K.CONNECTION_BREAK),
    Arc(50, 50, 3, 0, 360, kind=K.SYMBOL),
    Arc(50, 50, 3, 20, -270, kind=K.SYMBOL),
    Circle(70, 50, 3, 0, fill=(0, 0, 0), kind=K.SPLICE),
    Rectangle(Box(80, 40, 90, 60), fill=(240, 240, 240), corner_mm=1, kind=K.PANEL),
    Polygon(((10, 80), (20, 80), (15, 90)), 0.3, fill=(0, 0, 0), kind=K.DIMENSION),
    Conductor(((30, 10), (30, 30), (60, 30)), "BU", "WH", subject="31A"),
    Conductor(((30, 50), (30, 70)), "GN"),
    Hatch(Box(30, 80, 60, 90).corners, subject="braid-8"),
)


def elements(svg: str) -> Iterator[tuple[str, dict[str, str], str]]:
    """Name, attributes and text of every element of an SVG document, its namespace checked and taken away."""
    for element in ElementTree.fromstring(svg).iter():
        namespace, _, name = element.tag.rpartition("}")
        assert namespace == "{http://www.w3.org/2000/svg"
        yield name, dict(element.attrib), element.text or ""


def test_only_allowed_elements_and_attributes_are_written() -> None:
    """Every class of mark, and a whole sheet, stays on the list; no value of an attribute refers elsewhere."""
    sheet = Sheet(PAPERS["A4 portrait"], TitleBlock("T", "N", "A", "", 1, 1, "NOT RELEASED"), EVERY_CLASS)
    seen = set()
    for name, attributes, _ in elements(sheet_svg(sheet)):
        assert name in ALLOWED
        assert set(attributes) <= ALLOWED[name] | {"xmlns"}
        seen.add(name)
        for value in attributes.values():
            assert "url(" not in value
            assert "//" not in value
    assert seen == set(ALLOWED)
    risky = {"id", "style", "class", "href", "onload", "filter", "clip-path", "mask"}
    assert not risky & {attribute for attributes in ALLOWED.values() for attribute in attributes}


def test_the_drawing_is_in_millimetres() -> None:
    """Width and height carry mm, and one user unit is one millimetre."""
    name, attributes, _ = next(elements(svg_text((), 279.4, 215.9, "x")))
    assert name == "svg"
    assert (attributes["width"], attributes["height"]) == ("279.4mm", "215.9mm")
    assert attributes["viewBox"] == "0 0 279.4 215.9"


def test_the_same_marks_give_the_same_bytes() -> None:
    """Writing twice gives one text, and order of marks only matters within one kind."""
    once = svg_text(EVERY_CLASS, 100, 100, "x")
    assert once == svg_text(EVERY_CLASS, 100, 100, "x")
    first, last = EVERY_CLASS[0], EVERY_CLASS[-1]
    assert svg_text((first, last), 100, 100, "x") == svg_text((last, first), 100, 100, "x")


def test_ground_lies_below_conductors_and_text_on_top() -> None:
    """Whatever the order of marks, a panel is written before a conductor and text comes last."""
    kinds = [
        attributes["data-kind"] for name, attributes, _ in elements(svg_text(EVERY_CLASS, 9, 9, "")) if name == "g"
    ]
    assert kinds.index("panel") < kinds.index("covering") < kinds.index("conductor") < kinds.index("splice")
    assert kinds[-1] == "label"


def test_a_mark_is_found_by_its_subject() -> None:
    """What a mark depicts stands on its group, escaped."""
    subjects = {attributes.get("data-subject") for _, attributes, _ in elements(svg_text(EVERY_CLASS, 9, 9, ""))}
    assert {"31A", "braid-8", '<S1> & "x"'} <= subjects


@given(st.text(max_size=30), st.sampled_from(["start", "middle", "end"]), st.booleans())
def test_any_text_is_written_as_text_with_our_width(text: str, anchor: str, bold: bool) -> None:
    """Text from a design never becomes markup; each text starts where our widths put it and is told its width."""
    mark = TextMark(text, 50, 50, 2.5, anchor, bold, subject=text)  # type: ignore[arg-type]
    written = [each for each in elements(svg_text((mark,), 100, 100, text)) if each[0] == "text"]
    shown, width_mm = drawn_text(text), text_width_mm(text, 2.5, bold)
    if not shown:
        assert written == []
        return
    ((_, attributes, inside),) = written
    assert inside == shown
    share = {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor]
    assert float(attributes["x"]) == pytest.approx(50 - share * width_mm, abs=1e-3)
    assert float(attributes.get("textLength", "0")) == pytest.approx(width_mm, abs=1e-3)


def test_numbers_are_short_and_stable() -> None:
    """A thousandth of a millimetre, no trailing zeros, no exponent, no minus nought."""
    expected = {
        0.1 + 0.2: "0.3",
        5.0: "5",
        -0.0001: "0",
        1e-9: "0",
        123456.7891: "123456.789",
        -2.50: "-2.5",
        100: "100",
    }
    assert {value: number(value) for value in expected} == expected


def test_an_unknown_class_of_mark_is_refused() -> None:
    """A mark that the writer cannot draw is an error, never left out in silence."""

    @dataclass(frozen=True, slots=True)
    class Blot(Mark):
        """A mark of no known class."""

        @property
        def outlines(self) -> tuple[Outline, ...]:
            """No shape."""
            return ()

        @property
        def box(self) -> Box:
            """A box of no size."""
            return Box(0, 0, 0, 0)

        def shift(self, dx_mm: float, dy_mm: float) -> Mark:
            """The same blot."""
            return self

    with pytest.raises(TypeError, match="Blot"):
        svg_text((Blot(kind=K.SYMBOL),), 10, 10, "x")
