"""How findings are held against what is accepted, folded, and counted as not examined."""

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from harnessgen.design.records.design import Design
from harnessgen.design.records.state import Acceptance
from harnessgen.evidence.finding import Finding, Number, Severity
from harnessgen.evidence.rule import Requirement, Rule
from harnessgen.rules.examine import RuleCrash, examine
from harnessgen.source.place import Place
from tests.line import FLAT_SIX, beyond_notes, edited, examine_text, line_of, told

RULES = (
    Rule("unknown-key", Severity.ERROR, Requirement.FILE, "", "", ()),
    Rule("unrouted-wire", Severity.ERROR, Requirement.DESIGN, "", "", ()),
    Rule("too-hot", Severity.ERROR, Requirement.NETWORK, "", "", (), "tests.rules.test_examine:too_hot"),
    Rule("unneeded-acceptance", Severity.WARNING, Requirement.FILE, "", "", ()),
)
NETWORK: Any = SimpleNamespace(design=Design(format="2"))
DRIVERS = ("drivers:\n", "drivers:\n  Q3: {terminals: {out: C1/16, ground: C1/1}}\n")


def place(line: int, pattern: str = "") -> Place:
    return Place("a.yaml", 10 * line, 10 * line + 4, line, 1, line, 5, pattern)


def hot(subject: str, line: int, carries: float = 9.0, allowed: float = 7.0, pattern: str = "") -> Finding:
    numbers = Number("carries", carries, "A"), Number("allowed", allowed, "A")
    return Finding("too-hot", Severity.ERROR, subject, place(line, pattern), f"Wire {subject} is hot.", numbers)


def too_hot(_: object) -> list[Finding]:
    """The check of the rule of these tests."""
    return [hot("21C", 4, 8.0), hot("21D", 4, 9.0, pattern="leg"), hot("21E", 4, 8.5), hot("31A", 5)]


def accepts(rule: str, subject: str, reason: str = "known") -> Acceptance:
    return Acceptance(place=place(9), rule=rule, subject=subject, reason=reason)


def found(*acceptances: Acceptance) -> tuple[Finding, ...]:
    return examine(RULES, (), NETWORK, None, acceptances, "").findings


def test_like_findings_at_one_place_become_the_worst_of_them() -> None:
    """The one farthest over its limit stands first and lists the others; another place stands by itself."""
    first, other = found()
    assert first == replace(hot("21D", 4, 9.0, pattern="leg"), subjects=("21D", "21E", "21C"))
    assert other == hot("31A", 5)


def test_an_accepted_finding_folds_with_no_open_one() -> None:
    """The worst of three is accepted: the two others stay open and fold with one another alone."""
    findings = found(accepts("too-hot", "21D"))
    assert [(each.subject, each.subjects, each.accepted) for each in findings] == [
        ("21E", ("21E", "21C"), None),
        ("31A", (), None),
        ("21D", (), "known"),
    ]


def test_findings_that_say_different_things_stay_apart() -> None:
    """Two faults at one place, as of a file without title block and route, are both told."""
    said = examine_text("format: 2\n").findings
    assert [each.message for each in said] == ["The design has no route.", "The design has no title block."]


def test_an_acceptance_that_meets_nothing_is_told() -> None:
    """A subject that the rule does not find, with the near one; and a rule that does not exist."""
    findings = found(accepts("too-hot", "31B"), accepts("to-hot", "31A"))
    unneeded = [each for each in findings if each.rule == "unneeded-acceptance"]
    assert [(each.severity, each.subject, each.message, each.mend) for each in unneeded] == [
        (Severity.WARNING, "31A", "to-hot is accepted here, and no rule has that name.", "did you mean too-hot?"),
        (Severity.WARNING, "31B", "too-hot is accepted for 31B, and finds nothing there.", "did you mean 31A?"),
    ]


def test_what_was_not_examined_has_not_passed_and_outdates_no_acceptance() -> None:
    """Without a network its rules, and those of cutting wires, are named; what they would find stays accepted."""
    examination = examine(RULES, (), None, None, [accepts("too-hot", "21C")], "the file has faults")
    assert examination.findings == ()
    assert [(each.rule, each.reason) for each in examination.not_examined] == [
        ("unrouted-wire", "the file has faults"),
        ("too-hot", "the file has faults"),
    ]


def test_a_stage_that_told_has_been_examined() -> None:
    """Circuits that could not be laid leave no network, and their own rule is not among those left out."""
    text = edited(("through: C10/1, splice: S1", "splice: S1"))
    examination = examine_text(text)
    assert [each.rule for each in examination.findings] == ["unrouted-wire"]
    left_out = [each.rule for each in examination.not_examined]
    assert "unrouted-wire" not in left_out
    assert "short-circuit" in left_out


def test_a_rule_that_crashes_is_no_finding() -> None:
    """A check that fails by itself stops the examination, by name."""
    broken = replace(RULES[2], check="tests.rules.test_examine:hot")
    with pytest.raises(RuleCrash, match="the rule too-hot failed: TypeError"):
        examine([broken], (), NETWORK, None, (), "")


def test_an_accepted_error_no_longer_stands_against_building() -> None:
    """A design accepts a finding by rule and subject, with a reason; only then is it for build."""
    assert not examine_text(edited(DRIVERS)).is_for_build
    text = edited(DRIVERS) + "accept:\n  - {rule: orphan-cavity, subject: C1/16, reason: spare output}\n"
    examination = examine_text(text)
    assert examination.is_for_build
    assert [(each.subject, each.accepted) for each in beyond_notes(examination.findings)] == [("C1/16", "spare output")]


def test_an_acceptance_of_the_flat_six_points_at_its_subject() -> None:
    """An acceptance that outlived its finding is a warning at the subject that it names."""
    text = FLAT_SIX + "accept:\n  - {rule: orphan-cavity, subject: C1/16, reason: spare output}\n"
    assert told(text) == [("unneeded-acceptance", line_of(text, "subject: C1/16"), "C1/16")]
