"""The foot of a layout: a bar with the scale, what a break means, and from where to where lengths run."""

from harnessgen.drawings.layout_block import width_mm
from harnessgen.measures.quantity import plain_number
from harnessgen.sheets.box import Box
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Mark, Polyline, Text

_TEXT_MM = 2.3
_BAR_MM = 45.0
"""The bar is at most this long."""
_ROUND_MM = (10, 20, 50, 100, 200, 500, 1000, 2000, 5000)
DATUM_NOTE = "lengths run from centre of breakout to centre of breakout, or to the rear face of a connector"


def foot_marks(denominator: float, area: Box, *, is_true: bool, is_drawn_out: bool, is_quiet: bool) -> tuple[Mark, ...]:
    """Scale bar and notes along the lower edge of `area`.

    `is_true` says that no stretch is broken, `is_drawn_out` that some breakout is drawn long for its legs, `is_quiet`
    that coverings and zones are not named here.
    """
    whole_mm = max((each for each in _ROUND_MM if each / denominator <= _BAR_MM), default=_ROUND_MM[0])
    x0, y = area.x0 + 2.0, area.y1 - 3.0
    x1 = x0 + whole_mm / denominator
    subject = "scale bar"
    kind = MarkKind.GAUGE
    bar = [
        Polyline(((x0, y), (x1, y)), 0.5, kind=kind, subject=subject),
        *(Polyline(((x, y - 1.2), (x, y + 1.2)), 0.35, kind=kind, subject=subject) for x in (x0, x1)),
    ]
    scale = f"{whole_mm} mm, scale 1:{plain_number(denominator, 1)}"
    breaks = "every stretch is to scale" if is_true else "a stretch with a break (two slanting strokes) is not to scale"
    if is_drawn_out:
        breaks += "; a long breakout is one point, drawn out"
    datum = DATUM_NOTE
    if is_quiet:
        datum += "; coverings and zones: sheets of the sections"
    at = x1 + 3.0
    words: list[Mark] = [Text(scale, at, y + 0.8, _TEXT_MM, bold=True)]
    at += width_mm(scale, _TEXT_MM, bold=True) + 4.0
    notes = f"{breaks}; {datum}"
    if at + width_mm(notes, _TEXT_MM) <= area.x1:
        return (*bar, *words, Text(notes, at, y + 0.8, _TEXT_MM))
    return (*bar, *words, Text(breaks, at, y - 0.9, _TEXT_MM), Text(datum, at, y + 2.2, _TEXT_MM))
