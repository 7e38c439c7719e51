"""A wire of which the published table that the design names for it says nothing."""

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from harnessgen.design.limits.declaration import HEAT_BALANCE
from harnessgen.design.limits.table import chosen
from harnessgen.evidence.finding import Finding, Later, Number, Proposal, Severity, at_least, at_most
from harnessgen.network.wires import Wire
from harnessgen.physics.heat.harness import LOADED_A, WireHeat
from harnessgen.physics.heat.published_tables import OutOfDomain
from harnessgen.physics.physics import Physics
from harnessgen.source.place import Place

RULE = "table-out-of-domain"


def check(physics: Physics) -> list[Finding]:
    """One finding for each wire that carries current in a stretch and state of which its table says nothing.

    Nothing is put in the table's place: there `wire-overload` does not judge the wire.
    """
    found: list[Finding] = []
    for wire in physics.network.wires:
        if physics.heat.method(wire) == HEAT_BALANCE:
            continue
        beyond = _beyond(physics, wire)
        first = next(beyond, None)
        if first is not None:
            found.append(replace(first, elsewhere=Later(partial(tuple, beyond))))
    return found


def _beyond(physics: Physics, wire: Wire) -> Iterator[Finding]:
    """One for each stretch and state of which the table of the wire says nothing."""
    for each in physics.heat.by_wire[wire.mark]:
        table = physics.heat.by_table(each.stretch, each.index) if each.current_a > LOADED_A else None
        if isinstance(table, OutOfDomain):
            yield _finding(physics, wire, each, table)


def _finding(physics: Physics, wire: Wire, each: WireHeat, table: OutOfDomain) -> Finding:
    method, place = _named(physics, wire)
    leg = each.stretch.bundle.leg
    where = f"from {leg.name}" if leg is not None else "in no stretch of the route"
    numbers = (
        (
            Number(table.name, table.value, table.unit, f"wire {wire.mark}, {where}", 1),
            Number(table.bound_name, table.bound, table.unit, method, 1),
        )
        if table.name
        else ()
    )
    message = f"Of wire {wire.mark} the {method} says nothing: {table.words}."
    proposal = Proposal(place, HEAT_BALANCE, HEAT_BALANCE)
    decides = at_most if table.bound_name == "at most" else at_least
    return Finding(
        RULE,
        Severity.ERROR,
        wire.mark,
        place,
        message,
        numbers,
        proposals=(proposal,),
        state=each.stretch.state,
        deciding=decides(*numbers) if numbers else None,
    )


def _named(physics: Physics, wire: Wire) -> tuple[str, Place]:
    """The method of a wire, and where the design names it."""
    design = physics.network.design.limits
    own = wire.limits is not None and wire.limits.ampacity is not None
    table = wire.limits if own and wire.limits is not None else design
    return chosen("ampacity", table)[0], table.where("ampacity")
