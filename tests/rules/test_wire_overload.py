"""Wires that are too thin: the two numbers, where they come from, and the next sizes."""

import re
from dataclasses import replace

import pytest

from harnessgen.evidence.finding import Finding
from harnessgen.physics.heat.ampacity import heated
from harnessgen.physics.heat.stretch import shared_heat
from harnessgen.physics.physics import Physics
from harnessgen.rules.loading import wire_overload
from tests.line import FLAT_SIX, edited, examine_text, line_of, only, physics_of, told, underlined

THIN = ("RD/YE, trunk-size: 0.75 mm2, leg-size: 0.5 mm2", "RD/YE, trunk-size: 0.75 mm2, leg-size: 0.35 mm2")


def plenum_at(degc: float) -> tuple[str, str]:
    """The change that gives the plenum another ambient temperature."""
    zone = re.search(r"\n  plenum: .*", FLAT_SIX)
    assert zone is not None
    return zone[0], zone[0].replace("120", f"{degc:g}")


HOT = plenum_at(172)
"""A zone a few kelvin below what the insulation stands, so that a wire may carry little beside its neighbours."""


def brought_to_degc(physics: Physics, finding: Finding) -> list[float]:
    """Temperature of the wire in each stretch of its way with the allowed current of a finding, its neighbours kept."""
    state = finding.numbers[0].source.split("in state ")[1].split(",")[0]
    found = []
    for stretch in physics.heat.in_state(state):
        bundle = stretch.bundle
        if finding.subject in bundle.marks:
            index = bundle.marks.index(finding.subject)
            currents = list(stretch.currents_a)
            currents[index] = finding.numbers[1].value
            heat = shared_heat(bundle.bodies, currents, bundle.covering, bundle.ambient_degc)
            found.append(heat.conductors_degc[index])
    return found


def test_a_thin_leg_of_a_strong_load_is_told_at_its_size() -> None:
    """One load draws more than its leg allows; the rule points at the size of the legs and names this leg."""
    text = edited(
        ("INJ2: {at: left-2,", "INJ2: {at: left-2, resistance: 1.2 ohm,"), ("engine-bay: 90", "engine-bay: 45"), THIN
    )
    found = [each for each in examine_text(text).findings if each.subject == "21D"]
    assert [(each.rule, underlined(text, each)) for each in found] == [("wire-overload", "0.35 mm2")]
    assert found[0].message == "Wire 21D is too thin for the current that it carries."
    carries, allowed, hot = found[0].numbers
    physics = physics_of(text)
    assert carries.value == pytest.approx(physics.currents["left-bank"]["21D"].rms_a)
    assert max(brought_to_degc(physics, found[0])) == pytest.approx(175.0, abs=1e-6)
    assert (carries.name, carries.unit, carries.source) == (
        "carries",
        "A",
        "in state left-bank, coldest, highest supply",
    )
    assert (allowed.name, allowed.unit) == ("allowed", "A")
    hottest = physics.heat.hottest("21D")
    assert hottest is not None
    assert (hot.name, hot.unit, hot.value) == ("gets hot", "degC", hottest.conductor_degc)
    assert hot.source == (
        f"{hottest.conductor_degc - 175:.1f} K above the 175 degC that thin-wall-175 stands; "
        "hottest from b1 to lb1, in state left-bank, coldest, highest supply"
    )
    assert allowed.source == (
        "0.35 mm2 at 120 degC among 6 wires, 6 of them loaded, from b1 to lb1; figures of thin-wall-175 from memory"
    )


def test_legs_of_one_size_are_one_finding_and_the_worst_stands_first() -> None:
    """Three legs share a size that is too small; the one nearest the splice carries most."""
    text = edited(HOT, THIN)
    (finding,) = [
        each
        for each in examine_text(text).findings
        if each.rule == "wire-overload" and underlined(text, each) == "0.35 mm2"
    ]
    physics = physics_of(text)
    used = {mark: loading.used for mark in ("21C", "21D", "21E") if (loading := physics.heat.loading(mark)) is not None}
    assert finding.subjects[0] == finding.subject == max(used, key=lambda mark: used[mark])
    assert sorted(finding.subjects) == ["21C", "21D", "21E"]


