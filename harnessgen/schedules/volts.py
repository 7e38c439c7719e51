"""The volts at every load in every state, feed and return apart, and what they mean for the fuel of injectors."""

from harnessgen.network.network import Network
from harnessgen.physics.conditions import Case
from harnessgen.physics.physics import Physics
from harnessgen.physics.voltage_drop import LoadDrop
from harnessgen.rules.loading.excess_drop import allowed_derivation, drop_limit, harness_derivation, working_states
from harnessgen.schedules.table import Cell, Column, Table, number_column

_VOLTS = (
    Column("state", "state"),
    Column("case", "case"),
    Column("load", "load"),
    Column("title", "what it is"),
    number_column("ampere", "current", "A", 3),
    number_column("supply_volt", "supply", "V", 2),
    number_column("feed_volt", "feed takes", "V", 3),
    number_column("across_volt", "load gets", "V", 2),
    number_column("return_volt", "return takes", "V", 3),
    number_column("high_volt", "fed end to ground", "V", 2),
    number_column("low_volt", "other end to ground", "V", 2),
    number_column("harness_volt", "harness takes", "V", 3),
    number_column("allowed_volt", "it may take", "V", 3),
)
_NOTES = (
    "Supply is at the supply's terminal under load. Feed and return are all parts between it and the load, drivers and"
    " the way through the ground point included; harness is what wires, contacts, fuses and switches take of both.",
    "As stated: supplies and loads at their stated values, wires as hot as their zones. Hottest, lowest supply: coils"
    " as hot as their zones, supplies at their lowest; the limit of drop is held against this one.",
    "No limit stands where a motor is held, a lamp is still cold, or a supply is shorted.",
    "Where ways run side by side, the one that carries most is shown.",
)


def volts_table(network: Network, physics: Physics) -> Table:
    """Every load and relay coil that carries current, state by state, as stated and at its weakest."""
    judged = set(working_states(physics))
    rows = [
        _row(network, drop, has_limit=state in judged and case is Case.WEAK)
        for state in network.design.states
        for case in (Case.STATED, Case.WEAK)
        for drop in physics.drops_in(state, case)
    ]
    return Table("volts", "Volts at the loads", _VOLTS, tuple(rows), _NOTES)


def _row(network: Network, drop: LoadDrop, *, has_limit: bool) -> tuple[Cell, ...]:
    is_judged = has_limit and drop.load in network.design.loads
    allowed_v = allowed_derivation(drop, drop_limit(network, drop)).result if is_judged else None
    lost_v = harness_derivation(drop).result
    return (
        drop.state, drop.case.value, drop.load, drop.title, drop.current_a, drop.supply_v, drop.feed_v, drop.across_v,
        drop.return_v, drop.high_v, drop.low_v, lost_v, allowed_v,
    )  # fmt: skip


_FUEL = (
    Column("state", "state"),
    Column("set", "set"),
    Column("load", "injector"),
    Column("title", "what it is"),
    number_column("volt", "volts", "V", 2),
    number_column("dead_ms", "dead time", "ms", 4),
    number_column("off_percent", "off the average", "%", 3),
    number_column("match_percent", "flow match, either way", "%", 2),
    Column("verdict", "verdict"),
)


def fuel_table(physics: Physics) -> Table:
    """The openings of each set of injectors in each state, beside the injectors' own match; no rows without any."""
    rows: list[tuple[Cell, ...]] = []
    notes: list[str] = []
    for state, spreads in physics.fuel_spreads.items():
        for spread in spreads:
            notes.append(f"State {state}, {spread.sentence}")
            match = 100.0 * spread.match.value.value
            odd = {each.load for each in spread.odd}
            for each in spread.openings:
                verdict = "odd: " + spread.evenness.value if each.load in odd else spread.evenness.value
                rows.append(
                    (
                        state, spread.of, each.load, each.title, each.volts, 1000.0 * each.dead_s, 100.0 * each.flow,
                        match, verdict,
                    )
                )  # fmt: skip
    return Table("fuel", "Fuel of the injectors", _FUEL, tuple(rows), tuple(notes))
