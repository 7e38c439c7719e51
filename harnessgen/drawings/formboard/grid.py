"""The sheets that a formboard is cut into: a grid of windows that overlap, each with its number."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product
from math import ceil

from harnessgen.sheets.box import Box, Point
from harnessgen.sheets.sheet import Paper

OVERLAP_MM = 10.0
"""How much two neighbours share: wide enough for a strip of tape, and for any peg to be whole on one of them."""
MARGIN_MM = 8.0
SIDE_MM = 12.0
"""Strip at the left for the upright check line."""
FOOT_MM = 22.0
"""Strip at the foot for the level check line, the number of the sheet and what it is."""


def window_of(paper: Paper) -> Box:
    """The part of a sheet that shows the board, in mm from the sheet's corner."""
    return Box(MARGIN_MM + SIDE_MM, MARGIN_MM, paper.width_mm - MARGIN_MM, paper.height_mm - MARGIN_MM - FOOT_MM)


@dataclass(frozen=True, slots=True)
class Tile:
    """One sheet of the grid: its row and column from the upper left, and the part of the board that it shows."""

    row: int
    column: int
    area: Box

    @property
    def name(self) -> str:
        """Row by letter, column by number: `B3`."""
        letters, rest = "", self.row + 1
        while rest:
            rest, place = divmod(rest - 1, 26)
            letters = chr(ord("A") + place) + letters
        return f"{letters}{self.column + 1}"


@dataclass(frozen=True, slots=True)
class SheetGrid:
    """Windows of `paper` over a board, from the corner `at`."""

    paper: Paper
    at: Point
    rows: int
    columns: int

    @property
    def _pitch_mm(self) -> tuple[float, float]:
        window = window_of(self.paper)
        return window.width_mm - OVERLAP_MM, window.height_mm - OVERLAP_MM

    @property
    def tiles(self) -> tuple[Tile, ...]:
        """All sheets, row by row."""
        window = window_of(self.paper)
        across_mm, down_mm = self._pitch_mm
        tiles = []
        for row, column in product(range(self.rows), range(self.columns)):
            x, y = self.at[0] + column * across_mm, self.at[1] + row * down_mm
            tiles.append(Tile(row, column, Box(x, y, x + window.width_mm, y + window.height_mm)))
        return tuple(tiles)

    @property
    def registers(self) -> tuple[Point, ...]:
        """Where the register marks are: the middle of each place where four sheets share their corners."""
        across_mm, down_mm = self._pitch_mm
        half_mm = OVERLAP_MM / 2
        return tuple(
            (self.at[0] + half_mm + column * across_mm, self.at[1] + half_mm + row * down_mm)
            for row, column in product(range(self.rows + 1), range(self.columns + 1))
        )

    def touched(self, box: Box) -> set[tuple[int, int]]:
        """Row and column of the sheets that show any of a box; what two share belongs to them up to its middle."""
        across_mm, down_mm = self._pitch_mm
        left, top = self.at[0] + OVERLAP_MM / 2, self.at[1] + OVERLAP_MM / 2
        columns = range(
            _within((box.x0 - left) // across_mm, self.columns), _within((box.x1 - left) // across_mm, self.columns) + 1
        )
        rows = range(_within((box.y0 - top) // down_mm, self.rows), _within((box.y1 - top) // down_mm, self.rows) + 1)
        return set(product(rows, columns))

    def holds(self, box: Box) -> bool:
        """Whether some sheet shows all of a box."""
        across_mm, down_mm = self._pitch_mm
        window = window_of(self.paper)
        return (box.x0 - self.at[0]) // across_mm * across_mm + window.width_mm >= box.x1 - self.at[0] and (
            box.y0 - self.at[1]
        ) // down_mm * down_mm + window.height_mm >= box.y1 - self.at[1]


def _within(place: float, count: int) -> int:
    return min(max(int(place), 0), count - 1)


def grids_over(area: Box, papers: tuple[Paper, ...]) -> Iterator[SheetGrid]:
    """Grids that cover an area of the board, of these papers (the same one upright and lying), set off a little.

    What the sheets are larger than the board is shared out to both sides first, then pushed to one or the other.
    """
    shares = (0.5, 0.25, 0.75, 0.0, 1.0)
    for paper, extra in product(papers, (0, 1)):
        window = window_of(paper)
        across_mm, down_mm = window.width_mm - OVERLAP_MM, window.height_mm - OVERLAP_MM
        columns = max(1, ceil((area.width_mm - OVERLAP_MM) / across_mm)) + extra
        rows = max(1, ceil((area.height_mm - OVERLAP_MM) / down_mm)) + extra
        spare_x_mm = columns * across_mm + OVERLAP_MM - area.width_mm
        spare_y_mm = rows * down_mm + OVERLAP_MM - area.height_mm
        for over, beside in product(shares, shares):
            yield SheetGrid(paper, (area.x0 - beside * spare_x_mm, area.y0 - over * spare_y_mm), rows, columns)
