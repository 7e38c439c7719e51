"""What already lies on the board: straight strips with a width, found again by place, so that a new one keeps clear."""

from collections.abc import Iterator
from dataclasses import dataclass, field

from harnessgen.sheets.box import Box, Point, box_around
from harnessgen.sheets.outline import Outline, outlines_touch

_CELL_MM = 60.0


@dataclass(frozen=True, slots=True)
class Strip:
    """A straight strip from `a` to `b`, `half_mm` wide on either side; millimetres on the board."""

    a: Point
    b: Point
    half_mm: float

    @property
    def outline(self) -> Outline:
        """Its shape."""
        return Outline((self.a, self.b), self.half_mm, filled=False)

    @property
    def box(self) -> Box:
        """The box around it."""
        return box_around((self.a, self.b)).inflate(self.half_mm)


@dataclass(slots=True)
class OutlineRaster:
    """Outlines by cell of a square raster."""

    cells: dict[tuple[int, int], list[Outline]] = field(default_factory=dict)

    def add(self, outline: Outline) -> None:
        """Take the ground that an outline covers."""
        for cell in _cells_along(outline):
            self.cells.setdefault(cell, []).append(outline)

    def is_free(self, outline: Outline, gap_mm: float) -> bool:
        """Whether nothing lies within `gap_mm` of an outline."""
        seen: set[int] = set()
        for cell in _cells_along(outline, gap_mm):
            for other in self.cells.get(cell, ()):
                if id(other) not in seen:
                    seen.add(id(other))
                    if outlines_touch(outline, other, gap_mm):
                        return False
        return True


def _cells_along(outline: Outline, gap_mm: float = 0.0) -> Iterator[tuple[int, int]]:
    """Cells that an outline may touch; a long slanting stroke is followed piece by piece, not by its whole box."""
    found: dict[tuple[int, int], None] = {}
    for box in pieces(outline):
        wide = box.inflate(gap_mm)
        for column in range(int(wide.x0 // _CELL_MM), int(wide.x1 // _CELL_MM) + 1):
            for row in range(int(wide.y0 // _CELL_MM), int(wide.y1 // _CELL_MM) + 1):
                found[column, row] = None
    return iter(found)


def pieces(outline: Outline) -> Iterator[Box]:
    """Boxes that together hold an outline, close around a slanting stroke."""
    if outline.filled or len(outline.points) != 2:
        yield outline.box
        return
    (ax, ay), (bx, by) = outline.points
    count = max(1, int(max(abs(bx - ax), abs(by - ay)) // _CELL_MM) + 1)
    for step in range(count):
        start, end = step / count, (step + 1) / count
        ends = ((ax + (bx - ax) * share, ay + (by - ay) * share) for share in (start, end))
        yield box_around(ends).inflate(outline.half_mm)
