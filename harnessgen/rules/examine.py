"""Run the rules whose needs are met, silence what the design accepts, and fold like findings into one."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from harnessgen.design.state import Acceptance
from harnessgen.evidence.finding import Finding, NotExamined, Severity, accept, in_order
from harnessgen.evidence.rule import Need, Rule
from harnessgen.network.network import Network
from harnessgen.physics.physics import Physics
from harnessgen.source.near import did_you_mean

UNNEEDED = "unneeded-acceptance"


class RuleCrash(RuntimeError):
    """A check failed by itself: a fault of ours, never of the design."""

    def __init__(self, rule: str, error: Exception) -> None:
        super().__init__(f"the rule {rule} failed: {type(error).__name__}: {error}")
        self.rule = rule


@dataclass(frozen=True, slots=True)
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
    network: Network | None,
    physics: Physics | None,
    acceptances: Sequence[Acceptance],
    why_not: str,
) -> Examination:
    """Examine every rule of `rules`; `found` are the findings of the stages before, whose rules count as examined.

    `network` and `physics` are None where the design did not come so far; `why_not` says why.

    Raises:
        RuleCrash: a check failed by itself.
    """
    findings = list(found)
    not_examined: list[NotExamined] = []
    for rule in rules:
        if not rule.check:
            continue
        subject = {Need.NETWORK: network, Need.PHYSICS: physics}.get(rule.need)
        if subject is None:
            not_examined.append(NotExamined(rule.name, why_not))
            continue
        check = rule.load_check()
        try:
            findings.extend(check(subject))
        except Exception as error:
            raise RuleCrash(rule.name, error) from error
    skipped = {each.rule for each in not_examined}
    settled = _with_acceptances(findings, acceptances, {rule.name for rule in rules}, skipped)
    return Examination(tuple(in_order(_folded(settled))), tuple(not_examined))


def _with_acceptances(
    findings: list[Finding], acceptances: Sequence[Acceptance], known: set[str], skipped: set[str]
) -> list[Finding]:
    settled = list(findings)
    for acceptance in acceptances:
        wanted = acceptance.rule, acceptance.subject
        matching = [index for index, each in enumerate(settled) if (each.rule, each.subject) == wanted]
        for index in matching:
            settled[index] = accept(settled[index], acceptance.reason)
        if not matching and acceptance.rule not in skipped:
            settled.append(_unneeded(acceptance, known, findings))
    return settled


def _unneeded(acceptance: Acceptance, known: set[str], findings: list[Finding]) -> Finding:
    if acceptance.rule not in known:
        message = f"{acceptance.rule} is accepted here, and no rule has that name."
        mend = did_you_mean(acceptance.rule, sorted(known))
        place = acceptance.where("rule")
    else:
        message = f"{acceptance.rule} is accepted for {acceptance.subject}, and finds nothing there."
        subjects = sorted({each.subject for each in findings if each.rule == acceptance.rule and each.subject})
        mend = did_you_mean(acceptance.subject, subjects) if subjects else "take the acceptance out"
        place = acceptance.where("subject")
    return Finding(UNNEEDED, Severity.WARNING, acceptance.subject, place, message, mend=mend)


def _folded(findings: list[Finding]) -> list[Finding]:
    """Findings of one rule at one place in the file, one behind another, become the first with a list."""
    groups: dict[object, list[Finding]] = {}
    for finding in findings:
        cause = (finding.rule, finding.severity, finding.place._replace(pattern=""), finding.accepted)
        groups.setdefault(cause if finding.place.file else id(finding), []).append(finding)
    return [
        replace(group[0], subjects=tuple(dict.fromkeys(each.subject for each in group))) if len(group) > 1 else group[0]
        for group in groups.values()
    ]