def test_just_enough_is_silent_and_just_too_little_is_told() -> None:
    """The share of the allowed current that may be used decides, to a thousandth."""
    physics = physics_of(FLAT_SIX)
    loadings = [loading for wire in physics.network.wires if (loading := physics.heat.loading(wire.mark)) is not None]
    worst = max(loadings, key=lambda loading: loading.used)
    enough = FLAT_SIX + f"limits: {{wire-load: {worst.used * 1.001}}}\n"
    short = FLAT_SIX + f"limits: {{wire-load: {worst.used * 0.999}}}\n"
    assert told(enough) == []
    assert [(rule, subject) for rule, _, subject in told(short)] == [("wire-overload", worst.at.wire.mark)]
    finding = only(short)
    line = line_of(short, "limits:")
    assert f" % of {worst.allowed_a:.2f} A, set in the design, design.yaml:{line}:" in finding.numbers[1].source


def test_the_sizes_offered_are_the_next_of_the_family_that_carry_it() -> None:
    """Thicker sizes in order, each with what it allows in the same place; sizes that allow too little are left out."""
    text = edited(plenum_at(150), ("INJ2: {at: left-2,", "INJ2: {at: left-2, resistance: 2 ohm,"), THIN)
    physics = physics_of(text)
    (finding,) = [each for each in wire_overload.check(physics) if each.subject == "21D"]
    assert [each.text for each in finding.proposals] == ["0.5 mm2", "0.75 mm2", "1 mm2", "1.5 mm2"]
    wire = physics.network.wire_of["21D"]
    at = physics.heat.loading("21D")
    assert at is not None
    for proposal in finding.proposals:
        label, words = proposal.text.removesuffix(" mm2"), proposal.words
        allows = float(words.split("allows ")[1].removesuffix(" A)"))
        assert allows >= finding.numbers[0].value - 0.05
        # Another way to the same: with that size and that current the conductor comes to its rating.
        other = heated(replace(wire, figures=wire.family.sizes[label]))
        bundle = at.at.stretch.bundle
        bodies = [other if index == at.at.index else each for index, each in enumerate(bundle.bodies)]
        currents = [allows if index == at.at.index else each for index, each in enumerate(at.at.stretch.currents_a)]
        degc = shared_heat(bodies, currents, bundle.covering, bundle.ambient_degc).conductors_degc[at.at.index]
        assert degc == pytest.approx(175.0, abs=0.1)


def test_no_size_helps_where_the_zone_is_too_hot() -> None:
    """Where the zone is as hot as the insulation stands, nothing is allowed and no size is offered."""
    text = edited(plenum_at(175))
    findings = [each for each in examine_text(text).findings if each.rule == "wire-overload"]
    assert {each.numbers[1].value for each in findings} == {0.0}
    assert {tuple(each.proposals) for each in findings} == {()}
    assert findings[0].numbers[1].source.startswith("thin-wall-175 stands 175 degC, and it is as hot from ")


def test_a_state_with_a_short_is_left_out() -> None:
    """The current of a short is no load of the wire: the short is told, and only that."""
    assert (
        only(edited(("  90: {from", "  16: {from: BAT, to: G1, color: RD, size: 0.5}\n  90: {from"))).rule
        == "short-circuit"
    )


def test_a_wire_that_melts_says_so_and_where() -> None:
    """Copper that comes to no temperature has none to print: the message names the stretch and the state."""
    text = edited(("INJ2: {at: left-2,", "INJ2: {at: left-2, resistance: 0.2 ohm,"), THIN)
    (finding,) = [
        each for each in examine_text(text).findings if each.rule == "wire-overload" and "21D" in each.message
    ]
    assert finding.message == (
        "Wire 21D is too thin for the current that it carries: in state left-bank from b1 to lb1 its copper melts."
    )
    assert [each.name for each in finding.numbers] == ["carries", "allowed"]
