"""One chart of time against current, both in logarithms: how late a fuse opens, and what its wires stand."""

import math
from collections.abc import Sequence
from itertools import pairwise

from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import plain_number
from harnessgen.physics.protection.fuse_curve import FuseCurve
from harnessgen.physics.protection.protected_wires import Guarded
from harnessgen.rules.protection.guards import Guard
from harnessgen.rules.wording.recalled import is_recalled, recalled_wires
from harnessgen.sheets.box import Box, Point
from harnessgen.sheets.lettering import fit_text, text_box
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Circle, Mark, Polyline, Rectangle, TextMark
from harnessgen.sheets.outline import Outline, outlines_touch, upright_area

LEFT_MM, RIGHT_MM, ABOVE_MM, BELOW_MM = 15.0, 4.0, 14.0, 11.0
"""Room around the frame of a chart for numbers and captions."""
_TEXT_MM = 2.4
_HEAD_MM = 2.8
_TICK_MM = 1.2
_GAP_MM = 0.5
_HIGHEST_S = 1e4
_MOST_WIRES = 2
_SAMPLES = 80
_DASHES: tuple[tuple[float, ...], ...] = ((3.0, 1.2), (3.0, 1.0, 0.6, 1.0))
_BEYOND_MM = (0.8, 0.8)
_UPRIGHT_MM = 0.18
_PLAIN_MARGIN = 10.0
_LABEL_GAPS_MM = (0.9, 1.2, 2.2, 3.6, 5.5)


@frozen
class Scale:
    """Where a current and a time lie on the sheet."""

    frame: Box
    low_a: float
    high_a: float
    low_s: float
    high_s: float

    def at(self, current_a: float, time_s: float) -> Point:
        """Place on the sheet, which may lie outside the frame."""
        across = math.log(current_a / self.low_a) / math.log(self.high_a / self.low_a)
        up = math.log(time_s / self.low_s) / math.log(self.high_s / self.low_s)
        return self.frame.x0 + across * self.frame.width_mm, self.frame.y1 - up * self.frame.height_mm

    def cut(self, points: Sequence[tuple[float, float]]) -> tuple[Point, ...]:
        """A falling curve as places within the frame: what lies above or below it is cut off."""
        places = [self.at(*point) for point in points]
        kept: list[Point] = []
        for first, second in pairwise(places):
            piece = _within(first, second, self.frame)
            if piece is not None:
                kept += [each for each in piece if not kept or math.dist(each, kept[-1]) > 1e-6]
        return tuple(kept)


def _within(first: Point, second: Point, frame: Box) -> tuple[Point, Point] | None:
    """The part of a stroke that lies within a box."""
    start, end = 0.0, 1.0
    dx, dy = second[0] - first[0], second[1] - first[1]
    for step, from_edge in (
        (-dx, first[0] - frame.x0),
        (dx, frame.x1 - first[0]),
        (-dy, first[1] - frame.y0),
        (dy, frame.y1 - first[1]),
    ):
        if step == 0.0:
            if from_edge < 0.0:
                return None
        elif step < 0.0:
            start = max(start, from_edge / step)
        else:
            end = min(end, from_edge / step)
    if start >= end:
        return None
    return (first[0] + start * dx, first[1] + start * dy), (first[0] + end * dx, first[1] + end * dy)


@frozen
class _Curve:
    """A curve with its label, and the sides of it on which the label may stand."""

    words: str
    mark: Polyline
    goes_above: bool


