"""Schedules set out for paper: widths of columns from the packaged lettering, long words broken, spans for items."""

from collections.abc import Sequence
from functools import lru_cache
from typing import Any

from harnessgen.measures.frozen import frozen
from harnessgen.schedules.tables.table import Column, Medium, Table, cell_text
from harnessgen.sheets.lettering import drawn_text, text_width_mm, wrap_text

PAD_MM = 1.1
"""Air at each side of a cell."""
_TICK_MM = 4.0
_WORD_MOST_MM = 34.0
"""A longer word is broken rather than given a column of its own width."""
_SLACK_MM = 0.1
_SIZES_MM = (3.0, 2.75, 2.5, 2.25, 2.0)
"""Sizes of letters, the largest first; nothing on paper is smaller than 2 mm."""
_BROKEN_MM = 2.5
"""Largest letters of a table whose texts are broken into lines."""


@frozen
class PaperCell:
    """One cell: its lines, or a box to tick; it reaches over `span` rows."""

    lines: tuple[str, ...]
    tick: bool = False
    span: int = 1


@frozen
class PaperTable:
    """A table as it is set: widths in mm of its columns with their air, headings, rows of cells, notes.

    A row leaves out the cells that one above it covers.
    """

    title: str
    item_rows: int
    size_mm: float
    widths_mm: tuple[float, ...]
    sides: tuple[str, ...]
    headings: tuple[tuple[str, ...], ...]
    rows: tuple[tuple[PaperCell, ...], ...]
    notes: tuple[str, ...]


@lru_cache(maxsize=65536)
def _width_mm(text: str, size_mm: float, bold: bool = False) -> float:
    """Width of a text, remembered, since the words of a long list come again and again."""
    return text_width_mm(text, size_mm, bold)


def paper_table(table: Table[Any], width_mm: float) -> PaperTable:
    """`table` set over at most `width_mm` in letters as large as go; a column that no row fills is left out."""
    columns, cells = table.printed(Medium.PAPER)
    texts = [list(map(cell_text, columns, row)) for row in cells]
    size_mm, widths = _fitted(columns, texts, width_mm)
    inner = [each - 2 * PAD_MM for each in widths]
    headings = tuple(
        _broken(each.title_on(Medium.PAPER), inner[n], size_mm, bold=True) for n, each in enumerate(columns)
    )
    rows = tuple(
        tuple(
            PaperCell(() if column.is_tick else _broken(texts[at][n], inner[n], size_mm), column.is_tick, span)
            for n, column in enumerate(columns)
            if (span := _span(table, at, column))
        )
        for at in range(len(texts))
    )
    sides = tuple(each.align.value for each in columns)
    return PaperTable(table.title, table.item_rows, size_mm, tuple(widths), sides, headings, rows, table.notes)


def _span(table: Table[Any], at: int, column: Column[Any]) -> int:
    """Rows that a cell reaches over; 0 where the item's first row covers it."""
    if table.item_rows == 1 or not column.is_of_item:
        return 1
    return 0 if at % table.item_rows else table.item_rows


def _fitted(columns: Sequence[Column[Any]], texts: list[list[str]], width_mm: float) -> tuple[float, list[float]]:
    """Size of the letters and widths of the columns, between what long words need and what whole texts would take.

    Large letters are for tables that need no line broken; small ones for those whose words would not fit otherwise.
    """
    for size_mm in _SIZES_MM:
        spans = [_span_mm(column, [row[at] for row in texts], size_mm) for at, column in enumerate(columns)]
        least, wished = sum(low for low, _ in spans), sum(high for _, high in spans)
        if wished <= width_mm:
            return size_mm, [high for _, high in spans]
        if least <= width_mm and size_mm <= _BROKEN_MM:
            share = (width_mm - least) / (wished - least)
            return size_mm, [low + share * (high - low) for low, high in spans]
    return size_mm, [low * width_mm / least for low, _ in spans]


def _span_mm(column: Column[Any], cells: list[str], size_mm: float) -> tuple[float, float]:
    """Least and wished width of a column with its air, mm."""
    air_mm = 2 * PAD_MM + _SLACK_MM
    shown = [] if column.is_tick else [drawn_text(each) for each in cells]
    words = [_width_mm(each, size_mm, bold=True) for each in drawn_text(column.title_on(Medium.PAPER)).split(" ")]
    words += [_width_mm(each, size_mm) for cell in shown for each in cell.split(" ")]
    least = min(max(words), _WORD_MOST_MM)
    if column.is_tick:
        least = max(least, _TICK_MM)
    return least + air_mm, max([least, *(_width_mm(each, size_mm) for each in shown)]) + air_mm


def _broken(text: str, width_mm: float, size_mm: float, *, bold: bool = False) -> tuple[str, ...]:
    """`text` in lines of at most `width_mm`; a word that is longer than a line is broken anywhere."""
    lines: list[str] = []
    for line in wrap_text(text, width_mm, size_mm, bold):
        rest = line
        while _width_mm(rest, size_mm, bold) > width_mm and len(rest) > 1:
            count = len(rest) - 1
            while count > 1 and _width_mm(rest[:count], size_mm, bold) > width_mm:
                count -= 1
            lines.append(rest[:count])
            rest = rest[count:]
        lines.append(rest)
    return tuple(lines)
