"""An injector that gives less fuel than its fellows because its wires take more volts."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from harnessgen.design.checks.consistency import kind_of
from harnessgen.evidence.finding import Finding, NotExamined, Number, Severity, at_least, at_most, derived, worst_first
from harnessgen.physics.physics import Physics
from harnessgen.physics.states.fuel_spread import dead_time_table
from harnessgen.rules.loading.larger import larger_sizes
from harnessgen.rules.wording.recalled import recalled_wires
from harnessgen.source.kind import names_in

if TYPE_CHECKING:
    from harnessgen.physics.states.fuel_spread import FuelSpread, InjectorOpening

RULE = "uneven-bank"


def unstated(physics: Physics) -> Iterator[NotExamined]:
    """Banks of two coils or more that state no dead times, so that nobody knows what their volts do to the fuel."""
    network = physics.network
    for bank in network.design.banks.values():
        loads = [network.design.loads[name] for name in bank.loads]
        if len(loads) > 1 and any(kind_of(load, network.parts) == "coil" for load in loads):
            missing = [load.name for load in loads if not dead_time_table(network, load)]
            if missing:
                yield NotExamined(RULE, f"no dead times of {names_in(missing)}", bank.name)


def check(physics: Physics) -> list[Finding]:
    """One finding for each injector that lies off its fellows by more than the flow match, in its worst state."""
    network = physics.network
    families = (network.parts.loads.get(load.part) for load in network.design.loads.values())
    stated = [load.dead_time_s for load in network.design.loads.values()]
    if not any((*stated, *(family.dead_time_s for family in families if family is not None))):
        return []
    found: list[tuple[float, Finding]] = []
    for state, spreads in physics.fuel_spreads.items():
        if state in physics.shorted:
            continue
        for spread in spreads:
            found += ((abs(odd.flow), _finding(physics, spread, odd)) for odd in spread.odd)
    return worst_first(found)


def _finding(physics: Physics, spread: "FuelSpread", odd: "InjectorOpening") -> Finding:
    wire = physics.network.wire_of.get(odd.own_part.element) if odd.own_part is not None else None
    load = physics.network.design.loads[odd.load]
    way, sign = ("less", -1.0) if odd.flow < 0.0 else ("more", 1.0)
    named = f"{odd.load} ({odd.title})" if odd.title else odd.load
    because = f", most of it through {wire.mark}" if wire is not None and odd.flow < 0.0 else ""
    parts = {each.element for drop in physics.drops_in(spread.state, spread.case) if drop.load == odd.load
             for each in (*drop.feed, *drop.return_)}  # fmt: skip
    recalled = recalled_wires(each for each in physics.network.wires if each.mark in parts)
    width = f"{1000 * spread.width_s:g} ms at {odd.volts:.2f} V, in state {spread.state}, {spread.case.value}"
    numbers = (
        derived("off the average", spread.off_average(odd), f"in a pulse of {width}{recalled}"),
        Number("flow match", sign * 100.0 * spread.match.value.value, "%", f"either way, {spread.match.source}"),
    )
    return Finding(
        RULE,
        Severity.WARNING,
        odd.load,
        wire.size_place if wire is not None else load.place,
        f"{named} gives {way} fuel than the rest of {spread.of}{because}.",
        numbers,
        proposals=larger_sizes(wire) if wire is not None else (),
        state=spread.state,
        deciding=(at_least if odd.flow < 0.0 else at_most)(*numbers, is_set=True),
    )
