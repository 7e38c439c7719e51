"""Lines cut at the edge of a sheet, exactly where they cross it."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from harnessgen.sheets.box import Box, Point
from harnessgen.sheets.marks import Polyline


def cut_line(line: Polyline, area: Box) -> Iterator[Polyline]:
    """The parts of a line within a box, in order."""
    if area.contains(line.box):
        yield line
        return
    run: list[Point] = []
    for start, end in pairwise(line.points):
        inner = cut_to(start, end, area)
        if inner is None:
            continue
        if run and run[-1] != inner[0]:
            yield replace(line, points=tuple(run))
            run = []
        run = [*(run or [inner[0]]), inner[1]]
    if run:
        yield replace(line, points=tuple(run))


def cut_to(start: Point, end: Point, area: Box) -> tuple[Point, Point] | None:
    """The part of a straight line that lies within a box, or None; by its share of the line at each of the four sides.

    The method is that of parametric line clipping (Liang and Barsky, ACM Transactions on Graphics 3, 1984).
    """
    dx, dy = end[0] - start[0], end[1] - start[1]
    low, high = 0.0, 1.0
    for step, room in (
        (-dx, start[0] - area.x0),
        (dx, area.x1 - start[0]),
        (-dy, start[1] - area.y0),
        (dy, area.y1 - start[1]),
    ):
        if step == 0:
            if room < 0:
                return None
            continue
        share = room / step
        low, high = (max(low, share), high) if step < 0 else (low, min(high, share))
    if high <= low:
        return None
    first = start if low == 0.0 else (start[0] + low * dx, start[1] + low * dy)
    last = end if high == 1.0 else (start[0] + high * dx, start[1] + high * dy)
    return first, last
