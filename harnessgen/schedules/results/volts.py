"""The volts at every load in every state, feed and return apart, and what they mean for the fuel of injectors."""

from harnessgen.measures.frozen import frozen
from harnessgen.network.network import Network
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.physics import Physics
from harnessgen.physics.states.fuel_spread import FuelSpread, InjectorOpening
from harnessgen.physics.states.voltage_drop import LoadDrop
from harnessgen.rules.loading.excess_drop import allowed_derivation, drop_limit, harness_derivation, working_states
from harnessgen.schedules.tables.table import Column, Table, number_column


@frozen
class VoltsRow:
    """The volts at one load in one state; `allowed_v` is what the harness may take, None where no limit holds."""

    drop: LoadDrop
    harness_v: float
    allowed_v: float | None


_VOLTS: tuple[Column[VoltsRow], ...] = (
    Column("state", "state", lambda row: row.drop.state),
    Column("case", "case", lambda row: row.drop.case.value),
    Column("load", "load", lambda row: row.drop.load),
    Column("title", "what it is", lambda row: row.drop.title),
    number_column("ampere", "current", "A", lambda row: row.drop.current_a, 3),
    number_column("supply_volt", "supply", "V", lambda row: row.drop.supply_v, 2),
    number_column("feed_volt", "feed takes", "V", lambda row: row.drop.feed_v, 3),
    number_column("across_volt", "load gets", "V", lambda row: row.drop.across_v, 2),
    number_column("return_volt", "return takes", "V", lambda row: row.drop.return_v, 3),
    number_column("high_volt", "fed end to ground", "V", lambda row: row.drop.high_v, 2),
    number_column("low_volt", "other end to ground", "V", lambda row: row.drop.low_v, 2),
    number_column("harness_volt", "harness takes", "V", lambda row: row.harness_v, 3),
    number_column("allowed_volt", "it may take", "V", lambda row: row.allowed_v, 3),
)
_NOTES = (
    "Supply is at the supply's terminal under load. Feed and return are all parts between it and the load, drivers and"
    " the way through the ground point included; harness is what wires, contacts, fuses and switches take of both.",
    "As stated: supplies and loads at their stated values, wires as hot as their zones. Hottest, lowest supply: coils"
    " as hot as their zones, supplies at their lowest; the limit of drop is held against this one.",
    "No limit stands where a motor is held, a lamp is still cold, or a supply is shorted.",
    "Where ways run side by side, the one that carries most is shown.",
)


def volts_table(network: Network, physics: Physics) -> Table[VoltsRow]:
    """Every load and relay coil that carries current, state by state, as stated and at its weakest."""
    judged = set(working_states(physics))
    rows = [
        _row(network, drop, has_limit=state in judged and case is Case.WEAK)
        for state in network.design.states
        for case in (Case.STATED, Case.WEAK)
        for drop in physics.drops_in(state, case)
    ]
    return Table("volts", "Volts at the loads", _VOLTS, tuple(rows), _NOTES)


def _row(network: Network, drop: LoadDrop, *, has_limit: bool) -> VoltsRow:
    is_judged = has_limit and drop.load in network.design.loads
    allowed_v = allowed_derivation(drop, drop_limit(network, drop)).result if is_judged else None
    return VoltsRow(drop, harness_derivation(drop).result, allowed_v)


@frozen
class FuelRow:
    """One injector of a set in a state."""

    spread: FuelSpread
    opening: InjectorOpening

    @property
    def verdict(self) -> str:
        """How even the set is; at an injector that is apart from the others that it is."""
        even = self.spread.evenness.value
        return f"odd: {even}" if self.opening.load in {each.load for each in self.spread.odd} else even


_FUEL: tuple[Column[FuelRow], ...] = (
    Column("state", "state", lambda row: row.spread.state),
    Column("set", "set", lambda row: row.spread.of),
    Column("load", "injector", lambda row: row.opening.load),
    Column("title", "what it is", lambda row: row.opening.title),
    number_column("volt", "volts", "V", lambda row: row.opening.volts, 2),
    number_column("dead_ms", "dead time", "ms", lambda row: 1000.0 * row.opening.dead_s, 4),
    number_column("off_percent", "off the average", "%", lambda row: 100.0 * row.opening.flow, 3),
    number_column("match_percent", "flow match, either way", "%", lambda row: 100.0 * row.spread.match.value.value, 2),
    Column("verdict", "verdict", lambda row: row.verdict),
)


def fuel_table(physics: Physics) -> Table[FuelRow]:
    """The openings of each set of injectors in each state, beside the injectors' own match; no rows without any."""
    spreads = [each for found in physics.fuel_spreads.values() for each in found]
    rows = tuple(FuelRow(spread, each) for spread in spreads for each in spread.openings)
    notes = tuple(f"State {spread.state}, {spread.sentence}" for spread in spreads)
    return Table("fuel", "Fuel of the injectors", _FUEL, rows, notes)
