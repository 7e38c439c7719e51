"""Findings as documents print them: what stands, and what the design accepts with its reason."""

from collections.abc import Sequence

from harnessgen.evidence.finding import Finding, NotExamined, Number
from harnessgen.evidence.listed import Unlisted, listed
from harnessgen.evidence.publication import Standing
from harnessgen.measures.quantity import plain_number
from harnessgen.schedules.status import Status
from harnessgen.schedules.table import Column, Table

_HEAD = (
    Column("severity", "severity"),
    Column("rule", "rule"),
    Column("subject", "about"),
    Column("message", "what is wrong"),
    Column("numbers", "deciding numbers"),
    Column("place", "in the design"),
)


def standing_table(status: Status) -> Table:
    """Findings that stand, most serious first, each with what would mend it."""
    columns = (*_HEAD, Column("mend", "mend"))
    shown, more = listed(status.standing)
    rows = tuple((*_cells(each), "; or ".join(filter(None, (each.mend, *each.other_remedies)))) for each in shown)
    notes = (*_unlisted(more), *_unexamined(status.not_examined))
    return Table("findings", "Findings that stand", columns, rows, notes)


def accepted_table(status: Status) -> Table:
    """Findings that the design accepts, each with its reason."""
    columns = (*_HEAD, Column("reason", "accepted, because"))
    shown, more = listed(status.accepted)
    rows = tuple((*_cells(each), each.accepted or "") for each in shown)
    return Table("accepted-findings", "Accepted findings", columns, rows, tuple(_unlisted(more)))


def _cells(finding: Finding) -> tuple[str, ...]:
    subject = ", ".join(finding.subjects) or finding.subject
    place = str(finding.place) if finding.place.file else ""
    numbers = "; ".join(_number(each) for each in finding.numbers)
    return (finding.severity.value, finding.rule, subject, finding.message, numbers, place)


def _number(number: Number) -> str:
    value = plain_number(number.value, number.decimals)
    shown = f"{number.name} {value} {number.unit}".rstrip() if number.unit != "1" else f"{number.name} {value}"
    # Where it comes from would fill the cell; that it was not looked up has to stand on every page.
    return f"{shown} (from memory)" if Standing.FROM_MEMORY.value in number.source else shown


def _unlisted(more: Sequence[Unlisted]) -> list[str]:
    return [f"Not listed one by one: {each.words}." for each in more]


def _unexamined(rules: Sequence[NotExamined]) -> list[str]:
    return [f"Not examined, so not passed: {each.rule} ({each.reason})." for each in rules]
