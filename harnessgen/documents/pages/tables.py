"""Schedules as an HTML page with boxes to tick."""

from collections.abc import Iterable
from typing import Any

from harnessgen.documents.pages.page import LOCAL_CODES, PageTitle, render
from harnessgen.measures.frozen import frozen
from harnessgen.schedules.results.status import Status
from harnessgen.schedules.tables.table import Cell, Column, Medium, Table, cell_text
from harnessgen.sheets.sheet import PAPERS, Paper


@frozen
class _ShownCell:
    heading: str
    text: str
    side: str
    is_tick: bool


@frozen
class ShownTable:
    """A schedule as a page shows it: headings with their sides, and cells as texts."""

    title: str
    headings: tuple[tuple[str, str], ...]
    rows: tuple[tuple[_ShownCell, ...], ...]
    notes: tuple[str, ...]


def tables_page(
    title: PageTitle,
    status: Status,
    tables: Iterable[Table[Any]],
    cautions: Iterable[str] = (LOCAL_CODES,),
    paper: Paper = PAPERS["A4 landscape"],
) -> str:
    """A page of schedules, one below another; a column that no row fills is left out, ticks apart."""
    shown = [shown_table(table) for table in tables]
    return render("tables.html", title, status, tables=shown, cautions=tuple(cautions), page_size=paper.css)


def shown_table(table: Table[Any]) -> ShownTable:
    """A schedule for a page; a column that no row fills is left out, ticks apart."""
    columns, cells = table.printed(Medium.PAGE)
    rows = tuple(tuple(map(_cell, columns, row)) for row in cells)
    return ShownTable(table.title, tuple((each.title, each.align.value) for each in columns), rows, table.notes)


def _cell(column: Column[Any], cell: Cell) -> _ShownCell:
    return _ShownCell(column.title, cell_text(column, cell), column.align.value, column.is_tick)
