"""The rule untested-fault: what no step shows is an error where it is severe; what nearly hides is silent."""

import pytest

from harnessgen.bench.faults.consequence import Consequences
from harnessgen.bench.proof import Proofs
from harnessgen.bench.setup.step import Phase
from harnessgen.evidence.finding import Severity
from tests.bench.proving import examine_all, fitted_of, proofs_of, text_of


def found(text: str) -> list[tuple[str, str]]:
    return [(each.subject, each.severity.value) for each in examine_all(text).findings if each.rule == "untested-fault"]


def tank(size: str, tail: str = "") -> str:
    """A valve 80 m off: three ohm of thin wire, or less than one of thick."""
    return f"""\
format: 2
harness: {{title: Tank valve harness, number: TV-1, revision: A}}
route: {{battery: {{valve: 80 m}}}}
supplies: {{BAT: {{voltage: 13.5 V, at: battery}}}}
grounds: {{G1: {{at: valve}}}}
fuses: {{F1: {{rating: 3 A, at: battery}}}}
loads: {{Y1: {{kind: coil, resistance: 400 ohm, at: valve, suppression: diode}}}}
circuits:
  10: {{from: BAT, to: F1, color: RD, size: 1 mm2}}
  12: {{from: F1, to: Y1/1, color: RD, size: {size}}}
  90: {{from: Y1/2, to: G1, color: BK, size: 1 mm2}}
states:
  on: {{on: []}}
{tail}"""


def test_a_joint_that_hides_in_a_long_wire_is_an_error() -> None:
    """0.2 ohm against a tenth of 80 m x 37.1 mohm/m = 3 ohm: hidden. In 1.5 mm2 a tenth is 0.1 ohm: shown."""
    assert found(tank("0.5 mm2")) == [("12A", "error")]
    assert found(tank("1.5 mm2")) == []


def test_it_is_accepted_with_a_reason_and_not_for_nothing() -> None:
    """An acceptance meets it here, and is told where it meets nothing."""
    accept = "accept:\n  - {rule: untested-fault, subject: 12A, reason: both joints were pulled and seen}\n"
    (finding,) = [each for each in examine_all(tank("0.5 mm2", accept)).findings if each.rule == "untested-fault"]
    assert finding.accepted == "both joints were pulled and seen"
    assert [each.rule for each in examine_all(tank("1.5 mm2", accept)).findings] == ["unneeded-acceptance"]


def test_a_shield_whose_end_hangs_free_is_a_warning() -> None:
    """No current can be sent through it, and what it would do is not severe."""
    assert found(text_of("ignition-sensors")) == [("52A", "warning")]


def hidden_below(proofs: Proofs) -> dict[str, float]:
    """For each wire the joint that its best drop step just cannot tell, by hand: band and meter over the current.

    A reading r fails if r less its own error lies above the band, and a joint of j ohm adds I j to it.
    """
    found: dict[str, float] = {}
    for block in proofs.pool.blocks:
        for step in block.steps if block.setup.phase is Phase.DROP else ():
            meter, expected = step.instrument, step.expected
            assert meter is not None
            assert expected.value is not None
            assert expected.high is not None
            ampere = float(step.action.rpartition(", ")[2].removesuffix(" A"))
            ohm = ((expected.high + meter.fixed) / (1.0 - meter.share) - expected.value) / ampere
            for mark in step.covers:
                found[mark] = min(found.get(mark, ohm), ohm)
    return found


GOOD = ["flat-six", "small-boat", "twin-fans", "v8-second-injectors"]
"""Every complete design without such a finding of its own, but for the trailer, whose proof takes minutes."""


@pytest.mark.parametrize("name", GOOD)
def test_joints_that_just_hide_break_a_good_design_and_those_that_just_show_do_not(name: str) -> None:
    """The smallest joint that is asked for set a hair below, then above, what the worst wire's best step can tell."""
    text = text_of(name)
    hidden = hidden_below(proofs_of(text))
    worst = max(hidden.values())
    for share, marks in ((0.98, {mark for mark, ohm in hidden.items() if ohm > 0.98 * worst}), (1.02, set[str]())):
        sizes = f"\nfault-sizes: {{joints: [{1000 * share * worst:.5f} mohm]}}\n"
        findings = [each for each in examine_all(text + sizes).findings if each.severity is not Severity.NOTE]
        assert {each.subject for each in findings} == marks, share
        assert {each.rule for each in findings} <= {"untested-fault"}
        wires = fitted_of(text + sizes).network.wire_of
        for each in findings:
            assert each.place.line == wires[each.subject].place.line
            weigh = Consequences(fitted_of(text + sizes))
            grave = weigh.poor_joint(wires[each.subject], share * worst)
            assert each.severity is (Severity.ERROR if grave.is_severe else Severity.WARNING)
