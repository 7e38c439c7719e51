"""Each hostile design in a small measure: told of plainly, in few findings, in a report of which all can be seen."""

import json
import unicodedata

import pytest

from harnessgen.catalogue import RULES
from harnessgen.documents.data import findings_json, findings_sarif
from harnessgen.documents.text import findings as findings_text
from harnessgen.evidence.listed import MOST_LISTED
from harnessgen.run import Checked, check
from tests.hostile.designs import MADE

_REPETITIONS = 120


def _checked(text: str) -> Checked:
    return check("design.yaml", lambda name: text if name == "design.yaml" else "format: 2\n")


@pytest.mark.parametrize("name", MADE)
def test_a_hostile_design_is_told_of_in_a_page(name: str) -> None:
    """In text, JSON and SARIF alike: at most fifty of a kind, the rest counted, each at a line, nothing unseen."""
    checked = _checked(MADE[name](_REPETITIONS))
    findings, skipped = checked.examination.findings, checked.examination.not_examined
    written = findings_text.render(findings, checked.understood.texts, skipped)
    assert not [each for each in written if unicodedata.category(each) in ("Cc", "Cf", "Zl", "Zp") and each != "\n"]
    data = json.loads(findings_json.render(findings, skipped))
    sarif = json.loads(findings_sarif.render(findings, RULES, skipped))["runs"][0]
    by_rule: dict[str, int] = {}
    for each in data["findings"]:
        by_rule[each["rule"]] = by_rule.get(each["rule"], 0) + 1
        assert each["line"] >= 1
        assert len(each["message"]) <= 600
    assert max(by_rule.values(), default=0) <= MOST_LISTED
    assert len(sarif["results"]) == len(data["findings"])
    more = sum(each["count"] for each in data.get("unlisted", ()))
    counts = data["summary"]
    assert len(data["findings"]) + more == sum(counts.values()) == len(findings)
    if more:
        assert "not listed one by one" in written


def test_what_is_not_listed_is_counted_in_every_form() -> None:
    """The summary counts all, and the status is that of all."""
    checked = _checked(MADE["unknown keys"](MOST_LISTED + 7))
    findings = checked.examination.findings
    assert checked.exit_status == 1
    data = json.loads(findings_json.render(findings))
    assert data["unlisted"] == [{"rule": "unknown-key", "severity": "error", "accepted": False, "count": 7}]
    assert data["summary"]["errors"] == sum(each.is_open_error for each in findings) >= MOST_LISTED + 7
    assert "and 7 more errors of unknown-key, not listed one by one" in findings_text.render(findings, {})
    notes = json.loads(findings_sarif.render(findings, RULES))["runs"][0]["invocations"][0]
    assert notes["toolExecutionNotifications"][0]["message"]["text"] == (
        "and 7 more errors of unknown-key, not listed one by one"
    )


def test_fifty_of_a_kind_are_all_listed() -> None:
    """Then nothing is said of more, and JSON has the keys that it always had."""
    findings = _checked(MADE["unknown keys"](MOST_LISTED)).examination.findings
    assert "unlisted" not in json.loads(findings_json.render(findings))
