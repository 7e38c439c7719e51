"""Try what rules propose: change the text, run the line on it again, and keep the first change that mends."""

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace

from harnessgen.evidence.finding import Finding, Proposal, Severity
from harnessgen.rules.examine import UNNEEDED, Examination
from harnessgen.source.kind import names_in
from harnessgen.source.place import Place

MOST_RUNS = 30
"""Runs of the line that one check may spend on proposals; what is not tried gets no mend."""

Run = Callable[[Mapping[str, str]], Examination]
"""Runs the line on a design of which some files have another text: the new texts by the names of their files."""

CAUSES = (
    "double-filled-cavity",
    "mate-mismatch",
    "orphan-cavity",
    "missing-ground",
    "duplicate-circuit",
    "short-circuit",
    "open-circuit",
    "terminal-misfit",
    "seal-misfit",
    "wire-too-small",
    "wire-overload",
)
"""Rules whose findings bring others about, the most basic first; all other rules come after them."""

_PLAIN = re.compile(r"(?P<quote>['\"]?)(?P<number>[0-9./]+)(?P<blank>\s*)(?P<unit>[A-Za-z][^'\"\s]*)?(?P=quote)")


def with_mends(
    findings: Iterable[Finding], texts: Mapping[str, str], run: Run, most_runs: int = MOST_RUNS
) -> list[Finding]:
    """The findings, each open one with the words of its first proposal that mends it.

    A proposal mends when, with its text in the file, every rule can be examined, the finding is gone for all its
    subjects, and no error stands that did not stand before. A finding none of whose proposals mends, or whose turn
    comes after `most_runs` runs, keeps the mend that its rule gave it: mostly none.

    A finding that is gone by the mend of a more basic one is a consequence of it and is left out; the basic one names
    it. What stands after the mend is a fault of its own and stays.
    """
    listed = list(findings)
    bench = _Bench(listed, texts, run, most_runs)
    by_cause = sorted(range(len(listed)), key=lambda index: _rank(listed[index]))
    left = dict.fromkeys(range(len(listed)))
    for index in by_cause:
        if index in left:
            listed[index], after = bench.mended(listed[index])
            cause = listed[index]
            gone = [other for other in left if after is not None and _is_consequence(listed[other], cause, after)]
            for other in gone:
                del left[other]
            listed[index] = _naming(cause, [listed[other] for other in gone])
    return [listed[index] for index in left]


def _rank(finding: Finding) -> int:
    return CAUSES.index(finding.rule) if finding.rule in CAUSES else len(CAUSES)


def _is_consequence(finding: Finding, cause: Finding, after: Examination) -> bool:
    """True for an open finding of a less basic rule that does not stand any more `after` the mend of `cause`."""
    left = {key for each in after.findings for key in _keys(each)}
    is_judged = finding.accepted is None and finding.severity is not Severity.NOTE and finding.rule != UNNEEDED
    return is_judged and _rank(finding) > _rank(cause) and left.isdisjoint(_keys(finding))


def _naming(cause: Finding, gone: list[Finding]) -> Finding:
    if not gone:
        return cause
    names = names_in(dict.fromkeys(f"{each.rule} ({each.subject})" for each in gone))
    return replace(cause, mend=f"{cause.mend}; this mends {names} too")


class _Bench:
    def __init__(self, findings: list[Finding], texts: Mapping[str, str], run: Run, most_runs: int) -> None:
        self.texts = texts
        self.run = run
        self.runs_left = most_runs
        self.errors = {key for each in findings if each.is_open_error for key in _keys(each)}
        self.tried: dict[tuple[tuple[Place, str], ...], Examination] = {}

    def mended(self, finding: Finding) -> tuple[Finding, Examination | None]:
        """The finding with the words of its first proposal that mends it, and what stands after that mend."""
        if finding.accepted is None:
            for proposal in finding.proposals:
                after = self._after(proposal)
                if after is not None and self._mends(after, finding):
                    return replace(finding, mend=proposal.words), after
        return finding, None

    def _mends(self, after: Examination, finding: Finding) -> bool:
        if after.not_examined:
            return False
        left = {key for each in after.findings for key in _keys(each)}
        errors = {key for each in after.findings if each.is_open_error for key in _keys(each)}
        return not left & _keys(finding) and errors <= self.errors

    def _after(self, proposal: Proposal) -> Examination | None:
        """What stands once the proposal is in the file; None when that cannot be tried any more."""
        changes = ((proposal.place, proposal.text), *proposal.besides)
        key = tuple((place._replace(pattern=""), new) for place, new in changes)
        if key in self.tried:
            return self.tried[key]
        text = self.texts.get(proposal.place.file)
        if text is None or self.runs_left == 0:
            return None
        self.runs_left -= 1
        # From the end of the file, so that what is still to change stays where it is.
        for place, new in sorted(key, key=lambda each: each[0].start, reverse=True):
            typed = in_the_same_spelling(new, text[place.start : place.end])
            text = text[: place.start] + typed + text[place.end :]
        self.tried[key] = self.run({proposal.place.file: text})
        return self.tried[key]


def _keys(finding: Finding) -> set[tuple[str, str]]:
    return {(finding.rule, subject) for subject in finding.subjects or (finding.subject,)}


def in_the_same_spelling(text: str, typed: str) -> str:
    """`text` (a number and its unit) as the builder spells the unit in `typed`; else `text` as it is.

    A size of `0.5 mm2` becomes `0.5` where a bare number stood; `0.5mm2` where no blank did; quotation marks stay.
    """
    new, old = _PLAIN.fullmatch(text), _PLAIN.fullmatch(typed)
    if new is None or old is None or not new["unit"]:
        return text
    unit = old["unit"] or ""
    # A bare size is of its family's system; a bare length may be in inches.
    is_same = unit.replace("²", "2") == new["unit"] if unit else new["unit"] in ("mm2", "AWG")
    if not is_same:
        return text
    return f"{old['quote']}{new['number']}{old['blank'] if unit else ''}{unit}{old['quote']}"
