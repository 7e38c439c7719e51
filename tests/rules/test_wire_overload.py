"""Wires that are too thin: the two numbers, where they come from, and the next sizes."""

import re
from dataclasses import replace

import pytest

from harnessgen.physics.ampacity import allowed_current
from harnessgen.physics.physics import Physics
from harnessgen.rules.loading import wire_overload
from tests.line import FLAT_SIX, edited, examine_text, line_of, only, physics_of, told, underlined

THIN = ("RD/YE, trunk-size: 0.75 mm2, leg-size: 0.5 mm2", "RD/YE, trunk-size: 0.75 mm2, leg-size: 0.35 mm2")


def plenum_at(degc: int) -> tuple[str, str]:
    """The change that gives the plenum another ambient temperature."""
    zone = re.search(r"\n  plenum: .*", FLAT_SIX)
    assert zone is not None
    return zone[0], zone[0].replace("120", str(degc))


HOT = plenum_at(174)
"""A zone one kelvin below what the insulation stands, so that a wire may carry little."""


def allowed_a(physics: Physics, mark: str) -> float:
    """Allowed current of a wire, computed apart from the rule."""
    return allowed_current(physics.network, physics.network.wire_of[mark]).allowed_a


def test_a_thin_leg_of_a_strong_load_is_told_at_its_size() -> None:
    """One load draws more than its leg allows; the rule points at the size of the legs and names this leg."""
    text = edited(
        ("INJ2: {at: left-2,", "INJ2: {at: left-2, resistance: 1.2 ohm,"), ("engine-bay: 90", "engine-bay: 45"), THIN
    )
    found = [each for each in examine_text(text).findings if each.subject == "21D"]
    assert [(each.rule, underlined(text, each)) for each in found] == [("wire-overload", "0.35 mm2")]
    assert found[0].message == "Wire 21D is too thin for the current that it carries."
    carries, allowed = found[0].numbers
    physics = physics_of(text)
    assert carries.value == pytest.approx(physics.points["left-bank"].amperes["21D"])
    assert allowed.value == pytest.approx(allowed_a(physics, "21D"))
    assert (carries.name, carries.unit, carries.source) == ("carries", "A", "in state left-bank")
    assert (allowed.name, allowed.unit) == ("allowed", "A")
    assert allowed.source == "0.35 mm2 at 120 degC among 6 wires from b1 to lb1; figures of thin-wall-175 from memory"


def test_legs_of_one_size_are_one_finding_and_the_worst_stands_first() -> None:
    """Three legs share a size that is too small; the one nearest the splice carries most."""
    text = edited(HOT, THIN)
    (finding,) = [
        each
        for each in examine_text(text).findings
        if each.rule == "wire-overload" and underlined(text, each) == "0.35 mm2"
    ]
    physics = physics_of(text)
    ratio = {
        mark: max(abs(each.amperes[mark]) for each in physics.points.values()) / allowed_a(physics, mark)
        for mark in ("21C", "21D", "21E")
    }
    assert finding.subjects[0] == finding.subject == max(ratio, key=lambda mark: ratio[mark])
    assert sorted(finding.subjects) == ["21C", "21D", "21E"]


def test_just_enough_is_silent_and_just_too_little_is_told() -> None:
    """The share of the allowed current that may be used decides, to a thousandth."""
    physics = physics_of(FLAT_SIX)
    used = {
        wire.mark: max(abs(point.amperes[wire.mark]) for point in physics.points.values())
        / allowed_a(physics, wire.mark)
        for wire in physics.network.wires
    }
    worst = max(used, key=lambda mark: used[mark])
    enough = FLAT_SIX + f"limits: {{wire-load: {used[worst] * 1.001}}}\n"
    short = FLAT_SIX + f"limits: {{wire-load: {used[worst] * 0.999}}}\n"
    assert told(enough) == []
    assert [(rule, subject) for rule, _, subject in told(short)] == [("wire-overload", worst)]
    finding = only(short)
    line = line_of(short, "limits:")
    assert (
        f" % of {allowed_a(physics, worst):.2f} A, set in the design, design.yaml:{line}:" in finding.numbers[1].source
    )


def test_the_sizes_offered_are_the_next_of_the_family_that_carry_it() -> None:
    """Thicker sizes in order, each with what it allows in the same place; sizes that allow too little are left out."""
    text = edited(HOT, THIN)
    physics = physics_of(text)
    wire = physics.network.wire_of["21C"]
    (finding,) = [each for each in wire_overload.check(physics) if each.subject == "21C"]
    carries = finding.numbers[0].value
    expected = []
    for label in ("0.5", "0.75", "1", "1.5", "2.5", "4", "6", "10", "16", "25"):
        other = replace(wire, figures=wire.family.sizes[label])
        allows = allowed_current(physics.network, other).allowed_a
        if allows >= carries:
            expected.append((f"{label} mm2", f"{label} mm2 (allows {allows:.1f} A)"))
    assert [(each.text, each.words) for each in finding.proposals] == expected[:4]


def test_no_size_helps_where_the_zone_is_too_hot() -> None:
    """Where the zone is as hot as the insulation stands, nothing is allowed and no size is offered."""
    text = edited(plenum_at(175))
    findings = [each for each in examine_text(text).findings if each.rule == "wire-overload"]
    assert {each.numbers[1].value for each in findings} == {0.0}
    assert {each.proposals for each in findings} == {()}
    assert findings[0].numbers[1].source.startswith("thin-wall-175 stands 175 degC, and it is as hot from ")


def test_a_state_with_a_short_is_left_out() -> None:
    """The current of a short is no load of the wire: the short is told, and only that."""
    assert (
        only(edited(("  90: {from", "  16: {from: BAT, to: G1, color: RD, size: 0.5}\n  90: {from"))).rule
        == "short-circuit"
    )
