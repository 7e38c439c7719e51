"""Marks: what a drawing is made of, in millimetres, each with its box and its true outlines, without any output format.

x runs to the right and y down the sheet. `subject` names what the mark depicts (a designator, a wire mark, the name of
a table), so that a mark can be found from the thing and the thing from the mark. A thin mark has a large box (an L of
two strokes): `parts` gives one box for each straight piece, `outlines` the exact shape.
"""

from abc import ABC, abstractmethod
from dataclasses import dataclass, field, replace
from itertools import pairwise
from math import acos, ceil, cos, degrees, hypot, radians, sin

from harnessgen.sheets.box import Box, Point, box_around, union_of
from harnessgen.sheets.hatching import hatch_lines
from harnessgen.sheets.insulation_colours import BLACK, Rgb
from harnessgen.sheets.lettering import Anchor, Rotation, text_box
from harnessgen.sheets.mark_kind import HOLLOW_KINDS, MarkKind
from harnessgen.sheets.outline import Outline, Segment, stroke, upright_area

_SAGITTA_MM = 0.02
_LARGEST_CHORD_DEG = 15.0
"""Arcs are judged as chords that lie at most 0.02 mm inside the arc, of 15 degrees at most."""


def _moved(points: tuple[Point, ...], dx_mm: float, dy_mm: float) -> tuple[Point, ...]:
    return tuple((x + dx_mm, y + dy_mm) for x, y in points)


def arc_points(cx: float, cy: float, radius_mm: float, start_deg: float, sweep_deg: float) -> tuple[Point, ...]:
    """Points on an arc around (cx, cy), from `start_deg` over `sweep_deg`; 0 is to the right, positive is clockwise."""
    chord_deg = _LARGEST_CHORD_DEG
    if radius_mm > _SAGITTA_MM:
        chord_deg = min(chord_deg, 2 * degrees(acos(1 - _SAGITTA_MM / radius_mm)))
    count = max(1, ceil(abs(sweep_deg) / chord_deg))
    angles = (radians(start_deg + sweep_deg * step / count) for step in range(count + 1))
    return tuple((cx + radius_mm * cos(angle), cy + radius_mm * sin(angle)) for angle in angles)


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark(ABC):
    """One mark on a sheet: what it is for (`kind`) and what it depicts (`subject`, may be empty)."""

    kind: MarkKind
    subject: str = ""

    @property
    @abstractmethod
    def outlines(self) -> tuple[Outline, ...]:
        """The exact shape, as strokes and areas."""

    @property
    @abstractmethod
    def box(self) -> Box:
        """The box that holds all ink of the mark, millimetres."""

    @property
    def parts(self) -> tuple[Box, ...]:
        """One box for each straight stroke or area of the mark, millimetres."""
        return tuple(outline.box for outline in self.outlines)

    @property
    def ends(self) -> tuple[Point, ...]:
        """The two ends of a line, by which it may be joined; empty for all other marks."""
        return ()

    @abstractmethod
    def shift(self, dx_mm: float, dy_mm: float) -> "Mark":
        """The same mark moved right by `dx_mm` and down by `dy_mm`."""


@dataclass(frozen=True, slots=True)
class Polyline(Mark):
    """A line of one or more straight strokes; `dash_mm` alternates stroke and gap lengths, empty for a full line."""

    points: tuple[Point, ...]
    width_mm: float = 0.35
    ink: Rgb = BLACK
    dash_mm: tuple[float, ...] = ()

    @property
    def outlines(self) -> tuple[Outline, ...]:
        """One stroke for each pair of neighbouring points."""
        return tuple(stroke(start, end, self.width_mm) for start, end in pairwise(self.points))

    @property
    def box(self) -> Box:
        """The box of all strokes with their width, their ends cut square."""
        return union_of(self.parts)

    @property
    def ends(self) -> tuple[Point, ...]:
        """First and last point."""
        return self.points[0], self.points[-1]

    def shift(self, dx_mm: float, dy_mm: float) -> "Polyline":
        """The same line moved."""
        return replace(self, points=_moved(self.points, dx_mm, dy_mm))


