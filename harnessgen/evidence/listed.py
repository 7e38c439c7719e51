"""Which findings a report lists one by one: of each kind the first, so that a faulty file does not bury its reader."""

from collections.abc import Iterable, Sequence

from harnessgen.evidence.finding import Finding, Severity, in_order
from harnessgen.measures.frozen import frozen

MOST_LISTED = 50
"""Findings of one kind (a rule at one severity, open or accepted) that a report lists one by one."""


@frozen
class Unlisted:
    """How many findings of one kind stand beside those that are listed."""

    rule: str
    severity: Severity
    is_accepted: bool
    count: int

    @property
    def words(self) -> str:
        """In words: `and 49,950 more errors of unknown-key`."""
        accepted = "accepted " if self.is_accepted else ""
        plural = "" if self.count == 1 else "s"
        return f"and {self.count:,} more {accepted}{self.severity.value}{plural} of {self.rule}"


def listed(findings: Iterable[Finding]) -> tuple[Sequence[Finding], Sequence[Unlisted]]:
    """The findings that a report lists, in its order, and what it only counts."""
    counts: dict[tuple[str, Severity, bool], int] = {}
    shown = []
    for each in in_order(findings):
        kind = each.rule, each.severity, each.accepted is not None
        counts[kind] = counts.get(kind, 0) + 1
        if counts[kind] <= MOST_LISTED:
            shown.append(each)
    more = [Unlisted(*kind, count - MOST_LISTED) for kind, count in counts.items() if count > MOST_LISTED]
    return shown, more
