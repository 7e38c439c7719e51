"""The index of a drawing of several sheets leads to every thing, and nowhere else."""

import re
from pathlib import Path

from harnessgen.drawings.circuit.drawing import circuit_sheets
from harnessgen.drawings.circuit.pages.index import index_pages
from harnessgen.sheets.box import Box
from harnessgen.sheets.marks import TextMark
from harnessgen.sheets.sheet import PAPERS, usable_area
from tests.drawings.generated import design_text, network_of
from tests.sheets.clearance import collisions

DESIGNS = Path(__file__).parents[4] / "designs"


def test_every_thing_is_where_the_index_says() -> None:
    """Each designator is listed; where it is said to be a mark of it stands, counted in tenths of the width by hand."""
    network = network_of((DESIGNS / "trailer.yaml").read_text(encoding="utf-8"))
    *sheets, index = circuit_sheets(network)
    assert "index" in index.block.title
    assert "index" not in sheets[0].block.title
    design = network.design
    named = {*design.devices, *design.connectors, *design.disconnects, *design.splices}
    listed: dict[str, set[str]] = {}
    for mark in index.marks:
        if isinstance(mark, TextMark) and re.fullmatch(r"[\d/, ]+", mark.text) and "/" in mark.text:
            listed.setdefault(mark.subject, set()).update(mark.text.replace(" ", "").strip(",").split(","))
    assert set(listed) == named
    for name, places in listed.items():
        for place in places:
            number, path = map(int, place.split("/"))
            area = usable_area(sheets[number - 1].paper)
            left = area.x0 + (path - 1) * (area.x1 - area.x0) / 10
            at_path = Box(left - 0.01, area.y0, left + (area.x1 - area.x0) / 10 + 0.01, area.y1)
            signs = [mark for mark in sheets[number - 1].marks if mark.subject.partition("/")[0] == name]
            assert any(at_path.intersects(mark.box) for mark in signs if not isinstance(mark, TextMark)), (name, place)
        printed = {
            number
            for number, sheet in enumerate(sheets, 1)
            if any(isinstance(mark, TextMark) and mark.bold and mark.text == name for mark in sheet.marks)
        }
        assert {int(place.partition("/")[0]) for place in places} == printed, name


def test_every_wire_is_where_the_index_says() -> None:
    """Each cut wire once, with the sheet and the tenth of its width that has its words."""
    network = network_of((DESIGNS / "trailer.yaml").read_text(encoding="utf-8"))
    *sheets, index = circuit_sheets(network)
    said = " ".join(mark.text for mark in index.marks if isinstance(mark, TextMark) and "circuit" in mark.subject)
    listed = re.findall(r"\b(\d+[A-Z]+) (\d+)/(\d+)", said)
    assert sorted(mark for mark, _, _ in listed) == sorted(wire.mark for wire in network.wires)
    for mark, number, path in listed:
        sheet = sheets[int(number) - 1]
        area = usable_area(sheet.paper)
        words = [text for text in sheet.marks if isinstance(text, TextMark) and text.text.startswith(f"{mark} ")]
        paths = {1 + int((text.box.centre[0] - area.x0) * 10 / (area.x1 - area.x0)) for text in words}
        assert int(path) in paths, mark


def test_the_index_says_what_is_on_each_sheet() -> None:
    """The loads of each sheet, in short."""
    network = network_of((DESIGNS / "trailer.yaml").read_text(encoding="utf-8"))
    index = circuit_sheets(network)[-1]
    said = [mark.text for mark in index.marks if isinstance(mark, TextMark) and mark.subject.startswith("sheet ")]
    assert said[0] == "sheet 1"
    assert [text for text in said if text.startswith("sheet")] == ["sheet 1", "sheet 2"]
    assert "E1 to E11" in said[-1]


def test_a_drawing_on_one_sheet_has_no_index() -> None:
    """Nor numbered paths, which nothing would refer to."""
    (sheet,) = circuit_sheets(network_of((DESIGNS / "twin-fans.yaml").read_text(encoding="utf-8")))
    assert not [mark for mark in sheet.marks if mark.subject == "paths"]


def test_a_long_index_goes_on_over_pages() -> None:
    """Sixty loads drawn forty times over: several pages, none of which overlaps."""
    network = network_of(design_text(0, loads=60, disconnects=3))
    sheets = circuit_sheets(network)
    drawn = [(sheet.paper, sheet.marks) for sheet in sheets if "index" not in sheet.block.title]
    pages = index_pages(network, drawn * 40)
    assert len(pages) > 3
    frame = PAPERS["A4 landscape"].frame
    assert [str(fault) for page in pages for fault in collisions(page, frame)] == []
