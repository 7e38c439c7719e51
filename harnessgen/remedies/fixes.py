"""Try what rules propose: change the text, run the line on it again, and keep the first change that mends."""

from collections.abc import Iterable, Mapping, Set
from dataclasses import replace

from harnessgen.evidence.finding import Finding, NotExamined, Proposal, Severity
from harnessgen.measures.frozen import frozen
from harnessgen.remedies.changes import Change, Run, changed_texts
from harnessgen.rules.acceptance import UNNEEDED
from harnessgen.rules.examine import Examination
from harnessgen.source.kind import names_in
from harnessgen.source.place import Place

MOST_RUNS = 30
"""Runs of the line that one check may spend on proposals; what is not tried gets no mend."""
_FEWEST_RUNS = 3
_WIRES_IN_ALL = 12_000
"""Wires that all these runs together may go through, so that a faulty vehicle is told of in a minute or two."""


_ERRORS_IN_ALL = 360
"""Errors times runs: where errors stand in scores they have few causes, and what overloads all takes long to solve."""


def runs_for(wires: int, errors: int = 0) -> int:
    """Runs that the check of a harness with so many wires may spend, where so many errors stand."""
    most = min(MOST_RUNS, _WIRES_IN_ALL // max(wires, 1), _ERRORS_IN_ALL // max(errors, 1))
    return max(_FEWEST_RUNS, most)


CAUSES = (
    "double-filled-cavity",
    "mate-mismatch",
    "orphan-cavity",
    "missing-ground",
    "duplicate-circuit",
    "short-circuit",
    "unfused-feed",
    "open-circuit",
    "terminal-misfit",
    "seal-misfit",
    "over-temperature",
    "wire-too-small",
    "wire-overload",
)
"""Rules whose findings bring others about, the most basic first; all other rules come after them."""

_EITHER = ("double-filled-cavity",)
"""Rules of which a finding has two wires that may be the wrong one: the mend that leaves the fewest errors is told."""


def with_mends(
    findings: Iterable[Finding], texts: Mapping[str, str], run: Run, most_runs: int = MOST_RUNS
) -> list[Finding]:
    """The findings, each open one with the words of its first proposal that mends it.

    A proposal mends when, with its text in the file, every rule can be examined, the finding is gone for all its
    subjects, and no error stands that did not stand before. A finding none of whose proposals mends, or whose turn
    comes after `most_runs` runs, keeps the mend that its rule gave it: mostly none.

    A finding that is gone by the mend of a more basic one is a consequence of it and is left out; the basic one names
    it. Findings of one rule that are gone by one mend are told as one. What stands after the mend is a fault of its own
    and stays.
    """
    listed = list(findings)
    bench = _MendBench(listed, texts, run, most_runs)
    by_cause = sorted(range(len(listed)), key=lambda index: _rank(listed[index]))
    left = dict.fromkeys(range(len(listed)))
    # What has others that are gone with it stays, or these would go untold.
    causes: set[int] = set()
    for index in by_cause:
        if index in left:
            mends = bench.mends(listed[index])
            if not mends:
                continue
            others = {other: listed[other] for other in left if other != index and other not in causes}
            listed[index], gone = _with_its_own(listed[index], mends, others)
            causes.update([index] if gone else [])
            for other in gone:
                del left[other]
    return [listed[index] for index in left]


@frozen
class _Mend:
    """A proposal that mends a finding, and what stands after it."""

    proposal: Proposal
    after: Examination
    left: Set[tuple[str, str]]
    """Rule and subject of all that stands after it."""


def _with_its_own(cause: Finding, mends: list[_Mend], others: Mapping[int, Finding]) -> tuple[Finding, list[int]]:
    """The finding with its mends and with what goes with it, and which of `others` these are.

    A mend that takes away more findings of the same rule is the one that is told, with all of them as its subjects.
    """
    like = [
        [index for index, each in others.items() if _is_like(each, cause) and _is_gone(each, mend.left)]
        for mend in mends
    ]
    most = max(like, key=len, default=[])
    if not most:
        return _told(cause, mends, others)
    subjects = dict.fromkeys(name for each in (cause, *map(others.__getitem__, most)) for name in _subjects(each))
    cause = replace(cause, subjects=tuple(subjects) if len(subjects) > 1 else ())
    rest = {index: each for index, each in others.items() if index not in most}
    cause, gone = _told(cause, [mends[like.index(most)]], rest)
    return cause, [*most, *gone]


def _told(cause: Finding, mends: list[_Mend], others: Mapping[int, Finding]) -> tuple[Finding, list[int]]:
    """The finding with the words of its mends, where to make the first, and which of `others` go with it."""
    gone = [index for index, each in others.items() if _rank(each) > _rank(cause) and _is_gone(each, mends[0].left)]
    words = "; or ".join(mend.proposal.words for mend in mends)
    place = mends[0].proposal.place
    if place.line == cause.place.line and place.end > place.start:
        # Of the values in one line the one that a passing change replaces is to blame.
        cause = replace(cause, place=place)
    elif place.line not in (each.line for each, _ in cause.see):
        said = "the mend is made here" if place.end > place.start else "the mend is a line before this one"
        cause = replace(cause, see=(*cause.see, (place, said)))
    if gone:
        named = names_in(dict.fromkeys(f"{others[index].rule} ({others[index].subject})" for index in gone))
        words = f"{words}; this mends {named} too"
    return replace(cause, mend=words), gone


def _is_like(finding: Finding, cause: Finding) -> bool:
    return (finding.rule, finding.severity) == (cause.rule, cause.severity)


def _is_gone(finding: Finding, left: Set[tuple[str, str]]) -> bool:
    """True for an open finding that is not among what is `left`; notes and acceptances are let be."""
    is_judged = finding.accepted is None and finding.severity is not Severity.NOTE and finding.rule != UNNEEDED
    return is_judged and left.isdisjoint(_keys(finding))


def _rank(finding: Finding) -> int:
    return CAUSES.index(finding.rule) if finding.rule in CAUSES else len(CAUSES)


class _MendBench:
    def __init__(self, findings: list[Finding], texts: Mapping[str, str], run: Run, most_runs: int) -> None:
        self.texts = texts
        self.run = run
        self.runs_left = most_runs
        self.errors = {key for each in findings if each.is_open_error for key in _keys(each)}
        self.tried: dict[tuple[tuple[Place, str], ...], Examination] = {}

    def mends(self, finding: Finding) -> list[_Mend]:
        """The first proposal that mends the finding, and the first of those that go another way."""
        found: list[_Mend] = []
        for is_other_way in (False, True) if finding.accepted is None else ():
            mending: list[_Mend] = []
            for proposal in finding.proposals:
                after = self._after(proposal) if proposal.is_other_way is is_other_way else None
                if after is not None and self._mends(after, finding):
                    mending.append(_Mend(proposal, after, _all_keys(after)))
                    if not self._stands(after, finding) and finding.rule not in _EITHER:
                        break
            settling = [each for each in mending if not self._stands(each.after, finding)] or mending[:1]
            found += sorted(settling, key=lambda each: _errors(each.after))[:1]
        return found

    def _stands(self, after: Examination, finding: Finding) -> bool:
        """True when an error stands on what the finding is about, which a bolder change may mend as well."""
        return any(
            each.is_open_error and not set(_subjects(each)).isdisjoint(_subjects(finding)) for each in after.findings
        )

    def _mends(self, after: Examination, finding: Finding) -> bool:
        if any(not each.subject or _is_of(each, finding) for each in after.not_examined):
            return False
        left = _all_keys(after)
        errors = {key for each in after.findings if each.is_open_error for key in _keys(each)}
        return not left & _keys(finding) and errors <= self.errors

    def _after(self, proposal: Proposal) -> Examination | None:
        """What stands once the proposal is in the file; None when that cannot be tried any more."""
        changes = ((proposal.place, proposal.text), *proposal.besides)
        key = tuple((place._replace(pattern=""), new) for place, new in changes)
        if key in self.tried:
            return self.tried[key]
        if proposal.place.file not in self.texts or self.runs_left == 0:
            return None
        self.runs_left -= 1
        self.tried[key] = self.run(changed_texts(self.texts, (Change(place, new) for place, new in key)))
        return self.tried[key]


def _is_of(skipped: NotExamined, finding: Finding) -> bool:
    """Whether a rule could not be examined for what a finding of it is about: the finding is gone, and not mended."""
    return skipped.rule == finding.rule and skipped.subject in _subjects(finding)


def _errors(after: Examination) -> int:
    return sum(each.is_open_error for each in after.findings)


def _all_keys(after: Examination) -> set[tuple[str, str]]:
    return {key for each in after.findings for key in _keys(each)}


def _keys(finding: Finding) -> set[tuple[str, str]]:
    return {(finding.rule, subject) for subject in _subjects(finding)}


def _subjects(finding: Finding) -> tuple[str, ...]:
    return finding.subjects or (finding.subject,)
