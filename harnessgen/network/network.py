"""The network of a design: route, sections, wires and electrical graph, and what can be read from them."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from harnessgen.design.records.design import Design
from harnessgen.design.records.device import Device, Fuse, Relay, Shield
from harnessgen.network.cables import cable_faults
from harnessgen.network.conduction import Conduction, conduction
from harnessgen.network.electrical import Electrical, Element, ElementKind, build_electrical
from harnessgen.network.route import Leg, Mating, Route, build_route
from harnessgen.network.section import HarnessSection, Sections, divide
from harnessgen.network.vehicle_wires import VehicleWire, vehicle_wires
from harnessgen.network.wires import EndKind, Wire, WireEnd, cut_wires, wires_by_leg
from harnessgen.parts.connector import ConnectorPart
from harnessgen.parts.covering import SplicePart
from harnessgen.parts.library import Parts
from harnessgen.parts.terminal import Contact, Seal
from harnessgen.source.fault import Fault

if TYPE_CHECKING:
    import networkx


@dataclass(frozen=True)
class Network:
    """What a design means. `design` has its banks expanded; `faults` are runs that did not become wires."""

    design: Design
    parts: Parts
    route: Route
    sections: Sections
    wires: tuple[Wire, ...]
    electrical: Electrical
    faults: tuple[Fault, ...]
    given: tuple[VehicleWire, ...] = ()
    """Wires of the vehicle that take part: no wires of the harness."""

    @cached_property
    def wires_by_leg(self) -> Mapping[tuple[str, str], list[Wire]]:
        """Wires in each part of the route, by the names of its two nodes."""
        return wires_by_leg(self.wires)

    @cached_property
    def legs_at(self) -> Mapping[str, list[Leg]]:
        """Parts of the route whose stretch begins or ends at each point."""
        result: dict[str, list[Leg]] = {}
        for leg in self.route.legs:
            for point in (leg.from_point, leg.to_point):
                result.setdefault(point, []).append(leg)
        return result

    @cached_property
    def wires_at(self) -> Mapping[str, list[Wire]]:
        """Wires that end at each electrical node."""
        result: dict[str, list[Wire]] = {}
        for wire in self.wires:
            for end in wire.ends:
                result.setdefault(end.node, []).append(wire)
        return result

    @cached_property
    def given_at(self) -> Mapping[str, list[VehicleWire]]:
        """Wires of the vehicle that end at each electrical node."""
        result: dict[str, list[VehicleWire]] = {}
        for wire in self.given:
            for node in (wire.a, wire.b):
                result.setdefault(node, []).append(wire)
        return result

    @cached_property
    def occupied(self) -> frozenset[str]:
        """Cavities that hold a wire of the vehicle: those that its connectors name, and those that its wires end in."""
        named = (
            f"{name}/{cavity}" for name, each in self.design.vehicle.connectors.items() for cavity in each.occupied
        )
        ended = (node for node in self.given_at if self.electrical.nodes[node].kind == "cavity")
        return frozenset((*named, *ended))

    @cached_property
    def served_by(self) -> Mapping[str, tuple[str, ...]]:
        """Devices that each connector plugs into or that have a terminal in it, in the order of the design."""
        result: dict[str, list[str]] = {}
        for name, device in self.design.devices.items():
            ends = (device.connector, *(end.designator for end in device.terminals.values()))
            for designator in dict.fromkeys(filter(None, ends)):
                result.setdefault(designator, []).append(name)
        return {designator: tuple(names) for designator, names in result.items()}

    def elements_at(self, node: str) -> list[Element]:
        """Elements of the electrical graph with an end at a node, in the order of edges; none where it has no node."""
        if node not in self.graph:
            return []
        found: list[Element] = [edge["record"] for edges in self.graph.adj[node].values() for edge in edges.values()]
        return sorted(found, key=lambda each: self.electrical.place_of[each.name])

    @cached_property
    def wire_of(self) -> Mapping[str, Wire]:
        """Wires by mark."""
        return {wire.mark: wire for wire in self.wires}

    @property
    def net_of(self) -> Mapping[str, int]:
        """Number of the net that each electrical node lies in: what wires and mated contacts join for good."""
        return self.electrical.net_of

    @property
    def graph(self) -> "networkx.MultiGraph[str]":
        """The electrical graph: nodes carry an ElectricalNode, edges an Element, each under `record`.

        The key of an edge is the name of its element, the mark of its wire where it is one.
        """
        return self.electrical.graph

    @cached_property
    def ways(self) -> Conduction:
        """All that can conduct, with everything closed."""
        return conduction(self.electrical, lambda element: True)

    @cached_property
    def unfused_ways(self) -> Conduction:
        """All that can conduct, with every fuse taken out."""
        return conduction(self.electrical, lambda element: element.kind is not ElementKind.FUSE)

    def ambient_zone(self, leg: Leg) -> str:
        """Name of the zone of a part of the route; empty when it lies in none."""
        return leg.zone

    def connector_part(self, designator: str) -> ConnectorPart:
        """Family of a connector, or of a half of a disconnect."""
        connector = self.design.connectors.get(designator)
        name = connector.part if connector is not None else self.design.disconnects[designator[:-1]].part
        return self.parts.connectors[name]

    def contact_at(self, end: WireEnd) -> Contact | None:
        """Terminal crimped to a wire at this end; None in a splice and where a shield hangs free."""
        if end.kind is EndKind.SPLICE:
            return None
        if end.kind is EndKind.LANDING:
            device = self.design.devices[end.designator]
            if isinstance(device, Shield):
                return None
            title = self.design.harness
            name = device.contact or self._part_contact(device, end.terminal) or (title.contact if title else "ring-m6")
            return self.parts.contacts[name]
        connector = self.design.connectors.get(end.designator)
        family = self.connector_part(end.designator)
        if connector is None:
            return self.parts.contacts[self.design.disconnects[end.designator[:-1]].contact or family.contact]
        fill = connector.cavities.get(end.terminal)
        return self.parts.contacts[(fill.contact if fill else "") or connector.contact or family.contact]

    def seal_at(self, end: WireEnd) -> Seal | None:
        """Wire seal behind a wire at this end; None where there is none."""
        if end.kind is not EndKind.CAVITY:
            return None
        connector = self.design.connectors.get(end.designator)
        family = self.connector_part(end.designator)
        if connector is None:
            name = self.design.disconnects[end.designator[:-1]].seal or family.seal
        else:
            fill = connector.cavities.get(end.terminal)
            name = (fill.seal if fill else "") or connector.seal or family.seal
        return self.parts.seals[name] if name else None

    def _part_contact(self, device: Device, terminal: str) -> str:
        """Terminal that fits the part of a fuse or relay; empty where the part does not say."""
        if isinstance(device, Fuse):
            return self.parts.fuses[device.form].contact
        return self.parts.relays[device.part].tabs.get(terminal, "") if isinstance(device, Relay) else ""

    def splice_part(self, designator: str) -> SplicePart:
        """Family of a splice."""
        title = self.design.harness
        name = self.design.splices[designator].part or (title.splice if title else "barrel-small")
        return self.parts.splices[name]


def build_network(design: Design, parts: Parts) -> Network:
    """The network of a design whose banks are expanded and whose names all exist."""
    route = build_route(design)
    sections = divide(design, route)
    cut = cut_wires(design, parts, route, sections)
    faults = cut.faults or tuple(cable_faults(design, cut.wires))
    given = vehicle_wires(design, parts)
    electrical = build_electrical(design, parts, cut.wires, given)
    return Network(design, parts, route, sections, cut.wires, electrical, faults, given)


__all__ = ["HarnessSection", "Leg", "Mating", "Network", "build_network"]
