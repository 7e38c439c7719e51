"""The rule untested-fault: what no step shows is an error where it is severe; what nearly hides is silent."""

from tests.bench.proving import examine_all, text_of


def found(text: str) -> list[tuple[str, str]]:
    return [(each.subject, each.severity.value) for each in examine_all(text).findings if each.rule == "untested-fault"]


def tank(size: str, tail: str = "") -> str:
    """A valve 80 m off: three ohm of thin wire, or less than one of thick."""
    return f"""\
format: 1
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


def test_a_shield_whose_end_hangs_free_is_a_note() -> None:
    """No current can be sent through it, and what it would do is not severe."""
    assert found(text_of("ignition-sensors")) == [("52A", "note")]
