"""Whether what the design says of lengths makes sense by itself: each of these checks is a fault of the file."""

from collections.abc import Iterator

from harnessgen.design.reading.runs import bank_connectors
from harnessgen.design.records.circuit import Circuit
from harnessgen.design.records.connector import Disconnect
from harnessgen.design.records.design import Design
from harnessgen.design.records.reach import Reach
from harnessgen.source.fault import Fault
from harnessgen.source.near import did_you_mean


def senseless_lengths(design: Design) -> Iterator[Fault]:
    """Every fault of this kind; `design` as written, its banks not expanded."""
    for circuit in design.circuits.values():
        yield from _have(circuit)
    for name, reach in _reaches(design):
        yield from _reach(name, reach)
    for disconnect in design.disconnects.values():
        yield from _lift(design, disconnect)


def _have(circuit: Circuit) -> Iterator[Fault]:
    if not circuit.have:
        return
    place = circuit.where("have")
    if circuit.runs:
        message = f"Circuit {circuit.name} gives its runs, and have besides."
        yield Fault("unclear-circuit", place, message, "write it in the runs", subject=circuit.name)
    elif circuit.splice:
        message = f"Circuit {circuit.name} is several wires, and the length of one is given."
        yield Fault("unclear-circuit", place, message, "write its runs, each with its have", subject=circuit.name)


def _reaches(design: Design) -> Iterator[tuple[str, Reach]]:
    for connector in design.connectors.values():
        if connector.reach is not None:
            yield connector.name, connector.reach
    for bank in design.banks.values():
        if bank.connector.reach is not None:
            yield bank.connector.first, bank.connector.reach
        for load in bank.loads.values():
            if load.reach is not None:
                yield load.connector or load.name, load.reach


def _reach(name: str, reach: Reach) -> Iterator[Fault]:
    if reach.turn_deg.value and not reach.radius_mm.value:
        message = f"{name} can be turned, and nothing says how far its face lies from the axis."
        yield Fault("missing-key", reach.where("turn_deg"), message, "add radius:", subject=name)
    if reach.turned_deg.value > reach.turn_deg.value:
        message = (
            f"{name} is turned by {reach.turned_deg.value:g} deg, and can be turned by {reach.turn_deg.value:g} deg."
        )
        yield Fault("bad-value", reach.where("turned_deg"), message, "mend turn or turned", subject=name)
    if reach.moved_mm.value > reach.move_mm.value:
        moved, move = reach.moved_mm.value, reach.move_mm.value
        message = f"{name} is moved by {moved:g} mm, and can be moved by {move:g} mm."
        yield Fault("bad-value", reach.where("moved_mm"), message, "mend move or moved", subject=name)


def _lift(design: Design, disconnect: Disconnect) -> Iterator[Fault]:
    lift = disconnect.lift
    if lift is None:
        return
    names = set(design.devices) | set(design.connectors)
    for bank in design.banks.values():
        names |= set(bank.loads)
        try:
            names |= set(bank_connectors(bank).values())
        except ValueError:
            # A bank whose connectors cannot be counted is told by itself, and may hold any name.
            return
    known = dict.fromkeys(sorted(names))
    for field_name in ("comes", "stays"):
        for name in getattr(lift, field_name):
            if name not in known:
                message = f"There is no device or connector called {name}."
                place = lift.where(field_name)
                yield Fault("unknown-reference", place, message, did_you_mean(name, known), subject=name)
