"""A schedule as a table: typed rows, and columns that each get their own cell; CSV, page and paper are made of them."""

from collections.abc import Callable, Iterable
from dataclasses import field, replace
from enum import Enum, Flag, auto
from typing import Any, Generic, TypeVar

from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import plain_number

Cell = str | float | int | None
"""A text, a number in the unit of its column, or nothing."""

Row = TypeVar("Row")
_Whole = TypeVar("_Whole")


class Align(Enum):
    """On which side the cells of a column stand."""

    LEFT = "left"
    RIGHT = "right"


class Medium(Flag):
    """What a column is printed on: file, page, paper; or the form of the schedule that is part of a test sheet."""

    CSV = auto()
    PAGE = auto()
    PAPER = auto()
    TEST_SHEET = auto()


EVERYWHERE = Medium.CSV | Medium.PAGE | Medium.PAPER | Medium.TEST_SHEET
LISTS = Medium.CSV | Medium.PAGE | Medium.PAPER
"""In the schedule itself, but not where it is part of a test sheet."""


@frozen
class Column(Generic[Row]):
    """One column: `key` for programs, `heading` for people, `get` for its cell of a row, unit and decimals of numbers.

    A column of `on` CSV alone is one that page and paper say in a title or a note. `paper_heading` is the heading on
    paper where that is shorter, and `is_zero_blank_on_paper` leaves a figure of 0 out there. A tick column has no cell
    but a box to tick. Where an item takes several rows, a column `is_of_item` has one cell for all of them. A column
    `is_inches` is for designs in inches or feet alone.
    """

    key: str
    heading: str
    # The getter is code; two columns that are told the same are the same.
    get: Callable[[Row], Cell] = field(compare=False)
    unit: str = ""
    align: Align = Align.LEFT
    decimals: int = 1
    on: Medium = EVERYWHERE
    paper_heading: str = ""
    is_zero_blank_on_paper: bool = False
    is_tick: bool = False
    is_of_item: bool = False
    is_inches: bool = False

    @property
    def title(self) -> str:
        """Heading with its unit: `cut (mm)`."""
        return self.title_on(Medium.PAGE)

    def title_on(self, medium: Medium) -> str:
        """Heading on this medium with its unit."""
        heading = (self.paper_heading if medium is Medium.PAPER else "") or self.heading
        return f"{heading} ({self.unit})" if self.unit else heading

    def cell_on(self, medium: Medium, row: Row) -> Cell:
        """The cell of a row on this medium."""
        cell = self.get(row)
        return None if medium is Medium.PAPER and self.is_zero_blank_on_paper and cell == 0 else cell

    def of(self, part: "Callable[[_Whole], Row]") -> "Column[_Whole]":
        """The same column of rows of which a part has its cell."""
        get = self.get

        def of_whole(whole: _Whole) -> Cell:
            return get(part(whole))

        column: Column[Any] = self
        return replace(column, get=of_whole)


@frozen
class Table(Generic[Row]):
    """A schedule: rows as facts, columns that print them; `notes` say what the columns mean and what was assumed.

    Each `item_rows` rows belong together (both ends of a wire).
    """

    key: str
    title: str
    columns: tuple[Column[Row], ...]
    rows: tuple[Row, ...]
    notes: tuple[str, ...] = ()
    item_rows: int = 1

    def columns_on(self, medium: Medium) -> tuple[Column[Row], ...]:
        """The columns that are printed on this medium."""
        return tuple(each for each in self.columns if medium in each.on)

    def printed(self, medium: Medium) -> tuple[tuple[Column[Row], ...], tuple[tuple[Cell, ...], ...]]:
        """Columns on this medium, and the cells of each row; a column that no row fills is left out, ticks apart."""
        columns = self.columns_on(medium)
        cells = [tuple(each.cell_on(medium, row) for each in columns) for row in self.rows]
        kept = [
            at
            for at, column in enumerate(columns)
            if column.is_tick or not cells or any(row[at] not in (None, "") for row in cells)
        ]
        return tuple(columns[at] for at in kept), tuple(tuple(row[at] for at in kept) for row in cells)


def number_column(
    key: str, heading: str, unit: str, get: Callable[[Row], Cell], decimals: int = 1, *, on: Medium = EVERYWHERE
) -> Column[Row]:
    """A column of numbers, ranged right."""
    return Column(key, heading, get, unit, Align.RIGHT, decimals, on)


def tick_column(
    key: str = "done", heading: str = "done", *, on: Medium = ~Medium.CSV, is_of_item: bool = False
) -> Column[Any]:
    """A column of boxes to tick."""
    return Column(key, heading, lambda _: None, on=on & ~Medium.CSV, is_tick=True, is_of_item=is_of_item)


def in_unit(columns: Iterable[Column[Row]], *, has_inches: bool) -> tuple[Column[Row], ...]:
    """`columns` for a design in inches or feet, or for one in millimetres."""
    return tuple(each for each in columns if has_inches or not each.is_inches)


def cell_text(column: Column[Any], cell: Cell) -> str:
    """A cell as it is printed: numbers with at most the column's decimals."""
    if cell is None:
        return ""
    return cell if isinstance(cell, str) else plain_number(float(cell), column.decimals)
