"""Every rule page is run: the design that shows the fault gives that finding and no other, the mended one is clean."""

import re

import pytest

from harnessgen.catalogue import RULES
from harnessgen.documents.text.rules import page_designs
from harnessgen.evidence.rule import Requirement, Rule
from harnessgen.rules.examine import Examination
from tests.bench.proving import examine_all
from tests.line import examine_text

MARK = re.compile(r"# <- ([a-z-]+)$")


def marked(text: str) -> list[tuple[str, int]]:
    """Rule and line of each mark (`# <- rule-name`) in a design of a page."""
    lines = enumerate(text.splitlines(), 1)
    return [(mark[1], number) for number, line in lines if (mark := MARK.search(line)) is not None]


def examined(rule: Rule, text: str) -> Examination:
    """What a check says, with the fault simulation where the rule rests on it."""
    return examine_all(text) if rule.need is Requirement.BENCH else examine_text(text)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_the_design_that_shows_it_gives_the_one_finding(rule: Rule) -> None:
    """The showing design of a page has this finding, at the line that the page marks, and nothing else."""
    shows, _ = page_designs(rule.page_text())
    assert [name for name, _ in marked(shows)] == [rule.name]
    (finding,) = examined(rule, shows).findings
    assert [(finding.rule, finding.place.line)] == marked(shows)
    assert finding.severity is rule.severity


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_the_mended_design_is_clean(rule: Rule) -> None:
    """The mended design of a page has no finding, and every rule was examined."""
    _, mended = page_designs(rule.page_text())
    examination = examined(rule, mended)
    assert (examination.findings, examination.not_examined) == ((), ())