@dataclass(frozen=True, slots=True)
class Arc(Mark):
    """A part of a circle around (cx, cy), from `start_deg` (0 is to the right) over `sweep_deg`, positive clockwise."""

    cx: float
    cy: float
    radius_mm: float
    start_deg: float
    sweep_deg: float
    width_mm: float = 0.35
    ink: Rgb = BLACK

    @property
    def outlines(self) -> tuple[Outline, ...]:
        """Chords of the arc, as thick as the line."""
        points = arc_points(self.cx, self.cy, self.radius_mm, self.start_deg, self.sweep_deg)
        return tuple(Outline((start, end), self.width_mm / 2, filled=False) for start, end in pairwise(points))

    @property
    def box(self) -> Box:
        """The exact box: the two ends and whichever of the four quarter points the arc passes."""
        last_deg = self.start_deg + self.sweep_deg
        low_deg, high_deg = sorted((self.start_deg, last_deg))
        quarters = (90.0 * turn for turn in range(ceil(low_deg / 90), int(high_deg // 90) + 1))
        angles = (radians(angle) for angle in (low_deg, high_deg, *quarters))
        points = ((self.cx + self.radius_mm * cos(a), self.cy + self.radius_mm * sin(a)) for a in angles)
        return box_around(points).inflate(self.width_mm / 2)

    def shift(self, dx_mm: float, dy_mm: float) -> "Arc":
        """The same arc moved."""
        return replace(self, cx=self.cx + dx_mm, cy=self.cy + dy_mm)


def _edges(corners: tuple[Point, ...], width_mm: float) -> tuple[Outline, ...]:
    return tuple(stroke(a, b, width_mm) for a, b in pairwise((*corners, corners[0])))


@dataclass(frozen=True, slots=True)
class Circle(Mark):
    """A circle around (cx, cy); `width_mm` 0 draws no line, `fill` none leaves it open."""

    cx: float
    cy: float
    radius_mm: float
    width_mm: float = 0.35
    ink: Rgb = BLACK
    fill: Rgb | None = None

    @property
    def outlines(self) -> tuple[Outline, ...]:
        """A disc, or the ring alone where the circle is open or of a kind that holds other marks."""
        if self.fill is None or self.kind in HOLLOW_KINDS:
            points = arc_points(self.cx, self.cy, self.radius_mm, 0, 360)
            return tuple(Outline((a, b), self.width_mm / 2, filled=False) for a, b in pairwise(points))
        return (Outline(((self.cx, self.cy),), self.radius_mm + self.width_mm / 2, filled=False),)

    @property
    def box(self) -> Box:
        """The box of the circle with its line."""
        return Box(self.cx, self.cy, self.cx, self.cy).inflate(self.radius_mm + self.width_mm / 2)

    def shift(self, dx_mm: float, dy_mm: float) -> "Circle":
        """The same circle moved."""
        return replace(self, cx=self.cx + dx_mm, cy=self.cy + dy_mm)


@dataclass(frozen=True, slots=True)
class Rectangle(Mark):
    """An upright rectangle; `width_mm` 0 draws no line, `fill` none leaves it open, `corner_mm` rounds its corners."""

    area: Box
    width_mm: float = 0.35
    ink: Rgb = BLACK
    fill: Rgb | None = None
    corner_mm: float = 0.0

    @property
    def outlines(self) -> tuple[Outline, ...]:
        """The area, or its four sides where it is open or of a kind that holds other marks."""
        if self.fill is None or self.kind in HOLLOW_KINDS:
            return _edges(self.area.corners, self.width_mm)
        return (upright_area(self.box),)

    @property
    def box(self) -> Box:
        """The area with its line."""
        return self.area.inflate(self.width_mm / 2)

    def shift(self, dx_mm: float, dy_mm: float) -> "Rectangle":
        """The same rectangle moved."""
        return replace(self, area=self.area.shift(dx_mm, dy_mm))


@dataclass(frozen=True, slots=True)
class Polygon(Mark):
    """A closed shape of straight sides with rounded joints; `width_mm` 0 draws no line, `fill` none leaves it open."""

    points: tuple[Point, ...]
    width_mm: float = 0.0
    ink: Rgb = BLACK
    fill: Rgb | None = None

    @property
    def outlines(self) -> tuple[Outline, ...]:
        """The area, or its sides where it is open or of a kind that holds other marks."""
        if self.fill is None or self.kind in HOLLOW_KINDS:
            return _edges(self.points, self.width_mm)
        return (Outline(self.points, self.width_mm / 2, filled=True),)

    @property
    def box(self) -> Box:
        """The box of all corners with the line."""
        return box_around(self.points).inflate(self.width_mm / 2)

    def shift(self, dx_mm: float, dy_mm: float) -> "Polygon":
        """The same shape moved."""
        return replace(self, points=_moved(self.points, dx_mm, dy_mm))


@dataclass(frozen=True, slots=True)
class TextMark(Mark):
    """One line of lettering; (x, y) is the `anchor` of its baseline, `size_mm` the font size (a capital is 0.73 of it).

    `rotation` turns it about (x, y), degrees clockwise: -90 reads upwards.
    """

    text: str
    x: float
    y: float
    size_mm: float
    anchor: Anchor = "start"
    bold: bool = False
    rotation: Rotation = 0
    ink: Rgb = BLACK
    kind: MarkKind = field(default=MarkKind.LABEL, kw_only=True)

    @property
    def outlines(self) -> tuple[Outline, ...]:
        """The box of the text as one area."""
        return (upright_area(self.box),)

    @property
    def box(self) -> Box:
        """Standing height by width of the lettering, widened where accents and overhangs go beyond it."""
        return text_box(
            self.text, self.x, self.y, self.size_mm, bold=self.bold, anchor=self.anchor, rotation=self.rotation
        )

    def shift(self, dx_mm: float, dy_mm: float) -> "TextMark":
        """The same text moved."""
        return replace(self, x=self.x + dx_mm, y=self.y + dy_mm)


def _lengthened(start: Point, end: Point, by_mm: float) -> Point:
    """The end of a stroke carried on by `by_mm`."""
    length_mm = hypot(end[0] - start[0], end[1] - start[1])
    share = by_mm / length_mm if length_mm else 0.0
    return end[0] + share * (end[0] - start[0]), end[1] + share * (end[1] - start[1])


@dataclass(frozen=True, slots=True)
class Conductor(Mark):
    """A piece of conductor in its insulation colours: level and upright strokes with a dark edge.

    `base` and `stripe` are IEC 60757 codes; the stripe, empty where there is none, is drawn as dashes along the middle.
    """

    points: tuple[Point, ...]
    base: str
    stripe: str = ""
    width_mm: float = 1.3
    kind: MarkKind = field(default=MarkKind.CONDUCTOR, kw_only=True)

    @property
    def outlines(self) -> tuple[Outline, ...]:
        """One area for each stroke: cut square at the two ends, carried round the corners."""
        half_mm = self.width_mm / 2
        last = len(self.points) - 2
        return tuple(
            stroke(
                _lengthened(end, start, half_mm if index > 0 else 0.0),
                _lengthened(start, end, half_mm if index < last else 0.0),
                self.width_mm,
            )
            for index, (start, end) in enumerate(pairwise(self.points))
        )

    @property
    def box(self) -> Box:
        """The box of all strokes."""
        return union_of(self.parts)

    @property
    def ends(self) -> tuple[Point, ...]:
        """First and last point."""
        return self.points[0], self.points[-1]

    def shift(self, dx_mm: float, dy_mm: float) -> "Conductor":
        """The same conductor moved."""
        return replace(self, points=_moved(self.points, dx_mm, dy_mm))


@dataclass(frozen=True, slots=True)
class Hatch(Mark):
    """A hatched area, such as a covering: strokes `spacing_mm` apart at `angle_deg`, anticlockwise from level.

    `edge_mm` is the width of the line around it, `width_mm` that of the strokes; `fill` none lets what is below show.
    """

    points: tuple[Point, ...]
    spacing_mm: float = 1.6
    angle_deg: float = 45.0
    width_mm: float = 0.25
    edge_mm: float = 0.25
    ink: Rgb = BLACK
    fill: Rgb | None = None
    kind: MarkKind = field(default=MarkKind.COVERING, kw_only=True)

    @property
    def strokes(self) -> tuple[Segment, ...]:
        """The hatch strokes, cut to the area."""
        return hatch_lines(self.points, self.spacing_mm, self.angle_deg)

    @property
    def outlines(self) -> tuple[Outline, ...]:
        """The area with its edge."""
        return (Outline(self.points, self.edge_mm / 2, filled=True),)

    @property
    def box(self) -> Box:
        """The box of the area with its edge."""
        return box_around(self.points).inflate(max(self.edge_mm, self.width_mm) / 2)

    def shift(self, dx_mm: float, dy_mm: float) -> "Hatch":
        """The same area moved; its strokes stay on the raster of the sheet."""
        return replace(self, points=_moved(self.points, dx_mm, dy_mm))


def box_of(marks: tuple[Mark, ...]) -> Box:
    """The box that holds all `marks`, millimetres.

    Raises:
        ValueError: there is no mark at all.
    """
    if not marks:
        raise ValueError("the box of no mark is not defined")
    return union_of(mark.box for mark in marks)
