"""How long a stretch is drawn at a scale, and how much room its notes and dimensions take on their side of it.

Beside the stretch comes a row of notes (covering and zone, designators of splices), then a running dimension of what is
fixed on it (one from each of its ends that is a datum) with the words across it, then a level of dimensions for each
splice, then that of the stretch itself. Where the stretch at its scale is too short for its texts, or longer than the
sheet allows, it is drawn with a marked break.
"""

from dataclasses import dataclass, replace

from harnessgen.drawings.layout.block import width_mm
from harnessgen.drawings.layout.fixings import Fixed, Station
from harnessgen.drawings.layout.tree import DrawnRun
from harnessgen.schedules.tables.length_text import length_words
from harnessgen.sheets.lettering import fit_text
from harnessgen.sheets.mark_kind import MarkKind

DIMENSION_MM = 2.5
"""Size of dimension texts."""
NOTE_MM = 2.2
"""Size of notes beside a stretch."""
LEVEL_MM = 5.0
"""Distance of dimension lines that lie beside one another."""
NOTE_PITCH_MM = 3.0
ARROW_MM = 2.2
DOT_MM = 1.05
"""Radius of a splice's dot."""
EDGE_AIR_MM = 0.9
"""Between a bundle, with its covering, and what is written beside it."""
SPOT_PITCH_MM = 3.2
"""Distance of the dots of splices that sit at one point."""
MATED_MM = 9.8
"""Length of the drawn mated pair."""

WORDS_AIR_MM = 1.3
"""Air on both sides of a level dimension beside an upright line, together."""

_THICKNESS_SHARE = 0.2
"""Bundles are drawn as thick as at 1:5 where the scale is smaller, so that trunk and leg stay apart."""
_LEAST_THICK_MM, _MOST_THICK_MM = 0.8, 5.0
_COVER_AIR_MM = 0.8
_LEAST_GAP_MM = 5.0
_LEAST_SPAN_MM = 6.5
"""Shortest dimension line with both arrow heads inside."""
_BREAK_ROOM_MM = 7.5
_NOTE_MOST_MM = 45.0
LOOP_MM = 4.2
"""Length of the small loop that stands before a length in loops."""
LOOP_AIR_MM = 0.8
REACH_MM = {MarkKind.CLIP: 0.9, MarkKind.TAPE: 0.4, MarkKind.GROMMET: 1.6}
"""How far what is fixed on a bundle stands out beside it."""
HALF_MM = {MarkKind.CLIP: 0.55, MarkKind.TAPE: 1.1, MarkKind.GROMMET: 1.2}
"""Half of its length along the bundle; of tape the least."""
RUNNING_PITCH_MM = 3.0
"""Distance of two running dimensions, one from each end."""
ORIGIN_MM = 0.6
"""Radius of the circle at the origin of a running dimension."""
ROW_PITCH_MM = 2.8
"""Distance of two rows of words at one place."""
_ROW_HALF_MM = 1.4
_WORDS_OFF_MM = 1.4
"""From a running dimension to the words beyond it."""


@dataclass(frozen=True, slots=True)
class Setting:
    """Scale (paper over nature) and the longest that a piece of a stretch is drawn (mm on paper).

    `is_tight` rather lets legs grow long than the trunk, since the sheet is not wide enough.
    """

    scale: float
    longest_mm: float
    is_tight: bool = False


def bundle_thickness_mm(diameter_mm: float, scale: float) -> float:
    """Width of the line for a bundle: to scale, but never too thin to see."""
    return min(_MOST_THICK_MM, max(_LEAST_THICK_MM, diameter_mm * max(scale, _THICKNESS_SHARE)))


def half_width_mm(run: DrawnRun, scale: float) -> float:
    """Half the width of a run with its covering and what is fixed on it, mm on paper."""
    return body_half_mm(run, scale) + max((REACH_MM[each.kind] for each in run.fixed if run.is_marked), default=0.0)


def body_half_mm(run: DrawnRun, scale: float) -> float:
    """Half the width of a run with its covering, mm on paper."""
    if run.mated:
        return 2.4
    bare_mm = max(bundle_thickness_mm(piece.diameter_mm, scale) for piece in run.pieces) / 2
    if run.splices:
        # Dots are wider than a thin bundle, and what is written beside it has to clear them.
        bare_mm = max(bare_mm, DOT_MM - 0.4)
    if not run.covering:
        return bare_mm
    return max(bare_mm + _COVER_AIR_MM, bundle_thickness_mm(run.covering_mm, scale) / 2)


