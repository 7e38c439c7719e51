"""The sheet of paper: sizes, the area that a drawing may use, and a sheet with its frame, title block and marks."""

from collections.abc import Sequence
from dataclasses import dataclass

from harnessgen.sheets.box import Box
from harnessgen.sheets.marks import Mark
from harnessgen.sheets.svg_writer import svg_text
from harnessgen.sheets.title_block import MARGIN_MM, STRIP_MM, TitleBlock, frame_marks

_AIR_MM = 2.0
"""Distance that drawings keep from the frame and from the title strip."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper size, millimetres as it lies in the reader's hands."""

    name: str
    width_mm: float
    height_mm: float

    @property
    def box(self) -> Box:
        """The whole paper."""
        return Box(0.0, 0.0, self.width_mm, self.height_mm)

    @property
    def css(self) -> str:
        """Its size as a page's style says it."""
        return f"{self.width_mm:g}mm {self.height_mm:g}mm"

    @property
    def frame(self) -> Box:
        """The middle of the frame line."""
        return self.box.inflate(-MARGIN_MM)


PAPERS: dict[str, Paper] = {
    paper.name: paper
    for paper in (
        Paper("A4 landscape", 297.0, 210.0),
        Paper("A4 portrait", 210.0, 297.0),
        Paper("A3 landscape", 420.0, 297.0),
        Paper("A3 portrait", 297.0, 420.0),
        Paper("letter landscape", 279.4, 215.9),
        Paper("letter portrait", 215.9, 279.4),
        Paper("ledger landscape", 431.8, 279.4),
        Paper("A2 landscape", 594.0, 420.0),
        Paper("A1 landscape", 841.0, 594.0),
        Paper("A0 landscape", 1189.0, 841.0),
        Paper("C landscape", 558.8, 431.8),
        Paper("D landscape", 863.6, 558.8),
        Paper("E landscape", 1117.6, 863.6),
    )
}
"""Paper sizes by name: ISO 216 A4 to A0, letter (8.5 by 11 in), ledger (two letters, 17 by 11 in) and the three next
larger ones, C to E of ASME Y14.1 (22 by 17, 34 by 22 and 44 by 34 in; from memory)."""


@dataclass(frozen=True, slots=True)
class Stationery:
    """The paper that a shop has: for lists, for the procedure, and for drawings, the larger ones where they must.

    `oversize` is what a print shop has, for the rare thing that cannot be divided over sheets.
    """

    lists: Paper
    procedure: Paper
    drawings: tuple[Paper, ...]
    oversize: tuple[Paper, ...]


def _stationery(lists: str, procedure: str, drawings: Sequence[str], oversize: Sequence[str]) -> Stationery:
    drawn, large = (tuple(PAPERS[f"{size} landscape"] for size in sizes) for sizes in (drawings, oversize))
    return Stationery(PAPERS[lists], PAPERS[procedure], drawn, large)


STATIONERY: dict[str, Stationery] = {
    "a4": _stationery("A4 landscape", "A4 portrait", ("A4", "A3"), ("A2", "A1", "A0")),
    "letter": _stationery("letter landscape", "letter portrait", ("letter", "ledger"), ("C", "D", "E")),
    "a3": _stationery("A3 landscape", "A3 portrait", ("A3",), ("A2", "A1", "A0")),
}
"""By the word that a build is asked for; drawings take the double sheet where a single one holds them badly."""


def usable_area(paper: Paper) -> Box:
    """The area that a drawing may use: inside the frame and above the title strip, with or without a stamp."""
    inner = paper.frame.inflate(-_AIR_MM)
    return Box(inner.x0, inner.y0, inner.x1, inner.y1 - STRIP_MM)


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet of a drawing set: its paper, what its title block says, and the marks of the drawing."""

    paper: Paper
    block: TitleBlock
    marks: tuple[Mark, ...]

    @property
    def all_marks(self) -> tuple[Mark, ...]:
        """Frame and title block, then the drawing."""
        return (*frame_marks(self.paper.frame, self.block), *self.marks)

    @property
    def title(self) -> str:
        """The sheet in one line, for the name of a window or a bookmark."""
        block = self.block
        return f"{block.number} {block.title}, sheet {block.sheet} of {block.sheets}"


def sheet_svg(sheet: Sheet) -> str:
    """The sheet as SVG text, its size in millimetres."""
    return svg_text(sheet.all_marks, sheet.paper.width_mm, sheet.paper.height_mm, sheet.title)
