"""Connectors, cavities, splices, stretches and points explained."""

import math
from collections.abc import Iterator, Mapping

from harnessgen.evidence.derivation import Derivation
from harnessgen.explain.currents import currents
from harnessgen.explain.thing import Fact, Thing
from harnessgen.explain.wire_heat import drops, heat_words
from harnessgen.explain.written import written_facts
from harnessgen.lengths.bundles.diameter import bundle_diameter
from harnessgen.measures.quantity import plain_number
from harnessgen.network.electrical import mate_of
from harnessgen.network.network import Network
from harnessgen.network.route import Leg
from harnessgen.network.wires import Wire
from harnessgen.parts.terminal import Contact
from harnessgen.physics.electrical.element_resistance import ambient_degc
from harnessgen.physics.heat.contacts import contacts_of
from harnessgen.physics.heat.harness import WireHeat
from harnessgen.physics.heat.stretch_derivation import covering_derivation, wire_heat_derivation
from harnessgen.physics.physics import Physics


def node_thing(physics: Physics, node: str) -> Thing:
    """A cavity, or a terminal that wires land on: its wires, its contact and seal, and what flows."""
    network = physics.network
    record = network.electrical.nodes[node]
    wires = network.wires_at.get(node, [])
    facts = [Fact(f"wire {wire.mark}", f"{wire.size} {wire.colour}, to {wire.other(node)}") for wire in wires]
    for wire in wires[:1]:
        end = wire.a if wire.a.node == node else wire.b
        contact, seal = network.contact_at(end), network.seal_at(end)
        facts += _contact_facts(contact) if contact is not None else ()
        if seal is not None:
            shown = f"{seal.name}, {plain_number(seal.from_mm.value)} to {plain_number(seal.to_mm.value)} mm"
            facts.append(Fact("seal", shown, str(seal.publication)))
    behind = [each.name for each in network.elements_at(mate_of(node)) if each.device]
    if behind:
        facts.append(Fact("behind it", ", ".join(behind)))
    numbers = [each for element in _at(network, node) for each in currents(physics, element)]
    if node in network.electrical.place_of:
        numbers += drops(physics, network.electrical.elements[network.electrical.place_of[node]])
    facts += _hot_contact(physics, node, numbers)
    return Thing(node, record.kind, "", wires[0].place if wires else _place(network, record.designator).place,
                 tuple(facts), tuple(numbers))  # fmt: skip


def _place(network: Network, designator: str) -> Thing:
    design = network.design
    for things in (design.devices, design.connectors, design.splices, design.disconnects):
        found = things.get(designator) or things.get(designator[:-1])
        if found is not None:
            return Thing(designator, "", "", found.place)
    return Thing(designator, "")


def _at(network: Network, node: str) -> list[str]:
    """Elements whose currents are those of a node: its mated contact where it has one, else its wires."""
    is_mated = node in network.electrical.place_of
    return [node] if is_mated else [wire.mark for wire in network.wires_at.get(node, ())]


def _hot_contact(physics: Physics, node: str, numbers: list[Derivation]) -> Iterator[Fact]:
    """How hot the contacts at a node get for ever; each one's derivation goes to `numbers`."""
    for contact in contacts_of(physics.network):
        if all(end.node != node for _, end in contact.wires):
            continue
        hottest = contact.hottest(physics.heat)
        if hottest is None:
            continue
        numbers.append(hottest.derivation())
        degc, left_k = hottest.degc, contact.stands_degc - hottest.degc
        margin = f"{left_k:.1f} K are left" if left_k >= 0.0 else f"{-left_k:.1f} K more than it stands"
        carries = f"{hottest.wires[0].current_a:.2f} A RMS"
        words = f"{degc:.1f} degC in state {hottest.state}, {carries}; {margin} to {contact.stands_degc:g} degC"
        yield Fact("gets hot", words, contact.stands_by)


def _contact_facts(contact: Contact) -> Iterator[Fact]:
    source = str(contact.publication)
    yield Fact("contact", f"{contact.name}, {contact.title}", source)
    yield Fact("holds", f"{plain_number(contact.from_mm2.value)} to {plain_number(contact.to_mm2.value)} mm2", source)
    yield Fact("carries", f"{plain_number(contact.current_a.value)} A", source)
    yield Fact("resistance", f"{plain_number(1000 * contact.resistance_ohm.value, 2)} mohm", source)
    yield Fact("stands", f"{plain_number(contact.rating_degc.value)} degC", source)


