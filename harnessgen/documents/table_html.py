"""Schedules as an HTML page with boxes to tick."""

from collections.abc import Iterable

from harnessgen.documents.page import LOCAL_CODES, PageTitle, render
from harnessgen.measures.frozen import frozen
from harnessgen.schedules.status import Status
from harnessgen.schedules.table import Column, Table, cell_text
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
    tables: Iterable[Table],
    cautions: Iterable[str] = (LOCAL_CODES,),
    paper: Paper = PAPERS["A4 landscape"],
) -> str:
    """A page of schedules, one below another; a column that no row fills is left out, ticks apart."""
    shown = [shown_table(table) for table in tables]
    return render("tables.html", title, status, tables=shown, cautions=tuple(cautions), page_size=paper.css)


def shown_table(table: Table) -> ShownTable:
    """A schedule for a page; a column that no row fills is left out, ticks apart."""
    kept = [index for index, column in enumerate(table.columns) if _is_used(table, index, column)]
    rows = tuple(tuple(_cell(table.columns[index], row[index]) for index in kept) for row in table.rows)
    headings = tuple((table.columns[index].title, table.columns[index].align.value) for index in kept)
    return ShownTable(table.title, headings, rows, table.notes)


def _is_used(table: Table, index: int, column: Column) -> bool:
    if column.is_in_title:
        return False
    return column.is_tick or not table.rows or any(row[index] not in (None, "") for row in table.rows)


def _cell(column: Column, cell: str | float | int | None) -> _ShownCell:
    return _ShownCell(column.title, cell_text(column, cell), column.align.value, column.is_tick)
