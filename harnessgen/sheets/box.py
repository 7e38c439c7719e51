"""The axis-aligned box that every mark has: millimetres, x to the right, y down the sheet."""

from collections.abc import Iterable
from dataclasses import dataclass

Point = tuple[float, float]
"""A place on the sheet: x to the right and y downwards, millimetres from the upper left corner."""


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle from (x0, y0) upper left to (x1, y1) lower right, millimetres; it may be flat."""

    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def width_mm(self) -> float:
        """Width in millimetres."""
        return self.x1 - self.x0

    @property
    def height_mm(self) -> float:
        """Height in millimetres."""
        return self.y1 - self.y0

    @property
    def centre(self) -> Point:
        """The middle of the box."""
        return (self.x0 + self.x1) / 2, (self.y0 + self.y1) / 2

    @property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        """The four corners, clockwise on the sheet from the upper left one."""
        return (self.x0, self.y0), (self.x1, self.y0), (self.x1, self.y1), (self.x0, self.y1)

    def inflate(self, by_mm: float) -> "Box":
        """The box grown by `by_mm` on all four sides; a negative value shrinks it, at most to its centre."""
        dx_mm = dy_mm = by_mm
        if by_mm < 0:
            dx_mm, dy_mm = max(by_mm, -self.width_mm / 2), max(by_mm, -self.height_mm / 2)
        return Box(self.x0 - dx_mm, self.y0 - dy_mm, self.x1 + dx_mm, self.y1 + dy_mm)

    def shift(self, dx_mm: float, dy_mm: float) -> "Box":
        """The same box moved right by `dx_mm` and down by `dy_mm`."""
        return Box(self.x0 + dx_mm, self.y0 + dy_mm, self.x1 + dx_mm, self.y1 + dy_mm)

    def union(self, other: "Box") -> "Box":
        """The smallest box that holds both."""
        return Box(min(self.x0, other.x0), min(self.y0, other.y0), max(self.x1, other.x1), max(self.y1, other.y1))

    def intersects(self, other: "Box", gap_mm: float = 0.0) -> bool:
        """Whether the two come nearer than `gap_mm`; boxes that only share an edge do not intersect at gap 0."""
        return (
            self.x0 < other.x1 + gap_mm
            and other.x0 < self.x1 + gap_mm
            and self.y0 < other.y1 + gap_mm
            and other.y0 < self.y1 + gap_mm
        )

    def contains(self, other: "Box", slack_mm: float = 1e-6) -> bool:
        """Whether `other` lies wholly inside, edges included; `slack_mm` forgives rounding."""
        return (
            self.x0 - slack_mm <= other.x0
            and self.y0 - slack_mm <= other.y0
            and other.x1 <= self.x1 + slack_mm
            and other.y1 <= self.y1 + slack_mm
        )

    def contains_point(self, point: Point, slack_mm: float = 1e-6) -> bool:
        """Whether `point` lies inside, edges included; `slack_mm` forgives rounding."""
        return (
            self.x0 - slack_mm <= point[0] <= self.x1 + slack_mm
            and self.y0 - slack_mm <= point[1] <= self.y1 + slack_mm
        )


def box_around(points: Iterable[Point]) -> Box:
    """The smallest box that holds all `points`.

    Raises:
        ValueError: there is no point at all.
    """
    held = tuple(points)
    if not held:
        raise ValueError("a box needs at least one point")
    xs, ys = zip(*held, strict=True)
    return Box(min(xs), min(ys), max(xs), max(ys))


def union_of(boxes: Iterable[Box]) -> Box:
    """The smallest box that holds all `boxes`.

    Raises:
        ValueError: there is no box at all.
    """
    held = tuple(boxes)
    if not held:
        raise ValueError("a union needs at least one box")
    return Box(min(b.x0 for b in held), min(b.y0 for b in held), max(b.x1 for b in held), max(b.y1 for b in held))
