"""Whether clips, tape and grommets lie on the stretches that name them: each of these checks is a fault of the file."""

from collections.abc import Iterator
from itertools import pairwise

from harnessgen.design.records.design import Design
from harnessgen.design.records.fixings import CLIP, GROMMET, TAPE, Clips, Fixing, Fixings, Grommet
from harnessgen.measures.quantity import plain_number
from harnessgen.parts.library import Parts
from harnessgen.source.fault import Fault
from harnessgen.source.near import did_you_mean

_HAIR_MM = 1e-6


def senseless_fixings(design: Design, parts: Parts) -> Iterator[Fault]:
    """Every fault of this kind."""
    for start, stretches in design.route.items():
        for end, stretch in stretches.items():
            if stretch.clips is not None or stretch.tape or stretch.grommets:
                yield from _on_stretch(stretch.fixings(start, end), parts)


def _on_stretch(held: Fixings, parts: Parts) -> Iterator[Fault]:
    name = f"{held.start} to {held.end}"
    if held.clips is not None:
        yield from _clips(held.clips, name)
    # A tape of an unknown family is told by that name.
    widths_mm = {tape.part: parts.tapes[tape.part].width_mm.value for tape in held.tapes if tape.part in parts.tapes}
    found = held.all(widths_mm)
    for fixing in found:
        yield from _place(held, fixing, name)
    for grommet in held.grommets.values():
        yield from _grommet(grommet)
    yield from _rising(held, name)
    tapes = [each for each in found if each.kind == TAPE and each.name in widths_mm]
    for one, other in pairwise(tapes):
        if other.low_mm < one.high_mm - _HAIR_MM:
            message = f"Two tapes on the stretch {name} lie on one another."
            also = (one.record.place, f"{one.name} reaches from {_mm(one.low_mm)} to {_mm(one.high_mm)}")
            mend = f"begin it {_mm(one.high_mm)} from {held.start}, or leave one of the two out"
            yield Fault("bad-value", other.record.place, message, mend, also, subject=name)


def _mm(length_mm: float) -> str:
    return f"{plain_number(length_mm, 1)} mm"


def _clips(clips: Clips, name: str) -> Iterator[Fault]:
    if clips.every_mm is not None and clips.set_at:
        message = f"The clips of the stretch {name} have a distance, and places besides."
        yield Fault("bad-value", clips.where("every_mm"), message, "leave one of the two out", subject=name)
    elif clips.every_mm is None and not clips.set_at:
        message = f"The clips of the stretch {name} have neither a distance nor places."
        yield Fault("missing-key", clips.place, message, "add every: or at:", subject=name)


def _place(held: Fixings, fixing: Fixing, name: str) -> Iterator[Fault]:
    from_: str = getattr(fixing.record, "from_", "")
    what = fixing.name if fixing.kind == GROMMET else f"{fixing.name} tape" if fixing.kind == TAPE else "The clip"
    if from_ and from_ not in (held.start, held.end):
        message = f"{from_} is no end of the stretch {name}."
        mend = did_you_mean(from_, [held.start, held.end])
        yield Fault("unknown-reference", fixing.record.where("from_"), message, mend, subject=fixing.name or name)
        return
    whole_mm = held.length_mm
    is_beyond = fixing.low_mm < -_HAIR_MM or fixing.high_mm > whole_mm + _HAIR_MM
    if fixing.kind != TAPE:
        is_beyond = fixing.low_mm < _HAIR_MM or fixing.high_mm > whole_mm - _HAIR_MM
    if not is_beyond:
        return
    place = fixing.record.where("at_mm" if fixing.place is not None else "length_mm")
    other = held.end if fixing.is_from_start else held.start
    if fixing.kind != TAPE:
        assert fixing.place is not None
        message = f"{what} lies {_mm(fixing.place.value)} along a stretch of {_mm(whole_mm)}."
        mend = f"measure it from {other}, or shorten the distance"
    else:
        low_mm, high_mm = fixing.low_mm, fixing.high_mm
        message = f"The {what} reaches from {_mm(low_mm)} to {_mm(high_mm)} of a stretch of {_mm(whole_mm)}."
        mend = "shorten it, or move its middle"
    yield Fault("bad-value", place, message, mend, subject=fixing.name or name)


def _rising(held: Fixings, name: str) -> Iterator[Fault]:
    """Clips that are not in order, or at one place: a figure among them was mistyped."""
    clips = [each for each in held.all({}) if each.kind == CLIP]
    for one, other in pairwise(clips):
        if other.low_mm - one.low_mm < _HAIR_MM:
            message = f"Two clips of the stretch {name} are at the same place."
            later = max(one.record.place, other.record.place, key=lambda place: (place.line, place.column))
            yield Fault("bad-value", later, message, "leave one of the two out", subject=name)
    places = held.clips.set_at if held.clips is not None else ()
    for is_end in (False, True):
        own = [clip for clip in places if clip.from_ in ((held.end,) if is_end else ("", held.start))]
        for before, after in pairwise(own):
            if after.at_mm.value < before.at_mm.value:
                message = (
                    f"A clip {_mm(after.at_mm.value)} along the stretch {name} stands after one at"
                    f" {_mm(before.at_mm.value)}."
                )
                mend = "write those from one end in rising order"
                yield Fault("bad-value", after.where("at_mm"), message, mend, subject=name)


def _grommet(grommet: Grommet) -> Iterator[Fault]:
    if grommet.hole_mm is not None and grommet.hole_mm.value <= grommet.bore_mm.value:
        message = (
            f"{grommet.name} has a bore of {_mm(grommet.bore_mm.value)} in a hole of {_mm(grommet.hole_mm.value)}."
        )
        mend = "the hole in the panel is wider than the bore: mend one of the two"
        yield Fault("bad-value", grommet.where("hole_mm"), message, mend, subject=grommet.name)
