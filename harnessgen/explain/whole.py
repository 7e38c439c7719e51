"""States, zones, limits, banks and sections explained."""

from collections.abc import Mapping

from harnessgen.design.limits.table import limit
from harnessgen.evidence.derivation import Derivation
from harnessgen.explain.devices import limit_fact
from harnessgen.explain.thing import Fact, Thing
from harnessgen.explain.written import written_facts
from harnessgen.lengths.wire_length import cut_length_derivation
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.physics import Physics


def state_thing(physics: Physics, name: str, texts: Mapping[str, str]) -> Thing:
    """A state: what is on, which relays hold, and the volts at every load that it feeds."""
    state, point = physics.network.design.states[name], physics.points[name]
    facts = (
        *written_facts(state, texts),
        Fact("relays that hold", ", ".join(sorted(point.pulled_in)) or "none"),
        *((Fact("not at rest", point.reason),) if point.reason else ()),
    )
    numbers: list[Derivation] = []
    for case in (Case.STATED, Case.WEAK):
        for drop in physics.drops_in(name, case):
            numbers += (drop.derivation, drop.path_derivation("feed"), drop.path_derivation("return"))
    spreads = [each for each in physics.fuel_spreads[name] if each.openings]
    facts += tuple(Fact("fuel", each.sentence, str(each.match.source)) for each in physics.fuel_spreads[name])
    numbers += (each.spread for each in spreads)
    return Thing(name, "state", state.title, state.place, facts, tuple(numbers))


def zone_thing(physics: Physics, name: str, texts: Mapping[str, str]) -> Thing:
    """A zone: its ambient, and the stretches in it."""
    zone = physics.network.design.zones[name]
    stretches = dict.fromkeys(leg.name for leg in physics.network.route.legs if leg.zone == name)
    facts = (*written_facts(zone, texts), Fact("stretches", "; ".join(stretches)))
    return Thing(name, "zone", "", zone.place, facts)


def limit_thing(physics: Physics, name: str) -> Thing:
    """A limit: its value for the whole harness, and for each circuit that has its own."""
    design = physics.network.design
    general = limit(name, design.limits)
    facts = [limit_fact(general)]
    own = {wire.circuit: wire.limits for wire in physics.network.wires if wire.limits is not None}
    for circuit, table in own.items():
        applied = limit(name, table, design.limits)
        if applied != general:
            found = limit_fact(applied)
            facts.append(Fact(f"{found.what} of circuit {circuit}", found.value, found.source))
    return Thing(name, "limit", "", design.limits.where(name.replace("-", "_")), tuple(facts))


def bank_thing(physics: Physics, name: str, texts: Mapping[str, str]) -> Thing:
    """A bank: its loads and wires, and in each state the spread of fuel where its loads are injectors."""
    bank = physics.network.design.banks[name]
    wires = [wire for wire in physics.network.wires if wire.bank == name]
    facts = (
        *written_facts(bank, texts),
        Fact("loads in it", ", ".join(bank.loads)),
        Fact("wires", ", ".join(wire.mark for wire in wires)),
    )
    spreads = [
        each for found in physics.fuel_spreads.values() for each in found if each.of == f"bank {name}" and each.openings
    ]
    facts += tuple(Fact(f"fuel in {each.state}", each.sentence, str(each.match.source)) for each in spreads)
    return Thing(name, "bank", "", bank.place, facts, tuple(each.spread for each in spreads))


def section_thing(physics: Physics, letter: str) -> Thing:
    """A section: its label and the wires to cut for it."""
    network = physics.network
    section = next(each for each in network.sections.sections if each.letter == letter)
    wires = [wire for wire in network.wires if wire.section == letter]
    facts = (Fact("label", section.number), Fact("wires", ", ".join(wire.mark for wire in wires)))
    numbers = tuple(cut_length_derivation(physics.lengths[wire.mark]) for wire in wires)
    return Thing(letter, "section", section.title, facts=facts, derivations=numbers)
