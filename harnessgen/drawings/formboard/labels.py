"""Where the words of a formboard go: beside what they name, clear of everything, whole on some sheet."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from math import cos, radians, sin

from harnessgen.drawings.formboard.grid import SheetGrid
from harnessgen.drawings.formboard.occupied import OutlineRaster
from harnessgen.sheets.box import Box, Point
from harnessgen.sheets.lettering import ASCENT_EM, DESCENT_EM, Rotation, text_width_mm
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Mark, Polyline, TextMark
from harnessgen.sheets.outline import stroke, upright_area

SIZE_MM = 3.0
_LINE_EM = 1.25
_GAP_MM = 0.7
_LEADER_MM = 0.18
_LED_FROM_MM = 9.0
"""Words that stand farther off than this get a thin line to what they name."""
_LED_TO_MM = 2.0
"""Last piece of such a line, which lies on what it leads to; longer, and it may run across tape beside that."""
_RINGS_MM = (1.6, 4.0, 8.0, 14.0, 22.0, 32.0, 45.0, 62.0, 85.0)
_AROUND_DEG = (270.0, 90.0, 0.0, 180.0, 315.0, 225.0, 45.0, 135.0, *(7.5 + 15.0 * step for step in range(24)))


@dataclass(frozen=True, slots=True)
class Words:
    """Lines that name a thing, the first one bold, and the places of the thing at which they may stand, best first.

    `reach_mm` is how far the thing itself extends around such a place. Upright words read upwards.
    """

    lines: tuple[str, ...]
    subject: str
    targets: tuple[Point, ...]
    reach_mm: float = 0.0
    is_upright: bool = False
    kind: MarkKind = MarkKind.LABEL

    @property
    def size(self) -> tuple[float, float]:
        """Width and height on the sheet, mm."""
        long_mm = max(text_width_mm(line, SIZE_MM, bold=not at) for at, line in enumerate(self.lines))
        high_mm = SIZE_MM * (ASCENT_EM + DESCENT_EM + _LINE_EM * (len(self.lines) - 1))
        return (high_mm, long_mm) if self.is_upright else (long_mm, high_mm)


@dataclass(slots=True)
class Labeller:
    """Finds room for words on a board whose ground is known; what finds none is kept in `homeless`."""

    grid: SheetGrid
    ground: OutlineRaster
    homeless: list[Words] = field(default_factory=list)

    def place(self, words: Words, *, is_needed: bool = True) -> list[Mark]:
        """The marks of words at the first place that is free; none where there is none."""
        wide_mm, high_mm = words.size
        for target, reach_mm, box in _candidates(words, wide_mm, high_mm):
            if not self.grid.holds(box.inflate(_GAP_MM)) or not self.ground.is_free(upright_area(box), _GAP_MM):
                continue
            leader = _leader(words, target, box, reach_mm)
            if leader is not None and not self._is_free_way(leader, target):
                continue
            self.ground.add(upright_area(box))
            if leader is not None:
                self.ground.add(leader.outlines[0])
            return [*_texts(words, box), *([leader] if leader is not None else [])]
        if is_needed:
            self.homeless.append(words)
        return []

    def _is_free_way(self, leader: Polyline, target: Point) -> bool:
        """Whether a leader meets nothing but what it leads to."""
        start, end = leader.points
        share = min(1.0, _LED_TO_MM / max(abs(end[0] - start[0]) + abs(end[1] - start[1]), 1e-9))
        short = (end[0] + share * (start[0] - end[0]), end[1] + share * (start[1] - end[1]))
        return end == target and self.ground.is_free(stroke(start, short, _LEADER_MM), 0.3)


def _candidates(words: Words, wide_mm: float, high_mm: float) -> Iterator[tuple[Point, float, Box]]:
    for ring_mm in _RINGS_MM:
        for x, y in words.targets:
            for turn_deg in _AROUND_DEG:
                dx, dy = cos(radians(turn_deg)), sin(radians(turn_deg))
                off_mm = words.reach_mm + ring_mm
                # The box stands beyond a circle around the place, on the side where it is looked for.
                cx = x + dx * off_mm + (wide_mm / 2 if dx > 0.3 else -wide_mm / 2 if dx < -0.3 else 0.0)
                cy = y + dy * off_mm + (high_mm / 2 if dy > 0.3 else -high_mm / 2 if dy < -0.3 else 0.0)
                box = Box(cx - wide_mm / 2, cy - high_mm / 2, cx + wide_mm / 2, cy + high_mm / 2)
                yield (x, y), ring_mm, box


def _leader(words: Words, target: Point, box: Box, ring_mm: float) -> Polyline | None:
    if ring_mm < _LED_FROM_MM:
        return None
    # From the middle of the side that looks at the thing.
    x = min(max(target[0], box.x0), box.x1)
    y = min(max(target[1], box.y0), box.y1)
    dx, dy = target[0] - x, target[1] - y
    far_mm = max((dx * dx + dy * dy) ** 0.5, 1e-9)
    start = (x + dx / far_mm * _GAP_MM, y + dy / far_mm * _GAP_MM)
    return Polyline((start, target), _LEADER_MM, kind=MarkKind.LEADER, subject=words.subject)


def _texts(words: Words, box: Box) -> Iterator[TextMark]:
    rotation: Rotation = -90 if words.is_upright else 0
    for at, line in enumerate(words.lines):
        down_mm = SIZE_MM * (ASCENT_EM + _LINE_EM * at)
        x, y = (box.x0 + down_mm, box.centre[1]) if words.is_upright else (box.centre[0], box.y0 + down_mm)
        yield TextMark(
            line, x, y, SIZE_MM, "middle", bold=not at, rotation=rotation, kind=words.kind, subject=words.subject
        )
