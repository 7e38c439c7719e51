"""Findings for programs, in a form that stays as it is: every key is always there.

Lines and columns count from 1, columns in characters; an end is one past the last character. What no file says has null
for its file and place. A value that is infinite or not a number is null.
"""

import math
from collections.abc import Sequence
from typing import Any

from harnessgen.documents.data.json_text import json_text
from harnessgen.evidence.finding import Deciding, Finding, NotExamined, Number, counts_of, with_consequences
from harnessgen.evidence.listed import listed
from harnessgen.schedules.results.status import status_of
from harnessgen.source.characters import visible_name
from harnessgen.source.place import Place

FORMAT = 1


def render(findings: Sequence[Finding], not_examined: Sequence[NotExamined] = ()) -> str:
    """The findings in the order of the report, the rules not examined, and the counts of what stands.

    Where more of one kind stand than a report lists, `unlisted` counts the rest; the summary counts all.
    """
    shown, more = listed(findings)
    counts = counts_of(findings)
    whole: dict[str, Any] = {
        "format": FORMAT,
        "findings": [finding_object(each) for each in with_consequences(shown)],
        "not_examined": [{"rule": each.rule, "reason": each.reason, "subject": each.subject} for each in not_examined],
        "summary": {
            "errors": counts.errors,
            "warnings": counts.warnings,
            "notes": counts.notes,
            "accepted": counts.accepted,
        },
        "released": status_of(findings, not_examined).released_object,
    }
    if more:
        whole["unlisted"] = [
            {"rule": each.rule, "severity": each.severity.value, "accepted": each.is_accepted, "count": each.count}
            for each in more
        ]
    return json_text(whole, is_ascii=True)


def finding_object(finding: Finding) -> dict[str, Any]:
    """A finding with every key; what no file says has null for its file and place."""
    return {
        "rule": finding.rule,
        "severity": finding.severity.value,
        "subject": visible_name(finding.subject),
        **_place(finding.place),
        "message": finding.message,
        "numbers": [number_object(each) for each in finding.numbers],
        "mend": finding.mend,
        "see": [{**_place(place), "message": words} for place, words in finding.see],
        "subjects": list(finding.subjects),
        "accepted": finding.accepted,
        "acceptance": finding.accepted_as,
        "id": visible_name(finding.id),
        "state": finding.state,
        "wire": finding.wire,
        "deciding": deciding_object(finding.deciding),
        "caused-by": visible_name(finding.caused_by),
    }


def deciding_object(deciding: Deciding | None) -> dict[str, Any] | None:
    """The figure that decides, its limit, and whether it may be at most or at least that; null where none decides."""
    if deciding is None:
        return None
    return {
        "number": number_object(deciding.number),
        "limit": number_object(deciding.limit),
        "direction": deciding.direction.value,
    }


def _place(place: Place) -> dict[str, Any]:
    if not place.file:
        return dict.fromkeys(("file", "line", "column", "end_line", "end_column"))
    return {
        "file": visible_name(place.file),
        "line": place.line,
        "column": place.column,
        "end_line": place.end_line,
        "end_column": place.end_column,
    }


def number_object(number: Number) -> dict[str, Any]:
    """A deciding number with its name, value, unit and source; a value that JSON cannot write is null."""
    value = number.value if math.isfinite(number.value) else None
    return {"name": number.name, "value": value, "unit": number.unit, "source": number.source}
