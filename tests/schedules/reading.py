"""The cells of a schedule as a test reads them, by the key of their column."""

from typing import Any

from harnessgen.schedules.tables.table import Cell, Medium, Table


def keyed(table: Table[Any], medium: Medium = Medium.CSV) -> list[dict[str, Cell]]:
    """Each row with its cells by key, as on a medium; boxes to tick have none."""
    columns = [each for each in table.columns_on(medium) if not each.is_tick]
    assert len({each.key for each in columns}) == len({each.title_on(medium) for each in columns}) == len(columns)
    return [{each.key: each.cell_on(medium, row) for each in columns} for row in table.rows]


def keys_of(table: Table[Any], medium: Medium = Medium.CSV) -> list[str]:
    """Keys of the columns on a medium."""
    return [each.key for each in table.columns_on(medium)]
