"""Marks of a placed layout: bundles, coverings, breaks, breakouts, splices, dimensions, blocks on their leads."""

from collections.abc import Iterator
from itertools import accumulate
from math import cos, pi, sin

from harnessgen.drawings.layout.block import width_mm
from harnessgen.drawings.layout.branch import MOST_DOTS
from harnessgen.drawings.layout.corridor import (
    DOT_MM,
    EDGE_AIR_MM,
    HALF_MM,
    LEVEL_MM,
    LOOP_AIR_MM,
    LOOP_MM,
    MATED_MM,
    NOTE_MM,
    NOTE_PITCH_MM,
    SPOT_PITCH_MM,
    bundle_thickness_mm,
    labelled_at,
    splice_note_mm,
    splice_texts,
)
from harnessgen.drawings.layout.dimension import dimension_marks, extension_mark
from harnessgen.drawings.layout.fixing_marks import BREAK_MM, BUNDLE_INK, between_breaks, fixed_marks, running_marks
from harnessgen.drawings.layout.placed import PlacedBlock, PlacedRun, PlacedSpine, PlacedSpot
from harnessgen.drawings.layout.spine_axes import Frame
from harnessgen.drawings.layout.tree import DrawnRun
from harnessgen.sheets.insulation_colours import BLACK, WHITE
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Circle, Hatch, Mark, Polyline, Rectangle, TextMark

_LEAD_AIR_MM = 0.7
_BREAK_ROOM_MM = 3.2
"""Least length in which a break keeps clear of both ends."""
_TIP_AIR_MM = 2.2
"""Between a break and the end of a dimension line of a leg."""


def spine_marks(frame: Frame, spine: PlacedSpine, scale: float) -> Iterator[Mark]:
    """All marks of a spine and of its legs; `scale` decides how thick bundles are."""
    for run in spine.runs:
        yield from _run_marks(frame, run, scale, spine.tips)
    for spot in spine.spots:
        yield from _spot_marks(frame, spot)
    for block in spine.blocks:
        yield from _block_marks(frame, block)
    for leg in spine.legs:
        yield from spine_marks(frame.branch(leg.centre, leg.side), leg.spine, scale)


def _run_marks(frame: Frame, placed: PlacedRun, scale: float, tips: tuple[float, ...]) -> Iterator[Mark]:
    run = placed.corridor.run
    if run.mated:
        yield from _mated_marks(frame, placed)
        return
    places = [placed.u0, *(placed.u0 + mm for mm in accumulate(placed.corridor.pieces_mm))]
    breaks = [
        _break_place(*_free_part(placed, places, index), tips)
        for index, true in enumerate(placed.corridor.true)
        if not true
    ]
    for index, piece in enumerate(run.pieces):
        thick_mm = bundle_thickness_mm(piece.diameter_mm, scale)
        dash_mm = () if piece.diameter_mm else (2.0, 1.0)
        start = places[index] + (placed.joints[0].bare_mm if index == 0 else 0.0)
        end = places[index + 1] - (placed.joints[1].bare_mm if index + 1 == len(run.pieces) else 0.0)
        for a, b in between_breaks(start, end, breaks):
            yield Polyline(
                (frame.at(a, 0.0), frame.at(b, 0.0)),
                thick_mm,
                BUNDLE_INK,
                dash_mm,
                kind=MarkKind.BUNDLE,
                subject=run.name,
            )
    yield from _covering_marks(frame, placed, breaks)
    for place in breaks:
        yield from _break_marks(frame, place, placed.corridor.body_mm, run.name)
    yield from fixed_marks(frame, placed, places, breaks)
    for station, place in zip(run.stations, places[1:-1], strict=True):
        if station.is_splice:
            yield _dot(frame, place, station.name)
    yield from _end_cap(frame, placed)
    yield from _notes(frame, placed, places)
    yield from _dimensions(frame, placed, places)


def _free_part(placed: PlacedRun, places: list[float], piece: int) -> tuple[float, float]:
    """The part of a piece between the breakouts and signs at its ends, where a break is seen; all of a short one."""
    ends = []
    for boundary in (piece, piece + 1):
        if 0 < boundary < len(places) - 1:
            fixed = placed.corridor.run.stations[boundary - 1].fixed
            ends.append(DOT_MM if fixed is None else HALF_MM[fixed.kind])
        else:
            ends.append(placed.joints[0 if boundary == 0 else 1].hub_mm)
    a, b = places[piece] + ends[0], places[piece + 1] - ends[1]
    return (a, b) if b - a >= _BREAK_ROOM_MM else (places[piece], places[piece + 1])


def _break_place(a: float, b: float, tips: tuple[float, ...]) -> float:
    """Where between `a` and `b` the break is drawn: in the middle, or beside it where a dimension line ends there."""
    shares = (0.5, 0.6, 0.4, 0.7, 0.3, 0.78, 0.22)
    places = [a + share * (b - a) for share in shares]
    air_mm = [min((abs(place - tip) for tip in tips), default=_TIP_AIR_MM) for place in places]
    return next((place for place, mm in zip(places, air_mm, strict=True) if mm >= _TIP_AIR_MM), _freest(places, air_mm))


