"""The rules on bundles: what they tell, with which numbers, and mends that pass."""

import pytest

from harnessgen.network.network import Network
from harnessgen.rules.bundle import (
    bend_too_tight,
    clips_too_far_apart,
    covering_too_loose,
    covering_too_small,
    grommet_too_small,
    panel_hole_too_small,
)
from harnessgen.rules.loading import over_temperature
from harnessgen.run import examine_text
from tests.line import FLAT_SIX, edited, physics_of, underlined

C10 = "c10: {length: 910 +/- 10, build: +20/-0, covering: conduit-10}"


def network_with(new: str) -> tuple[str, Network]:
    text = edited((C10, new))
    return text, physics_of(text).network


def test_a_narrow_covering_is_told_with_a_mend_that_passes() -> None:
    """Bundle of 4.59 mm times 1.25 is 5.73 mm, more than 5 mm; the next conduit that stands the zone takes it."""
    own = "parts: {coverings: {conduit-5: {title: conduit, inside: 5 mm, wall: 0.8 mm, rating: 125 degC}}}\nstates:"
    text = edited((C10, C10.replace("conduit-10", "conduit-5")), ("states:", own))
    (finding,) = covering_too_small.check(physics_of(text).network)
    assert (finding.subject, underlined(text, finding)) == ("fusebox to c10", "conduit-5")
    assert [round(each.value, 2) for each in finding.numbers] == [5.73, 5.0]
    told = next(each for each in examine_text(text).examination.findings if each.rule == "covering-too-small")
    assert told.mend == "covering: conduit-7"


def test_heat_shrink_has_to_go_on_and_to_grip() -> None:
    """4.59 mm in shrink-6.4 goes on (5.05 mm) and is gripped (3.2 mm); shrink-12.7 stays open at 6.4 mm."""
    _, network = network_with(C10.replace("conduit-10", "shrink-6.4"))
    assert covering_too_small.check(network) == covering_too_loose.check(network) == []
    _, network = network_with(C10.replace("conduit-10", "shrink-12.7"))
    (finding,) = covering_too_loose.check(network)
    assert [round(each.value, 2) for each in finding.numbers] == [4.59, 6.4]


@pytest.mark.parametrize(("radius", "is_told"), [("18.9 mm", True), ("19 mm", False)])
def test_a_tight_bend_is_told(radius: str, is_told: bool) -> None:
    """Ten times 1.9 mm (FAA AC 43.13-1B CHG 1, 11-96)."""
    text, network = network_with(C10.replace("covering", f"bends: [{{angle: 90 deg, radius: {radius}}}], covering"))
    found = bend_too_tight.check(network)
    assert bool(found) is is_told
    if found:
        assert underlined(text, found[0]) == radius


@pytest.mark.parametrize(("clips", "is_told"), [("610 mm", True), ("24 in", False)])
def test_clips_far_apart_are_told(clips: str, is_told: bool) -> None:
    """24 in (FAA AC 43.13-1B CHG 1, 11-96 a) is 609.6 mm."""
    _, network = network_with(C10.replace("covering", f"clips: {clips}, covering"))
    assert bool(clips_too_far_apart.check(network)) is is_told


def test_no_covering_of_a_good_design_is_loose_or_small() -> None:
    """The flat six has neither."""
    network = physics_of(FLAT_SIX).network
    assert covering_too_small.check(network) == covering_too_loose.check(network) == []


@pytest.mark.parametrize(("clips", "is_told"), [("300, 600", False), ("290, 590", False), ("300", True)])
def test_the_longest_part_without_a_clip_decides(clips: str, is_told: bool) -> None:
    """910 mm held at its ends: with a clip at 300 alone, 610 mm are left, more than 24 in (609.6 mm)."""
    text, network = network_with(C10.replace("covering", f"clips: {{at: [{clips}]}}, covering"))
    found = clips_too_far_apart.check(network)
    assert bool(found) is is_told
    if found:
        assert found[0].message == "The clips from fusebox to c10 leave 610 mm without one."
        assert found[0].numbers[0].source == "from 300 to 910 mm from fusebox"
        assert text.split("\n")[found[0].place.line - 1].strip().startswith("c10:")


GROMMET = "grommets: {GR8: {at: 200 mm, bore: %s, hole: %s}}, covering"


@pytest.mark.parametrize(
    ("covering", "tape", "bore", "is_told"),
    [
        ("conduit-10", "", "11.9 mm", True),
        ("conduit-10", "", "12 mm", False),
        ("", "", "4.5 mm", True),
        ("", "", "4.6 mm", False),
        ("", "tape: {part: pvc-19, at: 200 mm}, ", "5.1 mm", True),
        ("", "tape: {part: pvc-19, at: 200 mm}, ", "5.2 mm", False),
        ("", "tape: {part: pvc-19, at: 300 mm}, ", "4.6 mm", False),
    ],
)
def test_what_goes_through_a_grommet_is_the_outside(covering: str, tape: str, bore: str, is_told: bool) -> None:
    """Conduit 10 + 2 x 1 mm; four equal wires of 1.9 mm bare: 1.9 (1 + sqrt 2) = 4.587; two layers of 0.15 mm: 5.187.

    The circle around four equal circles: Graham et al. 1998, 2.414 times one of them.
    """
    new = C10.replace("covering", tape + GROMMET % (bore, "60 mm"))
    text, network = network_with(new if covering else new.replace(", covering: conduit-10", ""))
    found = grommet_too_small.check(network)
    assert bool(found) is is_told
    if found:
        assert (found[0].subject, underlined(text, found[0])) == ("GR8", bore)


@pytest.mark.parametrize(("hole", "is_told"), [("35.9 mm", True), ("36 mm", False)])
def test_one_side_of_the_finished_harness_has_to_pass_the_hole(hole: str, is_told: bool) -> None:
    """Towards c10 the half of the disconnect is 36 mm across and takes all four wires; C1 on the other is 60."""
    text, network = network_with(C10.replace("covering", GROMMET % ("12 mm", hole)))
    found = panel_hole_too_small.check(network)
    assert bool(found) is is_told
    if found:
        (finding,) = found
        assert (finding.subject, underlined(text, finding)) == ("GR8", hole)
        assert [(each.name, each.value) for each in finding.numbers][::2] == [("towards c10", 36.0), ("hole", 35.9)]
        mended = next(each for each in examine_text(text).examination.findings if each.rule == "panel-hole-too-small")
        assert mended.mend == "hole: 36 mm"


def test_a_tape_has_to_stand_its_zone() -> None:
    """PVC at 105 degC in a plenum of 120 degC; cloth stands it."""
    tape = "right-1: {length: 60 +/- 2, tape: %s, build: +5/-0}"
    old = "right-1: {length: 60 +/- 2, build: +5/-0}"
    assert over_temperature.check(physics_of(edited((old, tape % "cloth-19")))) == []
    text = edited((old, tape % "pvc-19"))
    told = [each for each in examine_text(text).examination.findings if each.rule == "over-temperature"]
    assert [(each.subject, underlined(text, each)) for each in told] == [("pvc-19 on rb1 to right-1", "pvc-19")]
    assert told[0].mend == "cloth-19"
