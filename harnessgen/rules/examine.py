"""Run the rules whose needs are met, silence what the design accepts, and fold like findings into one."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from math import inf
from typing import TYPE_CHECKING

from harnessgen.design.records.state import Acceptance
from harnessgen.evidence.finding import Finding, NotExamined, in_order
from harnessgen.evidence.rule import Requirement, Rule
from harnessgen.measures.frozen import frozen
from harnessgen.rules.acceptance import with_acceptances

# A command that examines nothing loads no solver, and one that does may still say how the solver is to run.
if TYPE_CHECKING:
    from harnessgen.network.network import Network
    from harnessgen.physics.physics import Physics

UNPROVED = "the fault simulation was left out"


class RuleCrash(RuntimeError):
    """A check failed by itself: a fault of ours, never of the design."""

    def __init__(self, rule: str, error: Exception) -> None:
        super().__init__(f"the rule {rule} failed: {type(error).__name__}: {error}")
        self.rule = rule


@frozen
class Examination:
    """What the rules found, in the order of a report, and which of them could not be examined and why."""

    findings: tuple[Finding, ...]
    not_examined: tuple[NotExamined, ...]

    @property
    def is_for_build(self) -> bool:
        """True when no error stands that nobody accepted."""
        return not any(finding.is_open_error for finding in self.findings)


def examine(
    rules: Sequence[Rule],
    found: Iterable[Finding],
    network: "Network | None",
    physics: "Physics | None",
    acceptances: Sequence[Acceptance],
    why_not: str,
) -> Examination:
    """Examine every rule of `rules`; `found` are the findings of the stages before, whose rules count as examined.

    `network` and `physics` are None where the design did not come so far; `why_not` says why.

    Raises:
        RuleCrash: a check failed by itself.
    """
    findings, not_examined = unsettled(rules, found, network, physics, why_not)
    skipped = {each.rule for each in not_examined} | {rule.name for rule in rules if rule.need is Requirement.BENCH}
    settled = with_acceptances(findings, acceptances, rules, skipped)
    told_once = _folded(settled)
    if network is not None:
        from harnessgen.rules.common_cause import with_common_causes
        from harnessgen.rules.of_vehicle import without_changes_to_vehicle

        told_once = without_changes_to_vehicle(with_common_causes(told_once, network), network.design)
    return Examination(tuple(in_order(told_once)), tuple(not_examined))


def unsettled(
    rules: Sequence[Rule],
    found: Iterable[Finding],
    network: "Network | None",
    physics: "Physics | None",
    why_not: str = "",
) -> tuple[list[Finding], list[NotExamined]]:
    """What every rule finds, one by one and whatever is accepted, and what could not be examined.

    Raises:
        RuleCrash: a check failed by itself.
    """
    findings = list(found)
    told = {finding.rule for finding in findings}
    not_examined: list[NotExamined] = []
    for rule in rules:
        # What an earlier stage examines has been examined if that stage was reached, or has told of it.
        is_earlier = not rule.check
        if is_earlier and (rule.need is Requirement.FILE or network is not None or rule.name in told):
            continue
        if rule.need is Requirement.BENCH:
            # Examined by `examine_bench`, once the faults are simulated.
            not_examined.append(NotExamined(rule.name, why_not if network is None else UNPROVED))
            continue
        subject = {Requirement.NETWORK: network, Requirement.PHYSICS: physics}.get(rule.need)
        if is_earlier or subject is None:
            not_examined.append(NotExamined(rule.name, why_not))
            continue
        check, gaps = rule.load_check(), rule.load_gaps()
        try:
            findings.extend(check(subject))
            not_examined.extend(gaps(subject) if gaps is not None else ())
            if rule.is_by_state and physics is not None:
                not_examined += [
                    NotExamined(rule.name, f"state {state} is a short", state) for state in sorted(physics.shorted)
                ]
        except Exception as error:
            raise RuleCrash(rule.name, error) from error
    return findings, not_examined


def examine_bench(
    rules: Sequence[Rule], examination: Examination, proofs: object, acceptances: Sequence[Acceptance]
) -> Examination:
    """The examination with the rules on the fault simulation; acceptances of them meet or miss their findings here.

    Raises:
        RuleCrash: a check failed by itself.
    """
    findings: list[Finding] = []
    own = [rule for rule in rules if rule.need is Requirement.BENCH]
    for rule in own:
        check = rule.load_check()
        try:
            findings.extend(check(proofs))
        except Exception as error:
            raise RuleCrash(rule.name, error) from error
    names = {rule.name for rule in own}
    settled = with_acceptances(findings, [each for each in acceptances if each.rule in names], own)
    whole = in_order([*examination.findings, *_folded(settled)])
    return Examination(tuple(whole), tuple(each for each in examination.not_examined if each.rule not in names))


def _folded(findings: list[Finding]) -> list[Finding]:
    """Findings that say the same of several things at one place in the file become one, the worst, with a list."""
    groups: dict[object, list[Finding]] = {}
    for finding in findings:
        # A relay's coil and a load that are dead for one reason are so together.
        said = finding.message.removeprefix("The coil of ")
        said = said.replace(finding.subject, "", 1) if finding.subject else said
        acceptance = finding.accepted, finding.accepted_as
        cause = (finding.rule, finding.severity, finding.place._replace(pattern=""), said, acceptance)
        groups.setdefault(cause if finding.place.file else id(finding), []).append(finding)
    return [_fold(sorted(group, key=_badness, reverse=True)) for group in groups.values()]


def _fold(group: list[Finding]) -> Finding:
    if len(group) == 1:
        return group[0]
    subjects = tuple(dict.fromkeys(name for each in group for name in each.subjects or (each.subject,)))
    return replace(group[0], subjects=subjects if len(subjects) > 1 else ())


def _badness(finding: Finding) -> float:
    """How far apart the two numbers are that decide: the ratio of the first to the second, either way round."""
    if len(finding.numbers) < 2 or finding.numbers[0].unit != finding.numbers[1].unit:
        return 1.0
    low, high = sorted(abs(each.value) for each in finding.numbers[:2])
    return high / low if low > 0 else inf
