"""Everything that can be asked for by its name, and what is known of it."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from functools import partial

from harnessgen.design.limits.table import DEFAULT_LIMITS
from harnessgen.evidence.finding import Finding
from harnessgen.explain.currents import currents
from harnessgen.explain.devices import device_thing
from harnessgen.explain.grommets import grommet_names, grommet_thing
from harnessgen.explain.places import connector_thing, node_thing, point_thing, splice_thing, stretch_thing
from harnessgen.explain.shared import shared_thing
from harnessgen.explain.thing import Thing
from harnessgen.explain.vehicle import vehicle_circuit_thing
from harnessgen.explain.whole import bank_thing, limit_thing, section_thing, state_thing, zone_thing
from harnessgen.explain.wires import cable_thing, circuit_thing, wire_thing
from harnessgen.network.electrical import REFERENCE
from harnessgen.network.route import Leg
from harnessgen.physics.physics import Physics

Explainers = Mapping[str, list[Callable[[], Thing]]]
"""For each name what explains it; a name may be borne by several things, such as a point and a zone."""


def explainers(physics: Physics, texts: Mapping[str, str]) -> Explainers:
    """Every name of a design. A disconnect's cavity may be asked for as a whole (C10/1) or by half (C10s/1)."""
    network = physics.network
    design = network.design
    found: dict[str, list[Callable[[], Thing]]] = {}

    def add(names: Iterable[str], explain: Callable[[str], Thing]) -> None:
        for name in names:
            found.setdefault(name, []).append(partial(explain, name))

    wires = network.wire_of
    add(wires, lambda name: wire_thing(physics, wires[name]))
    add(dict.fromkeys(wire.circuit for wire in network.wires), lambda name: circuit_thing(physics, name))
    add(design.vehicle.circuits, lambda name: vehicle_circuit_thing(physics, name, texts))
    pieces = [each.mark for each in network.given if each.mark != each.circuit.name]
    add(pieces, lambda name: vehicle_circuit_thing(physics, name, texts))
    add((each.name for each in design.shared), lambda name: shared_thing(physics, name, texts))
    add(design.devices, lambda name: device_thing(physics, design.devices[name], texts))
    halves = [f"{name}{half}" for name in design.disconnects for half in "sp"]
    add((*design.connectors, *design.disconnects, *halves), lambda name: connector_thing(physics, name, texts))
    add(design.splices, lambda name: splice_thing(physics, name, texts))
    nodes = [
        name
        for name, node in network.electrical.nodes.items()
        if name != REFERENCE and name not in found and node.kind != "mate"
    ]
    matings = [each.name for each in network.electrical.elements if each.name not in found and "/" in each.name]
    add(nodes, lambda name: node_thing(physics, name))
    add((each for each in matings if each not in nodes), lambda name: _mating_thing(physics, name))
    legs: dict[str, list[Leg]] = {}
    for leg in network.route.legs:
        legs.setdefault(leg.name, []).append(leg)
    add(legs, lambda name: stretch_thing(physics, name, legs[name], texts))
    add(network.legs_at, lambda name: point_thing(physics, name))
    add(grommet_names(network), lambda name: grommet_thing(physics, name, texts))
    add(design.states, lambda name: state_thing(physics, name, texts))
    add(design.zones, lambda name: zone_thing(physics, name, texts))
    add(design.banks, lambda name: bank_thing(physics, name, texts))
    add((each for each in design.cables if each not in found), lambda name: cable_thing(physics, name))
    add((each.letter for each in network.sections.sections), lambda name: section_thing(physics, name))
    add(DEFAULT_LIMITS, lambda name: limit_thing(physics, name))
    return found


def _mating_thing(physics: Physics, name: str) -> Thing:
    """A cavity of a disconnect, both halves together."""
    designator, _, cavity = name.partition("/")
    parts = [node_thing(physics, f"{designator}{half}/{cavity}") for half in "sp"]
    facts = tuple(replace(fact, what=f"{part.name}: {fact.what}") for part in parts for fact in part.facts)
    return Thing(name, "cavity of a disconnect", "", parts[0].place, facts, tuple(currents(physics, name)))


def explain(physics: Physics, texts: Mapping[str, str], findings: Iterable[Finding], what: str) -> tuple[Thing, ...]:
    """All things of the name `what`, with the findings about each; empty where nothing has the name."""
    listed = list(findings)
    about = tuple(each for each in listed if what == each.subject or what in each.subjects)
    return tuple(_with_findings(each(), about) for each in explainers(physics, texts).get(what, ()))


def _with_findings(thing: Thing, about: tuple[Finding, ...]) -> Thing:
    """A thing with the findings about it, and where those of their numbers come from that only they tell."""
    own = (number.derivation for finding in about for number in finding.numbers if number.derivation is not None)
    numbers = dict.fromkeys((*thing.derivations, *own))
    return replace(thing, findings=about, derivations=tuple(numbers))
