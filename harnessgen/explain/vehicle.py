"""Wires of the vehicle explained."""

from collections.abc import Mapping

from harnessgen.explain.currents import currents
from harnessgen.explain.thing import Fact, Thing
from harnessgen.explain.written import written_facts
from harnessgen.measures.quantity import plain_number
from harnessgen.network.vehicle_wires import VehicleWire
from harnessgen.physics.electrical.element_resistance import given_degc
from harnessgen.physics.heat.ampacity import allowed_given_a
from harnessgen.physics.physics import Physics


def vehicle_circuit_thing(physics: Physics, name: str, texts: Mapping[str, str]) -> Thing:
    """A circuit of the vehicle, or one piece of it by its mark: its ends, and what it carries beside ours."""
    wires = [wire for wire in physics.network.given if name in (wire.circuit.name, wire.mark)]
    circuit = wires[0].circuit
    facts = [
        Fact("whose", "the vehicle's: solved and tested, never cut or bought"),
        *written_facts(circuit, texts),
        *(_piece(physics, wire) for wire in wires),
        Fact("wire family", f"{wires[0].family.name}, as the nearest", str(wires[0].family.publication)),
        Fact(
            "may carry", f"{allowed_given_a(physics.network, wires[0]):.1f} A, alone in still air of its zone, at most"
        ),
        *(() if circuit.carries_a is not None else (Fact("carries already", "nobody says: not examined"),)),
    ]
    numbers = tuple(each for wire in wires for each in currents(physics, wire.mark))
    return Thing(name, "circuit of the vehicle", "", circuit.place, tuple(facts), numbers)


def _piece(physics: Physics, wire: VehicleWire) -> Fact:
    ohm, degc = physics.ohms[wire.mark], given_degc(physics.network, wire)
    words = (
        f"{wire.a} to {wire.b}, {plain_number(wire.length_mm)} mm, {1000 * ohm:.2f} mohm at {plain_number(degc)} degC"
    )
    return Fact(f"wire {wire.mark}", words)
