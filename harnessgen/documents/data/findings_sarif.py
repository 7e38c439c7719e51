"""Findings as SARIF 2.1.0, the OASIS standard for results of examinations (27 March 2020).

Sections named here are those of the standard.
"""

from collections.abc import Sequence
from typing import Any
from urllib.parse import quote

from harnessgen.documents.data.findings_json import deciding_object, number_object
from harnessgen.documents.data.json_text import json_text
from harnessgen.documents.text.findings import value_text
from harnessgen.evidence.finding import Finding, NotExamined
from harnessgen.evidence.listed import Unlisted, listed
from harnessgen.evidence.rule import Rule
from harnessgen.source.characters import visible_name
from harnessgen.source.place import Place
from harnessgen.version import __version__

_VERSION = "2.1.0"


def render(findings: Sequence[Finding], rules: Sequence[Rule], not_examined: Sequence[NotExamined] = ()) -> str:
    """One run of harnessgen with its rules, its results in the order of the report, and what was not examined.

    The page of a rule is read, as its help, only where the rule found something.
    """
    ordered, more = listed(findings)
    found = {each.rule for each in ordered}
    index = {rule.name: place for place, rule in enumerate(rules)}
    driver = {
        "name": "harnessgen",
        "version": __version__,
        "rules": [_rule(rule, with_help=rule.name in found) for rule in rules],
    }
    run = {
        "tool": {"driver": driver},
        "invocations": [_invocation(not_examined, more, index)],
        "columnKind": "unicodeCodePoints",
        "results": [_result(each, index) for each in ordered],
    }
    whole = {
        "$schema": "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json",
        "version": _VERSION,
        "runs": [run],
    }
    return json_text(whole, is_ascii=True)


def _rule(rule: Rule, with_help: bool) -> dict[str, Any]:
    """A reportingDescriptor (3.49)."""
    described: dict[str, Any] = {
        "id": rule.name,
        "shortDescription": {"text": rule.summary},
        "defaultConfiguration": {"level": rule.severity.value},
    }
    if with_help:
        page = rule.page_text()
        described["help"] = {"text": page, "markdown": page}
    return described


def _invocation(not_examined: Sequence[NotExamined], more: Sequence[Unlisted], index: dict[str, int]) -> dict[str, Any]:
    """The run itself (3.20). A rule not examined is told as a notification (3.58), or it would seem to have passed.

    So are results that stand beside those that are listed.
    """
    notifications = [
        {
            "level": "note",
            "message": {"text": f"{each.rule} was not examined: {each.reason}."},
            "associatedRule": _reference(each.rule, index),
        }
        for each in not_examined
    ]
    notifications += [
        {
            "level": each.severity.value,
            "message": {"text": f"{each.words}, not listed one by one"},
            "associatedRule": _reference(each.rule, index),
        }
        for each in more
    ]
    return {"executionSuccessful": True, "toolExecutionNotifications": notifications}


def _reference(rule: str, index: dict[str, int]) -> dict[str, Any]:
    return {"id": rule, "index": index[rule]} if rule in index else {"id": rule}


def _result(finding: Finding, index: dict[str, int]) -> dict[str, Any]:
    """A result (3.27)."""
    result: dict[str, Any] = {
        "ruleId": finding.rule,
        "level": finding.severity.value,
        "message": {"text": _message(finding)},
        "locations": [_location(finding.place, subject=visible_name(finding.subject))],
        "properties": {
            "subject": visible_name(finding.subject),
            "subjects": list(finding.subjects),
            "numbers": [number_object(each) for each in finding.numbers],
            "mend": finding.mend,
            "id": visible_name(finding.id),
            "state": finding.state,
            "wire": finding.wire,
            "deciding": deciding_object(finding.deciding),
            "caused-by": visible_name(finding.caused_by),
        },
        # 3.27.17: what stays the same from run to run, whatever line it moves to.
        "partialFingerprints": {"ruleSubjectState/v1": visible_name(finding.id)},
    }
    if finding.rule in index:
        result["ruleIndex"] = index[finding.rule]
    if not result["locations"][0]:
        result["locations"] = []
    related = [_location(place, words) | {"id": number} for number, (place, words) in enumerate(finding.see, 1)]
    if related:
        result["relatedLocations"] = related
    if finding.accepted is not None:
        # 3.35.2: the acceptance stands in the design file itself.
        result["suppressions"] = [{"kind": "inSource", "status": "accepted", "justification": finding.accepted_words}]
    return result


def _message(finding: Finding) -> str:
    """Message, deciding numbers and mend, since most viewers show the message alone."""
    numbers = "; ".join(
        " ".join(each for each in (number.name, value_text(number), _unit(number.unit)) if each)
        + (f" ({number.source})" if number.source else "")
        for number in finding.numbers
    )
    mend = f"Mend: {finding.mend}" if finding.mend else ""
    return " ".join(part for part in (finding.message, numbers and f"Numbers: {numbers}.", mend) if part)


def _unit(unit: str) -> str:
    return "" if unit == "1" else unit


def _location(place: Place, message: str = "", subject: str = "") -> dict[str, Any]:
    """A location (3.28); empty for what neither stands in a file nor has a name."""
    location: dict[str, Any] = {}
    if place.file:
        location["physicalLocation"] = {
            "artifactLocation": {"uri": _uri(place.file)},
            "region": {
                "startLine": place.line,
                "startColumn": place.column,
                "endLine": place.end_line,
                "endColumn": place.end_column,
            },
        }
    if subject:
        location["logicalLocations"] = [{"name": subject}]
    if message:
        location["message"] = {"text": message}
    return location


def _uri(file: str) -> str:
    """The file's name as a URI reference (RFC 3986): forward slashes, and per cents for what a URI cannot hold."""
    path = quote(file.replace("\\", "/").encode("utf-8", "surrogateescape"), safe="/")
    return f"file://{path}" if path.startswith("/") else path
