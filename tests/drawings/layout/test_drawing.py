"""The layout drawing of the flat six: what a fabricator reads from it."""

import re
import xml.etree.ElementTree as ET
from functools import cache
from math import dist

import pytest

from harnessgen.drawings.layout.drawing import layout_sheets
from harnessgen.drawings.layout.tree import section_board
from harnessgen.measures.quantity import Quantity, plain_number, tolerance_text
from harnessgen.network.network import Network
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Mark, Polyline, TextMark
from harnessgen.sheets.sheet import Sheet, sheet_svg
from harnessgen.sheets.svg_writer import ALLOWED
from tests.drawings.generated import network_of
from tests.line import FLAT_SIX
from tests.sheets.clearance import collisions

SVG = "{http://www.w3.org/2000/svg}"


@cache
def flat_six() -> Network:
    return network_of(FLAT_SIX)


@cache
def sheets() -> tuple[Sheet, ...]:
    return layout_sheets(flat_six())


def section(letter: str) -> list[Sheet]:
    return [sheet for sheet in sheets() if sheet.block.number == f"FS-210-{letter}, layout"]


def marks_of(letter: str, kind: MarkKind) -> list[Mark]:
    return [mark for sheet in section(letter) for mark in sheet.marks if mark.kind is kind]


def texts_of(letter: str, kind: MarkKind) -> list[TextMark]:
    return [mark for mark in marks_of(letter, kind) if isinstance(mark, TextMark)]


def stretches(letter: str) -> dict[str, tuple[float, Quantity | None]]:
    """Length and building tolerance of each stretch of a section, by its name."""
    network = flat_six()
    found = {}
    for start, ends in network.design.route.items():
        for end, stretch in ends.items():
            here = next(leg for leg in network.route.legs if (leg.from_point, leg.to_point) == (start, end))
            if network.sections.letter_of[here.start] == letter:
                found[f"{start} to {end}"] = (stretch.length_mm.value, stretch.build)
    return found


def bundle_mm(letter: str, name: str) -> float | None:
    """Drawn length of a stretch that has no break, else None."""
    lines = [mark for mark in marks_of(letter, MarkKind.BUNDLE) if mark.subject == name]
    pieces = [mark for mark in lines if isinstance(mark, Polyline)]
    slanting = [line for line in pieces if 0 not in (dx(line), dy(line))]
    if slanting:
        return None
    # The strokes across the bundle at an end of the route lie the other way.
    is_level = max(map(dx, pieces)) > max(map(dy, pieces))
    ends = [point for line in pieces for point in line.ends if (dy(line) == 0) is is_level]
    return max(dist(one, other) for one in ends for other in ends)


def dx(line: Polyline) -> float:
    return abs(line.points[0][0] - line.points[-1][0])


def dy(line: Polyline) -> float:
    return abs(line.points[0][1] - line.points[-1][1])


def test_whole_harness_comes_first_then_each_section() -> None:
    """One sheet of the whole, one for each section, numbered through, each with its own number and title."""
    blocks = [sheet.block for sheet in sheets()]
    assert [block.number for block in blocks] == ["FS-210, layout", "FS-210-A, layout", "FS-210-B, layout"]
    assert [(block.sheet, block.sheets) for block in blocks] == [(1, 3), (2, 3), (3, 3)]
    assert "Plenum section" in blocks[2].title


@pytest.mark.long
def test_numbering_can_go_on_from_other_drawings() -> None:
    """Sheets and the references to them count from the number that is asked for."""
    later = layout_sheets(flat_six(), first_sheet=11)
    assert [sheet.block.sheet for sheet in later] == [11, 12, 13]
    noted = [mark.text for mark in later[0].marks if isinstance(mark, TextMark) and mark.text.startswith("sheet ")]
    assert set(noted) == {"sheet 12", "sheet 13"}


