"""Schedules as CSV by RFC 4180, safe to open in a spreadsheet.

The first line holds the keys of the columns (units in the key, `cut_mm`); lines end in CR LF; the caller encodes as
UTF-8. A text that a spreadsheet would take for a formula gets an apostrophe before it, which a spreadsheet does not
show; numbers stay numbers.
"""

import unicodedata
from collections.abc import Iterable
from typing import Any

from harnessgen.measures.quantity import plain_number
from harnessgen.schedules.results.status import Status
from harnessgen.schedules.tables.table import Cell, Column, Medium, Table

_FORMULA_STARTS = "=+-@\uff1d\uff0b\uff0d\uff20|%"
"""What begins a formula or a command in one spreadsheet or another, the full-width forms included."""


def table_csv(tables: Iterable[Table[Any]], status: Status) -> str:
    """Tables of the same columns (a cut list for each section) as one CSV text; tick columns are left out.

    The last column says in every row whether the harness is for build: rows are copied from their heading.

    Raises:
        ValueError: there is no table, or two have different columns.
    """
    listed = list(tables)
    if not listed:
        raise ValueError("there is no table to write")
    columns = listed[0].columns_on(Medium.CSV)
    if any(table.columns_on(Medium.CSV) != columns for table in listed):
        raise ValueError(f"{listed[0].key}: the tables have different columns")
    stamp = f"{status.banner}: {status.words}" if status.banner else status.release_words
    lines = [_line([*(_field(column.key) for column in columns), "status"])]
    for table in listed:
        own = table.columns_on(Medium.CSV)
        for row in table.rows:
            cells = [_cell(column, column.cell_on(Medium.CSV, row)) for column in own]
            lines.append(_line([*cells, _field(stamp)]))
    return "".join(lines)


def _line(fields: Iterable[str]) -> str:
    return ",".join(fields) + "\r\n"


def _cell(column: Column[Any], cell: Cell) -> str:
    if cell is None:
        return ""
    return _field(defused(cell)) if isinstance(cell, str) else plain_number(float(cell), column.decimals)


def defused(text: str) -> str:
    """`text` on one line, without control characters, and never a formula."""
    flat = "".join(" " if unicodedata.category(each) in ("Cc", "Zl", "Zp") else each for each in text)
    # A spreadsheet may pass over leading blanks and unseen characters on its way to the sign.
    seen = "".join(each for each in flat if unicodedata.category(each) not in ("Cf", "Zs"))
    return f"'{flat}" if seen[:1] and seen[0] in _FORMULA_STARTS else flat


def _field(text: str) -> str:
    if any(each in text for each in '",\r\n;\t') or text != text.strip():
        return '"' + text.replace('"', '""') + '"'
    return text