def chart_marks(guard: Guard, area: Box) -> tuple[Mark, ...]:
    """The chart of one fuse in `area`; its subject is the fuse."""
    frame = Box(area.x0 + LEFT_MM, area.y0 + ABOVE_MM, area.x1 - RIGHT_MM, area.y1 - BELOW_MM)
    scale = _scale(guard, frame)
    name = guard.protects.fuse.name
    shown = shown_wires(guard)
    curves = [*_fuse_curves(guard, scale), *(_wire_curve(each, scale, at) for at, each in enumerate(shown))]
    uprights = _uprights(guard, scale)
    lines: list[Mark] = [*_axes(scale, name), *(each.mark for each in curves), *(each for each, _ in uprights)]
    if shown and math.isfinite(shown[0].margin):
        point = scale.at(shown[0].at_a, shown[0].opens_s)
        if frame.contains_point(point):
            lines.append(Circle(*point, 0.9, 0.3, kind=MarkKind.CURVE, subject=name))
    labels: list[Mark] = []
    missing: list[str] = []
    for curve in curves:
        label = _beside(curve, frame, [*lines, *labels], name)
        labels += [label] if label is not None else []
        # The note under the charts says which line is which of the fuse's own.
        missing += [f"also shown: {curve.words}"] if label is None and curve.mark.subject != name else []
    for upright, words in uprights:
        label = _along(upright, words, frame, [*lines, *labels], name)
        labels += [label] if label is not None else []
        missing += [words] if label is None else []
    return (*lines, *labels, *_numbers(scale, name), *_captions(guard, shown, area, missing))


def shown_wires(guard: Guard) -> list[Guarded]:
    """The wires that a chart shows: the least guarded one of each size, at most two."""
    sizes: dict[str, Guarded] = {}
    for each in guard.wires:
        sizes.setdefault(f"{each.wire.size} {each.wire.family.name}", each)
    return list(sizes.values())[:_MOST_WIRES]


def _scale(guard: Guard, frame: Box) -> Scale:
    rating, near = guard.curve.rating_a, guard.currents.near.current_a
    last = min(near, 1e4 * rating)
    lowest = min(guard.curve.longest_s(last), guard.curve.shortest_s(last), 1e-2)
    return Scale(frame, 0.8 * rating, 1.3 * max(last, 7.0 * rating), 10.0 ** math.floor(math.log10(lowest)), _HIGHEST_S)


def _fuse_curves(guard: Guard, scale: Scale) -> list[_Curve]:
    curve, name = guard.curve, guard.protects.fuse.name
    found: list[_Curve] = []
    for words, points, width_mm, above in (
        (f"{name} latest opening", curve.longest, 0.6, True),
        (f"{name} earliest opening", curve.shortest, 0.3, False),
    ):
        if not points:
            continue
        first_a, last_a = points[0][0], points[-1][0]
        stem = [(first_a, scale.high_s * 2.0)] if points is curve.longest else []
        published = scale.cut([*stem, *points])
        beyond = scale.cut([points[-1], (scale.high_a, _beyond_s(curve, points is curve.longest, scale.high_a))])
        if len(published) > 1:
            found.append(_Curve(words, _line(published, width_mm, (), name), above))
        if len(beyond) > 1 and last_a < scale.high_a:
            words = "not published" if points is curve.longest else ""
            found.append(_Curve(words, _line(beyond, width_mm, _BEYOND_MM, name), above))
    return found


def _beyond_s(curve: FuseCurve, is_longest: bool, current_a: float) -> float:
    return curve.longest_s(current_a) if is_longest else curve.shortest_s(current_a)


def _wire_curve(each: Guarded, scale: Scale, number: int) -> _Curve:
    ratio = scale.high_a / scale.low_a
    currents = [scale.low_a * ratio ** (step / _SAMPLES) for step in range(_SAMPLES + 1)]
    times = [(current, each.heating.stands_s(current)) for current in currents]
    finite = [(current, time) for current, time in times if 0.0 < time < math.inf]
    points = scale.cut([(finite[0][0], scale.high_s * 2.0), *finite]) if finite else ()
    if len(points) < 2:
        # It stands every current of the chart for ever: the curve lies at its edge.
        points = ((scale.frame.x1, scale.frame.y0), (scale.frame.x1, scale.frame.y0 + 1.0))
    words = f"{each.wire.mark} ({each.wire.size}) stands"
    return _Curve(words, _line(points, 0.45, _DASHES[number % len(_DASHES)], each.wire.mark), True)


def _line(points: tuple[Point, ...], width_mm: float, dash_mm: tuple[float, ...], subject: str) -> Polyline:
    return Polyline(points, width_mm, dash_mm=dash_mm, kind=MarkKind.CURVE, subject=subject)


