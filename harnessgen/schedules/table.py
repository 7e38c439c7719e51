"""A schedule as a table: typed columns and rows, from which CSV, HTML and paper are written."""

from enum import Enum

from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import plain_number

Cell = str | float | int | None
"""A text, a number in the unit of its column, or nothing."""


class Align(Enum):
    """On which side the cells of a column stand."""

    LEFT = "left"
    RIGHT = "right"


@frozen
class Column:
    """One column: `key` for programs, `heading` for people, unit and decimals of its numbers.

    A column `is_in_title` stands in files alone: a page says it in its title or its notes. A tick column is empty: a
    box to tick on paper. Where an item takes several rows, a column `is_of_item` has one cell for all of them.
    """

    key: str
    heading: str
    unit: str = ""
    align: Align = Align.LEFT
    decimals: int = 1
    is_tick: bool = False
    is_in_title: bool = False
    is_of_item: bool = False

    @property
    def title(self) -> str:
        """Heading with its unit: `cut (mm)`."""
        return f"{self.heading} ({self.unit})" if self.unit else self.heading


@frozen
class Table:
    """A schedule: rows have one cell for each column; `notes` say what its columns mean and what was assumed.

    Each `item_rows` rows belong together (both ends of a wire).
    """

    key: str
    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    notes: tuple[str, ...] = ()
    item_rows: int = 1

    def __post_init__(self) -> None:
        """Refuse ragged rows.

        Raises:
            ValueError: a row has not one cell for each column.
        """
        for row in self.rows:
            if len(row) != len(self.columns):
                raise ValueError(f"{self.key}: a row of {len(row)} cells under {len(self.columns)} columns")


def number_column(key: str, heading: str, unit: str, decimals: int = 1) -> Column:
    """A column of numbers, ranged right."""
    return Column(key, heading, unit, Align.RIGHT, decimals)


def tick_column(key: str = "done", heading: str = "done", *, is_of_item: bool = False) -> Column:
    """A column of boxes to tick."""
    return Column(key, heading, is_tick=True, is_of_item=is_of_item)


def cell_text(column: Column, cell: Cell) -> str:
    """A cell as it is printed: numbers with at most the column's decimals."""
    if cell is None:
        return ""
    return cell if isinstance(cell, str) else plain_number(float(cell), column.decimals)
