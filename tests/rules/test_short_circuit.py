"""Shorts in the flat six: the wire that is to blame, at the end that is wrong, and nothing else."""

import pytest

from harnessgen.evidence.finding import Number
from harnessgen.rules.continuity import short_circuit
from tests.line import (
    FLAT_SIX,
    beyond_notes,
    circuits,
    edited,
    examine_text,
    line_of,
    only,
    physics_of,
    told,
    underlined,
)

TO_GROUND = "16: {from: F3, to: G1, color: RD, size: 1 mm2}"
ALTERNATOR = ("grounds:\n", "  ALT: {voltage: 14 V, cavity: C1/9}\n\ngrounds:\n")


def test_the_flat_six_is_clean() -> None:
    """The design that the rules are tried on has no error or warning, and every rule was examined."""
    examination = examine_text(FLAT_SIX)
    assert beyond_notes(examination.findings) == ()
    assert {each.rule for each in examination.not_examined} <= {"uneven-bank"}


def test_a_wire_to_ground_is_told_at_its_end() -> None:
    """One wire too many from a fuse to ground: the rule points at the ground end of this wire."""
    text = edited(circuits(TO_GROUND))
    finding = only(text)
    assert (finding.rule, finding.subject) == ("short-circuit", "16A")
    assert (finding.place.line, underlined(text, finding)) == (line_of(text, TO_GROUND), "G1")
    assert finding.message == (
        "BAT is joined to ground at G1 without a load between them in state parked, by 13A, F3, 16A."
    )
    assert finding.mend == "take 16A out: without it the two are apart, and every load keeps its feed and its return"


def test_the_short_current_is_that_of_the_resistances() -> None:
    """13.8 V over the resistances in the path: battery, wires, fuse, ground point."""
    physics = physics_of(edited(circuits(TO_GROUND)))
    (finding,) = short_circuit.check(physics)
    (number,) = finding.numbers
    path_ohm = sum(physics.ohms[name] for name in ("BAT", "13A", "F3", "16A", "G1"))
    assert number == Number("flows", number.value, "A", "out of BAT, as long as nothing opens", 0)
    assert number.value == pytest.approx(13.8 / path_ohm, rel=1e-9)


def test_a_wire_in_the_wrong_cavity_is_told_not_the_ground_wire() -> None:
    """The controller's feed sits in its ground cavity: the path ends in the good ground wire, which is not blamed."""
    text = edited(("to: [K1/86, C1/2]", "to: [K1/86, C1/1]"))
    (finding,) = [each for each in examine_text(text).findings if each.rule == "short-circuit"]
    assert (finding.subject, underlined(text, finding)) == ("15C", "C1/1")
    assert finding.place.line == line_of(text, "C1/1], splice: S6")
    assert [(each.text, each.words) for each in finding.proposals] == [
        ("C1/2", "C1/2 in place of C1/1: terminal 1 of ECU has no wire yet")
    ]


def test_a_driver_on_a_feed_shorts_when_it_turns_on() -> None:
    """An output wired to a feed is no short in any state, and one as soon as it turns on."""
    text = edited(("drivers:\n", "drivers:\n  Q3: {terminals: {out: C1/2, ground: C1/1}}\n"))
    finding = only(text)
    assert (finding.rule, finding.subject, finding.mend) == ("short-circuit", "15C", "")
    assert finding.message == (
        "BAT is joined to ground at G1 without a load between them in state key-on with Q3 on,"
        " by 13A, F3, 14A, C2/1, SW1, C2/2, 15A, 15C, C1/2, Q3, C1/1, 90A."
    )


def test_two_shorts_are_two_findings() -> None:
    """One short does not hide another."""
    physics = physics_of(edited(circuits(TO_GROUND, "17: {from: F10, to: G1, color: RD, size: 1 mm2}")))
    assert sorted(each.subject for each in short_circuit.check(physics)) == ["16A", "17A"]


def test_the_wrong_one_of_two_wires_is_blamed_though_more_is_wrong() -> None:
    """A coil's ground side is wired to the battery; its good ground wire is not blamed, whatever its contact feeds."""
    wrong = "17: {from: K1/87, to: G1, color: RD, size: 1 mm2}", "18: {from: BAT, to: K1/85, color: RD, size: 1 mm2}"
    assert [each.subject for each in short_circuit.check(physics_of(edited(circuits(*wrong))))] == ["18A"]


def test_supplies_that_are_joined_are_told() -> None:
    """Two supplies on one net are told at the wire that joins them."""
    text = edited(ALTERNATOR, circuits("16: {from: ALT, to: F3, color: RD, size: 1 mm2}"))
    (finding,) = [each for each in examine_text(text).findings if each.rule == "short-circuit"]
    assert (finding.subject, finding.numbers) == ("16A", ())
    assert finding.message == ("BAT and ALT are joined without a load between them in state parked, by 13A, 16A, C1/9.")


def test_poles_behind_one_cavity_are_told_without_a_wire() -> None:
    """A supply and a ground point behind one cavity are joined whatever is wired."""
    text = edited(ALTERNATOR, ("  G1: {title", "  G2: {cavity: C1/9}\n  G1: {title"))
    (finding,) = [each for each in examine_text(text).findings if each.rule == "short-circuit"]
    assert finding.message == "ALT and G2 stand behind the same cavity, C1/9, and so are joined."
    assert finding.place.line == line_of(text, "  G2: {cavity")


def test_a_load_between_is_no_short() -> None:
    """A load from the battery's fuse to ground is no short."""
    text = edited(
        ("loads:\n  ECU", "loads:\n  H1: {resistance: 10 ohm, at: block}\n  ECU"),
        circuits("16: {from: F3, to: H1/1, color: RD, size: 1}", "17: {from: H1/2, to: G1, color: BK, size: 1}"),
    )
    assert told(text) == []
