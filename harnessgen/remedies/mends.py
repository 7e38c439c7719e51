"""Try what rules propose: change the text, run the line on it again, and keep the first change that mends."""

from collections.abc import Iterable, Mapping
from dataclasses import replace

from harnessgen.evidence.finding import Finding, Proposal
from harnessgen.remedies.changes import Change, Run, changed_texts
from harnessgen.rules.examine import Examination
from harnessgen.source.place import Place

MOST_RUNS = 30
"""Runs of the line that one check may spend on proposals; what is not tried gets no mend."""


def with_mends(
    findings: Iterable[Finding], texts: Mapping[str, str], run: Run, most_runs: int = MOST_RUNS
) -> list[Finding]:
    """The findings, each open one with the words of its first proposal that mends it.

    A proposal mends when, with its text in the file, every rule can be examined, the finding is gone for all its
    subjects, and no error stands that did not stand before. A finding none of whose proposals mends, or whose turn
    comes after `most_runs` runs, keeps the mend that its rule gave it: mostly none.
    """
    listed = list(findings)
    bench = _Bench(listed, texts, run, most_runs)
    return [bench.mended(finding) for finding in listed]


class _Bench:
    def __init__(self, findings: list[Finding], texts: Mapping[str, str], run: Run, most_runs: int) -> None:
        self.texts = texts
        self.run = run
        self.runs_left = most_runs
        self.errors = {key for each in findings if each.is_open_error for key in _keys(each)}
        self.tried: dict[tuple[Place, str], Examination] = {}

    def mended(self, finding: Finding) -> Finding:
        if finding.accepted is None:
            for proposal in finding.proposals:
                if self._mends(proposal, finding):
                    return replace(finding, mend=proposal.words)
        return finding

    def _mends(self, proposal: Proposal, finding: Finding) -> bool:
        after = self._after(proposal)
        if after is None or after.not_examined:
            return False
        left = {key for each in after.findings for key in _keys(each)}
        errors = {key for each in after.findings if each.is_open_error for key in _keys(each)}
        return not left & _keys(finding) and errors <= self.errors

    def _after(self, proposal: Proposal) -> Examination | None:
        """What stands once the proposal is in the file; None when that cannot be tried any more."""
        key = (proposal.place._replace(pattern=""), proposal.text)
        if key in self.tried:
            return self.tried[key]
        if proposal.place.file not in self.texts or self.runs_left == 0:
            return None
        self.runs_left -= 1
        self.tried[key] = self.run(changed_texts(self.texts, (Change(proposal.place, proposal.text),)))
        return self.tried[key]


def _keys(finding: Finding) -> set[tuple[str, str]]:
    return {(finding.rule, subject) for subject in finding.subjects or (finding.subject,)}
