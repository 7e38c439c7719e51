"""The rules on bundles: what they tell, with which numbers, and mends that pass."""

import pytest

from harnessgen.network.network import Network
from harnessgen.rules.bundle import bend_too_tight, clips_too_far_apart, covering_too_loose, covering_too_small
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
