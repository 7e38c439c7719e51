"""Fuses over time: too slow, opening at a start, breaking too little, and which of the rules speaks."""

import json
from math import exp
from pathlib import Path

import pytest

from harnessgen.design.limits.table import limit
from harnessgen.documents.data import findings_json
from harnessgen.documents.text import findings as findings_text
from harnessgen.evidence.finding import NotExamined
from harnessgen.evidence.publication import common_practice
from harnessgen.explain.explain import explain
from harnessgen.physics.protection.fuse_curve import FuseCurve
from harnessgen.physics.protection.inrush import Inrush, inrushes
from harnessgen.rules.protection.fused import protected
from harnessgen.schedules.results.status import status_of
from tests.line import FLAT_SIX, MAIN, beyond_notes, edited, examine_text, only, physics_of, told, underlined

HORN = """\
format: 2
harness: {title: Horn harness, number: HN-1, revision: A, wire: thin-wall-175}
route: {battery: {block: 300, horn: 900}}
supplies: {BAT: {voltage: 13.5 V, resistance: 20 mohm, at: battery}}
grounds: {G1: {at: block}}
fuses:
  F1: {rating: 30 A, form: strip, at: battery}
loads: {H1: {kind: motor, power: 60 W, at: horn}}
circuits:
  10: {from: BAT, to: F1, color: RD, size: 2.5 mm2}
  11: {from: F1, to: H1/1, color: RD, size: 1.5 mm2}
  90: {from: H1/2, to: G1, color: BK, size: 2.5 mm2}
states: {horn: {on: [], works: H1}}
"""
BOAT = (Path(__file__).parents[2] / "designs" / "small-boat.yaml").read_text(encoding="utf-8")
SHARED = """\
format: 2
harness: {title: Two horns, number: HN-2, revision: A, wire: thin-wall-175, splice: barrel-large}
route: {battery: {block: 300, horn: 900}}
supplies: {BAT: {voltage: 13.5 V, resistance: 20 mohm, at: battery}}
grounds: {G1: {at: block}}
fuses:
  F1: {rating: 5 A, at: battery}
  F2: {rating: 10 A, at: battery}
loads: {H1: {kind: motor, power: 20 W, at: horn}, H2: {kind: motor, power: 60 W, at: horn}}
splices: {S1: {at: battery, offset: 50, toward: horn}}
circuits:
  8: {from: BAT, to: F1, color: RD, size: 2.5 mm2}
  10: {from: BAT, to: F2, color: RD, size: 2.5 mm2}
  11: {from: F1, to: H1/1, color: RD, size: 1.5 mm2}
  12: {from: F2, to: H2/1, color: RD, size: 1.5 mm2}
  90: {from: G1, to: [H1/2, H2/2], splice: S1, color: BK, size: 1.5 mm2}
states: {horn: {on: [], works: H1}}
"""
BAY = "zones: {bay: 90 degC}\nroute: {battery: {block: 300, horn: {length: 900, zone: bay}}}"


def changed(*changes: tuple[str, str]) -> str:
    """The horn with pieces of its text replaced."""
    text = HORN
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


def test_a_slow_fuse_is_told_with_the_current_and_both_times() -> None:
    """The wire stands 40.5 A for ever and 30 A too, but not the 15 s at 60 A and what follows."""
    finding = only(HORN)
    assert (finding.rule, finding.subject, underlined(HORN, finding)) == ("fuse-too-slow", "F1", "30 A")
    opens, stands = finding.numbers
    assert stands.value < opens.value
    assert "F1 opens too late for wire 11A: at " in finding.message
    assert "from memory" in stands.source
    # The copper itself would melt later: the remark belongs to worse cases alone.
    assert "the wire itself is the fuse" not in finding.message


