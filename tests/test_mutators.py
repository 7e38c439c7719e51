"""Each rule against designs that break in exactly one way, and against designs that nearly do."""

from functools import cache
from pathlib import Path

import pytest

from harnessgen.catalogue import RULES, rule_named
from harnessgen.evidence.finding import Severity
from harnessgen.evidence.rule import Requirement
from tests import samples
from tests.line import examine_text, physics_of
from tests.mutators import MUTATORS as OTHERS
from tests.mutators import Change, Good
from tests.mutators_bundle import BUNDLE
from tests.mutators_electrical import ELECTRICAL
from tests.mutators_file import FILE
from tests.mutators_joints import JOINTS
from tests.mutators_protection import PROTECTION
from tests.mutators_reach import REACH
from tests.mutators_sense import SENSE
from tests.mutators_working import WORKING

MUTATORS = {**OTHERS, **ELECTRICAL, **BUNDLE, **PROTECTION, **REACH, **FILE, **JOINTS, **SENSE, **WORKING}

DESIGNS = sorted((Path(__file__).parents[1] / "designs").glob("*.yaml"))
LEAST_DESIGNS = 2
EACH = pytest.mark.parametrize("name", MUTATORS)


@cache
def good(path: Path) -> Good:
    """A good design."""
    text = path.read_text(encoding="utf-8")
    return Good(text, physics_of(text))


def findings(text: str, name: str) -> set[tuple[str, int]]:
    """Rule and line of what stands; notes only of the rule itself, since a good design may have others."""
    is_note = rule_named(name).severity is Severity.NOTE
    found = examine_text(text).findings
    return {
        (each.rule, each.place.line)
        for each in found
        if each.severity is not Severity.NOTE or (is_note and each.rule == name)
    }


def changed(name: str, which: int) -> dict[str, Change]:
    """The designs that have the thing, broken (0) or nearly so (1), by name; the first two of them by default."""
    tried: dict[str, Change] = {}
    for path in DESIGNS:
        change = MUTATORS[name][which](good(path))
        if change is not None:
            tried[path.stem] = change
        if len(tried) == LEAST_DESIGNS and not samples.is_long:
            break
    return tried


@EACH
def test_a_design_that_breaks_in_one_way_has_that_finding_alone(name: str) -> None:
    """In every good design that has the thing: the right rule, at the right line, and no other error or warning."""
    tried = changed(name, 0)
    assert len(tried) >= LEAST_DESIGNS
    for stem, change in tried.items():
        assert findings(change.text, name) == {(name, change.line)}, stem


@EACH
def test_a_design_that_nearly_breaks_is_silent(name: str) -> None:
    """The near miss of every rule has neither error nor warning."""
    tried = changed(name, 1)
    assert len(tried) >= LEAST_DESIGNS
    for stem, change in tried.items():
        assert findings(change.text, name) == set(), stem


def test_every_rule_is_broken() -> None:
    """No rule is without its mutators, save one that no text breaks, and those on the fault simulation.

    A file that cannot be had is tried in `test_files.py`; what no step shows, in `test_untested_fault.py`.
    """
    elsewhere = {"unreadable-file"} | {rule.name for rule in RULES if rule.need is Requirement.BENCH}
    assert set(MUTATORS) == {rule.name for rule in RULES} - elsewhere
