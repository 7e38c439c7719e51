"""Clips, tape and grommets on the formboard: at their true places, as lines that a plotter can draw too.

What lies on a peg, a connector or another such thing is drawn narrower; where even that finds no room, its words alone
say where it is.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from math import hypot

from harnessgen.drawings.formboard.labels import Words
from harnessgen.drawings.formboard.occupied import OutlineRaster
from harnessgen.drawings.formboard.place import Laid
from harnessgen.drawings.layout.fixings import Fixed
from harnessgen.sheets.box import Point
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Mark, Polyline
from harnessgen.sheets.outline import Outline, stroke

CLIP_MM = 2.4
"""Width of the bar of a clip; its middle line is the place."""
TAPE_MM = 0.9
"""Width of the bar at either end of a covering."""
_BOX_MM = 0.3
_FLANGE_MM = 0.9
_FLANGES_MM = 4.0
"""Distance of the two flanges of a grommet, the panel between them."""
_PANEL_MM = 8.0
_ZIGZAG_MM = 5.0
_BESIDE_MM = 3.0
_GAP_MM = 0.5
_TAPE_FROM_MM = (8.0, 12.0, 18.0, 26.0, 36.0)
"""A covering is taped this far from the breakout, which is left free: the first where nothing else is in the way."""
_PEG_FROM_MM = (3.0, 5.0, 8.0, 12.0, 18.0, 26.0)
"""A tape that begins at a breakout is drawn from here on."""
_NARROWEST_MM = 1.2


@dataclass(slots=True)
class Taken:
    """What the board has already: pegs and connectors, splices with clips and grommets, and tape."""

    ends: OutlineRaster = field(default_factory=OutlineRaster)
    signs: OutlineRaster = field(default_factory=OutlineRaster)
    tapes: OutlineRaster = field(default_factory=OutlineRaster)


def half_mm(laid: Laid) -> float:
    """Half the diameter of a stretch: of its covering, else of its thickest bundle."""
    run = laid.run
    return max(run.covering_mm, *(piece.diameter_mm for piece in run.pieces)) / 2


def fixed_shapes(laid: Laid, taken: Taken) -> Iterator[Mark]:
    """The marks of what is fixed on a stretch, tape first."""
    for fixed in laid.run.fixed:
        if fixed.kind is MarkKind.TAPE:
            yield from _tape(laid, fixed, taken)
    for fixed in laid.run.fixed:
        if fixed.kind is not MarkKind.TAPE:
            yield from _sign(laid, fixed, taken)


def fixed_words(laid: Laid) -> Iterator[Words]:
    """The words of each: what it is, and its distance from its datum."""
    for fixed in laid.run.fixed:
        if fixed.at_mm is not None:
            lines = (fixed.head or "clip", f"{fixed.place} from {fixed.datum}")
            yield Words(lines, fixed.name, (laid.at(fixed.at_mm),), _BESIDE_MM)


def covering_ends(laid: Laid, taken: Taken) -> Iterator[Mark]:
    """A bar of tape across the bundle at either end of its covering."""
    run, long_mm = laid.run, laid.run.length_mm
    if not run.covering or long_mm < 2.5 * _TAPE_FROM_MM[0]:
        return
    wide_mm = max(run.covering_mm / 2, 4.0)
    for is_last in (False, True):
        for from_mm in _TAPE_FROM_MM:
            ends = _across(laid, long_mm - from_mm if is_last else from_mm, wide_mm)
            outline = stroke(*ends, TAPE_MM)
            grounds = (taken.tapes, taken.ends, taken.signs)
            if from_mm < long_mm / 2 and all(ground.is_free(outline, 1.0) for ground in grounds):
                taken.tapes.add(outline)
                yield Polyline(ends, TAPE_MM, kind=MarkKind.TAPE, subject=f"{run.covering} on {run.name}")
                break


def _at(laid: Laid, along_mm: float, aside_mm: float) -> Point:
    long_mm = hypot(laid.b[0] - laid.a[0], laid.b[1] - laid.a[1])
    dx, dy = (laid.b[0] - laid.a[0]) / long_mm, (laid.b[1] - laid.a[1]) / long_mm
    x, y = laid.at(along_mm)
    return x - dy * aside_mm, y + dx * aside_mm


def _across(laid: Laid, along_mm: float, wide_mm: float) -> tuple[Point, Point]:
    return _at(laid, along_mm, wide_mm), _at(laid, along_mm, -wide_mm)


def _tape(laid: Laid, fixed: Fixed, taken: Taken) -> Iterator[Mark]:
    """A box as long as the tape with turns in it; at a breakout it begins beside the peg."""
    low_mm, high_mm, whole_mm = fixed.low_mm, fixed.high_mm, laid.run.length_mm
    for wide_mm in (half_mm(laid) + 2.0, 3.0, _NARROWEST_MM):
        for peg_mm in _PEG_FROM_MM:
            a_mm, b_mm = max(low_mm, peg_mm), min(high_mm, whole_mm - peg_mm)
            if b_mm - a_mm < 1.0:
                return
            corners = (*_across(laid, a_mm, wide_mm), *_across(laid, b_mm, wide_mm)[::-1])
            outline = Outline(corners, 0.0, filled=True)
            if taken.ends.is_free(outline, _GAP_MM) and taken.tapes.is_free(outline, _GAP_MM):
                taken.tapes.add(outline)
                yield Polyline((*corners, corners[0]), _BOX_MM, kind=MarkKind.TAPE, subject=fixed.name)
                turns = max(1, round((b_mm - a_mm) / _ZIGZAG_MM))
                zigzag = tuple(
                    _at(laid, a_mm + (b_mm - a_mm) * step / turns, wide_mm if step % 2 else -wide_mm)
                    for step in range(turns + 1)
                )
                yield Polyline(zigzag, _BOX_MM, kind=MarkKind.TAPE, subject=fixed.name)
                return


def _sign(laid: Laid, fixed: Fixed, taken: Taken) -> Iterator[Mark]:
    """A clip as a bar across the bundle, a grommet as its two flanges with the panel between them."""
    for wide_mm in (half_mm(laid) + 4.0, 3.0, _NARROWEST_MM):
        lines = _clip(laid, fixed, wide_mm) if fixed.kind is MarkKind.CLIP else _grommet(laid, fixed, wide_mm)
        outlines = [outline for line in lines for outline in line.outlines]
        if all(ground.is_free(each, _GAP_MM) for each in outlines for ground in (taken.ends, taken.signs)):
            for each in outlines:
                taken.signs.add(each)
            yield from lines
            return


def _clip(laid: Laid, fixed: Fixed, wide_mm: float) -> list[Polyline]:
    ends = _across(laid, fixed.low_mm, wide_mm)
    return [Polyline(ends, CLIP_MM, kind=MarkKind.CLIP, subject=fixed.name)]


def _grommet(laid: Laid, fixed: Fixed, wide_mm: float) -> list[Polyline]:
    lines = [
        Polyline(_across(laid, fixed.low_mm + step_mm, wide_mm), _FLANGE_MM, kind=fixed.kind, subject=fixed.name)
        for step_mm in (-_FLANGES_MM / 2, _FLANGES_MM / 2)
    ]
    for side in (-1, 1):
        ends = _at(laid, fixed.low_mm, side * wide_mm), _at(laid, fixed.low_mm, side * (wide_mm + _PANEL_MM))
        lines.append(Polyline(ends, _FLANGE_MM, kind=fixed.kind, subject=fixed.name))
    return lines