def _uprights(guard: Guard, scale: Scale) -> list[tuple[Polyline, str]]:
    """Upright lines at the two prospective currents."""
    found: list[tuple[Polyline, str]] = []
    for words, short in (("far short", guard.currents.far), ("near short", guard.currents.near)):
        if scale.low_a < short.current_a < scale.high_a:
            x, _ = scale.at(short.current_a, scale.low_s)
            line = _line(((x, scale.frame.y0), (x, scale.frame.y1)), _UPRIGHT_MM, (), guard.protects.fuse.name)
            found.append((line, f"{words} {plain_number(short.current_a, 0)} A"))
    return found


def _axes(scale: Scale, name: str) -> list[Mark]:
    frame = scale.frame
    marks: list[Mark] = [Rectangle(frame, 0.35, kind=MarkKind.AXIS, subject=name)]
    for current_a in _steps(scale.low_a, scale.high_a, (1, 2, 3, 4, 5, 6, 7, 8, 9)):
        x, _ = scale.at(current_a, scale.low_s)
        tick = ((x, frame.y1), (x, frame.y1 - _TICK_MM))
        marks.append(Polyline(tick, 0.2, kind=MarkKind.AXIS, subject=name))
    for time_s in _steps(scale.low_s, scale.high_s, (1,)):
        _, y = scale.at(scale.low_a, time_s)
        tick = ((frame.x0, y), (frame.x0 + _TICK_MM, y))
        marks.append(Polyline(tick, 0.2, kind=MarkKind.AXIS, subject=name))
    return marks


def _steps(low: float, high: float, digits: tuple[int, ...]) -> list[float]:
    decades = range(math.floor(math.log10(low)), math.ceil(math.log10(high)) + 1)
    values = (digit * 10.0**decade for decade in decades for digit in digits)
    return [value for value in values if low * (1 - 1e-9) <= value <= high * (1 + 1e-9)]


def _numbers(scale: Scale, name: str) -> list[Mark]:
    frame, marks = scale.frame, list[Mark]()
    after_mm = -math.inf
    for current_a in _steps(scale.low_a, scale.high_a, (1, 2, 5)):
        x, _ = scale.at(current_a, scale.low_s)
        text = TextMark(f"{current_a:g}", x, frame.y1 + 3.2, _TEXT_MM, "middle", subject=name)
        if text.box.x0 > after_mm:
            marks.append(text)
            after_mm = text.box.x1 + 1.0
    for time_s in _steps(scale.low_s, scale.high_s, (1,)):
        _, y = scale.at(scale.low_a, time_s)
        marks.append(TextMark(plain_number(time_s, 6), frame.x0 - 1.0, y + 0.9, _TEXT_MM, "end", subject=name))
    marks.append(TextMark("current in A", frame.centre[0], frame.y1 + 7.2, _TEXT_MM, "middle", subject=name))
    marks.append(
        TextMark("time in s", frame.x0 - 11.0, frame.centre[1], _TEXT_MM, "middle", rotation=-90, subject=name)
    )
    return marks


def _captions(guard: Guard, shown: list[Guarded], area: Box, missing: list[str]) -> list[Mark]:
    fuse, curve = guard.protects.fuse, guard.curve
    head = f"{fuse.name}, {plain_number(curve.rating_a, 1)} A, {fuse.form}"
    head += f": {fuse.title}" if fuse.title else ""
    lines = [(head, _HEAD_MM, True), (_verdict(guard, shown, missing), _TEXT_MM, False)]
    marks: list[Mark] = []
    y = area.y0 + 4.0
    for words, size_mm, bold in lines:
        fitted, fitted_mm = fit_text(words, area.width_mm - 4.0, size_mm, 2.0, bold)
        marks.append(TextMark(fitted, area.x0 + 3.0, y, fitted_mm, bold=bold, subject=fuse.name))
        y += 4.6
    return marks


