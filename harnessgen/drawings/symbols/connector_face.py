"""Face views of connectors: housing, latch or key, cavities with number, filling and colours, which half and side.

One layout serves both halves. Columns and rows are those of the **socket half seen from its wire side**, column 0 at
the left. Turning to the other side of the same half, or to the other half from the same side, mirrors left and right
and leaves up and down: mated halves look at one another, so what is left from behind the socket half is right from
behind the pin half. Two turns undo each other: the pin half on its mating side looks like the socket half on its wire
side. A connector whose half is not stated is drawn as a socket half.

Filling is told by form, not by colour: a wired cavity has a ring in its insulation colours between dark edges, with the
colour code under it; a plugged one has a plain ring crossed out at its rim, an empty one a dashed ring.
"""

from dataclasses import dataclass, replace
from enum import Enum
from itertools import combinations
from math import cos, hypot, radians, sin
from typing import Literal

from harnessgen.sheets.box import Box, Point
from harnessgen.sheets.insulation_colours import BLACK, EDGE, WHITE, insulation_colour
from harnessgen.sheets.lettering import text_width_mm
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Arc, Circle, Mark, Polyline, Rectangle, TextMark, box_of

Half = Literal["pin", "socket", ""]
Side = Literal["wire side", "mating side"]
Shape = Literal["rectangular", "round"]
Latch = Literal["up", "down", "left", "right"]

_RING_MM = 0.6
_CODE_SHARE = 0.92
_LEAST_TEXT_MM = 2.0


class Filling(Enum):
    """What is in a cavity."""

    WIRED = "wired"
    PLUGGED = "plugged"
    EMPTY = "empty"


@dataclass(frozen=True, slots=True)
class FaceCavity:
    """One cavity: its name, its place in the layout (columns to the right, rows down, fractions allowed), its filling.

    `base` and `stripe` are the IEC 60757 codes of the wire in it, empty where there is none.
    """

    name: str
    column: float
    row: float
    filling: Filling = Filling.EMPTY
    base: str = ""
    stripe: str = ""

    @property
    def code(self) -> str:
        """The colour code as written on drawings, such as `BU/WH`; empty without a wire."""
        if self.filling is not Filling.WIRED:
            return ""
        return f"{self.base}/{self.stripe}" if self.stripe else self.base


@dataclass(frozen=True, slots=True)
class FaceData:
    """What a face view shows; layout and `latch` are those of the socket half seen from its wire side.

    A round housing has a key instead of a latch, at the same side. `note` follows the designator in the title, such as
    `to INJ5`.
    """

    designator: str
    half: Half
    view: Side
    shape: Shape
    cavities: tuple[FaceCavity, ...]
    latch: Latch = "up"
    note: str = ""

    @property
    def mirrored(self) -> bool:
        """Whether left and right are exchanged against the layout."""
        return (self.half == "pin") != (self.view == "mating side")

    @property
    def latch_as_seen(self) -> Latch:
        """The side of the latch or key in this view."""
        opposite: dict[Latch, Latch] = {"left": "right", "right": "left"}
        return opposite.get(self.latch, self.latch) if self.mirrored else self.latch

    @property
    def title(self) -> str:
        """Designator, half, side and latch in words."""
        named = f"{self.designator} {self.note}".strip()
        half = [f"{self.half} half"] if self.half else []
        lock = f"{'key' if self.shape == 'round' else 'latch'} {self.latch_as_seen}"
        return ", ".join([named, *half, self.view, lock])


@dataclass(frozen=True, slots=True)
class Face:
    """A placed face view: marks, box (millimetres), and the centre of each cavity by name, in the order given."""

    marks: tuple[Mark, ...]
    box: Box
    centres: tuple[tuple[str, Point], ...]


