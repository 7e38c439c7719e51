"""Clearance: marks meet only as the table of meetings allows, all lies inside the area, all text is legible."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from itertools import islice
from operator import itemgetter

from harnessgen.sheets.box import Box, Point
from harnessgen.sheets.insulation_colours import WHITE, Rgb, contrast
from harnessgen.sheets.lettering import drawn_text
from harnessgen.sheets.mark_kind import DRAWING_ORDER, HOLLOW_KINDS, TEXT_KINDS, MarkKind
from harnessgen.sheets.marks import Circle, Conductor, Mark, Polygon, Rectangle, TextMark
from harnessgen.sheets.outline import Outline, inside, outlines_touch
from tests.sheets.contact import common_end, contacts, joined_at_ends
from tests.sheets.meeting import Meeting, meeting

LEAST_TEXT_MM = 2.0
TEXT_GAP_MM = 0.2
"""Air that text keeps from everything else."""
CONDUCTOR_GAP_MM = 0.3
"""Air between two conductors that run side by side, so that two stay two on paper."""
JOINT_REACH_MM = 0.8
LEAST_CONTRAST = 4.5
"""WCAG 2.1, success criterion 1.4.3, for text of ordinary size."""

_CELL_MM = 8.0
_JOINT_KINDS = frozenset(
    {MarkKind.SPLICE, MarkKind.CONNECTION_BREAK, MarkKind.SYMBOL, MarkKind.SUPPLY_BAR, MarkKind.LEAD, MarkKind.PANEL}
)


class Reason(Enum):
    """What is wrong with a mark or with two of them."""

    MEET = "meet where they may not"
    NO_JOINT = "are joined without splice, connector or symbol"
    OUTSIDE = "lies outside the area"
    TOO_SMALL = "is text smaller than 2 mm"
    TOO_FAINT = "is text without contrast to its ground"
    NOT_TEXT_KIND = "is text of a kind that is not text, or the reverse"


@dataclass(frozen=True, slots=True)
class Collision:
    """One fault of a drawing: the reason, the mark, the other mark where there are two, and the place (mm)."""

    reason: Reason
    first: Mark
    second: Mark | None
    at: Point

    def __str__(self) -> str:
        """The fault in one line, with kinds, subjects and place."""
        named = " and ".join(_name(mark) for mark in (self.first, self.second) if mark is not None)
        return f"{named} {self.reason.value}, at {self.at[0]:.1f}, {self.at[1]:.1f} mm"


def _name(mark: Mark) -> str:
    said = f" '{mark.text}'" if isinstance(mark, TextMark) else ""
    return f"{mark.kind.value}{said}{f' of {mark.subject}' if mark.subject else ''}"


_Held = tuple[float, float, float, float, int, Outline]
"""Left, right, upper and lower end of an outline with its air, the number of its mark, and the outline."""


class _Raster:
    """Outlines of all marks sorted into square cells, so that only neighbours are compared."""

    def __init__(self, marks: Sequence[Mark]) -> None:
        self.cells: dict[tuple[int, int], list[_Held]] = defaultdict(list)
        air_mm = max(TEXT_GAP_MM, CONDUCTOR_GAP_MM) / 2
        for index, mark in enumerate(marks):
            for outline in mark.outlines:
                box = outline.box
                x0, x1, y0, y1 = box.x0 - air_mm, box.x1 + air_mm, box.y0 - air_mm, box.y1 + air_mm
                held = (x0, x1, y0, y1, index, outline)
                for column in range(int(x0 // _CELL_MM), int(x1 // _CELL_MM) + 1):
                    for row in range(int(y0 // _CELL_MM), int(y1 // _CELL_MM) + 1):
                        self.cells[column, row].append(held)

    def neighbours(self) -> list[tuple[int, int]]:
        """Pairs of marks with outlines whose boxes meet, each pair once, in order."""
        found: set[tuple[int, int]] = set()
        for cell in self.cells.values():
            # From left to right, so that each is compared only with those that begin before it ends.
            held = sorted(cell, key=itemgetter(0))
            for place, (_, right, upper, lower, first, _) in enumerate(held, 1):
                for left, _, other_upper, other_lower, second, _ in islice(held, place, None):
                    if left >= right:
                        break
                    if upper < other_lower and other_upper < lower and first != second:
                        found.add((first, second) if first < second else (second, first))
        return sorted(found)

    def near(self, point: Point, reach_mm: float) -> Iterator[int]:
        """Marks whose outlines come within `reach_mm` of `point`."""
        spot = Outline((point,), 0.0, filled=False)
        for cell in _cells(Box(*point, *point).inflate(reach_mm)):
            for *_, index, outline in self.cells.get(cell, ()):
                if outlines_touch(spot, outline, reach_mm):
                    yield index


def _cells(box: Box) -> Iterator[tuple[int, int]]:
    for column in range(int(box.x0 // _CELL_MM), int(box.x1 // _CELL_MM) + 1):
        for row in range(int(box.y0 // _CELL_MM), int(box.y1 // _CELL_MM) + 1):
            yield column, row


def collisions(marks: Iterable[Mark], area: Box) -> list[Collision]:
    """All faults of clearance among `marks`, which must keep inside `area`; a drawing without fault gives none.

    The frame itself is allowed on the edge of the area. The cost grows with the number of marks, not with its square.
    """
    held = [mark for mark in marks if not isinstance(mark, TextMark) or drawn_text(mark.text)]
    found = [
        Collision(Reason.OUTSIDE, mark, None, mark.box.centre)
        for mark in held
        if mark.kind is not MarkKind.FRAME and not area.contains(mark.box)
    ]
    raster = _Raster(held)
    found.extend(_illegible(held))
    for first, second in raster.neighbours():
        fault = _judged(held, first, second, raster)
        if fault is not None:
            found.append(fault)
    return found


def _judged(marks: Sequence[Mark], first: int, second: int, raster: _Raster) -> Collision | None:
    one, other = marks[first], marks[second]
    way = meeting(one.kind, other.kind)
    if Meeting.ALWAYS in way or (Meeting.SAME_SUBJECT in way and one.subject and one.subject == other.subject):
        return None
    gap_mm = _gap_mm(one, other)
    pieces = next(contacts(one, other, gap_mm, Meeting.CROSSING in way), None)
    if pieces is None:
        return None
    if joined_at_ends(one, other, gap_mm, way):
        if not isinstance(one, Conductor) or not isinstance(other, Conductor):
            return None
        if one.subject and one.subject == other.subject:
            return None
        place = common_end(one, other)
        if any(marks[index].kind in _JOINT_KINDS for index in raster.near(place, JOINT_REACH_MM)):
            return None
        return Collision(Reason.NO_JOINT, one, other, place)
    return Collision(Reason.MEET, one, other, _middle(pieces[0].box, pieces[1].box))


def _gap_mm(one: Mark, other: Mark) -> float:
    if isinstance(one, TextMark) or isinstance(other, TextMark):
        return TEXT_GAP_MM
    return CONDUCTOR_GAP_MM if one.kind is other.kind is MarkKind.CONDUCTOR else 0.0


def _middle(one: Box, other: Box) -> Point:
    xs = sorted((one.x0, one.x1, other.x0, other.x1))
    ys = sorted((one.y0, one.y1, other.y0, other.y1))
    return (xs[1] + xs[2]) / 2, (ys[1] + ys[2]) / 2


def _illegible(marks: Sequence[Mark]) -> Iterator[Collision]:
    grounds = _Grounds(marks)
    for mark in marks:
        if isinstance(mark, TextMark) is not (mark.kind in TEXT_KINDS):
            yield Collision(Reason.NOT_TEXT_KIND, mark, None, mark.box.centre)
        if isinstance(mark, TextMark):
            if mark.size_mm < LEAST_TEXT_MM - 1e-9:
                yield Collision(Reason.TOO_SMALL, mark, None, mark.box.centre)
            if contrast(mark.ink, grounds.under(mark.box.centre)) < LEAST_CONTRAST:
                yield Collision(Reason.TOO_FAINT, mark, None, mark.box.centre)


class _Grounds:
    """Filled marks that hold others, by cell, to find the colour that a text stands on."""

    def __init__(self, marks: Sequence[Mark]) -> None:
        self.cells: dict[tuple[int, int], list[tuple[int, Circle | Rectangle | Polygon]]] = defaultdict(list)
        for mark in marks:
            if mark.kind in HOLLOW_KINDS and isinstance(mark, Circle | Rectangle | Polygon) and mark.fill is not None:
                for cell in _cells(mark.box):
                    self.cells[cell].append((DRAWING_ORDER[mark.kind], mark))

    def under(self, point: Point) -> Rgb:
        """The fill of the uppermost ground at `point`, white where there is none."""
        cell = next(_cells(Box(*point, *point)))
        standing: tuple[int, Rgb] = (-1, WHITE)
        for order, mark in self.cells.get(cell, ()):
            if order >= standing[0] and _covers(mark, point) and mark.fill is not None:
                standing = order, mark.fill
        return standing[1]


def _covers(mark: Circle | Rectangle | Polygon, point: Point) -> bool:
    if isinstance(mark, Polygon):
        return inside(mark.points, point)
    if isinstance(mark, Circle):
        return (point[0] - mark.cx) ** 2 + (point[1] - mark.cy) ** 2 < mark.radius_mm**2
    return mark.area.contains_point(point)
