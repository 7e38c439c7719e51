"""Dimension lines: arrow heads at both ends, the text in a gap of the line or, where that is short, beside it."""

from harnessgen.drawings.layout.block import width_mm
from harnessgen.drawings.layout.corridor import ARROW_MM, DIMENSION_MM
from harnessgen.drawings.layout.spine_axes import Frame
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Mark, Polygon, Polyline

_LINE_MM = 0.18
_BEYOND_MM = 1.0
"""How far an extension line runs past the dimension line."""
_HEAD_MM = 0.38
"""Half the width of an arrow head."""


def dimension_marks(
    frame: Frame, u0: float, u1: float, v: float, text: str, subject: str, *, lies_level: bool = False
) -> list[Mark]:
    """A dimension from `u0` to `u1` at `v` (its sign says which side is outwards), both tips on the ends.

    With `lies_level` the text lies level beside an upright line that is too short for it.
    """
    kind = MarkKind.DIMENSION
    outward = 1 if v > 0 else -1
    middle, text_mm = (u0 + u1) / 2, width_mm(text, DIMENSION_MM)
    gap_mm = text_mm / 2 + 0.9
    heads: list[Mark] = [arrow_mark(frame, u0, v, 1, subject), arrow_mark(frame, u1, v, -1, subject)]
    a, b = u0 + ARROW_MM, u1 - ARROW_MM
    lines, words_v = [(a, b)], v + outward * (0.75 + DIMENSION_MM / 2)
    if not lies_level and middle - gap_mm - a >= 1.0:
        lines, words_v = [(a, middle - gap_mm), (middle + gap_mm, b)], v
    strokes = [
        Polyline((frame.at(start, v), frame.at(end, v)), _LINE_MM, kind=kind, subject=subject)
        for start, end in lines
        if end > start
    ]
    if lies_level:
        words_v = v + outward * (0.8 + text_mm / 2)
        level = frame.level_text(text, middle, words_v, DIMENSION_MM, MarkKind.DIMENSION_TEXT, subject)
        return [*heads, *strokes, level]
    words = frame.text(text, middle, words_v, DIMENSION_MM, MarkKind.DIMENSION_TEXT, subject)
    return [*heads, *strokes, words]


def arrow_mark(frame: Frame, u: float, v: float, forwards: int, subject: str) -> Polygon:
    """An arrow head whose tip is at `u`; its back lies `forwards` of it (1: the way that the spine goes)."""
    back = u + forwards * ARROW_MM
    points = frame.at(u, v), frame.at(back, v - _HEAD_MM), frame.at(back, v + _HEAD_MM)
    return Polygon(points, 0.0, fill=(0, 0, 0), kind=MarkKind.DIMENSION, subject=subject)


def extension_mark(frame: Frame, u: float, from_v: float, to_v: float, subject: str) -> Polyline:
    """The thin line at `u` from beside the bundle to just past the dimension line at `to_v`."""
    beyond = to_v + (_BEYOND_MM if to_v > 0 else -_BEYOND_MM)
    return Polyline((frame.at(u, from_v), frame.at(u, beyond)), _LINE_MM, kind=MarkKind.EXTENSION, subject=subject)
