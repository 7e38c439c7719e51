"""What a rule found: a plain record that every output form is made from."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from enum import Enum
from functools import cached_property
from typing import TypeVar, overload

from harnessgen.evidence.derivation import Derivation
from harnessgen.measures.designator import natural_key
from harnessgen.measures.frozen import frozen
from harnessgen.source.characters import shortened
from harnessgen.source.fault import Fault
from harnessgen.source.place import Place


class Severity(Enum):
    """How much a finding matters; the order is the order of the report."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"

    @property
    def rank(self) -> int:
        """0 for the most serious."""
        return list(Severity).index(self)


@frozen
class Number:
    """One of the two or three numbers that decide a finding: its name, value, unit, and where it comes from."""

    name: str
    value: float
    unit: str
    source: str = ""
    decimals: int = 2
    derivation: Derivation | None = field(default=None, compare=False, repr=False)
    """Where a number comes from that belongs to the finding alone; no part of what is printed beside it."""


def derived(name: str, derivation: Derivation, source: str = "", decimals: int = 2) -> Number:
    """The number that a derivation gives."""
    return Number(name, derivation.result, derivation.unit, source, decimals, derivation)


class Direction(Enum):
    """On which side of its limit a figure has to be."""

    AT_MOST = "at most"
    AT_LEAST = "at least"


@frozen
class Deciding:
    """The figure by which a finding stands, the limit that it misses, and on which side of the limit it had to be.

    Both are among the numbers of the finding. `whole` is what a percentage of the figure is a share of, where the limit
    is such a share. `is_set` says that the limit stands in a table or in the design's limits, so that no other wire,
    part or length moves it.
    """

    number: Number
    limit: Number
    direction: Direction
    whole: Number | None = None
    is_set: bool = False

    @property
    def share(self) -> Number | None:
        """The figure as a percentage of its whole; None where it is a share of nothing."""
        if self.whole is None or self.whole.value <= 0.0:
            return None
        return Number(self.number.name, 100.0 * self.number.value / self.whole.value, "%", decimals=1)


def at_most(number: Number, limit: Number, *, whole: Number | None = None, is_set: bool = False) -> Deciding:
    """What decides where a figure may be at most its limit."""
    return Deciding(number, limit, Direction.AT_MOST, whole, is_set)


def at_least(number: Number, limit: Number, *, whole: Number | None = None, is_set: bool = False) -> Deciding:
    """What decides where a figure has to be at least its limit."""
    return Deciding(number, limit, Direction.AT_LEAST, whole, is_set)


@frozen
class Proposal:
    """A change of the file that might mend a finding: the text that would stand at `place`, said in `words`.

    A rule only proposes; what runs the changed design keeps the words as the mend if the finding is gone by it.
    `besides` are other places of the same file that change with it, each with its text. `is_other_way` marks a change
    of another kind, that is told too when an earlier one mends already. `is_probe` marks one that is never told: what
    goes away by it is a consequence of the finding. `is_advice` marks words without a change, told where nothing mends.
    A line that is added has `numbers`: that of its circuit, as `text`
    begins, and others that are free too.
    """

    place: Place
    text: str
    words: str
    besides: tuple[tuple[Place, str], ...] = ()
    is_other_way: bool = False
    is_probe: bool = False
    is_advice: bool = False
    numbers: tuple[str, ...] = ()

    @property
    def changes(self) -> tuple[tuple[Place, str], ...]:
        """All that it changes, place by place."""
        return ((self.place, self.text), *self.besides)

    def numbered(self, number: str) -> "Proposal":
        """The line that it adds, with another number for its circuit."""
        old, new = f"{self.numbers[0]}: {{", f"{number}: {{"
        text, words = self.text.replace(old, new, 1), self.words.replace(old, new, 1)
        return replace(self, text=text, words=words, numbers=(number,))


T = TypeVar("T")


@dataclass(frozen=True, eq=False)
class Later(Sequence[T]):
    """What is made when it is asked for, where it takes longer than the finding itself: proposals, other findings."""

    make: Callable[[], Iterable[T]]

    @cached_property
    def _made(self) -> tuple[T, ...]:
        return tuple(self.make())

    def __len__(self) -> int:
        """How many there are."""
        return len(self._made)

    @overload
    def __getitem__(self, index: int) -> T: ...

    @overload
    def __getitem__(self, index: slice) -> tuple[T, ...]: ...

    def __getitem__(self, index: int | slice) -> T | tuple[T, ...]:
        """One of them, or some."""
        return self._made[index]

    def __iter__(self) -> Iterator[T]:
        """All in their order."""
        return iter(self._made)


