"""Faces, charts and end marks in rows: under a route, or on sheets of their own."""

from collections.abc import Sequence
from dataclasses import dataclass

from harnessgen.drawings.layout.block import LayoutBlock, Stock, words_panel
from harnessgen.drawings.layout.content import SHEET_ROWS, rows_of, splices_of, things_at
from harnessgen.drawings.layout.fit import ROW_AIR_MM
from harnessgen.drawings.layout.tree import Board
from harnessgen.sheets.box import Box
from harnessgen.sheets.marks import Mark
from harnessgen.sheets.sheet import Paper, usable_area


@dataclass(frozen=True, slots=True)
class ChartSheet:
    """A sheet of faces and charts: its paper, and its rows of named blocks."""

    paper: Paper
    rows: tuple[tuple[LayoutBlock, ...], ...]
    names: tuple[str, ...]


def rows_marks(rows: Sequence[Sequence[LayoutBlock]], area: Box) -> tuple[Mark, ...]:
    """Rows of blocks from the top of `area`, the room that is left over spread between and around them."""
    marks: list[Mark] = []
    high_mm = sum(max(block.height_mm for block in row) for row in rows)
    air_mm = min(3 * ROW_AIR_MM, (area.height_mm - high_mm) / (len(rows) + 1))
    y = area.y0 + max(air_mm, (area.height_mm - high_mm - air_mm * (len(rows) - 1)) / 2 if len(rows) == 1 else air_mm)
    for row in rows:
        spare_mm = (area.width_mm - sum(block.width_mm for block in row)) / (len(row) + 1)
        x = area.x0 + spare_mm
        for block in row:
            marks.extend(block.marks(x, y))
            x += block.width_mm + spare_mm
        y += max(block.height_mm for block in row) + air_mm
    return tuple(marks)


def chart_sheets(stock: Stock, board: Board, papers: tuple[Paper, ...]) -> tuple[ChartSheet, ...]:
    """Faces, charts and end marks of a board on as few sheets as can be, of the smallest paper where one is enough."""
    things = [thing for spot in board.spots.values() for thing in things_at(stock, spot, SHEET_ROWS)]
    if (splices := stock.splices(splices_of(board), SHEET_ROWS)) is not None:
        things.append(("splices", splices))
    small = _on_paper(things, papers[0])
    return small if small is not None and len(small) == 1 else _on_paper(things, papers[-1]) or ()


def _on_paper(things: Sequence[tuple[str, LayoutBlock]], paper: Paper) -> tuple[ChartSheet, ...] | None:
    """The sheets, or None where a block is too large for the paper and cannot be parted."""
    area = usable_area(paper)
    named: list[tuple[str, LayoutBlock]] = []
    for name, block in things:
        named.extend((name, part) for part in _parts(name, block, area))
    if any(block.width_mm > area.width_mm or block.height_mm > area.height_mm - 2.0 for _, block in named):
        return None
    name_of = {id(block): name for name, block in named}
    sheets: list[ChartSheet] = []
    held: list[tuple[LayoutBlock, ...]] = []
    high_mm = 0.0
    for row in rows_of([block for _, block in named], area.width_mm - 4.0):
        row_mm = max(block.height_mm for block in row) + ROW_AIR_MM
        if held and high_mm + row_mm > area.height_mm:
            sheets.append(_sheet(paper, held, name_of))
            held, high_mm = [], 0.0
        held.append(tuple(row))
        high_mm += row_mm
    if held:
        sheets.append(_sheet(paper, held, name_of))
    return tuple(sheets)


def _sheet(paper: Paper, rows: Sequence[tuple[LayoutBlock, ...]], name_of: dict[int, str]) -> ChartSheet:
    names = dict.fromkeys(name_of[id(block)] for row in rows for block in row)
    return ChartSheet(paper, tuple(rows), tuple(names))


def _parts(name: str, block: LayoutBlock, area: Box) -> list[LayoutBlock]:
    """The block, or, where it is wider than the sheet, its panels one by one under a title each."""
    if block.width_mm <= area.width_mm:
        return [block]
    title, *panels = block.panels
    del title
    parts: list[LayoutBlock] = []
    for panel in panels:
        pieces = [held for held, _, _ in panel.held] or [panel]
        parts += [LayoutBlock((words_panel((name,), name), piece)) for piece in pieces]
    return parts
