"""The index of a drawing of several sheets leads to every thing, and nowhere else."""

import re
from pathlib import Path

from harnessgen.drawings.circuit_drawing import circuit_sheets
from harnessgen.drawings.circuit_index import index_pages
from harnessgen.sheets.clearance import collisions
from harnessgen.sheets.marks import Text
from harnessgen.sheets.sheet import PAPERS, usable_area
from tests.drawings.generated import design_text, network_of

DESIGNS = Path(__file__).parents[2] / "designs"


def test_every_thing_is_where_the_index_says() -> None:
    """Each designator is listed; each sheet / path of it holds its name, counted in tenths of the width by hand."""
    network = network_of((DESIGNS / "trailer.yaml").read_text(encoding="utf-8"))
    *sheets, index = circuit_sheets(network)
    assert "index" in index.block.title
    assert "index" not in sheets[0].block.title
    design = network.design
    named = {*design.devices, *design.connectors, *design.disconnects, *design.splices}
    listed: dict[str, set[str]] = {}
    for mark in index.marks:
        if isinstance(mark, Text) and re.fullmatch(r"[\d/, ]+", mark.text) and "/" in mark.text:
            listed.setdefault(mark.subject, set()).update(mark.text.replace(" ", "").strip(",").split(","))
    assert set(listed) == named
    for name, places in listed.items():
        found = {
            f"{number}/{1 + int((mark.box.x0 - area.x0) * 10 / (area.x1 - area.x0))}"
            for number, sheet in enumerate(sheets, 1)
            for area in [usable_area(sheet.paper)]
            for mark in sheet.marks
            if isinstance(mark, Text) and mark.bold and mark.text == name
        }
        assert places == found, name


def test_the_index_says_what_is_on_each_sheet() -> None:
    """The loads of each sheet, in short."""
    network = network_of((DESIGNS / "trailer.yaml").read_text(encoding="utf-8"))
    index = circuit_sheets(network)[-1]
    said = [mark.text for mark in index.marks if isinstance(mark, Text) and mark.subject.startswith("sheet ")]
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
