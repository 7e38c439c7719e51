"""Sixty single faults: each is found, told once, and its fix is one that a fabricator would make."""

import re
from pathlib import Path

import pytest

from harnessgen.evidence.finding import Finding
from harnessgen.remedies.changes import Change, changed_texts
from harnessgen.run import examine_text
from tests.line import beyond_notes
from tests.remedies.single_faults import SINGLE_FAULTS
from tests.samples import some

DESIGNS = Path(__file__).parents[2] / "designs"
NAME = "design.yaml"

WITHOUT_CHANGE = {("straight-eight", "Q1: {title: output 1, current: 1 A")}
"""Another output is needed, which no change of the file gives: words alone."""


def told(text: str) -> list[Finding]:
    """Errors and warnings, with the fixes that were tried."""
    return list(beyond_notes(examine_text(text, NAME).examination.findings))


@pytest.mark.parametrize(("design", "good", "bad"), some(SINGLE_FAULTS, 12))
def test_a_single_fault_is_one_finding_with_a_fix_that_mends(design: str, good: str, bad: str) -> None:
    """Everything else is folded beneath it; with the fix in the file nothing is left, and nothing new has come."""
    text = (DESIGNS / f"{design}.yaml").read_text(encoding="utf-8")
    assert text.count(good) == 1
    faulty = text.replace(good, bad)
    found = told(faulty)
    (finding,) = found
    assert finding.mend
    assert {each.caused_by for each in finding.consequences} <= {finding.id}
    if (design, bad) in WITHOUT_CHANGE:
        assert finding.chosen is None
        return
    assert finding.chosen is not None
    changes = [Change(place, new) for place, new in finding.chosen.changes]
    mended = changed_texts({NAME: faulty}, changes)[NAME]
    assert told(mended) == []
    assert not forbidden(finding)


def forbidden(finding: Finding) -> list[str]:
    """What no fix may say: a thing joined to itself, a sensor's ground on the block, a consequence never listed."""
    mend = finding.mend
    wrong = [each for each in re.findall(r"from: ([\w/]+), to: ([\w/]+)", mend) if each[0] == each[1]]
    said = [f"{one} to itself" for one, _ in wrong]
    said += re.findall(r"from: N\d/\w+, to: G1", mend)
    said += re.findall(r"this mends .*", mend)
    return said


def test_fixes_of_a_bank_with_too_large_and_too_small_a_fuse_do_not_contradict() -> None:
    """A fuse that is too small for its load and too large for thin legs gets one rating at most, or other words."""
    text = (DESIGNS / "straight-eight.yaml").read_text(encoding="utf-8")
    thin = text.replace("leg-size: 1 mm2", "leg-size: 0.5 mm2").replace(
        "injector feed, rating: 10 A", "injector feed, rating: 7.5 A"
    )
    ratings = {label for each in told(thin) for label in re.findall(r"(\d[\d.]*) A for F1", each.mend)}
    assert len(ratings) <= 1