@pytest.mark.parametrize("letter", ["A", "B"])
def test_every_stretch_is_dimensioned_once(letter: str) -> None:
    """Nominal length and building tolerance, nothing of how well it was measured."""
    texts = texts_of(letter, MarkKind.DIMENSION_TEXT)
    for name, (length_mm, build) in stretches(letter).items():
        expected = plain_number(length_mm, 1)
        if build is not None:
            expected += f" {tolerance_text(build)}"
        assert [text.text for text in texts if text.subject == name] == [expected], name
    splices = {name for name, splice in flat_six().design.splices.items() if splice.offset_mm.value}
    named = {text.subject for text in texts} - set(stretches(letter))
    fixed = {each.name for run in section_board(flat_six(), letter).runs for each in run.fixed}
    assert {subject.removesuffix(" place") for subject in named} <= splices | fixed


@pytest.mark.parametrize("letter", ["A", "B"])
def test_unbroken_stretches_are_in_true_proportion(letter: str) -> None:
    """Every stretch without a break is as long on paper as the stated scale says; most have none."""
    (scale,) = (
        re.fullmatch(r".*, scale 1:([0-9.]+)", text.text)
        for text in texts_of(letter, MarkKind.LABEL)
        if "scale 1:" in text.text
    )
    assert scale is not None
    drawn = {name: bundle_mm(letter, name) for name in stretches(letter)}
    true = {name: mm for name, mm in drawn.items() if mm is not None}
    assert len(true) > len(drawn) / 2
    for name, mm in true.items():
        assert mm == pytest.approx(stretches(letter)[name][0] / float(scale[1]), abs=1e-6), name


def test_plenum_section_fits_a4_without_a_break() -> None:
    """The smaller section is wholly true, and the sheet says so."""
    (sheet,) = section("B")
    assert sheet.paper.name == "A4 landscape"
    assert any("every stretch is to scale" in text.text for text in texts_of("B", MarkKind.LABEL))


def test_a_sheet_without_a_true_stretch_states_no_scale() -> None:
    """Where everything is too short for its texts at any scale that fits."""
    text = (
        "format: 2\nharness: {title: T, number: N, revision: A}\nroute: {a: {b: 0.5, c: 1}}\n"
        "supplies: {BAT: {voltage: 12 V, at: a}}\n"
    )
    (sheet,) = layout_sheets(network_of(text))
    words = [mark.text for mark in sheet.marks if isinstance(mark, TextMark)]
    assert "not to scale" in words
    assert not any("scale 1:" in each for each in words)


@pytest.mark.parametrize("letter", ["A", "B"])
def test_every_connector_has_its_face(letter: str) -> None:
    """A housing, its half, the side it is seen from and where its latch is, for each connector and half."""
    network = flat_six()
    faces = {mark.subject for mark in marks_of(letter, MarkKind.FACE)}
    at = {name: network.route.node_of(each.at) for name, each in network.design.connectors.items()}
    expected = {name for name, node in at.items() if network.sections.letter_of[node] == letter}
    assert faces == expected | ({"C10s"} if letter == "A" else {"C10p"})
    for name in faces:
        words = " ".join(text.text for text in texts_of(letter, MarkKind.LABEL) if text.subject == name)
        assert ("pin half" if name == "C10p" else "socket half") in words
        assert "wire side" in words
        assert re.search("latch (up|down|left|right)", words)


def test_halves_of_a_disconnect_are_mirrored() -> None:
    """Seen from their wire sides, the cavities of the two halves run in opposite directions."""
    orders = {}
    for half in ("C10s", "C10p"):
        numbers = [
            mark
            for mark in sheets()[0].marks
            if isinstance(mark, TextMark) and mark.kind is MarkKind.FACE_TEXT and mark.subject.startswith(f"{half}/")
        ]
        top = min(round(mark.y, 3) for mark in numbers)
        row = sorted((mark.x, mark.text) for mark in numbers if round(mark.y, 3) == top)
        orders[half] = [text for _, text in row]
    assert len(orders["C10s"]) > 1
    assert orders["C10s"] == orders["C10p"][::-1]