@frozen
class Finding:
    """One finding. `subject` is the builder's thing (a wire's mark, a designator), `place` the value that is to blame.

    `see` points at second places with a word each; `subjects` lists all things that share this cause, when it was
    folded; `accepted` holds the builder's reason once the design accepts it.
    `state` is the operating state that decides, and `wire` the wire at which another thing misses its limit; empty
    where there is none.
    """

    rule: str
    severity: Severity
    subject: str
    place: Place
    message: str
    numbers: tuple[Number, ...] = ()
    mend: str = ""
    see: tuple[tuple[Place, str], ...] = ()
    subjects: tuple[str, ...] = ()
    accepted: str | None = None
    proposals: Sequence[Proposal] = field(default=(), compare=False)
    """Changes worth trying, the least first; no part of what is printed."""
    remedies: tuple[str, ...] = ()
    """Everything that was computed to mend it, each with its effect, in words; printed beside the mend for people."""
    accepted_as: str = ""
    """In which state, at which wire and up to which figure it is accepted, in words."""
    state: str = ""
    wire: str = ""
    deciding: Deciding | None = None
    caused_by: str = ""
    """The `id` of the finding that this one follows from; empty where it stands by itself."""
    elsewhere: Sequence["Finding"] = field(default=(), compare=False, repr=False)
    """What the rule finds of the same thing in other states and at other wires, the worst first; not reported while
    this one is open."""
    consequences: "tuple[Finding, ...]" = ()
    """What follows from it and is told beneath it."""
    chosen: "Proposal | None" = field(default=None, compare=False, repr=False)
    """The change that `mend` tells first, where it was tried; no part of what is printed."""

    @property
    def accepted_words(self) -> str:
        """The builder's reason, after how far it is accepted where that is said."""
        return ": ".join(filter(None, (self.accepted_as, self.accepted)))

    @property
    def id(self) -> str:
        """What stays the same from run to run: rule, subject and state (`excess-drop:INJ3:boost`)."""
        return ":".join(filter(None, (self.rule, self.subject, self.state)))

    @property
    def other_remedies(self) -> tuple[str, ...]:
        """The remedies beside the one that the mend names."""
        return tuple(each for each in self.remedies if each != self.mend)

    @property
    def is_open_error(self) -> bool:
        """True for an error that nobody accepted: the harness is not for build."""
        return self.severity is Severity.ERROR and self.accepted is None


def from_fault(fault: Fault, severity: Severity = Severity.ERROR) -> Finding:
    """The finding of a fault in the file; a name that fills a page does not fill the report."""
    see = (fault.also,) if fault.also else ()
    subject, message, mend = shortened(fault.subject, 120), shortened(fault.message, 600), shortened(fault.mend, 600)
    return Finding(fault.rule, severity, subject, fault.place, message, mend=mend, see=see)


def with_consequences(findings: Iterable[Finding]) -> Iterator[Finding]:
    """Every finding, each with all that follows from it after it."""
    for each in findings:
        yield each
        yield from with_consequences(each.consequences)


@frozen
class NotExamined:
    """A rule that could not be examined, and why: it has not passed.

    `subject` is the one thing that it could not be examined for, where it was examined for others.
    """

    rule: str
    reason: str
    subject: str = ""


@frozen
class Counts:
    """How many findings of each severity stand, and how many were accepted (these are in no other count)."""

    errors: int
    warnings: int
    notes: int
    accepted: int


def counts_of(findings: Iterable[Finding]) -> Counts:
    """Count what stands and what was accepted."""
    standing = dict.fromkeys(Severity, 0)
    accepted = 0
    for each in findings:
        if each.accepted is not None:
            accepted += 1
        else:
            standing[each.severity] += 1
    return Counts(standing[Severity.ERROR], standing[Severity.WARNING], standing[Severity.NOTE], accepted)


PREMISE = "no-states"
"""The rule whose finding says on what all others rest; it comes first."""


def in_order(findings: Iterable[Finding]) -> list[Finding]:
    """What the others rest on, then the most serious first, then as they stand in the files; accepted ones last."""
    return sorted(
        findings,
        key=lambda each: (
            each.rule != PREMISE,
            each.accepted is not None,
            each.severity.rank,
            each.place.file,
            each.place.start,
            each.rule,
            natural_key(each.subject),
            each.message,
        ),
    )


def worst_first(found: Iterable[tuple[float, Finding]]) -> list[Finding]:
    """The worst finding of each thing, with the others of that thing as what is found elsewhere.

    Each comes with how bad it is, more being worse; of equal ones the first counts as the worst.
    """
    of_thing: dict[str, list[tuple[float, Finding]]] = {}
    for badness, finding in found:
        of_thing.setdefault(finding.subject, []).append((badness, finding))
    told: list[Finding] = []
    for group in of_thing.values():
        worst, *others = (finding for _, finding in sorted(group, key=lambda each: each[0], reverse=True))
        told.append(replace(worst, elsewhere=tuple(others)) if others else worst)
    return told


def accept(finding: Finding, reason: str, accepted_as: str = "") -> Finding:
    """The finding with the builder's reason, and how far it is accepted."""
    return replace(finding, accepted=reason, accepted_as=accepted_as)
