"""Rules: records that can be listed without importing what they compute with."""

import sys
from pathlib import Path

import pytest

from harnessgen.evidence.finding import Finding, Severity
from harnessgen.evidence.rule import Requirement, Rule

_CHECK = """\
from harnessgen.evidence.finding import Finding


def check(facts):
    return [facts]
"""


@pytest.fixture
def rule(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Rule:
    """A rule whose check and page lie in a package of their own."""
    package = tmp_path / "sample_rules_of_test"
    package.mkdir()
    (package / "__init__.py").write_text("", encoding="utf-8")
    (package / "too_hot.py").write_text(_CHECK, encoding="utf-8")
    (package / "too_hot.md").write_text("# too-hot\n\nÜber 120 °C.\n", encoding="utf-8")
    monkeypatch.syspath_prepend(str(tmp_path))
    monkeypatch.delitem(sys.modules, "sample_rules_of_test.too_hot", raising=False)
    return Rule(
        "too-hot",
        Severity.ERROR,
        Requirement.PHYSICS,
        "A wire gets hotter than its insulation stands.",
        "sample_rules_of_test:too_hot.md",
        (),
        "sample_rules_of_test.too_hot:check",
    )


def test_a_check_is_imported_when_it_is_asked_for(rule: Rule) -> None:
    """Making the record imports nothing; loading the check does."""
    assert "sample_rules_of_test.too_hot" not in sys.modules
    check = rule.load_check()
    assert "sample_rules_of_test.too_hot" in sys.modules
    facts: Finding = object()  # type: ignore[assignment]
    assert check(facts) == [facts]


def test_a_page_is_the_text_beside_the_check(rule: Rule) -> None:
    """The page of a rule is read as it was written."""
    assert rule.page_text() == "# too-hot\n\nÜber 120 °C.\n"


def test_a_rule_of_the_reader_has_no_check() -> None:
    """What is examined while the file is read cannot be examined again."""
    rule = Rule("duplicate-key", Severity.ERROR, Requirement.FILE, "A key stands twice.", "p:f.md", ())
    with pytest.raises(LookupError, match="duplicate-key is examined while the file is read"):
        rule.load_check()


def test_needs_go_from_the_file_to_the_bench() -> None:
    """The needs stand in the order in which a run meets them."""
    assert [each.name for each in Requirement] == ["FILE", "DESIGN", "NETWORK", "PHYSICS", "BENCH"]