def _freest(places: list[float], air_mm: list[float]) -> float:
    return max(zip(air_mm, places, strict=True))[1]


def _covering_marks(frame: Frame, placed: PlacedRun, breaks: list[float]) -> Iterator[Mark]:
    run, half_mm = placed.corridor.run, placed.corridor.body_mm
    if not run.covering:
        return
    start, end = placed.u0 + placed.joints[0].hub_mm, placed.u1 - placed.joints[1].hub_mm
    for a, b in between_breaks(start, end, breaks):
        corners = frame.box(a, b, -half_mm, half_mm).corners
        yield Hatch(corners, 1.3, 45.0, 0.2, 0.2, kind=MarkKind.COVERING, subject=run.name)


def _break_marks(frame: Frame, place: float, half_mm: float, subject: str) -> Iterator[Mark]:
    """Two slanting strokes across a bundle: it is not drawn to scale here."""
    high_mm = half_mm + 0.45
    for at in (place - BREAK_MM, place + BREAK_MM):
        points = frame.at(at - 0.5, -high_mm), frame.at(at + 0.5, high_mm)
        yield Polyline(points, 0.3, kind=MarkKind.BUNDLE, subject=subject)


def _dot(frame: Frame, u: float, splice: str) -> Circle:
    return Circle(*frame.at(u, 0.0), DOT_MM, 0.3, WHITE, BLACK, kind=MarkKind.SPLICE, subject=splice)


def _end_cap(frame: Frame, placed: PlacedRun) -> Iterator[Mark]:
    """A short stroke across the bundle at an end of the route: the rear face of the connector, or the device."""
    for u, joint in ((placed.u0, placed.joints[0]), (placed.u1, placed.joints[1])):
        if not joint.ring_mm:
            half_mm = placed.corridor.body_mm + 0.7
            points = frame.at(u, -half_mm), frame.at(u, half_mm)
            yield Polyline(points, 0.5, kind=MarkKind.BUNDLE, subject=placed.corridor.run.name)


def _notes(frame: Frame, placed: PlacedRun, places: list[float]) -> Iterator[Mark]:
    """Covering and zone, and the designators of splices, in the row beside the bundle."""
    drawn, side = placed.corridor, placed.side
    run, row = drawn.run, drawn.half_mm + EDGE_AIR_MM + NOTE_MM / 2
    for index, splice in _splices(run):
        toward_datum = -1 if run.datum_first else 1
        u = places[index + 1] + toward_datum * splice_note_mm(splice) / 2
        yield frame.text(splice, u, side * row, NOTE_MM, MarkKind.LABEL, splice, bold=True)
    a, b = places[drawn.note_piece], places[drawn.note_piece + 1]
    a += placed.joints[0].hub_mm if drawn.note_piece == 0 else 0.0
    b -= placed.joints[1].hub_mm if drawn.note_piece + 1 == len(run.pieces) else 0.0
    if splice := labelled_at(run, drawn.note_piece):
        taken_mm = splice_note_mm(splice)
        a, b = (a, b - taken_mm) if run.datum_first else (a + taken_mm, b)
    lines = drawn.note_lines if frame.reads_outward(side) else drawn.note_lines[::-1]
    for index, (line, has_loop) in enumerate(lines):
        u, v = (a + b) / 2, side * (row + index * NOTE_PITCH_MM)
        if has_loop:
            before_mm = frame.reading * (width_mm(line, NOTE_MM) + LOOP_AIR_MM) / 2
            yield _loop(frame, u - before_mm, v, run.name)
            u += frame.reading * (LOOP_MM + LOOP_AIR_MM) / 2
        yield frame.text(line, u, v, NOTE_MM, MarkKind.LABEL, run.name)


def _loop(frame: Frame, u: float, v: float, subject: str) -> Polyline:
    """A bundle that makes one turn: the sign of length that lies in a loop, on top of a dimension."""
    radius_mm, high = 0.62, frame.upwards
    foot_v = v - high * radius_mm
    turn = [2 * pi * step / 24 for step in range(25)]
    curl = [(u + radius_mm * sin(angle), foot_v + high * radius_mm * (1 - cos(angle))) for angle in turn]
    line = [(u - LOOP_MM / 2, foot_v), *curl, (u + LOOP_MM / 2, foot_v)]
    return Polyline(tuple(frame.at(*each) for each in line), 0.35, kind=MarkKind.LOOP, subject=subject)