def test_one_cause_gives_one_finding() -> None:
    """A fuse that its wire does not even carry for ever is too large, and not told as too slow besides."""
    thin = changed(("RD, size: 1.5 mm2", "RD, size: 0.5 mm2"))
    assert [rule for rule, _, _ in told(thin)] == ["fuse-too-large"]
    # In a bay of 90 degC 1.5 mm2 carries the rating of 15 A and not the 20.25 A that the fuse may hold for ever.
    held = changed(
        ("wire: thin-wall-175", "wire: thin-wall-125"),
        ("route: {battery: {block: 300, horn: 900}}", BAY),
        ("rating: 30 A, form: strip", "rating: 15 A"),
        ("power: 60 W", "power: 150 W"),
        ("BK, size: 2.5 mm2", "BK, size: 1.5 mm2"),
    )
    finding = only(held)
    assert finding.rule == "fuse-too-large"
    assert [each.name for each in finding.numbers] == ["holds up to", "stands"]
    assert finding.numbers[0].value == pytest.approx(20.25)
    assert [rule for rule, _, _ in told(held.replace("size: 1.5 mm2", "size: 2.5 mm2"))] == []


@pytest.mark.parametrize(("thick", "mark"), [("RD, size: 2.5 mm2", "10A"), ("BK, size: 2.5 mm2", "90A")])
def test_wires_before_the_fuse_and_in_the_return_have_to_stand_it(thick: str, mark: str) -> None:
    """A short in the horn drives the current of F1 through both: 0.5 mm2 carries the horn, and not 25 A for ever."""
    thin = changed((thick, f"{thick[:2]}, size: 0.5 mm2"), ("30 A, form: strip", "25 A"))
    assert told(thin.replace("size: 0.5 mm2", "size: 1.5 mm2")) == []
    finding = only(thin)
    assert (finding.rule, finding.subject) == ("fuse-too-large", "F1")
    assert f"does not protect wire {mark}" in finding.message
    assert thin[finding.see[0][0].start : finding.see[0][0].end] == "0.5 mm2"


def test_a_shared_return_counts_with_the_largest_fuse_and_one_past_an_output_too() -> None:
    """By the plan of the designs: small boat 90A and 91A serve F1 alone; the flat six returns its banks by outputs."""
    boat = {each.fuse.name: {wire.name for wire in each.in_line} for each in protected(physics_of(BOAT))}
    assert boat["F1"] == {"90A", "91A"}
    assert (boat["F10"], boat["F11"], boat["F3"]) == ({"10A"}, {"13A"}, {"94A"})
    six = {each.fuse.name: {wire.name for wire in each.in_line} for each in protected(physics_of(FLAT_SIX))}
    # A load that shorts while its output is on drives the fuse's current through it and the ground wire behind it.
    assert six["F1"] == {"31A", "31B", "31C", "31D", "31E", "90A"}
    assert six["F2"] == {"32A", "32B", "32C", "32D", "32E"}
    # An output that holds its current down by itself lets no such current through.
    limiting = edited(("Q1: {title: output A,", "Q1: {title: output A, drive: {peak: 6 A, hold: 1.5 A},"))
    held = {each.fuse.name: {wire.name for wire in each.in_line} for each in protected(physics_of(limiting))}
    assert (held["F1"], held["F2"]) == (set(), six["F2"] | {"90A"})
    # Where both lamps of two fuses share a splice to ground, the trunk counts with the larger, each leg with its own.
    shared = {each.fuse.name: {wire.name for wire in each.in_line} for each in protected(physics_of(SHARED))}
    assert shared == {"F1": {"8A", "90B"}, "F2": {"10A", "90A", "90C"}}


def test_a_fuse_that_holds_a_far_short_is_told() -> None:
    """Sixteen metres of 1.5 mm2 there and of 2.5 mm2 back let a 30 A fuse hold a dead short at the horn."""
    finding = only(
        changed(("horn: 900", "horn: 16500"), ("power: 60 W", "power: 6 W"), ("form: strip, ", "form: blade-medium, "))
    )
    assert finding.rule == "fuse-too-slow"
    assert finding.message == "F1 may hold a dead short at H1 for ever."
    draws, holds = finding.numbers
    assert draws.value < holds.value == pytest.approx(40.5)


def test_breaking_needs_a_supply_that_says_what_it_gives() -> None:
    """A battery of 5 mohm asks more of a blade than 1000 A; one that says nothing is not judged."""
    blade = ("rating: 30 A, form: strip", "rating: 15 A")
    strong = changed(blade, ("20 mohm", "5 mohm"))
    finding = only(strong)
    assert (finding.rule, underlined(strong, finding)) == ("breaking-capacity", "15 A")
    assert finding.numbers[0].value > finding.numbers[1].value == 1000.0
    silent = examine_text(changed(blade, ("resistance: 20 mohm, ", "")))
    assert beyond_notes(silent.findings) == ()
    reason = "BAT states no inner resistance, so that nothing bounds a short"
    assert silent.not_examined == (NotExamined("breaking-capacity", reason, "BAT"),)


