"""Injectors that are badly fed: the cylinder by name, the wire, and silence beside the flow match."""

from pathlib import Path

import pytest

from harnessgen.rules.loading import uneven_bank
from tests.line import FLAT_SIX, edited, physics_of, underlined
from tests.physics.small_designs import BANK, changed

LONG = changed(BANK, ("left-3: {length: 300 mm", "left-3: {length: 16 m"))
THIN = changed(LONG, ("INJ3: {at: left-3,", "INJ3: {at: left-3, feed: {size: 0.35 mm2},"))


def test_the_cylinder_and_the_wire_are_named() -> None:
    """Cylinder 3 at the end of a long thin leg: the finding underlines the size of that leg."""
    (finding,) = uneven_bank.check(physics_of(THIN))
    assert (finding.subject, underlined(THIN, finding)) == ("INJ3", "0.35 mm2")
    assert finding.message == "INJ3 (cylinder 3) gives less fuel than the rest of bank left, most of it through 30D."
    off, match = finding.numbers
    # The limit has the sign of the side that it is missed on: 2 % either way.
    assert off.value < match.value
    assert match.value == pytest.approx(-2.0)
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


V8 = (Path(__file__).parents[2] / "designs" / "v8-second-injectors.yaml").read_text(encoding="utf-8")
FAMILY = """\
parts:
  loads:
    injector-measured:
      {title: injector, kind: coil, resistance: 12 ohm, inductance: 14 mH, rating: 150 degC, flow-match: 2 %,
       dead-time: {8: 2.9 ms, 10: 1.9 ms, 12: 1.35 ms, 14: 1.05 ms, 16: 0.85 ms},
       source: data sheet, standing: published}
  wires:
    frayed:
      {title: leg of few strands, system: mm2, rating: 175 degC, source: measured, standing: published,
       sizes: {0.75: {area: 0.75 mm2, resistance: 4 ohm/m, diameter: 1.9 mm}}}

route:"""
MEASURED = edited(("route:", FAMILY), text=V8.replace("load: injector-saturated", "load: injector-measured"))


def spread_of_left(text: str) -> str:
    """The sentence on the left bank while it runs alone."""
    return next(each.sentence for each in physics_of(text).fuel_spreads["left-bank"] if each.of == "bank left")


def test_the_v8_as_shipped_is_even() -> None:
    """A tenth of a per cent beside 2 % is called negligible, and no cylinder is named."""
    assert uneven_bank.check(physics_of(MEASURED)) == []
    said = spread_of_left(MEASURED)
    assert "0.1 % of the fuel at 3 ms; the injectors themselves are matched to +/- 2 %, so it is negligible." in said
    assert "cylinder" not in said


@pytest.mark.parametrize(
    ("cylinder", "leg", "change"),
    [
        ("3", "31D", ("title: cylinder 3}", "title: cylinder 3, return: {wire: frayed}}")),
        ("7", "21F", ("title: cylinder 7}", "title: cylinder 7, feed: {size: 0.35 mm2, slack: 10 m}}")),
    ],
    ids=["one poor leg", "one long thin leg"],
)
def test_a_broken_v8_is_told_by_its_cylinder(cylinder: str, leg: str, change: tuple[str, str]) -> None:
    """One return of 4 ohm/m, or one feed of ten metres of 0.35 mm2: that cylinder, that wire, and it alone."""
    broken = edited(change, text=MEASURED)
    (finding,) = uneven_bank.check(physics_of(broken))
    assert finding.message == (
        f"INJ{cylinder} (cylinder {cylinder}) gives less fuel than the rest of bank left, most of it through {leg}."
    )
    assert f"cylinder {cylinder} (INJ{cylinder}) gets " in spread_of_left(broken)
