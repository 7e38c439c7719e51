"""Findings as documents print them: what stands, and what the design accepts with its reason."""

from collections.abc import Sequence

from harnessgen.evidence.finding import Finding, NotExamined, Number
from harnessgen.evidence.listed import Unlisted, listed
from harnessgen.evidence.publication import Standing
from harnessgen.measures.quantity import plain_number
from harnessgen.schedules.results.status import Status
from harnessgen.schedules.tables.table import Column, Table


def _mends(finding: Finding) -> str:
    return "; or ".join(filter(None, (finding.mend, *finding.other_remedies)))


def _number(number: Number) -> str:
    value = plain_number(number.value, number.decimals)
    shown = f"{number.name} {value} {number.unit}".rstrip() if number.unit != "1" else f"{number.name} {value}"
    # Where it comes from would fill the cell; that it was not looked up has to stand on every page.
    return f"{shown} (from memory)" if Standing.FROM_MEMORY.value in number.source else shown


_HEAD: tuple[Column[Finding], ...] = (
    Column("severity", "severity", lambda finding: finding.severity.value),
    Column("rule", "rule", lambda finding: finding.rule),
    Column("subject", "about", lambda finding: ", ".join(finding.subjects) or finding.subject),
    Column("message", "what is wrong", lambda finding: finding.message),
    Column("numbers", "deciding numbers", lambda finding: "; ".join(map(_number, finding.numbers))),
    Column("place", "in the design", lambda finding: str(finding.place) if finding.place.file else ""),
)
_STANDING: tuple[Column[Finding], ...] = (*_HEAD, Column("mend", "mend", _mends))
_ACCEPTED: tuple[Column[Finding], ...] = (
    *_HEAD,
    Column("reason", "accepted, because", lambda finding: finding.accepted_words),
)


def standing_table(status: Status) -> Table[Finding]:
    """Findings that stand, most serious first, each with what would mend it."""
    shown, more = listed(status.standing)
    notes = (*_unlisted(more), *_unexamined(status.not_examined))
    return Table("findings", "Findings that stand", _STANDING, tuple(shown), notes)


def accepted_table(status: Status) -> Table[Finding]:
    """Findings that the design accepts, each with its reason."""
    shown, more = listed(status.accepted)
    return Table("accepted-findings", "Accepted findings", _ACCEPTED, tuple(shown), tuple(_unlisted(more)))


def _unlisted(more: Sequence[Unlisted]) -> list[str]:
    return [f"Not listed one by one: {each.words}." for each in more]


def _unexamined(rules: Sequence[NotExamined]) -> list[str]:
    return [f"Not examined, so not passed: {each.rule} ({each.reason})." for each in rules]
