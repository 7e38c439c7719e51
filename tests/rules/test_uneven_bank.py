"""Injectors that are badly fed: the cylinder by name, the wire, and silence beside the flow match."""

import pytest

from harnessgen.rules.loading import uneven_bank
from tests.line import FLAT_SIX, physics_of, underlined
from tests.physics.small_designs import BANK, changed

LONG = changed(BANK, ("left-3: {length: 300 mm", "left-3: {length: 16 m"))
THIN = changed(LONG, ("INJ3: {at: left-3,", "INJ3: {at: left-3, feed: {size: 0.35 mm2},"))


def test_the_cylinder_and_the_wire_are_named() -> None:
    """Cylinder 3 at the end of a long thin leg: the finding underlines the size of that leg."""
    (finding,) = uneven_bank.check(physics_of(THIN))
    assert (finding.subject, underlined(THIN, finding)) == ("INJ3", "0.35 mm2")
    assert finding.message == "INJ3 (cylinder 3) gives less fuel than the rest of bank left, most of it through 30D."
    off, match = finding.numbers
    assert off.value < -match.value
    assert match.value == pytest.approx(2.0)
    assert "state steady" in off.source


def test_the_average_is_that_of_the_spread() -> None:
    """The number is the share of the deciding opening, in the state with the shorter pulse."""
    physics = physics_of(THIN)
    (finding,) = uneven_bank.check(physics)
    (spread,) = physics.fuel_spreads["steady"]
    assert finding.numbers[0].value == pytest.approx(100 * spread.odd[0].flow)


def test_like_legs_are_silent() -> None:
    """The bank as it is, and the shipped design without dead times, raise nothing."""
    assert uneven_bank.check(physics_of(BANK)) == []
    assert uneven_bank.check(physics_of(FLAT_SIX)) == []


def test_a_wider_match_is_kept() -> None:
    """The same leg beside injectors that differ by 40 % themselves is no finding."""
    assert uneven_bank.check(physics_of(changed(THIN, ("flow-match: 2 %", "flow-match: 40 %")))) == []
