"""SARIF 2.1.0: the constraints of the OASIS standard that this writer has to meet, held by hand.

The requirements are those of "Static Analysis Results Interchange Format (SARIF) Version 2.1.0", OASIS Standard,
27 March 2020, written here from memory (names, values and the numbers of its sections).
"""

import json
import re
import sys
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlsplit

import pytest

from harnessgen.documents.data.findings_sarif import render
from harnessgen.evidence.finding import Finding, NotExamined, Number, Severity
from harnessgen.evidence.rule import Requirement, Rule
from harnessgen.source.place import NOWHERE, Place
from harnessgen.version import __version__

_LEVELS = ("none", "note", "warning", "error")


@pytest.fixture
def rules(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> list[Rule]:
    """Two rules; only the page of the first exists, so reading the other's would fail."""
    package = tmp_path / "pages_of_sarif_test"
    package.mkdir()
    (package / "__init__.py").write_text("", encoding="utf-8")
    (package / "wire_overload.md").write_text("# wire-overload\n\nToo *much*.\n", encoding="utf-8")
    monkeypatch.syspath_prepend(str(tmp_path))
    monkeypatch.delitem(sys.modules, "pages_of_sarif_test", raising=False)
    return [
        Rule(
            "bend-too-tight", Severity.WARNING, Requirement.NETWORK, "A bundle is bent too tightly.", "nowhere:x.md", ()
        ),
        Rule(
            "wire-overload",
            Severity.ERROR,
            Requirement.PHYSICS,
            "A wire carries too much.",
            "pages_of_sarif_test:wire_overload.md",
            (),
        ),
    ]


_FULL = Finding(
    "wire-overload",
    Severity.ERROR,
    "21A",
    Place("my designs/sechs#1 °.yaml", 120, 128, 41, 52, 41, 60),
    "Wire 21A is too thin.",
    (Number("carries", 9.6, "A", "six injectors", 1), Number("share", 1.35, "1")),
    "0.75 mm2",
    ((Place("other.yaml", 9, 17, 2, 11, 2, 19), "zone plenum is 120 degC"),),
    ("21A", "21B"),
)
_ACCEPTED = Finding(
    "unlisted-rule", Severity.NOTE, "S1", Place("other.yaml", 1, 2, 1, 2, 1, 3), "Odd.", accepted="bench only"
)
_BARE = Finding("bend-too-tight", Severity.WARNING, "", NOWHERE, "Nowhere in particular.")


def _run(findings: list[Finding], rules: list[Rule], missing: list[NotExamined] | None = None) -> dict[str, Any]:
    log = json.loads(render(findings, rules, missing or []))
    assert isinstance(log, dict)
    _check_log(log)
    run: dict[str, Any] = log["runs"][0]
    return run


def _check_log(log: dict[str, Any]) -> None:
    # 3.13: a log file has version "2.1.0" and runs; $schema names the schema of that version.
    assert log["version"] == "2.1.0"
    assert log["$schema"].endswith("/sarif-schema-2.1.0.json")
    assert set(log) == {"version", "$schema", "runs"}
    for run in log["runs"]:
        # 3.14: a run has its tool; columnKind is one of two words; results is an array when the run was not broken off.
        assert set(run) <= {"tool", "invocations", "columnKind", "results"}
        assert run["columnKind"] in ("utf16CodeUnits", "unicodeCodePoints")
        driver = run["tool"]["driver"]
        # 3.19: a tool component has a name.
        assert isinstance(driver["name"], str)
        for rule in driver["rules"]:
            _check_rule(rule)
        for invocation in run["invocations"]:
            # 3.20: an invocation says whether it was carried out.
            assert isinstance(invocation["executionSuccessful"], bool)
            for notification in invocation["toolExecutionNotifications"]:
                # 3.58: a notification has a message.
                _check_message(notification["message"])
                assert notification["level"] in _LEVELS
                _check_reference(notification["associatedRule"], driver["rules"])
        for result in run["results"]:
            _check_result(result, driver["rules"])


def _check_rule(rule: dict[str, Any]) -> None:
    # 3.49: a reporting descriptor has an id; 3.12: its texts have text, and may have markdown.
    assert set(rule) <= {"id", "shortDescription", "help", "defaultConfiguration"}
    assert re.fullmatch(r"[a-z]+(-[a-z]+)*", rule["id"])
    assert set(rule["shortDescription"]) == {"text"}
    # 3.50: the level of a configuration is one of four words.
    assert rule["defaultConfiguration"]["level"] in _LEVELS
    if "help" in rule:
        assert set(rule["help"]) == {"text", "markdown"}


def _check_message(message: dict[str, Any]) -> None:
    # 3.11: a message that has no id has text.
    assert isinstance(message["text"], str)
    assert message["text"]


def _check_reference(reference: dict[str, Any], rules: list[dict[str, Any]]) -> None:
    # 3.52: index and id of a reference name the same descriptor.
    if "index" in reference:
        assert rules[reference["index"]]["id"] == reference["id"]


def _check_result(result: dict[str, Any], rules: list[dict[str, Any]]) -> None:
    allowed = {"ruleId", "ruleIndex", "level", "message", "locations", "relatedLocations", "suppressions", "properties"}
    # 3.27.17, from memory: each fingerprint is a text, and its name may end in a version.
    fingerprints = result["partialFingerprints"]
    assert fingerprints
    assert all(isinstance(each, str) and each for each in fingerprints.values())
    allowed |= {"partialFingerprints"}
    # 3.27: a result has a message; ruleIndex, where there is one, is the place of ruleId among the rules.
    assert set(result) <= allowed
    _check_message(result["message"])
    assert result["level"] in _LEVELS
    if "ruleIndex" in result:
        assert rules[result["ruleIndex"]]["id"] == result["ruleId"]
    for location in result["locations"]:
        _check_location(location)
    ids = [location["id"] for location in result.get("relatedLocations", [])]
    # 3.28: ids of locations are not negative and unique in the result.
    assert len(set(ids)) == len(ids)
    assert all(isinstance(each, int) and each >= 0 for each in ids)
    for location in result.get("relatedLocations", []):
        _check_location(location)
        _check_message(location["message"])
    for suppression in result.get("suppressions", []):
        # 3.35: kind is one of two words, status one of three.
        assert suppression["kind"] in ("inSource", "external")
        assert suppression["status"] in ("accepted", "underReview", "rejected")
        assert isinstance(suppression["justification"], str)


def _check_location(location: dict[str, Any]) -> None:
    assert location
    if "physicalLocation" in location:
        uri = location["physicalLocation"]["artifactLocation"]["uri"]
        # 3.4, 3.10: a URI reference of RFC 3986, so without blanks, backslashes or signs outside ASCII.
        assert re.fullmatch(r"[A-Za-z0-9._~/%:-]+", uri)
        region = location["physicalLocation"]["region"]
        # 3.30: lines and columns count from 1; the end column is one past the last character.
        assert min(region.values()) >= 1
        assert (region["startLine"], region["startColumn"]) <= (region["endLine"], region["endColumn"])


def test_the_run_names_the_program_and_its_rules(rules: list[Rule]) -> None:
    """The driver has its name and version, and each rule with its level and one line."""
    driver = _run([], rules)["tool"]["driver"]
    assert (driver["name"], driver["version"]) == ("harnessgen", __version__)
    assert driver["rules"] == [
        {
            "id": "bend-too-tight",
            "shortDescription": {"text": "A bundle is bent too tightly."},
            "defaultConfiguration": {"level": "warning"},
        },
        {
            "id": "wire-overload",
            "shortDescription": {"text": "A wire carries too much."},
            "defaultConfiguration": {"level": "error"},
        },
    ]


def test_a_page_is_read_only_for_a_rule_that_found_something(rules: list[Rule]) -> None:
    """The help of a rule is its page, and pages of silent rules are not opened."""
    described = _run([_FULL], rules)["tool"]["driver"]["rules"]
    page = "# wire-overload\n\nToo *much*.\n"
    assert [each.get("help") for each in described] == [None, {"text": page, "markdown": page}]


def test_a_result_says_all_that_the_finding_says(rules: list[Rule]) -> None:
    """Rule, level, words, numbers, mend, place and second place are in the result."""
    (result,) = _run([_FULL], rules)["results"]
    assert result == {
        "ruleId": "wire-overload",
        "ruleIndex": 1,
        "level": "error",
        "message": {
            "text": "Wire 21A is too thin. Numbers: carries 9.6 A (six injectors); share 1.35. Mend: 0.75 mm2",
        },
        "locations": [
            {
                "physicalLocation": {
                    "artifactLocation": {"uri": "my%20designs/sechs%231%20%C2%B0.yaml"},
                    "region": {"startLine": 41, "startColumn": 52, "endLine": 41, "endColumn": 60},
                },
                "logicalLocations": [{"name": "21A"}],
            }
        ],
        "relatedLocations": [
            {
                "id": 1,
                "physicalLocation": {
                    "artifactLocation": {"uri": "other.yaml"},
                    "region": {"startLine": 2, "startColumn": 11, "endLine": 2, "endColumn": 19},
                },
                "message": {"text": "zone plenum is 120 degC"},
            }
        ],
        "properties": {
            "subject": "21A",
            "subjects": ["21A", "21B"],
            "numbers": [
                {"name": "carries", "value": 9.6, "unit": "A", "source": "six injectors"},
                {"name": "share", "value": 1.35, "unit": "1", "source": ""},
            ],
            "mend": "0.75 mm2",
            "id": "wire-overload:21A",
            "state": "",
            "wire": "",
            "deciding": None,
            "caused-by": "",
        },
        "partialFingerprints": {"ruleSubjectState/v1": "wire-overload:21A"},
    }


def test_an_accepted_finding_is_suppressed_with_its_reason(rules: list[Rule]) -> None:
    """What the design file accepts is a suppression in the source, with the builder's words."""
    (result,) = _run([_ACCEPTED], rules)["results"]
    assert result["suppressions"] == [{"kind": "inSource", "status": "accepted", "justification": "bench only"}]


def test_a_rule_that_is_not_listed_has_no_index(rules: list[Rule]) -> None:
    """A finding of a rule that the caller did not list is told by its name alone."""
    (result,) = _run([_ACCEPTED], rules)["results"]
    assert (result["ruleId"], "ruleIndex" in result) == ("unlisted-rule", False)


def test_what_stands_in_no_file_has_no_location(rules: list[Rule], monkeypatch: pytest.MonkeyPatch) -> None:
    """A finding without place and subject has an empty list of locations."""
    monkeypatch.setattr(Rule, "page_text", lambda _rule: "page")
    (result,) = _run([_BARE], rules)["results"]
    assert result["locations"] == []


def test_a_rule_not_examined_is_told_in_the_run(rules: list[Rule]) -> None:
    """A rule that could not be examined is a notification, so that its silence is not taken for a pass."""
    missing = [NotExamined("bend-too-tight", "no bundle has a size"), NotExamined("later-rule", "no route")]
    (invocation,) = _run([], rules, missing)["invocations"]
    assert invocation == {
        "executionSuccessful": True,
        "toolExecutionNotifications": [
            {
                "level": "note",
                "message": {"text": "bend-too-tight was not examined: no bundle has a size."},
                "associatedRule": {"id": "bend-too-tight", "index": 0},
            },
            {
                "level": "note",
                "message": {"text": "later-rule was not examined: no route."},
                "associatedRule": {"id": "later-rule"},
            },
        ],
    }


@pytest.mark.parametrize(
    ("file", "uri"),
    [
        ("designs/six.yaml", "designs/six.yaml"),
        ("designs\\six.yaml", "designs/six.yaml"),
        ("a b#c?.yaml", "a%20b%23c%3F.yaml"),
        ("x:y.yaml", "x%3Ay.yaml"),
        ("/srv/six.yaml", "file:///srv/six.yaml"),
        ("caf\udce9.yaml", "caf%E9.yaml"),
    ],
)
def test_a_file_is_named_by_a_uri_reference(file: str, uri: str, rules: list[Rule]) -> None:
    """Relative names stay relative, with forward slashes, and what a URI cannot hold is escaped."""
    finding = Finding("unlisted-rule", Severity.NOTE, "", Place(file, 0, 1, 1, 1, 1, 2), "Here.")
    (result,) = _run([finding], rules)["results"]
    written = result["locations"][0]["physicalLocation"]["artifactLocation"]["uri"]
    assert written == uri
    parts = urlsplit(written)
    assert unquote(parts.path, errors="surrogateescape") == file.replace("\\", "/")
    assert (parts.query, parts.fragment) == ("", "")


def test_the_same_findings_give_the_same_bytes(rules: list[Rule], monkeypatch: pytest.MonkeyPatch) -> None:
    """The text does not depend on the order in which rules found things, and ends in a newline."""
    monkeypatch.setattr(Rule, "page_text", lambda _rule: "page")
    text = render([_FULL, _ACCEPTED, _BARE], rules)
    assert text == render([_BARE, _FULL, _ACCEPTED], rules)
    assert text.endswith("}\n")
