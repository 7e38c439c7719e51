"""Marks of what is fixed on a bundle: clips, tape and grommets, and the running dimension that says where they sit.

A running dimension (ISO 129-1) has one origin, a small circle at the datum, and an arrow at each place; the distance
stands at the end of the extension line, across the bundle.
"""

from collections.abc import Iterator, Sequence
from itertools import accumulate, pairwise

from harnessgen.drawings.layout.block import width_mm
from harnessgen.drawings.layout.corridor import (
    ARROW_MM,
    EDGE_AIR_MM,
    HALF_MM,
    NOTE_MM,
    ORIGIN_MM,
    REACH_MM,
    ROW_PITCH_MM,
)
from harnessgen.drawings.layout.dimension import arrow_mark, extension_mark
from harnessgen.drawings.layout.fixings import Fixed
from harnessgen.drawings.layout.placed import PlacedRun
from harnessgen.drawings.layout.spine_axes import Frame
from harnessgen.sheets.insulation_colours import BLACK, WHITE, Rgb
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Circle, Hatch, Mark, Polyline, Rectangle, TextMark

BREAK_MM = 0.8
"""Half the gap of a break."""
BUNDLE_INK: Rgb = (70, 70, 70)
KEY_TEXT_MM = 2.3
_LINE_MM = 0.18
_PANEL_MM = 0.6
"""Thickness of the panel beside a grommet."""


def between_breaks(a: float, b: float, breaks: Sequence[float]) -> Iterator[tuple[float, float]]:
    """The parts of a line from `a` to `b` that breaks leave."""
    for place in breaks:
        if a < place < b:
            if a < place - BREAK_MM:
                yield a, place - BREAK_MM
            a = place + BREAK_MM
    if a < b:
        yield a, b


def fixed_marks(frame: Frame, placed: PlacedRun, places: Sequence[float], breaks: Sequence[float]) -> Iterator[Mark]:
    """The clips, tapes and grommets of a run; `places` are its ends and stations along the spine."""
    run, body_mm = placed.corridor.run, placed.corridor.body_mm
    drawn_at = {
        station.name: place
        for station, place in zip(run.stations, places[1:-1], strict=True)
        if station.fixed is not None
    }
    for fixed in run.fixed:
        if fixed.kind is not MarkKind.TAPE and fixed.name in drawn_at:
            yield from sign_marks(frame, fixed.kind, drawn_at[fixed.name], body_mm, fixed.name)
        elif fixed.kind is MarkKind.TAPE and (fixed.at_mm is None or fixed.name in drawn_at):
            for a, b in between_breaks(*_taped(placed, places, fixed), breaks):
                yield from tape_marks(frame, a, b, body_mm, fixed.name)


def _taped(placed: PlacedRun, places: Sequence[float], fixed: Fixed) -> tuple[float, float]:
    """From and to where a tape is drawn: its true part of each piece, beside breakouts, never too short to be seen."""
    run = placed.corridor.run
    stations_mm = [0.0, *accumulate(piece.length_mm for piece in run.pieces)]
    low, high = (_drawn_at(stations_mm, places, mm) for mm in (fixed.low_mm, fixed.high_mm))
    least, most = placed.u0 + placed.joints[0].hub_mm + 0.1, placed.u1 - placed.joints[1].hub_mm - 0.1
    short_mm = max(0.0, 2 * HALF_MM[MarkKind.TAPE] - (min(high, most) - max(low, least)))
    if fixed.low_mm < 1e-9:
        high += short_mm
    elif fixed.high_mm > run.length_mm - 1e-9:
        low -= short_mm
    else:
        low, high = low - short_mm / 2, high + short_mm / 2
    return max(low, least), min(high, most)


def _drawn_at(stations_mm: Sequence[float], places: Sequence[float], at_mm: float) -> float:
    """Where a distance is drawn: in proportion within its piece."""
    for (low, high), (a, b) in zip(pairwise(stations_mm), pairwise(places), strict=True):
        if at_mm <= high + 1e-9:
            return a + (b - a) * ((at_mm - low) / (high - low) if high > low else 1.0)
    return places[-1]


def tape_marks(frame: Frame, a: float, b: float, half_mm: float, subject: str) -> Iterator[Mark]:
    """A white box over the bundle, closely hatched against the hatching of coverings."""
    out_mm = half_mm + REACH_MM[MarkKind.TAPE] - 0.1
    area = frame.box(a, b, -out_mm, out_mm)
    yield Hatch(area.corners, 0.8, -45.0, 0.2, 0.2, fill=WHITE, kind=MarkKind.TAPE, subject=subject)


