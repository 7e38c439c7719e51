"""Try what rules propose: change the text, run the line on it again, and keep the first change that mends."""

from collections.abc import Iterable, Iterator, Mapping, Set
from dataclasses import replace

from harnessgen.evidence.finding import Finding, NotExamined, Proposal, Severity, in_order
from harnessgen.measures.frozen import frozen
from harnessgen.remedies.changes import Change, OverlappingChanges, Run, changed_texts
from harnessgen.rules.acceptance import UNNEEDED
from harnessgen.rules.examine import Examination
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
    "shared-tab",
    "unfused-feed",
    "open-circuit",
    "terminal-misfit",
    "seal-misfit",
    "over-temperature",
    "wire-too-small",
    "wire-overload",
    "fuse-too-small",
    "fuse-too-large",
)
"""Rules whose findings bring others about, the most basic first; all other rules come after them."""

_SEVERAL = 4
"""So many findings have to go with a cause that no rule tells."""

_EITHER = ("double-filled-cavity", "shared-tab")
"""Rules of which a finding has two wires that may be the wrong one: the mend that leaves the fewest errors is told."""


def with_mends(
    findings: Iterable[Finding],
    texts: Mapping[str, str],
    run: Run,
    most_runs: int = MOST_RUNS,
    suspects: Iterable[Finding] = (),
) -> list[Finding]:
    """The findings, each open one with the words of its first proposal that mends it.

    A proposal mends when, with its text in the file, every rule can be examined, the finding is gone for all its
    subjects, nothing that stood at a place which it changes is left, and no error stands that did not stand before. No
    two mends of one list write different things at one place, or give two circuits one number. A finding none of whose
    proposals mends, or whose turn comes after `most_runs` runs, keeps the mend that its rule gave it: mostly none.

    A finding that is gone by the mend of a more basic one, or by a probe of it, is a consequence of it and is folded
    beneath it. Findings of one rule that are gone by one mend are told as one. What stands after the mend is a fault of
    its own and stays. Of `suspects`, causes that no rule tells, those are told whose probe takes several findings away.
    """
    listed = list(findings)
    bench = _MendBench(listed, texts, run, most_runs)
    listed = [*(each for each in suspects if bench.explains(each, listed)), *listed]
    by_cause = sorted(range(len(listed)), key=lambda index: _rank(listed[index]))
    left = dict.fromkeys(range(len(listed)))
    # What has others that are gone with it stays, or these would go untold.
    causes: set[int] = set()
    for index in by_cause:
        if index in left:
            others = {other: listed[other] for other in left if other != index and other not in causes}
            mends = bench.mends(listed[index])
            if mends:
                listed[index], gone = _with_its_own(listed[index], mends, others)
                bench.tell(mends, listed[index])
            else:
                listed[index], gone = bench.advised(listed[index]), []
            rest = {other: each for other, each in others.items() if other not in gone}
            listed[index], more = _probed(listed[index], bench.probes(listed[index]), rest)
            causes.update([index] if gone or more else [])
            for other in (*gone, *more):
                del left[other]
    return bench.together([listed[index] for index in left])


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
    mends[:] = [mends[like.index(most)]]
    cause, gone = _told(cause, mends, rest)
    return cause, [*most, *gone]


def _told(cause: Finding, mends: list[_Mend], others: Mapping[int, Finding]) -> tuple[Finding, list[int]]:
    """The finding with the words of its mends, where to make the first, and which of `others` go with it."""
    words = "; or ".join(mend.proposal.words for mend in mends)
    place = mends[0].proposal.place
    if place.line == cause.place.line and place.end > place.start:
        # Of the values in one line the one that a passing change replaces is to blame.
        cause = replace(cause, place=place)
    elif place.line not in (each.line for each, _ in cause.see):
        said = "the mend is made here" if place.end > place.start else "the mend is a line before this one"
        cause = replace(cause, see=(*cause.see, (place, said)))
    return _folded(replace(cause, mend=words, chosen=mends[0].proposal), mends[0].left, others)


def _folded(cause: Finding, after: Set[tuple[str, str]], others: Mapping[int, Finding]) -> tuple[Finding, list[int]]:
    """The finding with those of `others` beneath it that are less basic and not among what is left `after` its mend."""
    gone = [index for index, each in others.items() if _rank(each) > _rank(cause) and _is_gone(each, after)]
    beneath = [replace(others[index], caused_by=cause.id) for index in gone]
    return replace(cause, consequences=(*cause.consequences, *in_order(beneath))), gone


