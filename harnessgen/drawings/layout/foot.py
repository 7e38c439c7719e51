"""The foot of a layout: a bar with the scale, what a break means, and from where to where lengths run."""

from harnessgen.drawings.layout.block import width_mm
from harnessgen.measures.quantity import plain_number
from harnessgen.schedules.tables.length_text import MM_PER_INCH, in_inches
from harnessgen.sheets.box import Box
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Mark, Polyline, TextMark

_TEXT_MM = 2.3
_BAR_MM = 45.0
"""The bar is at most this long."""
_ROUND_MM = (10, 20, 50, 100, 200, 500, 1000, 2000, 5000)
_ROUND_IN = (1, 2, 5, 10, 20, 50, 100, 200)
DATUM_NOTE = "lengths run from centre of breakout to centre of breakout, or to the rear face of a connector"


def foot_marks(
    denominator: float | None,
    area: Box,
    *,
    is_true: bool,
    is_drawn_out: bool,
    is_quiet: bool,
    has_loops: bool = False,
    unit: str = "mm",
) -> tuple[Mark, ...]:
    """Scale bar and notes along the lower edge of `area`; no scale (None) where no stretch at all is true to one.

    `is_true` says that no stretch is broken, `is_drawn_out` that some breakout is drawn long for its legs, `is_quiet`
    that coverings and zones are not named here, `has_loops` that some length lies in loops; the bar is in `unit`.
    """
    y = area.y1 - 3.0
    at, marks = _scale_marks(denominator, area.x0 + 2.0, y, unit)
    breaks = "every stretch is to scale" if is_true else "a stretch with a break (two slanting strokes) is not to scale"
    notes = [] if denominator is None else [breaks]
    if is_drawn_out:
        notes.append("a long breakout is one point, drawn out")
    others = [DATUM_NOTE]
    if is_quiet:
        others.append("coverings, zones and loops: sheets of the sections")
    if has_loops:
        notes.append("a small loop marks length on top of the dimension")
    one_line = "; ".join((*notes, *others))
    if at + width_mm(one_line, _TEXT_MM) <= area.x1 or not notes:
        return (*marks, TextMark(one_line, at, y + 0.8, _TEXT_MM))
    lines = ("; ".join(notes), "; ".join(others))
    return (
        *marks,
        *(TextMark(line, at, y + drop_mm, _TEXT_MM) for line, drop_mm in zip(lines, (-0.9, 2.2), strict=True)),
    )


def _scale_marks(denominator: float | None, x0: float, y: float, unit: str) -> tuple[float, list[Mark]]:
    """The scale bar with its words, and where the notes may begin."""
    if denominator is None:
        words = "not to scale"
        return x0 + width_mm(words, _TEXT_MM, bold=True) + 4.0, [TextMark(words, x0, y + 0.8, _TEXT_MM, bold=True)]
    each_mm, name = (MM_PER_INCH, "in") if in_inches(unit) else (1.0, "mm")
    rounds = _ROUND_IN if in_inches(unit) else _ROUND_MM
    whole = max((each for each in rounds if each * each_mm / denominator <= _BAR_MM), default=rounds[0])
    whole_mm = whole * each_mm
    x1 = x0 + whole_mm / denominator
    kind, subject = MarkKind.GAUGE, "scale bar"
    marks: list[Mark] = [Polyline(((x0, y), (x1, y)), 0.5, kind=kind, subject=subject)]
    marks += [Polyline(((x, y - 1.2), (x, y + 1.2)), 0.35, kind=kind, subject=subject) for x in (x0, x1)]
    words = f"{whole} {name}, scale 1:{plain_number(denominator, 1)}"
    marks.append(TextMark(words, x1 + 3.0, y + 0.8, _TEXT_MM, bold=True))
    return x1 + 7.0 + width_mm(words, _TEXT_MM, bold=True), marks
