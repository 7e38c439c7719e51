"""Clips, tape and grommets in a design: where they are read to sit, and what of them makes no sense."""

import pytest

from harnessgen.design.records.fixings import Fixing
from harnessgen.network.fixings import fixings_on
from tests.design.reading.test_files import GOOD, understood
from tests.drawings.generated import network_of


def with_keys(keys: str) -> str:
    return GOOD.replace("horn: 900 mm", f"horn: {{length: 900 mm, {keys}}}")


def fixings(keys: str) -> tuple[Fixing, ...]:
    network = network_of(with_keys(keys))
    return fixings_on(network, next(leg for leg in network.route.legs if leg.to_point == "horn"))


def test_places_are_measured_from_either_end() -> None:
    """From the point that the stretch stands under unless the other is named; a tolerance stays with its place."""
    found = fixings(
        "clips: {at: [120 +/- 5 mm, 300 mm, {at: 80 +10/-0 mm, from: horn}]}, "
        "grommets: {GR1: {at: 20 cm, from: horn, bore: 12 mm}}"
    )
    assert [(each.kind, each.low_mm, each.high_mm, each.datum) for each in found] == [
        ("clip", 120.0, 120.0, "battery"),
        ("clip", 300.0, 300.0, "battery"),
        ("grommet", 700.0, 700.0, "horn"),
        ("clip", 820.0, 820.0, "horn"),
    ]
    places = [each.place for each in found if each.place is not None]
    assert [(each.plus, each.minus) for each in places] == [(5.0, 5.0), (0.0, 0.0), (0.0, 0.0), (10.0, 0.0)]


@pytest.mark.parametrize(
    ("tape", "low_mm", "high_mm"),
    [
        ("pvc-19", 0.0, 900.0),
        ("{part: pvc-19, length: 40 mm}", 0.0, 40.0),
        ("{part: pvc-19, length: 40 mm, from: horn}", 860.0, 900.0),
        ("{part: pvc-19, at: 100 mm}", 90.5, 109.5),
        ("{part: pvc-19, at: 100 mm, length: 60 mm}", 70.0, 130.0),
        ("{part: pvc-19, at: 100 mm, length: 60 mm, from: horn}", 770.0, 830.0),
    ],
)
def test_tape_covers_what_it_says(tape: str, low_mm: float, high_mm: float) -> None:
    """All of the stretch, a length from one end, a spot as long as it is wide, a length around a place."""
    (found,) = fixings(f"tape: {tape}")
    assert (found.low_mm, found.high_mm) == (low_mm, high_mm)


def test_clips_may_be_so_far_apart_without_a_place() -> None:
    """The distance alone is what it always was; nothing has a place then."""
    design = understood(with_keys("clips: 450 mm")).expanded
    assert design is not None
    clips = design.route["battery"]["horn"].clips
    assert clips is not None
    assert clips.every_mm is not None
    assert (clips.every_mm.value, clips.set_at) == (450.0, ())
    assert fixings("clips: 450 mm") == ()


@pytest.mark.parametrize(
    ("keys", "rule", "underlined", "message", "mend"),
    [
        ("clips: {at: [950 mm]}", "bad-value", "950 mm", "The clip lies 950 mm along a stretch of 900 mm.",
         "measure it from horn, or shorten the distance"),
        ("clips: {at: [900 mm]}", "bad-value", "900 mm", "The clip lies 900 mm along a stretch of 900 mm.",
         "measure it from horn, or shorten the distance"),
        ("clips: {at: [{at: 20 mm, from: hron}]}", "unknown-reference", "hron",
         "hron is no end of the stretch battery to horn.", "did you mean horn?"),
        ("clips: {at: [{at: 20 mm, from: block}]}", "unknown-reference", "block",
         "block is no end of the stretch battery to horn.", "known: battery, horn"),
        ("clips: {at: [300 mm, 120 mm]}", "bad-value", "120 mm",
         "A clip 120 mm along the stretch battery to horn stands after one at 300 mm.",
         "write those from one end in rising order"),
        ("clips: {at: [300 mm, {at: 600 mm, from: horn}]}", "bad-value", "at",
         "Two clips of the stretch battery to horn are at the same place.", "leave one of the two out"),
        ("clips: {every: 300 mm, at: [120 mm]}", "bad-value", "300 mm",
         "The clips of the stretch battery to horn have a distance, and places besides.", "leave one of the two out"),
        ("clips: {title: lined}", "missing-key", "clips",
         "The clips of the stretch battery to horn have neither a distance nor places.", "add every: or at:"),
        ("tape: pvc-20", "unknown-reference", "pvc-20", "There is no tape family called pvc-20.",
         "did you mean pvc-19?"),
        ("tape: {part: pvc-19, at: 5 mm}", "bad-value", "5 mm",
         "The pvc-19 tape reaches from -4.5 mm to 14.5 mm of a stretch of 900 mm.", "shorten it, or move its middle"),
        ("tape: {part: pvc-19, length: 901 mm}", "bad-value", "901 mm",
         "The pvc-19 tape reaches from 0 mm to 901 mm of a stretch of 900 mm.", "shorten it, or move its middle"),
        ("tape: [{part: pvc-19, length: 40 mm}, {part: fleece-19, at: 45 mm}]", "bad-value", "part",
         "Two tapes on the stretch battery to horn lie on one another.",
         "begin it 40 mm from battery, or leave one of the two out"),
        ("grommets: {GR1: {at: 1 m, from: horn, bore: 12 mm}}", "bad-value", "1 m",
         "GR1 lies 1000 mm along a stretch of 900 mm.", "measure it from battery, or shorten the distance"),
        ("grommets: {GR1: {at: 100 mm}}", "missing-key", "GR1", "GR1 (a grommet) has no bore.", "add bore"),
        ("grommets: {GR1: {at: 100 mm, bore: 14 mm, hole: 14 mm}}", "bad-value", "14 mm",
         "GR1 has a bore of 14 mm in a hole of 14 mm.",
         "the hole in the panel is wider than the bore: mend one of the two"),
        ("grommets: {H1: {at: 100 mm, bore: 14 mm}}", "duplicate-designator", "H1",
         "H1 is a grommet here and a load elsewhere.", "give one of them another designator"),
    ],
)  # fmt: skip
def test_what_makes_no_sense_is_told_at_its_place(
    keys: str, rule: str, underlined: str, message: str, mend: str
) -> None:
    """One fault each: what stands there, the two numbers, and what mends it."""
    text = with_keys(keys)
    (fault,) = understood(text).faults
    assert (fault.rule, fault.message, fault.mend) == (rule, message, mend)
    assert text[fault.place.start : fault.place.end] == underlined
    assert fault.place.line == text[: text.index("horn: {length")].count("\n") + 1