def _verdict(guard: Guard, shown: list[Guarded], missing: list[str]) -> str:
    if not shown:
        return "no wire to hold it against"
    least = shown[0]
    words = f"holds {plain_number(least.must_a, 1)} A for ever, {least.wire.mark} stands {least.for_ever_a:.1f} A; "
    if math.isfinite(least.margin):
        margin = plain_number(least.margin, 0 if least.margin >= _PLAIN_MARGIN else 2)
        words += f"least margin in time {margin} at {plain_number(least.at_a, 0)} A"
    else:
        words += "what opens it heats no wire too far"
    if is_recalled(guard.curve.source) or recalled_wires([least.wire]):
        words += "; on figures from memory"
    return "; ".join((words, *(each for each in missing if each)))


def _beside(curve: _Curve, frame: Box, others: Sequence[Mark], subject: str) -> TextMark | None:
    """The label of a curve where it touches nothing: beside a point of the curve, the nearest first."""
    if not curve.words:
        return None
    places = _spread(curve.mark.points)
    offsets = [(dx, dy) for gap in _LABEL_GAPS_MM for dx, dy in ((gap, -gap), (gap, 0.8), (-gap, gap + 1.6))]
    if not curve.goes_above:
        offsets = [(dx, dy) for gap in _LABEL_GAPS_MM for dx, dy in ((-gap, gap + 1.6), (-gap, 0.8), (gap, -gap))]
    outlines = [outline for mark in others for outline in mark.outlines]
    # Nearer to its own curve than to any other, or it would be read as that one's.
    strangers = [
        outline
        for mark in others
        if isinstance(mark, Polyline) and mark.kind is MarkKind.CURVE and not _is_one(mark, curve.mark)
        for outline in mark.outlines
        if mark.width_mm > _UPRIGHT_MM
    ]
    held = frame.inflate(-1.0)
    for is_strict in (True, False):
        for dx, dy in offsets:
            reach_mm = min(abs(dx), abs(dy)) + 0.4
            # Where it is narrow, a label that begins at its own curve is still read as that one's.
            if not is_strict and dx < 0.0:
                continue
            for x, y in places:
                text = TextMark(curve.words, x + dx, y + dy, _TEXT_MM, "start" if dx > 0 else "end", subject=subject)
                if (
                    held.contains(text.box)
                    and _is_clear(text.box, outlines, _GAP_MM)
                    and not _is_clear(text.box, curve.mark.outlines, reach_mm)
                    and (not is_strict or _is_clear(text.box, strangers, reach_mm + 0.2))
                ):
                    return text
    return None


def _along(upright: Polyline, words: str, frame: Box, others: Sequence[Mark], subject: str) -> TextMark | None:
    """The label of an upright, reading upwards beside it, as high as it finds room."""
    x = upright.points[0][0]
    outlines = [outline for mark in others for outline in mark.outlines]
    length = text_box(words, 0.0, 0.0, _TEXT_MM).width_mm
    steps = max(int((frame.height_mm - length - 3.0) / 2.0), 1)
    for dx in (-1.2, 3.0):
        for step in range(steps):
            text = TextMark(words, x + dx, frame.y0 + 1.5 + 2.0 * step, _TEXT_MM, "end", rotation=-90, subject=subject)
            if frame.inflate(-1.0).contains(text.box) and _is_clear(text.box, outlines, _GAP_MM):
                return text
    return None


def _is_one(mark: Polyline, other: Polyline) -> bool:
    """Whether two pieces are one curve: the published part and what goes on beyond it."""
    return mark.subject == other.subject and mark.width_mm == other.width_mm


def _spread(points: tuple[Point, ...]) -> list[Point]:
    """Places along a curve about 2 mm apart, from its middle outwards."""
    places: list[Point] = []
    for (x0, y0), (x1, y1) in pairwise(points):
        count = max(int(math.hypot(x1 - x0, y1 - y0) / 2.0), 1)
        places += [(x0 + (x1 - x0) * step / count, y0 + (y1 - y0) * step / count) for step in range(count)]
    middle = len(places) / 2.0
    order = sorted(range(len(places)), key=lambda at: (abs(at - middle), at))
    return [places[at] for at in order]


def _is_clear(box: Box, outlines: Sequence[Outline], gap_mm: float) -> bool:
    area = upright_area(box)
    near = box.inflate(gap_mm)
    return not any(near.intersects(each.box) and outlines_touch(area, each, gap_mm) for each in outlines)