def _probed(cause: Finding, probes: Iterable[Examination], others: Mapping[int, Finding]) -> tuple[Finding, list[int]]:
    all_gone: list[int] = []
    for after in probes:
        rest = {index: each for index, each in others.items() if index not in all_gone}
        cause, gone = _folded(cause, _all_keys(after), rest)
        all_gone += gone
    return cause, all_gone


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
        self.judged = [each for each in findings if each.accepted is None and each.severity is not Severity.NOTE]
        self.tried: dict[tuple[tuple[Place, str], ...], Examination] = {}
        self.told: dict[Place, str] = {}
        """What the mends that are told so far write, by place."""
        self.numbers: set[str] = set()
        """Circuits that they add."""

    def tell(self, mends: Iterable[_Mend], finding: Finding) -> None:
        """Keep what the mends of a finding write; another may not write something else there."""
        for mend in mends:
            self.told.update({place._replace(pattern=""): text for place, text in mend.proposal.changes})
            self.numbers.update(mend.proposal.numbers[:1])

    def mends(self, finding: Finding) -> list[_Mend]:
        """The first proposal that mends the finding, and the first of those that go another way."""
        found: list[_Mend] = []
        # Of several, the one that leaves the fewest errors is told: which wire was meant, how cool a zone has to be.
        is_either = finding.rule in _EITHER or any(each.is_probe for each in finding.proposals)
        for is_other_way in (False, True) if finding.accepted is None else ():
            mending: list[_Mend] = []
            for proposal in map(self._renumbered, finding.proposals):
                if (
                    proposal.is_probe
                    or proposal.is_advice
                    or proposal.is_other_way is not is_other_way
                    or self._contradicts(proposal)
                ):
                    continue
                after = self._after(proposal)
                if after is not None and self._mends(after, finding, proposal):
                    mending.append(_Mend(proposal, after, _all_keys(after)))
                    if not self._stands(after, finding) and not is_either:
                        break
            settling = [each for each in mending if not self._stands(each.after, finding)] or mending[:1]
            found += sorted(settling, key=lambda each: _errors(each.after))[:1]
        return found

    def advised(self, finding: Finding) -> Finding:
        """The finding with advice of its rule in place of a mend, where it has any and stands."""
        own = finding.proposals if finding.accepted is None and not self.is_spent else ()
        words = next((each.words for each in own if each.is_advice), finding.mend)
        return replace(finding, mend=words)

    @property
    def is_spent(self) -> bool:
        """True where no run is left."""
        return self.runs_left == 0

    def probes(self, finding: Finding) -> Iterator[Examination]:
        """What stands with each probe of the finding, where it is gone by it and nothing goes unexamined."""
        for proposal in finding.proposals if finding.accepted is None and len(self.judged) > 1 else ():
            after = self._after(proposal) if proposal.is_probe else None
            if after is not None and self._can_judge(after, finding) and not _all_keys(after) & _keys(finding):
                yield after

    def explains(self, suspect: Finding, findings: Iterable[Finding]) -> bool:
        """Whether a probe of a suspected cause takes several of the findings away."""
        others = [each for each in findings if _rank(each) > _rank(suspect)]
        return any(
            sum(_is_gone(each, _all_keys(after)) for each in others) >= _SEVERAL for after in self.probes(suspect)
        )

    def together(self, findings: list[Finding]) -> list[Finding]:
        """The findings, without those mends that do not pass in one text with the ones before them."""
        chosen = [each for each in findings if each.chosen is not None]
        if len(chosen) < 2 or self._pass_together(chosen):
            return findings
        kept: list[Finding] = []
        for each in chosen:
            if not kept or self._pass_together([*kept, each]):
                kept.append(each)
        dropped = {id(each) for each in chosen} - {id(each) for each in kept}
        return [replace(each, mend="", chosen=None) if id(each) in dropped else each for each in findings]

    def _pass_together(self, findings: list[Finding]) -> bool:
        changes = [change for each in findings if each.chosen is not None for change in each.chosen.changes]
        try:
            after = self._run(tuple((place._replace(pattern=""), new) for place, new in changes))
        except OverlappingChanges:
            return False
        if after is None:
            # No run is left: each passes by itself, and none says what another denies.
            return True
        left = _all_keys(after)
        return all(self._can_judge(after, each) and not left & _keys(each) for each in findings) and (
            self._errors_of(after) <= self.errors
        )

    def _renumbered(self, proposal: Proposal) -> Proposal:
        """The proposal, with a number for its new circuit that no mend before it gives to another."""
        if not self.numbers.intersection(proposal.numbers[:1]):
            return proposal
        number = next((each for each in proposal.numbers if each not in self.numbers), None)
        return proposal if number is None else proposal.numbered(number)

    def _contradicts(self, proposal: Proposal) -> bool:
        """True where a mend that is told already writes something else there."""
        return any(
            place.file == told.file and place.start < told.end and told.start < place.end and text != said
            for place, text in proposal.changes
            for told, said in self.told.items()
        )

    def _stands(self, after: Examination, finding: Finding) -> bool:
        """True when an error stands on what the finding is about, which a bolder change may mend as well."""
        return any(
            each.is_open_error and not set(_subjects(each)).isdisjoint(_subjects(finding)) for each in after.findings
        )

    def _mends(self, after: Examination, finding: Finding, proposal: Proposal) -> bool:
        if not self._can_judge(after, finding):
            return False
        left = _all_keys(after)
        if left & _keys(finding) or not self._errors_of(after) <= self.errors:
            return False
        # A value with two faults is not mended by one that has either.
        places = {(place.file, place.start, place.end) for place, _ in proposal.changes}
        return not any(
            each.is_open_error and (each.place.file, each.place.start, each.place.end) in places and left & _keys(each)
            for each in self.judged
        )

    @staticmethod
    def _can_judge(after: Examination, finding: Finding) -> bool:
        return not any(not each.subject or _is_of(each, finding) for each in after.not_examined)

    @staticmethod
    def _errors_of(after: Examination) -> set[tuple[str, str]]:
        return {key for each in after.findings if each.is_open_error for key in _keys(each)}

    def _after(self, proposal: Proposal) -> Examination | None:
        """What stands once the proposal is in the file; None when that cannot be tried any more."""
        return self._run(tuple((place._replace(pattern=""), new) for place, new in proposal.changes))

    def _run(self, key: tuple[tuple[Place, str], ...]) -> Examination | None:
        if key in self.tried:
            return self.tried[key]
        if any(place.file not in self.texts for place, _ in key) or self.runs_left == 0:
            return None
        changed = changed_texts(self.texts, (Change(place, new) for place, new in key))
        self.runs_left -= 1
        self.tried[key] = self.run(changed)
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