def face(data: FaceData, x: float, y: float, size_mm: float = 2.2, *, codes: bool = True) -> Face:
    """The face view of `data` with its title; (x, y) is the upper left corner of its box.

    `size_mm` is the size of the lettering, which decides all else; `codes` prints the colour codes under the cavities.

    Raises:
        ValueError: there is no cavity, or two cavities lie on one place.
    """
    if not data.cavities:
        raise ValueError(f"connector {data.designator} has no cavity to show")
    if len({(cavity.column, cavity.row) for cavity in data.cavities}) < len(data.cavities):
        raise ValueError(f"connector {data.designator} has two cavities on one place")
    cells = _Cells.of(data, size_mm, codes)
    places = [cells.centre(data, cavity) for cavity in data.cavities]
    marks: list[Mark] = []
    for cavity, place in zip(data.cavities, places, strict=True):
        marks.extend(_cavity(data.designator, cavity, place, cells))
    housing = _housing(data, marks)
    body = box_of(housing)
    title = TextMark(
        data.title,
        body.centre[0],
        body.y0 - 0.9 * size_mm,
        1.1 * size_mm,
        "middle",
        bold=True,
        kind=MarkKind.FACE_TEXT,
        subject=data.designator,
    )
    drawn = (*housing, *marks, title)
    corner = box_of(drawn)
    dx_mm, dy_mm = x - corner.x0, y - corner.y0
    centres = tuple(
        (cavity.name, (place[0] + dx_mm, place[1] + dy_mm)) for cavity, place in zip(data.cavities, places, strict=True)
    )
    return Face(tuple(mark.shift(dx_mm, dy_mm) for mark in drawn), corner.shift(dx_mm, dy_mm), centres)


@dataclass(frozen=True, slots=True)
class _Cells:
    """Sizes of the raster of one face, millimetres: ring radius, distance of columns and rows, lettering."""

    radius_mm: float
    column_mm: float
    row_mm: float
    size_mm: float
    codes: bool

    @classmethod
    def of(cls, data: FaceData, size_mm: float, codes: bool) -> "_Cells":
        """Cells in which the longest cavity name and the longest colour code have room, and no two of which overlap."""
        code_mm = max(_CODE_SHARE * size_mm, _LEAST_TEXT_MM)
        name_mm = max(text_width_mm(cavity.name, size_mm) for cavity in data.cavities)
        # The number stands in the inner ring with its whole box, 0.6 of its size below the centre at most.
        radius_mm = hypot(name_mm / 2, 0.6 * size_mm) + 0.35 + _RING_MM
        shown = [cavity.code for cavity in data.cavities if cavity.code] if codes else []
        wide_mm = max([2 * radius_mm, *(text_width_mm(code, code_mm) for code in shown)]) + 0.9
        high_mm = 2 * radius_mm + (1.4 * code_mm if shown else 0.0) + 0.9
        if data.shape == "round":
            wide_mm = high_mm = max(wide_mm, high_mm)
        spread = _spread(data.cavities)
        return cls(radius_mm, wide_mm * spread, high_mm * spread, size_mm, bool(shown))

    def centre(self, data: FaceData, cavity: FaceCavity) -> Point:
        """Place of a cavity as seen, the layout's origin at nought."""
        across_mm = cavity.column * self.column_mm
        return (-across_mm if data.mirrored else across_mm), cavity.row * self.row_mm


def _spread(cavities: tuple[FaceCavity, ...]) -> float:
    """How much a layout grows so that cells one unit wide and high stay apart; 1 for whole rows and columns."""
    needed = 1.0
    for one, other in combinations(cavities, 2):
        nearest = max(abs(one.column - other.column), abs(one.row - other.row))
        needed = max(needed, 1 / nearest)
    return needed