def _dimensions(frame: Frame, placed: PlacedRun, places: list[float]) -> Iterator[Mark]:
    drawn, side, run = placed.corridor, placed.side, placed.corridor.run
    splices = list(_splices(run))
    in_order = splices if run.datum_first else splices[::-1]
    levels = {index: drawn.first_level_mm + LEVEL_MM * level for level, (index, _) in enumerate(in_order)}
    for (index, splice), text in zip(splices, splice_texts(run), strict=True):
        u, v, subject = places[index + 1], side * levels[index], f"{splice} place"
        edge_mm = placed.edges_mm[0] if run.datum_first else placed.edges_mm[1]
        a, b = (placed.u0 + edge_mm, u) if run.datum_first else (u, placed.u1 - edge_mm)
        yield from dimension_marks(frame, a, b, v, text, subject)
        yield extension_mark(frame, u, side * (drawn.half_mm + EDGE_AIR_MM), v, subject)
    yield from running_marks(frame, placed, places)
    last = side * (drawn.first_level_mm + LEVEL_MM * len(run.splices))
    a, b = placed.u0 + placed.edges_mm[0], placed.u1 - placed.edges_mm[1]
    yield from dimension_marks(frame, a, b, last, run.text, run.name, lies_level=drawn.level_words_mm > 0)
    for u, edge_mm, joint in zip((placed.u0, placed.u1), placed.edges_mm, placed.joints, strict=True):
        if not edge_mm:
            start = max(drawn.half_mm, joint.ring_mm) + EDGE_AIR_MM + (0.0 if joint.ring_mm else 0.7)
            yield extension_mark(frame, u, side * start, last, run.name)


def _splices(run: DrawnRun) -> Iterator[tuple[int, str]]:
    """Splices of a run, each with the number of the piece that it ends."""
    return ((index, each.name) for index, each in enumerate(run.stations) if each.is_splice)


def _mated_marks(frame: Frame, placed: PlacedRun) -> Iterator[Mark]:
    """A mated pair: its two halves with their letters, face to face."""
    run = placed.corridor.run
    start, end = placed.u0 + max(0.4, placed.joints[0].ring_mm), placed.u1 - max(0.4, placed.joints[1].ring_mm)
    middle = (start + end) / 2
    subject = ", ".join(run.mated)
    second = {"s": "p", "p": "s"}[run.first_half]
    reach_mm = MATED_MM / 2 - 0.8
    for letter, a, b in ((run.first_half, middle - reach_mm, middle - 0.5), (second, middle + 0.5, middle + reach_mm)):
        yield Rectangle(frame.box(a, b, -2.2, 2.2), 0.4, fill=WHITE, kind=MarkKind.FACE, subject=subject)
        x, y = frame.at((a + b) / 2, 0.0)
        yield TextMark(letter, x, y + 0.6, NOTE_MM, "middle", kind=MarkKind.FACE_TEXT, subject=subject)
    for a, b in ((start, middle - reach_mm), (middle + reach_mm, end)):
        if b - a > 0.5:
            points = frame.at(a, 0.0), frame.at(b, 0.0)
            yield Polyline(points, 1.0, BUNDLE_INK, kind=MarkKind.BUNDLE, subject=run.name)
    v = placed.side * (placed.corridor.half_mm + EDGE_AIR_MM + NOTE_MM / 2)
    yield frame.text(placed.corridor.note[0], middle, v, NOTE_MM, MarkKind.LABEL, subject, bold=True)


def _spot_marks(frame: Frame, placed: PlacedSpot) -> Iterator[Mark]:
    """The breakout, drawn out where it has several centres, with the dots of the splices that sit there."""
    spot, ring_mm = placed.spot, placed.ring_mm
    if ring_mm:
        first, last = placed.centres[0], placed.centres[-1]
        fill = None if spot.splices else WHITE
        if first == last:
            yield Circle(*frame.at(first, 0.0), ring_mm, 0.4, fill=fill, kind=MarkKind.BREAKOUT, subject=spot.point)
        else:
            area = frame.box(first - ring_mm, last + ring_mm, -ring_mm, ring_mm)
            yield Rectangle(area, 0.4, fill=fill, corner_mm=ring_mm, kind=MarkKind.BREAKOUT, subject=spot.point)
        shown = spot.splices[:MOST_DOTS]
        for index, splice in enumerate(shown):
            yield _dot(frame, (first + last) / 2 + SPOT_PITCH_MM * (index - (len(shown) - 1) / 2), splice)
    if placed.label is not None:
        box = frame.box(*placed.label_area)
        yield from placed.label.at(box.x0, box.y0)


def _block_marks(frame: Frame, placed: PlacedBlock) -> Iterator[Mark]:
    box = frame.box(*placed.area)
    from_below = box.centre[1] < frame.y and (placed.lead is not None) is frame.is_level
    yield from placed.block.marks(box.x0, box.y0, from_below=from_below)
    if placed.lead is not None:
        u, _, v0, v1 = placed.lead
        step = 1 if v1 > v0 else -1
        points = frame.at(u, v0), frame.at(u, v1 - step * _LEAD_AIR_MM)
        yield Polyline(points, 0.18, kind=MarkKind.LEADER)