def sign_marks(frame: Frame, kind: MarkKind, u: float, half_mm: float, subject: str) -> Iterator[Mark]:
    """A clip: a black bar across the bundle. A grommet: a white ring seen from the side, the panel on both sides."""
    along_mm, out_mm = HALF_MM[kind], half_mm + REACH_MM[kind]
    if kind is MarkKind.CLIP:
        area = frame.box(u - along_mm, u + along_mm, -out_mm, out_mm)
        yield Rectangle(area, 0.0, fill=BLACK, kind=kind, subject=subject)
        return
    ring_mm = out_mm - 0.9
    area = frame.box(u - along_mm + 0.15, u + along_mm - 0.15, -ring_mm, ring_mm)
    yield Rectangle(area, 0.3, fill=WHITE, corner_mm=0.6, kind=kind, subject=subject)
    for v0, v1 in ((-out_mm, -ring_mm), (ring_mm, out_mm)):
        yield Polyline((frame.at(u, v0), frame.at(u, v1)), _PANEL_MM, kind=kind, subject=subject)


def running_marks(frame: Frame, placed: PlacedRun, places: Sequence[float]) -> Iterator[Mark]:
    """The running dimensions of a run, one from each end that is a datum, with the words of each place."""
    drawn, side = placed.corridor, placed.side
    levels = dict(drawn.running)
    for is_from_start, level_mm in drawn.running:
        v, subject = side * level_mm, f"{drawn.run.name} running"
        own = [
            place
            for station, place in zip(drawn.run.stations, places[1:-1], strict=True)
            if station.fixed is not None and station.fixed.is_from_start is is_from_start
        ]
        yield from _running_line(frame, placed, own, v, subject, is_from_start=is_from_start)
    for station, place in zip(drawn.run.stations, places[1:-1], strict=True):
        if station.fixed is not None:
            subject = f"{station.name} place"
            until = side * max(levels.values())
            yield extension_mark(frame, place, side * (drawn.half_mm + EDGE_AIR_MM), until, subject)
            yield from _words(frame, placed, station.fixed, place, subject)


def _running_line(
    frame: Frame, placed: PlacedRun, own: Sequence[float], v: float, subject: str, *, is_from_start: bool
) -> Iterator[Mark]:
    kind = MarkKind.DIMENSION
    end = 0 if is_from_start else 1
    edge_mm, forwards = placed.edges_mm[end], 1 - 2 * end
    # Beside a bundle that is in the way, or the dimension of a neighbour, the circle keeps clear of it.
    clear_mm = edge_mm + (ORIGIN_MM + 0.15 if edge_mm or placed.joints[end].ring_mm else 0.0)
    origin = (placed.u1 if end else placed.u0) + forwards * clear_mm
    yield Circle(*frame.at(origin, v), ORIGIN_MM, _LINE_MM, fill=WHITE, kind=kind, subject=subject)
    start = origin + forwards * ORIGIN_MM
    for place in own if is_from_start else own[::-1]:
        back = place - forwards * ARROW_MM
        yield Polyline((frame.at(start, v), frame.at(back, v)), _LINE_MM, kind=kind, subject=subject)
        yield arrow_mark(frame, place, v, -forwards, subject)
        start = place


def _words(frame: Frame, placed: PlacedRun, fixed: Fixed, u: float, subject: str) -> Iterator[Mark]:
    """The rows of words of a place, beyond the last running dimension, each beginning at it."""
    for index, row in enumerate(fixed.rows):
        row_u = u + frame.rows_onward * ROW_PITCH_MM * (index - (len(fixed.rows) - 1) / 2)
        v = placed.side * (placed.corridor.words_from_mm + width_mm(row, NOTE_MM) / 2)
        yield frame.cross_text(row, row_u, v, NOTE_MM, MarkKind.DIMENSION_TEXT, subject)


_KEY_WORDS = {
    MarkKind.CLIP: "clip",
    MarkKind.TAPE: "tape",
    MarkKind.GROMMET: "grommet in its panel",
}
_KEY_SIGN_MM = 8.0
_KEY_HALF_MM = 0.5


def key_marks(signs: Sequence[MarkKind], x: float, y: float) -> Iterator[Mark]:
    """The signs with their words in one row from (x, y) on, and how their distances are to be read."""
    for kind in signs:
        frame = Frame(x, y, (1.0, 0.0), (0.0, -1.0))
        ends = (frame.at(0.0, 0.0), frame.at(_KEY_SIGN_MM, 0.0))
        yield Polyline(ends, 2 * _KEY_HALF_MM, BUNDLE_INK, kind=MarkKind.BUNDLE, subject="key")
        middle = _KEY_SIGN_MM / 2
        if kind is MarkKind.TAPE:
            yield from tape_marks(frame, middle - 2.0, middle + 2.0, _KEY_HALF_MM, "key")
        else:
            yield from sign_marks(frame, kind, middle, _KEY_HALF_MM, "key")
        words = _KEY_WORDS[kind]
        yield TextMark(words, x + _KEY_SIGN_MM + 1.5, y + 0.8, KEY_TEXT_MM, kind=MarkKind.LABEL, subject="key")
        x += _KEY_SIGN_MM + 1.5 + width_mm(words, KEY_TEXT_MM) + 6.0
    if signs:
        words = (
            "their distances run from the small circle to each arrow: to the middle, or to the end of a tape (to ...)"
        )
        yield TextMark(words, x, y + 0.8, KEY_TEXT_MM, kind=MarkKind.LABEL, subject="key")
