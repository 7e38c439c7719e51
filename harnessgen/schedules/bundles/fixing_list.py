"""The clips, tape and grommets of a section: where each goes, around what, and how much tape it takes."""

import math
from collections.abc import Iterator

from harnessgen.design.limits.table import limit
from harnessgen.design.records.fixings import CLIP, GROMMET, TAPE, Clips, Fixing, Grommet, Tape
from harnessgen.lengths.bundles.grommets import all_slides, slide_name
from harnessgen.lengths.bundles.slide_order import SlideOn
from harnessgen.lengths.bundles.stretch import stretch_bundle
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import Quantity, plain_number
from harnessgen.network.fixings import fixings_on, leg_at
from harnessgen.network.network import HarnessSection, Network
from harnessgen.network.route import Leg
from harnessgen.parts.covering import TapePart
from harnessgen.schedules.bundles.assembly_order import before_words
from harnessgen.schedules.bundles.bundle_list import supports
from harnessgen.schedules.bundles.covering_list import covered_mm
from harnessgen.schedules.tables.length_text import dimension_words, in_inches, inches_up, length_words
from harnessgen.schedules.tables.table import Column, Medium, Table, in_unit, number_column, tick_column


@frozen
class FixingRow:
    """One thing to put on a stretch, or `count` clips of which only the distance is said.

    `place` is its distance from `datum` in words. `around_mm` is the bundle there, over its covering; `covers_mm` and
    `cut_mm` are how much of the stretch a tape covers, and how much tape that takes. `title` is the design's own word.
    """

    section: str
    kind: str
    name: str
    what: str
    stretch: str
    place: str
    datum: str
    count: int
    around_mm: float | None
    covers_mm: float | None = None
    cut_mm: float | None = None
    goes_on: str = ""
    title: str = ""


def fixing_rows(network: Network, section: HarnessSection) -> tuple[FixingRow, ...]:
    """Clips, tape and grommets of a section, stretch by stretch in the order of its route."""
    parts: dict[tuple[str, str], list[Leg]] = {}
    for leg in section.legs:
        if leg.stretch.clips is not None or leg.stretch.tape or leg.stretch.grommets:
            parts.setdefault((leg.from_point, leg.to_point), []).append(leg)
    slides = {each.thing: each for each in all_slides(network, section)} if parts else {}
    return tuple(row for legs in parts.values() for row in _of_stretch(network, section, legs, slides))


def _of_stretch(
    network: Network, section: HarnessSection, legs: list[Leg], slides: dict[str, SlideOn]
) -> Iterator[FixingRow]:
    clips, unit = legs[0].stretch.clips, network.design.units.length
    if clips is not None and clips.every_mm is not None:
        bundle = stretch_bundle(network, legs)
        if bundle is not None:
            count, _ = supports(network, bundle, covered_mm(legs[0]))
            place = f"every {length_words(clips.every_mm.value, unit)}"
            what = clips.title or CLIP
            yield FixingRow(section.number, CLIP, "", what, legs[0].name, place, "", count, _outside_mm(network, legs))
    for fixing in fixings_on(network, legs[0]):
        middle_mm = (fixing.low_mm + fixing.high_mm) / 2
        is_tape = fixing.kind == TAPE
        around_mm = _outside_mm(network, legs if is_tape else [leg_at(legs, middle_mm)])
        part = network.parts.tapes[fixing.name] if is_tape else None
        slide = slides.get(slide_name(fixing.name))
        before = before_words(slide) if slide is not None else ""
        yield FixingRow(
            section.number,
            fixing.kind,
            fixing.name,
            _what(fixing, clips, part),
            legs[0].name,
            _place(fixing, unit),
            fixing.datum,
            1,
            around_mm,
            fixing.length_mm if is_tape else None,
            _cut_mm(network, fixing, part, around_mm) if part is not None else None,
            f"from {slide.side}, before {before}" if slide is not None and before else "",
            fixing.record.title if isinstance(fixing.record, Grommet) else "",
        )


def _outside_mm(network: Network, legs: list[Leg]) -> float | None:
    bundle = stretch_bundle(network, legs)
    return bundle.outside_mm if bundle is not None else None