@pytest.mark.parametrize("letter", ["A", "B"])
def test_charts_name_every_wire(letter: str) -> None:
    """Each wire of the section stands with mark and colour in the chart of each cavity or device where it ends."""
    texts = texts_of(letter, MarkKind.TABLE_TEXT)
    cells = {(text.subject, text.text) for text in texts}
    for wire in flat_six().wires:
        for end in wire.ends:
            if wire.section != letter or end.designator in flat_six().design.splices:
                continue
            spots = [subject for subject, text in cells if text in (end.terminal, end.node)]
            charts = [f"{end.designator} chart", *(subject for subject in spots if subject.endswith("devices chart"))]
            seen = [(chart, wire.mark) in cells and (chart, str(wire.colour)) in cells for chart in charts]
            assert any(seen), wire.mark


def test_unused_sealed_cavities_take_plugs() -> None:
    """Cavities 5 and 6 of the sealed disconnect are unused."""
    cells = [text.text for text in texts_of("B", MarkKind.TABLE_TEXT) if text.subject == "C10p chart"]
    assert cells.count("plug") == 2


def test_splices_are_shown_where_they_sit() -> None:
    """S1 to S4 lie in the plenum section, dimensioned from the breakout; the others do not."""
    dots = {mark.subject for mark in marks_of("B", MarkKind.SPLICE)}
    assert dots == {"S1", "S2", "S3", "S4"}
    assert {mark.subject for mark in marks_of("A", MarkKind.SPLICE)} == {"S5", "S6"}
    places = {text.subject: text.text for text in texts_of("B", MarkKind.DIMENSION_TEXT)}
    for name in dots:
        assert places[f"{name} place"] == plain_number(flat_six().design.splices[name].offset_mm.value, 1)


@pytest.mark.parametrize("letter", ["A", "B"])
def test_coverings_are_hatched_and_named(letter: str) -> None:
    """Each covered stretch has its hatching and the name of its covering; each stretch in a zone says which."""
    network = flat_six()
    hatched = {mark.subject for mark in marks_of(letter, MarkKind.COVERING)}
    notes = texts_of(letter, MarkKind.LABEL)
    for leg in network.route.legs:
        if network.sections.letter_of[leg.start] != letter:
            continue
        words = " ".join(text.text for text in notes if text.subject == leg.name)
        assert (leg.name in hatched) is bool(leg.stretch.covering)
        assert leg.stretch.covering in words
        assert network.ambient_zone(leg) in words


def test_breakouts_carry_their_names() -> None:
    """A ring and a name at each breakout of the plenum section."""
    rings = {mark.subject for mark in marks_of("B", MarkKind.BREAKOUT)}
    assert rings == {"b1", "lb1", "lb2", "rb1", "rb2"}
    assert rings <= {text.text for text in texts_of("B", MarkKind.LABEL)}


def test_thicker_bundles_are_drawn_thicker() -> None:
    """The trunk behind the disconnect, with all wires of both banks, against a leg to one injector."""
    lines = [mark for mark in marks_of("B", MarkKind.BUNDLE) if isinstance(mark, Polyline)]
    thick = {mark.subject: mark.width_mm for mark in lines if max(dx(mark), dy(mark)) > 8}
    assert thick["c10 to b1"] > thick["lb2 to left-3"]


def test_sheets_of_the_flat_six_are_clear() -> None:
    """Nothing lies on anything, nothing leaves the frame, all is legible."""
    for sheet in sheets():
        assert collisions(sheet.all_marks, sheet.paper.frame) == []


def test_svg_holds_only_what_is_allowed() -> None:
    """Elements and attributes of the allowed list."""
    for sheet in sheets():
        for element in ET.fromstring(sheet_svg(sheet)).iter():
            name = element.tag.removeprefix(SVG)
            assert set(element.attrib) <= ALLOWED[name] | {"xmlns"}


def test_the_same_design_gives_the_same_drawing() -> None:
    """Byte for byte, from a network that is built anew."""
    again = layout_sheets(network_of(FLAT_SIX))
    assert [sheet_svg(sheet) for sheet in again] == [sheet_svg(sheet) for sheet in sheets()]
