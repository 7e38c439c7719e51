"""Wires, circuits and cables explained."""

from collections.abc import Iterator

from harnessgen.evidence.derivation import Derivation
from harnessgen.explain.currents import currents
from harnessgen.explain.protection import wire_protection_facts, wire_short_numbers
from harnessgen.explain.thing import Fact, Thing, stated
from harnessgen.explain.wire_heat import drops, heat_facts, heat_numbers
from harnessgen.lengths.wire_length import (
    cut_length_derivation,
    margin_derivation,
    needed_length_derivation,
    needed_uncertainty_derivation,
)
from harnessgen.lengths.wire_length_terms import TermKind
from harnessgen.measures.quantity import plain_number
from harnessgen.network.network import Network
from harnessgen.network.wires import Wire
from harnessgen.physics.electrical.element_resistance import wire_ohm_derivation
from harnessgen.physics.heat.ampacity import allowed_current_derivation
from harnessgen.physics.heat.stretch_derivation import loading_derivation
from harnessgen.physics.physics import Physics
from harnessgen.remedies.sizing.resized_network import copper_mass


def wire_thing(physics: Physics, wire: Wire) -> Thing:
    """A cut wire: its ends, its way, its length, resistance and copper, what it may carry and what it carries."""
    network = physics.network
    facts = (
        Fact("circuit", wire.circuit),
        Fact("from", _end(network, wire, 0)),
        Fact("to", _end(network, wire, 1)),
        Fact("colour", f"{wire.colour}, {wire.colour.words}"),
        stated("size", str(wire.size), wire.size_place),
        Fact("wire family", f"{wire.family.name}, {wire.family.title}", str(wire.family.origin(wire.figures))),
        Fact("copper area", f"{plain_number(wire.figures.area_mm2.value)} mm2", str(wire.family.origin(wire.figures))),
        Fact("over the insulation", f"{plain_number(wire.figures.diameter_mm.value)} mm"),
        Fact("insulation stands", f"{plain_number(wire.family.rating_degc.value)} degC", str(wire.family.publication)),
        Fact("section", wire.section),
        Fact("way", "; ".join(leg.name for leg in wire.way) or "in no stretch of the route"),
        *_of_bank(wire),
        *((Fact("cable", wire.cable),) if wire.cable else ()),
        *wire_protection_facts(physics, wire),
        *heat_facts(physics, wire),
    )
    return Thing(wire.mark, "wire", "", wire.place, facts, tuple(_numbers(physics, wire)))


def _numbers(physics: Physics, wire: Wire) -> Iterator[Derivation]:
    length = physics.lengths[wire.mark]
    yield needed_length_derivation(length)
    yield from (term.derivation for term in length.terms if term.kind not in (TermKind.END, TermKind.SLACK))
    yield needed_uncertainty_derivation(length)
    yield cut_length_derivation(length)
    yield margin_derivation(length)
    yield wire_ohm_derivation(physics.network, wire, length)
    yield copper_mass(wire.mark, wire.figures.area_mm2.value, length.cut_mm)
    allowed = physics.allowed[wire.mark]
    if allowed.allowed_a > 0.0:
        yield allowed_current_derivation(wire, allowed)
    loading = physics.heat.loading(wire.mark)
    if loading is not None:
        found = loading.table.derivation if loading.table is not None else loading_derivation(physics.heat, loading)
        yield from (found,) if found is not None else ()
    yield from heat_numbers(physics, wire)
    yield from currents(physics, wire.mark)
    yield from drops(physics, next(each for each in physics.network.electrical.elements if each.wire is wire))
    yield from wire_short_numbers(physics, wire)


def _end(network: Network, wire: Wire, which: int) -> str:
    end = wire.ends[which]
    contact, seal = network.contact_at(end), network.seal_at(end)
    words = [end.node, f"in {contact.name}" if contact is not None else "", f"sealed by {seal.name}" if seal else ""]
    return ", ".join(each for each in words if each)


def _of_bank(wire: Wire) -> tuple[Fact, ...]:
    if not wire.bank:
        part = "link" if wire.run.link else "trunk"
        return (Fact("shared by banks", f"{wire.run.shared}, {part}"),) if wire.run.shared else ()
    return (Fact("bank", f"{wire.bank}, {f'leg of {wire.run.load}' if wire.run.load else 'trunk'}"),)


def circuit_thing(physics: Physics, circuit: str) -> Thing:
    """A circuit: its wires with their lengths; each wire is explained under its own mark."""
    wires = [wire for wire in physics.network.wires if wire.circuit == circuit]
    facts = tuple(
        Fact(
            f"wire {wire.mark}",
            f"{wire.a} to {wire.b}, {wire.size}, {plain_number(physics.lengths[wire.mark].cut_mm, 1)} mm",
        )
        for wire in wires
    )
    numbers = tuple(cut_length_derivation(physics.lengths[wire.mark]) for wire in wires)
    return Thing(circuit, "circuit", "", wires[0].place, facts, numbers)


def cable_thing(physics: Physics, name: str) -> Thing:
    """A cable: the circuits in it, and how they lie."""
    cable = physics.network.design.cables[name]
    marks = ", ".join(wire.mark for wire in physics.network.wires if wire.cable == name)
    facts = (Fact("circuits", ", ".join(cable.circuits)), Fact("wires", marks), Fact("lay", cable.lay))
    return Thing(name, "cable", cable.title, cable.place, facts)
