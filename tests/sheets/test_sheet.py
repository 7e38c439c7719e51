"""Sheets: furniture of every paper is free of collisions, the stamp is unmistakable, the drawing has its area."""

from itertools import product

import pytest

from harnessgen.sheets.box import Box
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Polyline, TextMark
from harnessgen.sheets.sheet import PAPERS, Sheet, usable_area
from harnessgen.sheets.title_block import TitleBlock
from tests.sheets.clearance import collisions

SHORT = TitleBlock("Plenum section: layout", "FS-210", "B", "2026-01-31", 2, 3)
STAMPED = TitleBlock("Left bank", "FS-210", "B", "2026-01-31", 1, 3, "NOT RELEASED", "3 errors stand, see the findings")
LONG = TitleBlock(
    "Einspritzkabelbaum für den aufgeladenen Sechszylinder, linke Bank, mit allem Zubehör und Ersatz " * 3,
    "FS-210-AND-A-VERY-LONG-NUMBER-OF-THE-SHOP-0001",
    "REV 17 b",
    "2026-01-31T12:00",
    117,
    1000,
    "NOT RELEASED, AND FOR NOTHING ELSE " * 4,
    "why " * 80,
)
BARE = TitleBlock("", "", "", "", 1, 1)


@pytest.mark.parametrize(("paper", "block"), list(product(PAPERS, (SHORT, STAMPED, LONG, BARE))))
def test_frame_title_block_and_stamp_meet_nothing(paper: str, block: TitleBlock) -> None:
    """On every paper and with any text, the furniture of the sheet keeps clear of itself and inside the frame."""
    sheet = Sheet(PAPERS[paper], block, ())
    assert [str(fault) for fault in collisions(sheet.all_marks, sheet.paper.frame)] == []


@pytest.mark.parametrize("paper", PAPERS)
def test_a_drawing_in_its_area_meets_no_furniture(paper: str) -> None:
    """Nothing of frame, title block and stamp reaches into the usable area, which takes most of the sheet."""
    area = usable_area(PAPERS[paper])
    for mark in Sheet(PAPERS[paper], STAMPED, ()).all_marks:
        assert not any(part.intersects(area, 0.5) for part in mark.parts)
    paper_box = PAPERS[paper].box
    assert area.width_mm * area.height_mm > 0.7 * paper_box.width_mm * paper_box.height_mm
    edge = Polyline(((area.x0, area.y1), (area.x1, area.y1)), 0.5, kind=MarkKind.GAUGE)
    assert collisions(Sheet(PAPERS[paper], STAMPED, (edge,)).all_marks, PAPERS[paper].frame) == []


@pytest.mark.parametrize("paper", PAPERS)
def test_the_stamp_is_large_and_black(paper: str) -> None:
    """While errors stand, every sheet says so in bold black capitals of at least 5 mm, the largest text on it."""
    marks = Sheet(PAPERS[paper], STAMPED, ()).all_marks
    texts = [mark for mark in marks if isinstance(mark, TextMark)]
    (stamp,) = [text for text in texts if text.text == "NOT RELEASED"]
    assert stamp.size_mm * 0.729 >= 5.0
    assert stamp.size_mm == max(text.size_mm for text in texts)
    assert stamp.bold
    assert stamp.ink == (0, 0, 0)
    assert max(mark.box.width_mm for mark in marks if mark.kind is MarkKind.STATUS) > stamp.box.width_mm


def test_a_sheet_without_errors_has_no_stamp() -> None:
    """No status, no border and no text of status."""
    kinds = {mark.kind for mark in Sheet(PAPERS["A4 landscape"], SHORT, ()).all_marks}
    assert not kinds & {MarkKind.STATUS, MarkKind.STATUS_TEXT}


def test_the_title_block_says_what_it_was_given() -> None:
    """Title, number, revision, date, sheet of sheets, units, colours and caution all stand in it."""
    said = {mark.text for mark in Sheet(PAPERS["A3 landscape"], SHORT, ()).all_marks if isinstance(mark, TextMark)}
    assert said >= {
        "Plenum section: layout",
        "FS-210",
        "B",
        "2026-01-31",
        "2 of 3",
        "all lengths mm, colours IEC 60757",
        "check with local codes and a licensed practitioner",
    }


def test_papers_have_their_published_sizes() -> None:
    """A4 and A3 by ISO 216; letter is 8.5 by 11 inches of 25.4 mm, ledger two of them (common practice, no source)."""
    assert PAPERS["A4 landscape"].box == Box(0, 0, 297, 210)
    assert PAPERS["A3 portrait"].box == Box(0, 0, 297, 420)
    assert PAPERS["letter portrait"].box.x1 == pytest.approx(8.5 * 25.4)
    assert PAPERS["letter portrait"].box.y1 == pytest.approx(11 * 25.4)
    ledger = PAPERS["ledger landscape"]
    assert (ledger.width_mm, ledger.height_mm) == pytest.approx((17 * 25.4, 11 * 25.4))
    for paper in PAPERS.values():
        assert ("landscape" in paper.name) == (paper.width_mm > paper.height_mm)
