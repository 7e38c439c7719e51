"""The true shape of a mark for clearance: a stroke of some width or a filled polygon, never only its box."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import hypot

from harnessgen.sheets.box import Box, Point, box_around

Segment = tuple[Point, Point]

_ROUNDING_MM = 1e-6


@dataclass(frozen=True, slots=True)
class Outline:
    """A convex or plain polygon (`filled`) or an open run of points, thickened by `half_mm` on all sides.

    `upright` says that it is exactly its own box, which makes most comparisons a comparison of boxes.
    """

    points: tuple[Point, ...]
    half_mm: float
    filled: bool
    upright: bool = False

    @property
    def box(self) -> Box:
        """The box of the outline with its thickness, millimetres."""
        return Box(*self.points[0], *self.points[2]) if self.upright else box_around(self.points).inflate(self.half_mm)

    @property
    def segments(self) -> Iterator[Segment]:
        """The straight edges, the closing one too where it is filled; a lone point is an edge of no length."""
        if len(self.points) == 1:
            yield self.points[0], self.points[0]
            return
        yield from pairwise(self.points)
        if self.filled:
            yield self.points[-1], self.points[0]


def upright_area(area: Box) -> Outline:
    """The filled outline of a box."""
    return Outline(area.corners, 0.0, filled=True, upright=True)


def stroke(start: Point, end: Point, width_mm: float) -> Outline:
    """The outline of one straight stroke of `width_mm`, with square-cut ends where it lies level or upright."""
    half_mm = width_mm / 2
    if start[0] == end[0]:
        return upright_area(Box(start[0] - half_mm, min(start[1], end[1]), start[0] + half_mm, max(start[1], end[1])))
    if start[1] == end[1]:
        return upright_area(Box(min(start[0], end[0]), start[1] - half_mm, max(start[0], end[0]), start[1] + half_mm))
    return Outline((start, end), half_mm, filled=False)


def outlines_touch(first: Outline, second: Outline, gap_mm: float = 0.0) -> bool:
    """Whether two outlines overlap, or come nearer than `gap_mm`; edges that only just meet do not touch at gap 0."""
    if not first.box.intersects(second.box, gap_mm - _ROUNDING_MM):
        return False
    if first.upright and second.upright:
        return True
    near_mm = first.half_mm + second.half_mm + gap_mm - _ROUNDING_MM
    for one in first.segments:
        for other in second.segments:
            if _cross(one, other) or _segment_distance_mm(one, other) < near_mm:
                return True
    return _holds_some_of(first, second) or _holds_some_of(second, first)


def _holds_some_of(area: Outline, other: Outline) -> bool:
    if not area.filled:
        return False
    middle = (sum(x for x, _ in other.points) / len(other.points), sum(y for _, y in other.points) / len(other.points))
    return any(
        inside(area.points, point) and _edge_distance_mm(area, point) > _ROUNDING_MM
        for point in (*other.points, middle)
    )


def inside(polygon: tuple[Point, ...], point: Point) -> bool:
    """Whether `point` lies in `polygon`, by counting the edges that a level ray to the right crosses."""
    x, y = point
    within = False
    for (ax, ay), (bx, by) in zip(polygon, (*polygon[1:], polygon[0]), strict=True):
        if (ay > y) != (by > y) and x < ax + (y - ay) * (bx - ax) / (by - ay):
            within = not within
    return within


def _edge_distance_mm(area: Outline, point: Point) -> float:
    return min(point_distance_mm(point, edge) for edge in area.segments)


def point_distance_mm(point: Point, segment: Segment) -> float:
    """Distance from `point` to the nearest place of `segment`, millimetres."""
    (ax, ay), (bx, by) = segment
    dx, dy = bx - ax, by - ay
    squared = dx * dx + dy * dy
    share = 0.0 if squared == 0 else max(0.0, min(1.0, ((point[0] - ax) * dx + (point[1] - ay) * dy) / squared))
    return hypot(point[0] - ax - share * dx, point[1] - ay - share * dy)


def _side(segment: Segment, point: Point) -> float:
    (ax, ay), (bx, by) = segment
    length_mm = hypot(bx - ax, by - ay) or 1.0
    return ((bx - ax) * (point[1] - ay) - (by - ay) * (point[0] - ax)) / length_mm


def _cross(first: Segment, second: Segment) -> bool:
    def apart(segment: Segment, other: Segment) -> bool:
        one, two = _side(segment, other[0]), _side(segment, other[1])
        return (one > _ROUNDING_MM and two < -_ROUNDING_MM) or (one < -_ROUNDING_MM and two > _ROUNDING_MM)

    return apart(first, second) and apart(second, first)


def _segment_distance_mm(first: Segment, second: Segment) -> float:
    if _cross(first, second):
        return 0.0
    return min(
        point_distance_mm(first[0], second),
        point_distance_mm(first[1], second),
        point_distance_mm(second[0], first),
        point_distance_mm(second[1], first),
    )