def _cavity(designator: str, cavity: FaceCavity, place: Point, cells: _Cells) -> list[Mark]:
    subject = f"{designator}/{cavity.name}"
    radius_mm, size_mm = cells.radius_mm, cells.size_mm
    edge = Circle(*place, radius_mm, 0.25, fill=WHITE, kind=MarkKind.CAVITY, subject=subject)
    inner = replace(edge, radius_mm=radius_mm - _RING_MM, width_mm=0.18)
    marks: list[Mark] = [edge]
    if cavity.filling is Filling.PLUGGED:
        marks = [edge, *_cross_at_rim(subject, place, radius_mm)]
    elif cavity.filling is Filling.EMPTY:
        marks = [
            Arc(*place, radius_mm, 30.0 * turn, 18.0, 0.25, kind=MarkKind.CAVITY, subject=subject) for turn in range(12)
        ]
    elif cavity.base:
        ring = replace(edge, ink=EDGE, fill=insulation_colour(cavity.base))
        marks = [ring, *_stripes(subject, cavity.stripe, place, radius_mm - _RING_MM / 2), inner]
    baseline = place[1] + 0.36 * size_mm
    kind = MarkKind.FACE_TEXT
    marks.append(TextMark(cavity.name, place[0], baseline, size_mm, "middle", kind=kind, subject=subject))
    if cells.codes and cavity.code:
        code_mm = max(_CODE_SHARE * size_mm, _LEAST_TEXT_MM)
        baseline = place[1] + radius_mm + 1.2 * code_mm
        marks.append(TextMark(cavity.code, place[0], baseline, code_mm, "middle", kind=kind, subject=subject))
    return marks


def _cross_at_rim(subject: str, place: Point, radius_mm: float) -> list[Mark]:
    """The four outer pieces of a diagonal cross, which leave the number in the middle free."""
    marks: list[Mark] = []
    for turn in range(4):
        across, down = cos(radians(90 * turn + 45)), sin(radians(90 * turn + 45))
        start, end = (
            (place[0] + reach_mm * across, place[1] + reach_mm * down)
            for reach_mm in (radius_mm - 0.4, radius_mm + 0.55)
        )
        marks.append(Polyline((start, end), 0.4, kind=MarkKind.CAVITY, subject=subject))
    return marks


def _stripes(subject: str, stripe: str, place: Point, radius_mm: float) -> list[Mark]:
    """Four short arcs of the stripe's colour in the middle of the ring; none without a stripe."""
    if not stripe:
        return []
    ink = insulation_colour(stripe)
    return [
        Arc(*place, radius_mm, 90.0 * turn + 25, 40.0, 0.36, ink, kind=MarkKind.CAVITY, subject=subject)
        for turn in range(4)
    ]


def _reach_mm(mark: Mark, cx: float, cy: float) -> float:
    """Distance from (cx, cy) to the farthest point of a mark: round marks by their radius, others by their corners."""
    if isinstance(mark, Circle | Arc):
        return hypot(mark.cx - cx, mark.cy - cy) + mark.radius_mm
    return max(hypot(x - cx, y - cy) for x, y in mark.box.corners)


def _housing(data: FaceData, held: list[Mark]) -> tuple[Mark, ...]:
    """The housing around all cavities and, at its edge, the latch (wide) or the key (narrow)."""
    if data.shape == "round":
        cx, cy = box_of(tuple(held)).centre
        reach_mm = 1.0 + max(_reach_mm(mark, cx, cy) for mark in held)
        edge: Mark = Circle(cx, cy, reach_mm, 0.5, fill=WHITE, kind=MarkKind.FACE, subject=data.designator)
        area, long_mm, deep_mm = Box(cx, cy, cx, cy).inflate(reach_mm), 1.8, 1.6
    else:
        area, long_mm, deep_mm = box_of(tuple(held)).inflate(1.3), 5.0, 1.3
        edge = Rectangle(area, 0.5, fill=WHITE, corner_mm=1.4, kind=MarkKind.FACE, subject=data.designator)
    cx, cy = area.centre
    side = data.latch_as_seen
    lock = {
        "up": Box(cx - long_mm / 2, area.y0 - deep_mm, cx + long_mm / 2, area.y0),
        "down": Box(cx - long_mm / 2, area.y1, cx + long_mm / 2, area.y1 + deep_mm),
        "left": Box(area.x0 - deep_mm, cy - long_mm / 2, area.x0, cy + long_mm / 2),
        "right": Box(area.x1, cy - long_mm / 2, area.x1 + deep_mm, cy + long_mm / 2),
    }[side]
    return edge, Rectangle(lock, 0, fill=BLACK, kind=MarkKind.FACE, subject=data.designator)
