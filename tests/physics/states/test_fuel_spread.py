"""Fuel of a bank: dead times by volts, spread beside the flow match, and the cylinder that is badly fed."""

import pytest

from harnessgen.measures.quantity import Quantity
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.states.fuel_spread import Evenness, FuelSpread, dead_time, fuel_spreads
from tests.line import FLAT_SIX, physics_of
from tests.physics.small_designs import BANK, changed

TABLE = {"8": Quantity(0.0029), "10": Quantity(0.0019), "14": Quantity(0.00105)}


def spread_of(text: str, state: str = "steady") -> FuelSpread:
    (found,) = physics_of(text).fuel_spreads[state]
    return found


@pytest.mark.parametrize(("volts", "expected_ms"), [(8.0, 2.9), (9.0, 2.4), (10.0, 1.9), (12.0, 1.475), (14.0, 1.05)])
def test_dead_times_lie_on_a_line_between_entries(volts: float, expected_ms: float) -> None:
    """At an entry the entry itself, half-way the average of two (arithmetic), and evaluated again the same."""
    found = dead_time("INJ1", TABLE, volts)
    assert 1000 * found.result == pytest.approx(expected_ms, rel=1e-12)
    assert found.again() == found.result


@pytest.mark.parametrize("volts", [7.99, 14.01])
def test_outside_the_table_nothing_is_concluded(volts: float) -> None:
    """A voltage beyond the first or last entry is refused."""
    with pytest.raises(ValueError, match=r"outside the dead times of INJ1 \(8 to 14 V\)"):
        dead_time("INJ1", TABLE, volts)


def test_an_even_bank_is_called_negligible_beside_its_match() -> None:
    """A few microseconds in 3 ms are a tenth of the match of 2 %, and the sentence prints both."""
    found = spread_of(BANK)
    assert found.evenness is Evenness.NEGLIGIBLE
    assert found.odd == ()
    assert "+/- 2 %, so it is negligible." in found.sentence
    assert found.spread.again() == found.spread.result


def test_the_spread_is_that_of_the_volts() -> None:
    """By hand from the volts at the loads and the table's slope between 12 and 14 V."""
    found = spread_of(BANK)
    volts = {each.load: each.across_v for each in physics_of(BANK).drops_in("steady")}
    slope = (1.05 - 1.35) / 2 / 1000
    dead = [0.00135 + slope * (volts[each.load] - 12.0) for each in found.openings]
    assert [each.dead_s for each in found.openings] == pytest.approx(dead, rel=1e-9)
    average = 0.003 - sum(dead) / 3
    assert found.spread.result == pytest.approx(100 * (max(dead) - min(dead)) / average, rel=1e-9)


def test_one_long_thin_leg_is_named_by_its_cylinder() -> None:
    """A leg of several metres of 0.35 mm2 starves its injector: cylinder 3 and the wire that takes the volts."""
    long = changed(BANK, ("left-3: {length: 300 mm", "left-3: {length: 16 m"))
    thin = changed(long, ("INJ3: {at: left-3,", "INJ3: {at: left-3, feed: {size: 0.35 mm2},"))
    found = spread_of(thin)
    assert found.evenness is Evenness.UNEVEN
    assert [each.title for each in found.odd] == ["cylinder 3"]
    own = found.odd[0].own_part
    assert own is not None
    assert own.element == "30D"
    assert "cylinder 3 (INJ3) gets" in found.sentence
    assert "30D takes" in found.sentence


def test_the_pulse_of_the_state_is_compared() -> None:
    """Twelve milliseconds dilute the same spread to a quarter or less."""
    steady, boost = spread_of(BANK), spread_of(BANK, "boost")
    assert (steady.width_s, boost.width_s) == (0.003, 0.012)
    assert boost.spread.result < 0.25 * steady.spread.result
    assert "set in the design" in str(boost.width_source)


def test_volts_outside_the_table_leave_the_spread_unknown() -> None:
    """A supply of 24 V lies beyond the table: the sentence says so, and no percentage is printed."""
    found = spread_of(changed(BANK, ("voltage: 13.8 V", "voltage: 24 V")))
    assert found.evenness is Evenness.UNKNOWN
    assert "outside the dead times" in found.sentence
    assert "%" not in found.sentence


def test_a_pulse_shorter_than_the_dead_time_gives_no_fuel() -> None:
    """Where no injector opens, there is no share to compare."""
    found = spread_of(changed(BANK, ("width: 12 ms", "width: 0.5 ms")), "boost")
    assert found.evenness is Evenness.UNKNOWN
    assert "opens" in found.sentence


def test_the_usual_match_holds_where_the_family_does_not_say() -> None:
    """The limit `flow-match` and its word that it is common practice."""
    found = spread_of(changed(BANK, ("      flow-match: 2 %\n", "")))
    assert found.match.value.value == 0.02
    assert "common practice" in str(found.match.source)


def test_loads_without_dead_times_have_no_spread() -> None:
    """The flat six as shipped gives no table, and nothing is said."""
    physics = physics_of(FLAT_SIX)
    assert all(each == () for each in physics.fuel_spreads.values())


def test_low_supply_widens_the_spread() -> None:
    """Dead times are steepest at low volts: at the 9 V of the normal range the same wires make more difference."""
    text = changed(BANK, ("steady: {on: [SW1, Q1]}", "steady: {on: [SW1, Q1], supply: normal}"))
    physics = physics_of(text)
    weak = fuel_spreads(physics, "steady", Case.WEAK)[0].spread_s
    assert weak > fuel_spreads(physics_of(BANK), "steady", Case.WEAK)[0].spread_s