@dataclass(frozen=True, slots=True)
class Corridor:
    """A run at a scale: the drawn length of each piece, which of them are true, its notes, and the depth of its side.

    `note` are the lines that name covering and zone, then those of lengths in loops, each behind a small loop; they
    stand beside the piece `note_piece`. `level_words_mm` is the
    width of the stretch's dimension where the stretch is upright and too short for it to read upwards, else 0.
    `half_mm` is half the width of all that is on the bundle, `body_mm` of bundle and covering alone.
    """

    run: DrawnRun
    pieces_mm: tuple[float, ...]
    true: tuple[bool, ...]
    note: tuple[str, ...]
    note_piece: int
    half_mm: float
    body_mm: float
    level_words_mm: float = 0.0

    @property
    def note_lines(self) -> tuple[tuple[str, bool], ...]:
        """Lines of the note, and whether a small loop stands before each."""
        plain = len(self.note) - (0 if self.run.is_quiet else len(self.run.extras))
        return tuple((line, index >= plain) for index, line in enumerate(self.note))

    @property
    def length_mm(self) -> float:
        """Drawn length, mm."""
        return sum(self.pieces_mm)

    @property
    def is_true(self) -> bool:
        """Whether the whole run is drawn to scale."""
        return all(self.true)

    @property
    def note_depth_mm(self) -> float:
        """Depth of the row of notes."""
        rows = max(len(self.note), 1 if self.run.splices or self.run.mated else 0)
        return NOTE_PITCH_MM * rows

    @property
    def running(self) -> tuple[tuple[bool, float], ...]:
        """For each running dimension whether it begins at the start, and its distance from the middle."""
        first_mm = self.half_mm + EDGE_AIR_MM + self.note_depth_mm + 1.6
        datums = dict.fromkeys(each.is_from_start for each in fixed_stations(self.run))
        return tuple((is_start, first_mm + RUNNING_PITCH_MM * place) for place, is_start in enumerate(datums))

    @property
    def words_from_mm(self) -> float:
        """Distance from the bundle's middle at which the words of running dimensions begin."""
        return self.running[-1][1] + _WORDS_OFF_MM

    @property
    def first_level_mm(self) -> float:
        """Distance of the first dimension line of splices and of the stretch from the middle of the bundle."""
        if self.running:
            return self.words_from_mm + running_words_mm(self.run) + 2.6
        return self.half_mm + EDGE_AIR_MM + self.note_depth_mm + 2.2

    @property
    def levels_mm(self) -> tuple[float, ...]:
        """Distances of all dimension lines from the middle of the bundle: running, of splices, then of the stretch."""
        running = tuple(mm for _, mm in self.running)
        return running + tuple(self.first_level_mm + LEVEL_MM * level for level in range(len(self.run.splices) + 1))

    @property
    def depth_mm(self) -> float:
        """Distance from the middle of the bundle within which all notes and dimensions stand."""
        if self.run.mated:
            return self.half_mm + EDGE_AIR_MM + self.note_depth_mm
        return self.levels_mm[-1] + max(3.4, WORDS_AIR_MM + self.level_words_mm)

    def lengthened(self, by_mm: float) -> "Corridor":
        """The same, drawn `by_mm` longer: in a piece that is broken already, else in the longest."""
        if by_mm <= 0:
            return self
        broken = [place for place, true in enumerate(self.true) if not true]
        place = broken[0] if broken else max(range(len(self.true)), key=lambda index: self.pieces_mm[index])
        grown = [*self.pieces_mm]
        grown[place] += by_mm
        marked = [*self.true]
        marked[place] = False
        return replace(self, pieces_mm=tuple(grown), true=tuple(marked))


def corridor(
    run: DrawnRun, setting: Setting, ring_mm: tuple[float, float], edges_mm: tuple[float, float], *, is_level: bool
) -> Corridor:
    """`run` at a scale.

    `ring_mm` are the radii of the breakouts at its two ends, `edges_mm` how far before its ends its dimension line may
    have to end, where something is in the way.
    """
    half_mm = half_width_mm(run, setting.scale)
    if run.mated:
        # A breakout at either end takes its room before the pair.
        length_mm = MATED_MM + sum(max(0.0, mm - 1.0) for mm in ring_mm)
        return Corridor(run, (length_mm,), (True,), (", ".join(run.mated),), 0, half_mm, half_mm)
    natural = [min(piece.length_mm * setting.scale, setting.longest_mm) for piece in run.pieces]
    capped = [piece.length_mm * setting.scale > setting.longest_mm for piece in run.pieces]
    inner = [natural[index] - _ends_mm(run, index, ring_mm) for index in range(len(natural))]
    note, place = _note(run, inner)
    needed = _needed_mm(run, note, place, ring_mm, edges_mm)
    pieces = [
        max(have, need, _BREAK_ROOM_MM if cut else 0.0) for have, need, cut in zip(natural, needed, capped, strict=True)
    ]
    true = [not cut and have >= need for have, need, cut in zip(natural, needed, capped, strict=True)]
    drawn = Corridor(run, tuple(pieces), tuple(true), note, place, half_mm, body_half_mm(run, setting.scale))
    words_mm = width_mm(run.text, DIMENSION_MM)
    taken_mm = sum(edges_mm)
    is_tight = drawn.length_mm < words_mm + 1.6 + taken_mm
    if is_tight and not is_level:
        drawn = replace(drawn, level_words_mm=words_mm)
        words_mm = 0.0
    drawn = drawn.lengthened(max(words_mm + 1.6, _LEAST_SPAN_MM) + taken_mm - drawn.length_mm)
    pieces = [mm if each else max(mm, _BREAK_ROOM_MM) for mm, each in zip(drawn.pieces_mm, drawn.true, strict=True)]
    return replace(drawn, pieces_mm=tuple(pieces))