def test_a_supply_that_feeds_no_fuse_keeps_no_fuse_from_being_judged() -> None:
    """Five volts for a sender without a figure of their own: the battery's fuse is judged by the battery's."""
    sender = ("supplies: {BAT:", "supplies: {REF: {voltage: 5 V, at: horn}, BAT:")
    strong = changed(("rating: 30 A, form: strip", "rating: 15 A"), ("20 mohm", "5 mohm"), sender)
    examined = examine_text(strong)
    assert [each.rule for each in beyond_notes(examined.findings)] == ["breaking-capacity"]
    assert examined.not_examined == ()


FORM = """\
parts:
  fuses:
    glass:
      title: glass fuse of unknown make
      source: none
      standing: common practice
      ratings: {30: {resistance: 2 mohm}}
"""


def test_a_form_without_published_figures_is_told_as_not_examined() -> None:
    """What nobody publishes of a fuse is not passed: its times and what it breaks, each for that fuse alone."""
    text = "format: 2\n" + FORM + changed(("form: strip", "form: glass")).removeprefix("format: 2\n")
    examined = examine_text(text)
    assert [(each.rule, each.subject) for each in examined.not_examined] == [
        ("fuse-too-slow", "F1"),
        ("fuse-nuisance", "F1"),
        ("breaking-capacity", "F1"),
    ]
    assert {each.reason for each in examined.not_examined} == {
        "F1: the form glass has no published opening times",
        "F1: the form glass states no breaking capacity",
    }
    said = findings_text.render(examined.findings, {}, examined.not_examined)
    assert "not examined (F1: the form glass has no published opening times): fuse-too-slow, fuse-nuisance" in said
    reason = "F1: the form glass states no breaking capacity"
    assert {"rule": "breaking-capacity", "reason": reason, "subject": "F1"} in json.loads(
        findings_json.render(examined.findings, examined.not_examined)
    )["not_examined"]
    status = status_of(examined.findings, examined.not_examined)
    assert "3 rules not examined for all" in status.words
    (fuse,) = explain(physics_of(text), {MAIN: text}, (), "F1")
    assert ("in a short", "not examined: glass has no published opening times") in [
        (each.what, each.value) for each in fuse.facts
    ]


def test_a_hot_fuse_carries_less() -> None:
    """4.3 A is less than 75 % of 7.5 A and more than the 55 % that is left at 125 degC."""
    zone = (
        "route: {battery: {block: 300,",
        "zones: {hot: 125 degC}\nroute: {battery: {block: {length: 300, zone: hot},",
    )
    small = ("rating: 30 A, form: strip", "rating: 7.5 A")
    assert "fuse-too-small" not in {rule for rule, _, _ in told(changed(small))}
    found = [each for each in examine_text(changed(small, zone)).findings if each.rule == "fuse-too-small"]
    assert found[0].numbers[1].value == pytest.approx(0.55 * 7.5)
    assert "at 125 degC" in found[0].numbers[1].source


def test_a_start_that_may_open_the_fuse() -> None:
    """A motor of 60 W that takes ten times as much at first may open 7.5 A, and not 30 A."""
    motor = ("power: 60 W", "power: 60 W, stall: 0.3 ohm")
    small = changed(motor, ("rating: 30 A, form: strip", "rating: 7.5 A"))
    assert [rule for rule, _, _ in told(small)] == ["fuse-nuisance"]
    assert told(small.replace("rating: 7.5 A", "rating: 25 A")) == []
    quick = small.replace("states:", "limits: {motor-run-up: 5 ms}\nstates:")
    assert told(quick) == []


