"""Unpowered, everything mated but the controllers: each output's return read through its loads to its feed."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from operator import itemgetter

from harnessgen.bench.setup.installed import Fitted
from harnessgen.bench.setup.path_resistance import Beside, Edge, beside, ohm_between
from harnessgen.bench.setup.section_nets import cold_ohm
from harnessgen.bench.setup.step import Phase, Setup, Step, TouchPlace
from harnessgen.bench.steps.cautions import BATTERY_OFF, MATING_CONTACT
from harnessgen.bench.steps.through_loads import bank_step
from harnessgen.design.records.device import Load
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.network.wires import Wire

_FEEDS = (ElementKind.FUSE, ElementKind.MAKE, ElementKind.BREAK)
"""What is taken out of its holder, so that the feed can be touched behind it."""


def mated_block(fitted: Fitted) -> tuple[Setup, list[Step]] | None:
    """Each driver's return to its feed, through disconnects and loads; None where no output can be touched."""
    harness = MatedHarness(fitted)
    steps = [step for driver in harness.outputs for step in harness.steps(driver)]
    if not steps:
        return None
    design = fitted.network.design
    lines = (
        "Fitted where it belongs: disconnects mated, loads plugged in. Controllers unplugged, fuses and relays out.",
        "Meter on ohms, leads zeroed. Each bank from its output's cavity to the empty holder that feeds it.",
    )
    title = "Through the loads, harness mated"
    out = (*design.fuses, *design.relays)
    cautions = (BATTERY_OFF, MATING_CONTACT)
    return Setup(Phase.THROUGH_LOADS, "", title, lines, cautions, apart=fitted.controllers, out=out), steps


def _is_across_load(element: Element) -> bool:
    """A resistor across the coil of a load stays with the load; one of a relay is out with the relay."""
    return element.kind is ElementKind.SUPPRESSOR and isinstance(element.device, Load)


@dataclass(frozen=True)
class MatedHarness:
    """The harness mated, controllers apart, fuses and relays out, with the loads that may be read through."""

    fitted: Fitted

    @cached_property
    def loads(self) -> tuple[Element, ...]:
        """Loads that may be read through."""
        by_load = self.fitted.load_elements
        return tuple(each for name in by_load if name not in self.fitted.electronics for each in by_load[name])

    @cached_property
    def bounds(self) -> tuple[Beside, Beside, Beside]:
        """The harness with every load at its nominal, its lowest and its highest resistance."""
        return beside(self.edges("value")), beside(self.edges("lowest")), beside(self.edges("highest"))

    def edges(self, which: str) -> list[Edge]:
        """Wires, contacts and loads; each load at its nominal (`value`), `lowest` or `highest` resistance."""
        figures = self.fitted.figures
        loads = ((each, max(getattr(figures[each.name].ohm, which), 1e-6)) for each in self.loads)
        return [*self.joined_for_good(), *(Edge(each.name, each.a, each.b, ohm) for each, ohm in loads)]

    def joined_for_good(self) -> list[Edge]:
        """Wires, those of the vehicle too, contacts, and resistors across loads."""
        network, physics = self.fitted.network, self.fitted.physics
        found: list[Edge] = []
        for each in network.electrical.elements:
            if each.wire is not None:
                ohm = cold_ohm(network, each.wire, physics.lengths[each.wire.mark])
                found.append(Edge(each.name, each.a, each.b, ohm))
            elif each.given is not None:
                at_20_ohm = each.given.figures.resistance_ohm_per_m.value * each.given.length_mm / 1000.0
                found.append(Edge(each.name, each.a, each.b, max(at_20_ohm, 1e-6)))
            elif each.kind in (ElementKind.CONTACT, ElementKind.MATING) or _is_across_load(each):
                found.append(Edge(each.name, each.a, each.b, physics.ohms[each.name]))
        return found

    @cached_property
    def holders(self) -> Mapping[int, TouchPlace]:
        """For each net the contact of an empty holder where it can be touched."""
        found: dict[int, TouchPlace] = {}
        network = self.fitted.network
        for each in network.electrical.elements:
            node = each.b
            if each.kind in _FEEDS and each.device is not None and network.electrical.nodes[node].kind == "terminal":
                reach = f"mating tab in the empty holder of {each.device.name}"
                terminal = network.electrical.nodes[node].terminal
                place = TouchPlace(node, node, each.device.name, terminal, reach)
                found.setdefault(network.net_of[node], place)
        return found

    @cached_property
    def loads_on(self) -> Mapping[int, list[Element]]:
        """Loads between two nets, by each of the nets."""
        net_of = self.fitted.network.net_of
        found: dict[int, list[Element]] = {}
        for load in self.loads:
            ends = (net_of[load.a], net_of[load.b])
            for net in ends if ends[0] != ends[1] else ():
                found.setdefault(net, []).append(load)
        return found

    @cached_property
    def wires_of(self) -> Mapping[int, list[tuple[int, Wire]]]:
        """Wires of each net with their place among all wires; a net may have none."""
        network = self.fitted.network
        found: dict[int, list[tuple[int, Wire]]] = {net: [] for net in network.net_of.values()}
        for place, wire in enumerate(network.wires):
            found[network.net_of[wire.a.node]].append((place, wire))
        return found

    @cached_property
    def outputs(self) -> tuple[tuple[Element, TouchPlace], ...]:
        """Drivers whose output can be touched, with the place."""
        network = self.fitted.network
        opened = {place.node: place for place in self.fitted.open_places(self.fitted.controllers)}
        drivers = (each for each in network.electrical.elements if each.kind is ElementKind.DRIVER)
        pairs = ((each, opened.get(each.a.removesuffix(" mate"))) for each in drivers)
        return tuple((each, place) for each, place in pairs if place is not None)

    def steps(self, output: tuple[Element, TouchPlace]) -> Iterator[Step]:
        """From one output's place to the holder of each feed that its loads hang on."""
        _, place = output
        net_of = self.fitted.network.net_of
        own = net_of[place.node]
        groups: dict[int, list[Element]] = {}
        for load in self.loads_on.get(own, ()):
            ends = [net_of[load.a], net_of[load.b]]
            groups.setdefault(ends[1 - ends.index(own)], []).append(load)
        for net, loads in groups.items():
            holder = self.holders.get(net)
            if holder is not None:
                ohms = tuple(ohm_between(at, place.node, holder.node) for at in self.bounds)
                figures = [self.fitted.figures[load.name] for load in loads]
                covers = tuple(
                    wire.mark for _, wire in sorted((*self.wires_of[own], *self.wires_of[net]), key=itemgetter(0))
                )
                yield bank_step(figures, place, holder, (ohms[0], ohms[1], ohms[2]), covers)