def _ends_mm(run: DrawnRun, piece: int, ring_mm: tuple[float, float]) -> float:
    """What notes beside a piece have to leave free: breakouts at its ends, and the designator of its splice."""
    taken_mm = 2.0
    if piece == 0:
        taken_mm += ring_mm[0]
    if piece == len(run.pieces) - 1:
        taken_mm += ring_mm[1]
    splice = labelled_at(run, piece)
    return taken_mm + (splice_note_mm(splice) if splice else 0.0)


def labelled_at(run: DrawnRun, piece: int) -> str:
    """The splice whose designator stands beside this piece: the one at its end away from the datum."""
    index = piece if run.datum_first else piece - 1
    return run.stations[index].name if 0 <= index < len(run.stations) and run.stations[index].is_splice else ""


def splice_note_mm(splice: str) -> float:
    """Length along the stretch that the designator of a splice takes, with its air."""
    return width_mm(splice, NOTE_MM, bold=True) + 1.4


def _note(run: DrawnRun, inner_mm: list[float]) -> tuple[tuple[str, ...], int]:
    """Covering and zone on one line where some piece has room, else on two; lengths in loops; and that piece."""
    if run.is_quiet:
        return (), 0
    words = [fit_text(text, _NOTE_MOST_MM, NOTE_MM, 2.0)[0] for text in (run.covering, run.zone, run.remark) if text]
    place = max(range(len(inner_mm)), key=lambda index: (round(inner_mm[index], 6), -index))
    if run.remark:
        return (*words, *run.extras), place
    one_line = ", ".join(words)
    if len(words) < 2 or width_mm(one_line, NOTE_MM) <= inner_mm[place]:
        return (*((one_line,) if one_line else ()), *run.extras), place
    return (*words, *run.extras), place


def _needed_mm(
    run: DrawnRun, note: tuple[str, ...], note_piece: int, ring_mm: tuple[float, float], edges_mm: tuple[float, float]
) -> list[float]:
    """The least drawn length of each piece for what stands beside it."""
    needed = []
    for index in range(len(run.pieces)):
        note_mm = max((_line_mm(run, line) for line in note), default=0.0) if index == note_piece else 0.0
        least_mm = _LEAST_GAP_MM if run.stations else 0.0
        beside_mm = _beside_mm(run, index, ring_mm, edges_mm)
        needed.append(max(least_mm, beside_mm, _ends_mm(run, index, ring_mm) + note_mm))
    if run.splices:
        # The shortest splice dimension ends beside the piece nearest to the datum.
        nearest = 0 if run.datum_first else len(needed) - 1
        widest_mm = max(width_mm(text, DIMENSION_MM) for text in splice_texts(run))
        edge_mm = edges_mm[0] if run.datum_first else edges_mm[1]
        needed[nearest] = max(needed[nearest], max(_LEAST_SPAN_MM, widest_mm + 1.6) + edge_mm)
    return needed


def _line_mm(run: DrawnRun, line: str) -> float:
    return width_mm(line, NOTE_MM) + (LOOP_MM + LOOP_AIR_MM if line in run.extras else 0.0)


def splice_texts(run: DrawnRun) -> tuple[str, ...]:
    """Distance of each splice from the datum of the stretch, as it is printed."""
    whole_mm = run.length_mm
    from_datum = (mm if run.datum_first else whole_mm - mm for mm in run.splice_distances_mm)
    return tuple(length_words(mm, run.unit) for mm in from_datum)


def _beside_mm(run: DrawnRun, piece: int, ring_mm: tuple[float, float], edges_mm: tuple[float, float]) -> float:
    """What a piece needs where something is fixed on its run: the words and signs at both ends, and an arrow."""
    fixed = fixed_stations(run)
    if not fixed:
        return 0.0
    words_mm = arrow_mm = 0.0
    for boundary in (piece, piece + 1):
        if 0 < boundary < len(run.pieces):
            words_mm += _margin_mm(run.stations[boundary - 1])
            continue
        end = 0 if boundary == 0 else 1
        words_mm += max(ring_mm[end], edges_mm[end]) + 0.4
        if any(each.is_from_start is (end == 0) for each in fixed):
            arrow_mm = edges_mm[end] + 2 * ORIGIN_MM + ARROW_MM + 0.3
    return max(words_mm, arrow_mm)


def _margin_mm(station: Station) -> float:
    if station.fixed is None:
        return DOT_MM + 0.4
    return 0.3 + max(HALF_MM[station.fixed.kind], _ROW_HALF_MM + ROW_PITCH_MM / 2 * (len(station.fixed.rows) - 1))


def running_words_mm(run: DrawnRun) -> float:
    """Length of the longest words at a place, which stand across the bundle."""
    return max(width_mm(row, NOTE_MM) for each in fixed_stations(run) for row in each.rows)


def fixed_stations(run: DrawnRun) -> tuple[Fixed, ...]:
    """What is fixed on a run and dimensioned, from its start on."""
    return tuple(station.fixed for station in run.stations if station.fixed is not None)
