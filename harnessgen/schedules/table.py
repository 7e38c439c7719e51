"""A schedule as a table: typed columns and rows, from which CSV, HTML and paper are written."""

from dataclasses import dataclass
from enum import Enum

from harnessgen.measures.quantity import plain_number

Cell = str | float | int | None
"""A text, a number in the unit of its column, or nothing."""


class Align(Enum):
    """On which side the cells of a column stand."""

    LEFT = "left"
    RIGHT = "right"


@dataclass(frozen=True, slots=True)
class Column:
    """One column: `key` for programs, `heading` for people, unit and decimals of its numbers.

    A column `is_in_title` stands in files alone: a page says it in its title. A tick column is empty: a box to tick on
    paper.
    """

    key: str
    heading: str
    unit: str = ""
    align: Align = Align.LEFT
    decimals: int = 1
    is_tick: bool = False
    is_in_title: bool = False

    @property
    def title(self) -> str:
        """Heading with its unit: `cut (mm)`."""
        return f"{self.heading} ({self.unit})" if self.unit else self.heading


@dataclass(frozen=True, slots=True)
class Table:
    """A schedule: rows have one cell for each column; `notes` say what its columns mean and what was assumed."""

    key: str
    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    notes: tuple[str, ...] = ()

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


def tick_column(key: str = "done", heading: str = "done") -> Column:
    """A column of boxes to tick."""
    return Column(key, heading, is_tick=True)


def cell_text(column: Column, cell: Cell) -> str:
    """A cell as it is printed: numbers with at most the column's decimals."""
    if cell is None:
        return ""
    return cell if isinstance(cell, str) else plain_number(float(cell), column.decimals)
