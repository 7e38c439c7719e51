"""Exact contact of two marks: where strokes overlap, whether they cross squarely, and whether only ends are joined."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from math import dist

from harnessgen.sheets.box import Point
from harnessgen.sheets.marks import Conductor, Mark, Polyline
from harnessgen.sheets.outline import Outline, Segment, outlines_touch
from tests.sheets.meeting import Meeting

END_REACH_MM = 1.5
"""How far from its end a line counts as ending there; half the width of the other mark comes on top."""
CROSSING_ROOM_MM = 0.4
"""How much of both strokes must be seen on each side of a crossing."""
_SQUARE = 1e-3

ENDING = Meeting.BOTH_END | Meeting.FIRST_ENDS | Meeting.SECOND_ENDS
Line = Polyline | Conductor


def contacts(first: Mark, second: Mark, gap_mm: float, crossing: bool) -> Iterator[tuple[Outline, Outline]]:
    """Pairs of outlines that overlap or come nearer than `gap_mm`; square crossings are left out where `crossing`."""
    for index, one in enumerate(first.outlines):
        box = one.box
        for place, other in enumerate(second.outlines):
            if not box.intersects(other.box, gap_mm) or not outlines_touch(one, other, gap_mm):
                continue
            if crossing and isinstance(first, Line) and isinstance(second, Line):
                legs = (first.points[index], first.points[index + 1]), (second.points[place], second.points[place + 1])
                if _square_crossing(*legs, first.width_mm, second.width_mm):
                    continue
            yield one, other


def _square_crossing(first: Segment, second: Segment, first_mm: float, second_mm: float) -> bool:
    (ax, ay), (bx, by) = first
    (cx, cy), (dx, dy) = second
    long_mm, other_mm = dist(*first), dist(*second)
    if not long_mm or not other_mm:
        return False
    ux, uy, vx, vy = (bx - ax) / long_mm, (by - ay) / long_mm, (dx - cx) / other_mm, (dy - cy) / other_mm
    if abs(ux * vx + uy * vy) > _SQUARE:
        return False
    # With square strokes the crossing lies where the other's start falls on this one, and the other way round.
    along_mm = (cx - ax) * ux + (cy - ay) * uy
    across_mm = (ax - cx) * vx + (ay - cy) * vy
    room_mm = second_mm / 2 + CROSSING_ROOM_MM
    other_room_mm = first_mm / 2 + CROSSING_ROOM_MM
    return room_mm <= along_mm <= long_mm - room_mm and other_room_mm <= across_mm <= other_mm - other_room_mm


def joined_at_ends(first: Mark, second: Mark, gap_mm: float, way: Meeting) -> bool:
    """Whether the two touch only at the ends of those lines that `way` says must end there."""
    asked = (
        (first, second, Meeting.BOTH_END | Meeting.FIRST_ENDS),
        (second, first, Meeting.BOTH_END | Meeting.SECOND_ENDS),
    )
    crossing = Meeting.CROSSING in way
    for one, other, ending in asked:
        if not way & ending:
            continue
        if not isinstance(one, Line):
            return False
        short = _shortened(one, END_REACH_MM + _half_mm(one) + _half_mm(other))
        if short is not None and any(contacts(short, other, gap_mm, crossing)):
            return False
    return bool(way & ENDING)


def _half_mm(mark: Mark) -> float:
    return mark.width_mm / 2 if isinstance(mark, Line) else 0.0


def _shortened(line: Line, by_mm: float) -> Line | None:
    """The line without `by_mm` of its length at each end, or nothing if it is not longer than that."""
    points = _cut(list(_cut(list(line.points), by_mm)[::-1]), by_mm)[::-1]
    return replace(line, points=tuple(points)) if len(points) > 1 else None


def _cut(points: list[Point], by_mm: float) -> list[Point]:
    left_mm = by_mm
    for index, (start, end) in enumerate(pairwise(points)):
        length_mm = dist(start, end)
        if length_mm > left_mm:
            share = left_mm / length_mm
            begin = (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))
            return [begin, *points[index + 1 :]]
        left_mm -= length_mm
    return []


def common_end(first: Line, second: Line) -> Point:
    """The place midway between the two ends, one of each line, that are nearest to one another."""
    one, other = min(((a, b) for a in first.ends for b in second.ends), key=lambda pair: dist(*pair))
    return (one[0] + other[0]) / 2, (one[1] + other[1]) / 2
