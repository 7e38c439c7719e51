"""Every finding says which of its figures decides it, which limit that misses, and in which state."""

import math
import re
from pathlib import Path

import pytest

from harnessgen.catalogue import RULES
from harnessgen.documents.text.rules import page_designs
from harnessgen.evidence.finding import Direction, Finding
from harnessgen.evidence.rule import Requirement
from tests.line import examine_text
from tests.samples import some

FAULTY = sorted((Path(__file__).parents[2] / "designs" / "faulty").glob("*.yaml"))
STATE = re.compile(r"\bin state ([\w-]+)")

COMPARES_NOTHING = {
    # Its two voltages lie on one side of each other with the relay closed, on the other with it open.
    "relay-unsettled",
    # Its numbers are what two fuses carry.
    "return-to-ground-hazard",
}


def held_to_its_word(finding: Finding) -> None:
    """The figure and its limit are printed, of one kind, and on the wrong side of each other."""
    deciding = finding.deciding
    numbers = finding.numbers
    if deciding is None:
        assert len(numbers) < 2 or finding.rule in COMPARES_NOTHING, finding.rule
        return
    assert deciding.number in numbers
    assert deciding.limit in numbers
    assert deciding.number.unit == deciding.limit.unit
    value, limit = deciding.number.value, deciding.limit.value
    assert value > limit if deciding.direction is Direction.AT_MOST else value < limit
    if deciding.whole is not None:
        assert deciding.whole.unit == deciding.number.unit
        assert math.isclose(deciding.share.value, 100 * value / deciding.whole.value)  # type: ignore[union-attr]
        assert f"{deciding.share.value:.1f} %" in deciding.number.source  # type: ignore[union-attr]


def tells_its_state(finding: Finding) -> None:
    """Where the text of the deciding numbers names one state alone, it is the state of the finding."""
    sources = (each.source for each in finding.numbers[:1])
    named = {found for text in (finding.message, *sources) for found in STATE.findall(text)}
    if len(named) == 1:
        assert {finding.state} == named, finding


@pytest.mark.parametrize("name", [rule.name for rule in RULES if rule.need is not Requirement.BENCH])
def test_every_rule_page_says_what_decides(name: str) -> None:
    """The showing design of every page: figure, limit and direction agree with the numbers that are printed."""
    rule = next(each for each in RULES if each.name == name)
    shows, _ = page_designs(rule.page_text())
    for finding in examine_text(shows).findings:
        held_to_its_word(finding)
        tells_its_state(finding)


@pytest.mark.parametrize("path", some(FAULTY, FAULTY[::2]), ids=lambda path: path.stem)
def test_every_faulty_design_says_what_decides(path: Path) -> None:
    """So do the designs as a builder would get them wrong, and what stands in their other states."""
    for finding in examine_text(path.read_text(encoding="utf-8")).findings:
        for each in (finding, *finding.elsewhere):
            held_to_its_word(each)
            tells_its_state(each)
            assert (each.rule, each.subject) == (finding.rule, finding.subject)


def test_an_id_is_rule_subject_and_state() -> None:
    """It holds no place and no number, so that it stays when the file grows or a wire gets longer."""
    rule = next(each for each in RULES if each.name == "excess-drop")
    shows, _ = page_designs(rule.page_text())
    (one,) = examine_text(shows).findings
    (other,) = examine_text("# a remark\n\n" + shows).findings
    assert one.id == other.id == f"excess-drop:{one.subject}:{one.state}"
    assert one.state != ""
    assert one.place.line + 2 == other.place.line
