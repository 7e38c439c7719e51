"""Wires that are cut too short: how much, against what, and the length that reaches."""

import math

import pytest

from tests.line import edited, line_of, only, physics_of, told, underlined

# The feed leg of INJ2, by hand: splice S1 lies 40 mm beyond b1, so 120 of 160 mm are left to lb1, then 118 mm to lb2
# and 60 mm to the connector; 15 mm of overlap in the splice and 12 mm inside C22.
NEEDED_MM = 120 + 118 + 60 + 15 + 12


def doubt_mm() -> float:
    """Expanded uncertainty by the GUM (JCGM 100:2008, 4.3.7 and 5.1.2): rectangular bounds, k = 2."""
    bounds = 4 * 120 / 160, 2, 2
    return 2 * math.sqrt(sum(bound**2 / 3 for bound in bounds))


def cut_to(cut: str) -> str:
    return edited(("INJ2: {at: left-2,", f"INJ2: {{at: left-2, feed: {{cut: {cut}}},"))


def test_a_short_leg_is_told_at_its_cut_length() -> None:
    """82.8 mm short: 250 mm less 3 mm of cutting, against 325 mm and the doubt in three stretches."""
    text = cut_to("250 mm")
    finding = only(text)
    needed, available = finding.numbers
    assert (finding.rule, finding.subject, underlined(text, finding)) == ("leg-too-short", "21D", "250 mm")
    assert finding.place.line == line_of(text, "INJ2: {at: left-2")
    assert needed.value == pytest.approx(NEEDED_MM + doubt_mm(), abs=1e-9)
    assert available.value == 247.0
    assert finding.message == "Wire 21D is 82.8 mm too short for its way from S1 to C22/1."
    assert needed.source == "325.0 mm and 4.8 mm for how well the route is measured (k = 2)"
    assert available.source == (
        "cut to 250 mm, less 3 mm: cutting tolerance, hand cutting to a rule: common practice, no source"
    )
    assert [(each.text, each.words) for each in finding.proposals] == [
        ("335 mm", "cut: 335 mm"),
        (
            "123 mm",
            "move S1 83 mm towards lb1 (wins 83.0 mm;"
            " 21B needs 83.0 mm more, 21C needs 83.0 mm less, 21E needs 83.0 mm less)",
        ),
    ]


def test_a_tenth_of_a_millimetre_decides() -> None:
    """A leg that just reaches is tight, not short, and one a tenth shorter is told with its tenth."""
    least = NEEDED_MM + doubt_mm() + 3
    assert [rule for rule, _, _ in told(cut_to(f"{least + 0.01:.3f} mm"))] == ["leg-tight"]
    assert only(cut_to(f"{least - 0.09:.3f} mm")).message == (
        "Wire 21D is 0.1 mm too short for its way from S1 to C22/1."
    )


def test_a_tolerance_of_its_own_replaces_the_cutting_tolerance() -> None:
    """A stated cut tolerance counts instead of the shop's, and stands in the length that is offered."""
    finding = only(cut_to("320 +5/-1 mm"))
    assert finding.numbers[1].value == 319.0
    assert finding.numbers[1].source == "cut to 320 mm, less 1 mm: its own tolerance"
    assert finding.proposals[0].text == "335 +5/-1 mm"


def test_the_offered_length_keeps_to_the_step() -> None:
    """The smallest length on the bench's step that reaches."""
    text = cut_to("250 mm") + "limits: {cutting-step: 1 mm}\n"
    assert only(text).proposals[0].text == "333 mm"


def test_without_a_cut_nothing_is_short() -> None:
    """A wire that is still to be cut is given a length that reaches."""
    physics = physics_of(edited())
    assert min(each.margin_mm for each in physics.lengths.values()) >= 0