def connector_thing(physics: Physics, name: str, texts: Mapping[str, str]) -> Thing:
    """A connector, a disconnect, or one half of it: its family and what is in each cavity."""
    network = physics.network
    design = network.design
    connector = design.connectors.get(name)
    disconnect = design.disconnects.get(name) or design.disconnects.get(name[:-1])
    own = connector or disconnect
    assert own is not None
    family = network.parts.connectors[own.part]
    facts = [*written_facts(own, texts), Fact("family", f"{family.name}, {family.title}", str(family.publication))]
    halves = (f"{name}s", f"{name}p") if name in design.disconnects else (name,)
    numbers: list[Derivation] = []
    for cavity in family.cavities:
        for half in halves:
            held = network.wires_at.get(f"{half}/{cavity}", [])
            if held:
                facts.append(Fact(f"cavity {half}/{cavity}", _wires(held)))
            elif f"{half}/{cavity}" in network.occupied:
                given = ", ".join(wire.mark for wire in network.given_at.get(f"{half}/{cavity}", ()))
                facts.append(Fact(f"cavity {half}/{cavity}", f"the vehicle's {given or 'own wire'}"))
        pin = f"{name}/{cavity}" if connector or name in design.disconnects else f"{name[:-1]}/{cavity}"
        if pin in network.electrical.place_of:
            numbers += currents(physics, pin)
    noun = "connector" if connector else ("disconnect" if name in design.disconnects else "half of a disconnect")
    return Thing(name, noun, getattr(own, "title", ""), own.place, tuple(facts), tuple(numbers))


def _wires(wires: list[Wire]) -> str:
    return ", ".join(f"{wire.mark} ({wire.size} {wire.colour})" for wire in wires)


def splice_thing(physics: Physics, name: str, texts: Mapping[str, str]) -> Thing:
    """A splice: its barrel, its branches, and what each of them carries."""
    network = physics.network
    splice, part = network.design.splices[name], network.splice_part(name)
    source = str(part.publication)
    branches = network.wires_at.get(name, [])
    facts = (
        *written_facts(splice, texts),
        Fact("barrel", f"{part.name}, {part.title}", source),
        Fact("holds", f"{plain_number(part.from_mm2.value)} to {plain_number(part.to_mm2.value)} mm2", source),
        Fact("resistance", f"{plain_number(1000 * part.resistance_ohm.value, 2)} mohm", source),
        *(Fact(f"branch {wire.mark}", f"{wire.size} {wire.colour}, to {wire.other(name)}") for wire in branches),
        *(
            Fact(
                f"branch {wire.mark}", f"{wire.circuit.size}, the vehicle's, to {wire.b if wire.a == name else wire.a}"
            )
            for wire in network.given_at.get(name, ())
        ),
    )
    numbers = tuple(each for wire in branches for each in currents(physics, wire.mark))
    return Thing(name, "splice", "", splice.place, facts, numbers)


def stretch_thing(physics: Physics, name: str, legs: list[Leg], texts: Mapping[str, str]) -> Thing:
    """A stretch of the route: its length, heat and covering, the wires in each part, and how thick the bundle is."""
    network = physics.network
    stretch = legs[0].stretch
    facts = [*written_facts(stretch, texts), Fact("ambient", f"{plain_number(ambient_degc(network, legs[0]))} degC")]
    numbers: list[Derivation] = []
    for leg in legs:
        facts += _hot_stretch(physics, leg, numbers)
        wires = network.wires_by_leg.get((leg.start, leg.end), [])
        if not wires:
            continue
        facts.append(Fact(f"wires from {leg.start} to {leg.end}", ", ".join(wire.mark for wire in wires)))
        numbers.append(bundle_diameter([wire.figures.diameter_mm.value for wire in wires]).derivation)
    return Thing(name, "stretch", "", stretch.place, tuple(facts), tuple(numbers))


def _hot_stretch(physics: Physics, leg: Leg, numbers: list[Derivation]) -> Iterator[Fact]:
    """The hottest wire of a part of a stretch, and the inside of its covering; their derivations go to `numbers`."""
    here = [
        each
        for state in physics.heat.durations_s
        for each in physics.heat.in_state(state)
        if each.bundle.leg is not None and (each.bundle.leg.start, each.bundle.leg.end) == (leg.start, leg.end)
    ]
    wires = [WireHeat(each, index) for each in here for index in range(len(each.bundle.wires))]
    hottest = max(wires, key=lambda each: each.conductor_degc, default=None)
    if hottest is None or math.isinf(hottest.conductor_degc):
        return
    numbers.append(wire_heat_derivation(hottest))
    yield Fact(f"hottest from {leg.start} to {leg.end}", f"{hottest.wire.mark}, {heat_words(physics, hottest)}")
    covered = [each for each in here if each.bundle.covering is not None and math.isfinite(each.found.inner_degc)]
    inside = max(covered, key=lambda each: each.found.inner_degc, default=None)
    if inside is not None and inside.bundle.covering is not None:
        numbers.append(covering_derivation(inside))
        part, degc = inside.bundle.covering, inside.found.inner_degc
        left = f"{degc:.1f} degC in state {inside.state}; it stands {plain_number(part.rating_degc.value, 1)} degC"
        yield Fact(f"inside of its covering from {leg.start} to {leg.end}", left, f"{part.name}, {part.publication}")


def point_thing(physics: Physics, name: str) -> Thing:
    """A point of the route: the stretches that meet there, and what sits there."""
    network = physics.network
    design = network.design
    legs = dict.fromkeys(leg.name for leg in network.legs_at.get(name, ()))
    things = {**design.connectors, **design.disconnects, **design.devices}
    here = [each for each, thing in things.items() if getattr(thing, "at", "") == name]
    facts = (Fact("stretches", "; ".join(legs)), *((Fact("here", ", ".join(here)),) if here else ()))
    place = network.legs_at[name][0].stretch.place
    return Thing(name, "point of the route", "", place, facts)