def _what(fixing: Fixing, clips: Clips | None, part: TapePart | None) -> str:
    """What it is, in words, with what one asks for in a shop."""
    if part is not None:
        return part.title
    if isinstance(fixing.record, Grommet):
        return grommet_words(fixing.record)
    return (clips.title if clips is not None else "") or CLIP


def grommet_words(grommet: Grommet) -> str:
    """A grommet by its sizes: `grommet, slit, bore 14 mm, for a hole of 24 mm`."""
    words = f"grommet{', slit' if grommet.split == 'yes' else ''}, bore {plain_number(grommet.bore_mm.value, 1)} mm"
    if grommet.hole_mm is None:
        return words
    return f"{words}, for a hole of {plain_number(grommet.hole_mm.value, 1)} mm"


def _place(fixing: Fixing, unit: str) -> str:
    if fixing.place is not None:
        tolerance = Quantity(0.0, fixing.place.plus, fixing.place.minus)
        return dimension_words(fixing.place.value, tolerance, unit)
    assert isinstance(fixing.record, Tape)
    if fixing.record.length_mm is None:
        return "over all"
    return f"to {length_words(fixing.length_mm, unit)}"


def _cut_mm(network: Network, fixing: Fixing, part: TapePart, around_mm: float | None) -> float:
    """The tape that goes on: turns of a helix that advances by what the lap leaves of the width, rounded up."""
    assert isinstance(fixing.record, Tape)
    advance_mm = part.width_mm.value * (1.0 - fixing.record.lap.value)
    turn_mm = math.hypot(math.pi * (around_mm or 0.0), advance_mm)
    step_mm = limit("cutting-step", network.design.limits).value.value
    return max(math.ceil(fixing.length_mm / advance_mm * turn_mm / step_mm - 1e-9), 1) * step_mm


def _columns(unit: str) -> tuple[Column[FixingRow], ...]:
    has_inches = in_inches(unit)
    every: tuple[Column[FixingRow], ...] = (
        Column("section", "section", lambda row: row.section, on=Medium.CSV),
        Column("kind", "put on", lambda row: row.kind),
        Column("name", "name", lambda row: row.name),
        Column("what", "what it is", lambda row: f"{row.title}, {row.what}" if row.title else row.what),
        Column("stretch", "stretch", lambda row: row.stretch),
        Column("place", "place", lambda row: row.place, "in" if has_inches else "mm"),
        Column("datum", "from", lambda row: row.datum),
        number_column("count", "pieces", "", lambda row: row.count, 0),
        number_column("around_mm", "around", "mm", lambda row: row.around_mm),
        number_column("covers_mm", "covers", "mm", lambda row: row.covers_mm),
        number_column("cut_mm", "tape", "mm", lambda row: row.cut_mm),
        Column("cut_in", "tape", lambda row: _inches(row.cut_mm), "in", is_inches=True),
        Column("goes_on", "slide on", lambda row: row.goes_on),
        tick_column(),
    )
    return in_unit(every, has_inches=has_inches)


def _inches(cut_mm: float | None) -> str:
    return inches_up(cut_mm) if cut_mm is not None else ""


def fixing_table(network: Network, rows: tuple[FixingRow, ...], section: HarnessSection) -> Table[FixingRow]:
    """The list of a section; in a design in inches or feet the tape to cut stands in inches too."""
    columns = _columns(network.design.units.length)
    return Table("fixing-list", f"Clips, tape and grommets {section.number}", columns, rows, _notes(rows))


def _notes(rows: tuple[FixingRow, ...]) -> tuple[str, ...]:
    notes = [
        "Place is that of the middle, with the tolerance to set it to; of a tape that begins at its datum, its end."
    ]
    if any(row.kind == TAPE for row in rows):
        notes.append(
            "Tape is wound in turns that lie over one another; its length is that of the helix around the bundle, and"
            " ends of a turn come on top (common practice, no source)."
        )
    if any(row.kind == GROMMET and row.goes_on for row in rows):
        notes.append("Slide on: grommets that do not pass what is finished beyond them; see the order of assembly.")
    return tuple(notes)
