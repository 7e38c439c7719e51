"""What a rule found: a plain record that every output form is made from."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from enum import Enum
from functools import cached_property
from typing import overload

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


@dataclass(frozen=True, eq=False)
class Later(Sequence[Proposal]):
    """Proposals that are made when they are asked for, where they take longer than the finding itself."""

    make: Callable[[], Iterable[Proposal]]

    @cached_property
    def _made(self) -> tuple[Proposal, ...]:
        return tuple(self.make())

    def __len__(self) -> int:
        """How many there are."""
        return len(self._made)

    @overload
    def __getitem__(self, index: int) -> Proposal: ...

    @overload
    def __getitem__(self, index: slice) -> tuple[Proposal, ...]: ...

    def __getitem__(self, index: int | slice) -> Proposal | tuple[Proposal, ...]:
        """One of them, or some."""
        return self._made[index]

    def __iter__(self) -> Iterator[Proposal]:
        """All in their order."""
        return iter(self._made)


@frozen
class Finding:
    """One finding. `subject` is the builder's thing (a wire's mark, a designator), `place` the value that is to blame.

    `see` points at second places with a word each; `subjects` lists all things that share this cause, when it was
    folded; `accepted` holds the builder's reason once the design accepts it.
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
    caused_by: str = ""
    """The `id` of the finding that it follows from; empty where it stands by itself."""
    consequences: "tuple[Finding, ...]" = ()
    """What follows from it and is told beneath it."""
    chosen: "Proposal | None" = field(default=None, compare=False, repr=False)
    """The change that `mend` tells first, where it was tried; no part of what is printed."""

    @property
    def id(self) -> str:
        """What a consequence names as its cause: rule and subject."""
        return f"{self.rule}:{self.subject}"

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


def accept(finding: Finding, reason: str) -> Finding:
    """The finding with the builder's reason."""
    return replace(finding, accepted=reason)
