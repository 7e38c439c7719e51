"""The symbol of a device with three terminals: a sensor as a box with its terminals named, or a change-over contact.

The symbol is as narrow as a device and stands over the column of its lone terminal; thin leads fan out from it to the
columns of the others. Levels and places are in modules from its upper end on the column of the symbol.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from harnessgen.drawings.circuit.elements.bodies import COMMON, RESTING, WORKING
from harnessgen.sheets.box import Box, Point
from harnessgen.sheets.insulation_colours import WHITE
from harnessgen.sheets.lettering import Anchor
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Mark, Polyline, Rectangle, TextMark

HALF_WIDTH = 3.2
"""Half the width of the symbol."""
_HIGH = 5.0
_FIRST_STEP, _STEP = 0.6, 0.7
_OFFSETS = {1: (0.0,), 2: (-1.8, 1.8), 3: (-2.2, 0.0, 2.2)}
_TEXT_IN = 0.35
_LEAST_TEXT_MM = 2.0


@dataclass(frozen=True, slots=True)
class BodyTerminals:
    """Terminals at the upper and at the lower side, each with the place (mm) of its column, from left to right."""

    above: tuple[tuple[str, float], ...]
    below: tuple[tuple[str, float], ...]


def depth_mm(above: int, below: int, m: float) -> float:
    """Height of the symbol with its fans for so many strands above and below."""
    return m * (_fan(above) + _HIGH + _fan(below))


def _fan(count: int) -> float:
    return _FIRST_STEP + _STEP * (count - 1) + 0.3 if count > 1 else 0.0


def body_marks(name: str, legs: BodyTerminals, at: float, y: float, m: float) -> tuple[Mark, ...]:
    """All marks of a body named `name` on the column at `at`, its upper end at level `y`, `m` the module; mm."""
    top = y + _fan(len(legs.above)) * m
    low = top + _HIGH * m
    height = depth_mm(len(legs.above), len(legs.below), m)
    terminals = {terminal: place for side in (legs.above, legs.below) for terminal, place in side}
    alone = legs.above if len(legs.above) == 1 else legs.below
    is_contact = len(alone) == 1 and alone[0][0] == COMMON and set(terminals) == {COMMON, RESTING, WORKING}
    marks: list[Mark] = []
    if is_contact:
        marks += _contact(name, legs, at, (top, low), m)
    else:
        area = Box(at - HALF_WIDTH * m, top, at + HALF_WIDTH * m, low)
        marks.append(Rectangle(area, 0.16 * m, fill=WHITE, kind=MarkKind.PANEL, subject=name))
        marks += _named(name, legs, at, (top, low), m)
    for side, edge, end in ((legs.above, top, y), (legs.below, low, y + height)):
        marks += _fanned(name, [place for _, place in side], (at, edge, end), m)
    return tuple(marks)


def _fanned(name: str, places: Sequence[float], ends: tuple[float, float, float], m: float) -> list[Mark]:
    """Leads from one side of the symbol to the columns, none crossing another; `ends`: column, edge and far level."""
    at, edge, end = ends
    if not places:
        # All three may lie on one side: a sensor of which no wire leads on to a supply or an input.
        return []
    if len(places) == 1 and abs(places[0] - at) < 0.02:
        return []
    way = 1.0 if end > edge else -1.0
    starts = [at + offset * m for offset in _OFFSETS[len(places)]]
    marks: list[Mark] = []
    for seat, (start, place) in enumerate(zip(starts, places, strict=True)):
        # Of leads that go one way, the one that starts nearest the column that it goes to turns first.
        beyond = starts[seat + 1 :] if place > start else starts[:seat]
        turns = sum(min(start, place) < other < max(start, place) for other in beyond)
        level = edge + way * (_FIRST_STEP + _STEP * turns) * m
        points: tuple[Point, ...] = ((start, edge), (start, level), (place, level), (place, end))
        if abs(start - place) < 0.02:
            points = ((place, edge), (place, end))
        marks.append(Polyline(points, 0.12 * m, kind=MarkKind.LEAD, subject=name))
    return marks


def _named(name: str, legs: BodyTerminals, at: float, levels: tuple[float, float], m: float) -> list[Mark]:
    """The terminals by name, each inside the box where its lead comes to it."""
    size_mm = max(_LEAST_TEXT_MM, 0.85 * m)
    marks: list[Mark] = []
    for side, edge, inward in ((legs.above, levels[0] + 1.25 * m, m), (legs.below, levels[1] - 0.45 * m, -m)):
        for seat, (terminal, _) in enumerate(side):
            anchor: Anchor = "start" if seat == 0 else "end"
            level = edge
            if len(side) == 1 or (len(side) == 3 and seat == 1):
                anchor = "middle"
            if len(side) == 3 and seat == 1:
                # Between the names of the outer two there is no room for it.
                level += 1.3 * inward
            across = {"start": _TEXT_IN - HALF_WIDTH, "end": HALF_WIDTH - _TEXT_IN, "middle": 0.0}[anchor]
            marks.append(TextMark(terminal, at + across * m, level, size_mm, anchor, subject=name))
    return marks


def _contact(name: str, legs: BodyTerminals, at: float, levels: tuple[float, float], m: float) -> list[Mark]:
    """Common at the lone side; the lever, drawn at rest, touches 87a and leaves 87 open. Numbers by DIN 72552."""
    is_down = len(legs.above) == 1
    start, end = levels if is_down else levels[::-1]
    way = 1.0 if is_down else -1.0
    pair = legs.below if is_down else legs.above
    lines: list[tuple[tuple[float, float], ...]] = []
    marks: list[Mark] = []
    for offset, (terminal, _) in zip(_OFFSETS[2], pair, strict=True):
        side = 1.0 if offset > 0 else -1.0
        tip = at + side * 0.75 * m
        fixed = end - way * 1.6 * m
        leads = ((at + offset * m, end), (at + offset * m, fixed), (tip, fixed))
        marks.append(Polyline(leads, 0.12 * m, kind=MarkKind.LEAD, subject=name))
        if terminal == RESTING:
            lines.append(((at, start + way * 1.5 * m), (at + side * 1.0 * m, fixed + way * 0.35 * m)))
        down = end - 0.15 * m if is_down else end + 0.95 * m
        across = at + (offset + 0.4 * side) * m
        marks.append(_number(terminal, (across, down), m, name, is_end=side < 0))
    marks.append(Polyline(((at, start), (at, start + way * 1.5 * m)), 0.12 * m, kind=MarkKind.LEAD, subject=name))
    marks += [Polyline(line, 0.16 * m, kind=MarkKind.SYMBOL, subject=name) for line in lines]
    marks.append(_number(COMMON, (at + 0.5 * m, start + (1.15 if is_down else -0.3) * m), m, name, is_end=False))
    return marks


def _number(words: str, at: tuple[float, float], m: float, name: str, *, is_end: bool) -> TextMark:
    return TextMark(words, *at, m, "end" if is_end else "start", subject=name)
