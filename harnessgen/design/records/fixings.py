"""What is fixed on a stretch of the route: clips, tape and grommets, each placed from one of its two ends."""

from collections.abc import Iterator, Mapping

from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import LENGTH, RATIO, Quantity
from harnessgen.source.container import ListOf, RecordOf
from harnessgen.source.key import Record, key, record
from harnessgen.source.kind import Choice, Name, Ref, Text
from harnessgen.source.measure_kind import Measure

_FROM = "Which of the two ends of the stretch the distance is measured from."
_START = "the point under which the stretch stands"


@record
class Clip(Record):
    """One clip: the distance of its middle from an end of the stretch, with the tolerance to set it to."""

    at_mm: Quantity = key("at", Measure(LENGTH, above=0), "Distance of its middle, with the tolerance to build it to.")
    from_: str = key("from", Name("point"), _FROM, default="", default_words=_START)

    noun = "a clip"
    shorthand = "at_mm"


@record
class Clips(Record):
    """The clips that hold a stretch: how far apart they are, or where each of them sits."""

    every_mm: Quantity | None = key(
        "every", Measure(LENGTH, above=0), "Distance between them, where nobody says where each one sits.", default=None
    )
    set_at: tuple[Clip, ...] = key(
        "at", ListOf(RecordOf(Clip)), "Where each of them sits; those from one end in rising order.", default=()
    )
    title: str = key("title", Text(), "What they are, in words.", default="", default_words="clip")

    noun = "clips"
    shorthand = "every_mm"
    example = """\
route:
  fusebox:
    b1: {length: 900 mm, clips: 450 mm}
    b2: {length: 900 mm, clips: {title: "lined clip, M6", at: [250 +/- 5 mm, 600 mm, {at: 80 mm, from: b2}]}}
"""


@record
class Tape(Record):
    """Tape wound on a stretch.

    With a length alone it begins at the end of the stretch; with a place alone it is a spot of tape, one width long;
    with neither it is wound over all of the stretch.
    """

    part: str = key("part", Ref("tape family"), "Tape family.")
    at_mm: Quantity | None = key(
        "at",
        Measure(LENGTH, above=0),
        "Distance of its middle, with the tolerance to build it to.",
        default=None,
        default_words="it begins at that end",
    )
    from_: str = key("from", Name("point"), _FROM, default="", default_words=_START)
    length_mm: Quantity | None = key(
        "length",
        Measure(LENGTH, above=0),
        "How much of the stretch it covers.",
        default=None,
        default_words="its width, or without a place all of the stretch",
    )
    lap: Quantity = key(
        "lap",
        Measure(RATIO, lowest=0, highest=0.9),
        "Share of its width that each turn lies over the one before; common practice, no source.",
        default=Quantity(0.5),
        default_words="50 %",
    )

    noun = "a tape"
    shorthand = "part"
    example = """\
route:
  b1:
    b2: {length: 400 mm, tape: [{part: pvc-19, length: 40 mm}, {part: pvc-19, at: 200 +/- 5 mm}]}
    b3: {length: 250 mm, tape: fleece-19}
"""


@record
class Grommet(Record):
    """A grommet through which a stretch passes a panel."""

    at_mm: Quantity = key("at", Measure(LENGTH, above=0), "Distance of its middle, with the tolerance to build it to.")
    from_: str = key("from", Name("point"), _FROM, default="", default_words=_START)
    bore_mm: Quantity = key("bore", Measure(LENGTH, above=0), "Inside diameter, through which the bundle goes.")
    hole_mm: Quantity | None = key(
        "hole",
        Measure(LENGTH, above=0),
        "Diameter of the hole in the panel, through which one side of the finished harness has to pass.",
        default=None,
    )
    split: str = key(
        "split",
        Choice(("yes", "no")),
        "Whether it is slit, so that it goes onto the finished bundle.",
        default="no",
        default_words="no",
    )
    title: str = key("title", Text(), "What it is or where, in words.", default="", default_words="grommet")

    noun = "a grommet"
    example = """\
route:
  fusebox:
    dash:
      length: 620 mm
      grommets: {GR1: {at: 60 +/- 5 mm, from: dash, bore: 16 mm, hole: 24 mm, title: firewall}}
"""


CLIP, TAPE, GROMMET = "clip", "tape", "grommet"


@frozen
class Fixing:
    """A clip, a tape or a grommet on a stretch.

    `low_mm` and `high_mm` are the parts of the stretch that it takes, measured from the stretch's first point; of a
    clip and a grommet both are their middle. `datum` is the end that its place is measured from, `place` the distance
    of its middle from there; None where it begins at its datum or covers all of the stretch.
    """

    kind: str
    name: str
    record: Record
    datum: str
    is_from_start: bool
    place: Quantity | None
    low_mm: float
    high_mm: float

    @property
    def length_mm(self) -> float:
        """How much of the stretch it covers; 0 of a clip and a grommet."""
        return self.high_mm - self.low_mm


@frozen
class Fixings:
    """What a stretch has under its keys for clips, tape and grommets, and its two ends and its length."""

    start: str
    end: str
    length_mm: float
    clips: Clips | None
    tapes: tuple[Tape, ...]
    grommets: Mapping[str, Grommet]

    def all(self, widths_mm: Mapping[str, float]) -> tuple[Fixing, ...]:
        """All that has a place, from the first point on; `widths_mm` are the widths of the tape families."""
        return tuple(sorted(self._found(widths_mm), key=lambda each: (each.low_mm + each.high_mm, each.kind)))

    def _found(self, widths_mm: Mapping[str, float]) -> Iterator[Fixing]:
        for clip in self.clips.set_at if self.clips is not None else ():
            yield self._fixing(CLIP, "", clip, clip.from_, clip.at_mm, 0.0)
        for tape in self.tapes:
            yield self._tape(tape, widths_mm.get(tape.part, 0.0))
        for name, grommet in self.grommets.items():
            yield self._fixing(GROMMET, name, grommet, grommet.from_, grommet.at_mm, 0.0)

    def _tape(self, tape: Tape, width_mm: float) -> Fixing:
        if tape.at_mm is None and tape.length_mm is None:
            is_from_start = tape.from_ != self.end
            datum = self.start if is_from_start else self.end
            return Fixing(TAPE, tape.part, tape, datum, is_from_start, None, 0.0, self.length_mm)
        long_mm = tape.length_mm.value if tape.length_mm is not None else width_mm
        return self._fixing(TAPE, tape.part, tape, tape.from_, tape.at_mm, long_mm)

    def _fixing(self, kind: str, name: str, what: Record, from_: str, at_mm: Quantity | None, long_mm: float) -> Fixing:
        is_from_start = from_ != self.end
        middle_mm = at_mm.value if at_mm is not None else long_mm / 2
        low_mm, high_mm = middle_mm - long_mm / 2, middle_mm + long_mm / 2
        if not is_from_start:
            low_mm, high_mm = self.length_mm - high_mm, self.length_mm - low_mm
        datum = self.start if is_from_start else self.end
        return Fixing(kind, name, what, datum, is_from_start, at_mm, low_mm, high_mm)
