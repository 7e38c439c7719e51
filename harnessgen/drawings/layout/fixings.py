"""Clips, tape and grommets as a drawing sees them: where along a run, and in which words their places are said."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from harnessgen.design.records.fixings import CLIP, GROMMET, TAPE, Fixing
from harnessgen.measures.quantity import Quantity
from harnessgen.network.fixings import fixings_on
from harnessgen.network.network import Network
from harnessgen.network.route import Leg
from harnessgen.schedules.tables.length_text import dimension_words, length_words
from harnessgen.sheets.mark_kind import MarkKind

MOST_FIXED = 24
"""Places on a stretch that a layout dimensions; of more only the number is noted. The formboard shows all."""

_KINDS = {CLIP: MarkKind.CLIP, TAPE: MarkKind.TAPE, GROMMET: MarkKind.GROMMET}


@dataclass(frozen=True, slots=True)
class Fixed:
    """A clip, a tape or a grommet on a run.

    `low_mm` and `high_mm` are what it takes of the run, from its start; `at_mm` the place that is dimensioned, from
    whichever end `is_from_start` says: the middle, or the far end of a tape that begins at its datum; None of a tape
    over all of the run. `head` says what it is (empty of a clip), `place` its distance from `datum`, in words.
    """

    kind: MarkKind
    name: str
    low_mm: float
    high_mm: float
    at_mm: float | None
    is_from_start: bool
    head: str
    place: str
    datum: str

    @property
    def rows(self) -> tuple[str, ...]:
        """The words at its dimension."""
        return (self.head, self.place) if self.head else (self.place,)

    def turned(self, whole_mm: float) -> "Fixed":
        """The same on the run seen from its other end."""
        return replace(
            self,
            low_mm=whole_mm - self.high_mm,
            high_mm=whole_mm - self.low_mm,
            at_mm=None if self.at_mm is None else whole_mm - self.at_mm,
            is_from_start=not self.is_from_start,
        )


@dataclass(frozen=True, slots=True)
class Station:
    """A place along a run between two of its pieces: a splice, or something fixed there."""

    name: str
    fixed: Fixed | None = None

    @property
    def is_splice(self) -> bool:
        """Whether a splice sits there."""
        return self.fixed is None


def fixed_on(network: Network, leg: Leg) -> tuple[Fixed, ...]:
    """What is fixed on the stretch of a leg, from its first point on."""
    unit = network.design.units.length
    whole_mm = leg.stretch.length_mm.value
    return tuple(_fixed(each, whole_mm, unit) for each in fixings_on(network, leg))


def _fixed(fixing: Fixing, whole_mm: float, unit: str) -> Fixed:
    kind, is_from_start = _KINDS[fixing.kind], fixing.is_from_start
    is_whole = fixing.kind == TAPE and fixing.place is None and fixing.length_mm >= whole_mm - 1e-9
    if is_whole:
        name = f"{fixing.name} over all from {fixing.datum}"
        return Fixed(kind, name, 0.0, whole_mm, None, is_from_start, fixing.name, "over all", fixing.datum)
    if fixing.place is not None:
        at_mm = (fixing.low_mm + fixing.high_mm) / 2
        place = dimension_words(fixing.place.value, Quantity(0.0, fixing.place.plus, fixing.place.minus), unit)
    else:
        at_mm = fixing.high_mm if is_from_start else fixing.low_mm
        place = f"to {length_words(fixing.length_mm, unit)}"
    head = {CLIP: "", GROMMET: fixing.name, TAPE: fixing.name}[fixing.kind]
    if fixing.kind == TAPE and fixing.place is not None:
        head = f"{head}, {length_words(fixing.length_mm, unit)} long"
    name = fixing.name if fixing.kind == GROMMET else f"{fixing.name or 'clip'} {place} from {fixing.datum}"
    return Fixed(kind, name, fixing.low_mm, fixing.high_mm, at_mm, is_from_start, head, place, fixing.datum)


def stations_of(splices: list[tuple[float, str]], fixed: tuple[Fixed, ...]) -> list[tuple[float, Station]]:
    """Splices (with their distances from the start, mm) and what is fixed, in order."""
    found = [(mm, Station(name)) for mm, name in splices]
    found += [(each.at_mm, Station(each.name, each)) for each in fixed if each.at_mm is not None]
    return sorted(found, key=lambda each: (each[0], not each[1].is_splice, each[1].name))


def over_all(fixed: tuple[Fixed, ...]) -> Iterator[str]:
    """Tapes that are wound over all of a run, in words."""
    return (f"{each.head} {each.place}" for each in fixed if each.at_mm is None)