def test_a_motor_says_how_long_it_runs_up() -> None:
    """A fuse that stands a small motor's 0.1 s may open in the second of a large fan, and the finding says whose it is.

    By hand: 4.4 A running, 30 A at first (13.5 V over 0.45 ohm). With 1 s the RMS over 0.5 s is 24.7 A, which may open
    10 A after 0.12 s; with 0.1 s it is 21.1 A over 0.1 s and 16.7 A over 0.2 s, which open it after 0.14 and 0.23 s.
    """
    motor = ("power: 60 W", "power: 60 W, stall: 0.45 ohm")
    small = changed(motor, ("rating: 30 A, form: strip", "rating: 10 A"))
    assert told(small) == []
    slow = small.replace("stall: 0.45 ohm", "stall: 0.45 ohm, run-up: 1 s")
    finding = only(slow)
    assert finding.rule == "fuse-nuisance"
    assert "motors run up in 1 s, set in the design, design.yaml:" in finding.numbers[0].source
    usual = only(small.replace("rating: 10 A", "rating: 7.5 A").replace("0.45", "0.3"))
    assert "motors run up in 0.1 s, time in which the inrush of a small motor" in usual.numbers[0].source


def test_only_the_motors_behind_a_fuse_decide_its_run_up() -> None:
    """Of two horns the one behind F1 runs up in 2 s, the other by the limit."""
    text = SHARED.replace("H1: {kind: motor, power: 20 W,", "H1: {kind: motor, power: 20 W, run-up: 2 s,")
    found = {each.fuse: each.motor_s for each in inrushes(physics_of(text), frozenset({"F1", "F2"}))}
    assert found == {"F1": 2.0, "F2": 0.1}


def test_a_held_motor_is_judged_for_as_long_as_the_state_says() -> None:
    """Held for two seconds at four times its current a motor may open a fuse that its start does not."""
    held = changed(
        ("rating: 30 A, form: strip", "rating: 10 A"),
        ("{horn: {on: [], works: H1}}", "{horn: {on: []}, held: {on: [], stalled: H1, lasts: 2 s}}"),
    )
    finding = only(held)
    assert finding.rule == "fuse-nuisance"
    assert "what stands still in state held" in finding.message
    assert told(held.replace("lasts: 2 s", "lasts: 100 ms")) == []


def test_the_rms_current_of_an_inrush_against_small_steps() -> None:
    """The closed form of the RMS current is that of the squares added up, and its derivation gives it again."""
    inrush = Inrush("F1", "on", 4.0, 20.0, 12.0, 0.03, limit("motor-run-up"))
    for end in (0.01, 0.2, 2.0):
        step = end / 20000
        square = sum(
            (4 + 20 * exp(-t / 0.03) + 12 * exp(-t / 0.1)) ** 2 * step for t in (step * (n + 0.5) for n in range(20000))
        )
        assert inrush.rms_a(end) == pytest.approx((square / end) ** 0.5, rel=1e-6)
        derived = inrush.rms_derivation(end)
        assert derived.again() == derived.result == pytest.approx(inrush.rms_a(end), rel=1e-9)


def test_the_inrush_of_the_horn_is_its_stall() -> None:
    """At first it takes what its stalled resistance and the wires let through."""
    (found,) = inrushes(physics_of(changed(("power: 60 W", "power: 60 W, stall: 0.3 ohm"))), frozenset({"F1"}))
    assert found.run_a == pytest.approx(13.5 / (13.5**2 / 60 + 0.057), rel=0.02)
    assert found.first_a == pytest.approx(13.5 / (0.3 + 0.057), rel=0.05)
    curve = FuseCurve(5.0, ((6.75, 1.0),), ((6.75, 0.5),), common_practice())
    share, time_s, rms_a = found.worst(curve)
    assert share == pytest.approx(curve.shortest_s(rms_a) / time_s)


def test_a_thin_return_behind_an_output_is_told() -> None:
    """15 A guard the feed of 1.5 mm2; the return that the output switches is of 0.35 mm2 and stands less than that."""
    output = (
        "states: {horn: {on: [], works: H1}}",
        "drivers: {Q1: {at: block, direct: {ground: G1}}}\nstates: {horn: {on: Q1}}",
    )
    by_output = changed(
        ("rating: 30 A, form: strip", "rating: 15 A"), ("from: H1/2, to: G1", "from: H1/2, to: Q1/out"), output
    )
    assert told(by_output) == []
    thin = by_output.replace("BK, size: 2.5 mm2", "BK, size: 0.35 mm2")
    finding = only(thin)
    assert (finding.rule, finding.subject) == ("fuse-too-large", "F1")
    assert "does not protect wire 90A" in finding.message
