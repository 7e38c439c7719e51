"""The electrical graph: cavities, splices and device terminals, joined by wires, contacts and devices.

It is a networkx multigraph, built once. What is asked of a network is asked of it or of a part of it; the arrays of the
solver are indexed by its order of edges.
"""

from collections.abc import Callable, Container, Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import Enum
from functools import cached_property
from typing import TYPE_CHECKING

from harnessgen.design.checks.consistency import suppression_of
from harnessgen.design.records.design import Design
from harnessgen.design.records.device import SIGNAL, Device, Driver, Fuse, Ground, Load, Relay, Shield, Supply, Switch
from harnessgen.measures.frozen import frozen
from harnessgen.network.joined import part_numbers
from harnessgen.network.vehicle_wires import VehicleWire
from harnessgen.network.wires import EndKind, Wire, WireEnd
from harnessgen.parts.library import Parts

if TYPE_CHECKING:
    import networkx
    import numpy as np
    from numpy.typing import NDArray

REFERENCE = "0"
"""The node at 0 V to which all voltages are stated: what the grounds lead back to."""


class ElementKind(Enum):
    """What joins two nodes."""

    WIRE = "wire"
    VEHICLE_WIRE = "wire of the vehicle"
    """A wire that the vehicle has already: `given` says which."""
    CONTACT = "contact"
    """A connector of the harness mated to what it serves: one cavity."""
    MATING = "mating"
    """A disconnect's two halves mated: one cavity."""
    SUPPLY = "supply"
    GROUND = "ground"
    FUSE = "fuse"
    SWITCH = "switch"
    DRIVER = "driver"
    COIL = "relay coil"
    MAKE = "make contact"
    """A relay's contact that closes when its coil pulls in: 30 to 87."""
    BREAK = "break contact"
    """A relay's contact that opens when its coil pulls in: 30 to 87a."""
    LOAD = "load"
    SUPPRESSOR = "suppression resistor"
    """A resistor across a coil: it takes the coil's current over, and carries its own while the coil is fed."""

    @property
    def is_wire(self) -> bool:
        """True for a wire, of the harness or of the vehicle."""
        return self in (ElementKind.WIRE, ElementKind.VEHICLE_WIRE)

    @property
    def does_work(self) -> bool:
        """True for what limits the current by doing its work: a path through it is no short."""
        return self in (ElementKind.LOAD, ElementKind.COIL)

    @property
    def limits_current(self) -> bool:
        """True for what keeps a path from being a short: what does work, and a resistor across a coil."""
        return self.does_work or self is ElementKind.SUPPRESSOR


LASTING = (ElementKind.WIRE, ElementKind.VEHICLE_WIRE, ElementKind.CONTACT, ElementKind.MATING)
"""What joins its two nodes for good."""


@frozen
class Element:
    """One edge of the electrical graph from node `a` to node `b`; `name` is unique and printed.

    `wire`, `given` (a wire of the vehicle) or `device` is what it stands for; a contact's `part` names its contact
    family.
    """

    name: str
    kind: ElementKind
    a: str
    b: str
    wire: Wire | None = None
    device: Device | None = None
    part: str = ""
    given: VehicleWire | None = None

    @property
    def switched_by(self) -> str:
        """Designator that opens and closes it; empty for what always conducts."""
        switched = (ElementKind.SWITCH, ElementKind.DRIVER, ElementKind.MAKE, ElementKind.BREAK)
        return self.device.name if self.device is not None and self.kind in switched else ""


@frozen
class ElectricalNode:
    """A node of the electrical graph. `kind` says what it is: cavity, mate, splice, terminal, shield, or reference.

    `shield` is where a cable's shield hangs free.
    """

    name: str
    kind: str
    designator: str
    terminal: str


@dataclass(frozen=True)
class Electrical:
    """The nodes and edges of the electrical graph, each in the order by which arrays are indexed."""

    nodes: Mapping[str, ElectricalNode]
    elements: tuple[Element, ...]

    @cached_property
    def graph(self) -> "networkx.MultiGraph[str]":
        """The graph: a node carries its ElectricalNode and an edge its Element, each under `record`.

        The key of an edge is the name of its element. networkx lists edges node by node; `elements` has their order.
        """
        graph = self.part(lambda element: True, self.nodes)
        for name, node in self.nodes.items():
            graph.nodes[name]["record"] = node
        return graph

    def part(self, keeps: Callable[[Element], bool], nodes: Iterable[str] = ()) -> "networkx.MultiGraph[str]":
        """A graph of the edges that `keeps` alone, in their order, with the nodes at their ends behind `nodes`."""
        import networkx

        graph: networkx.MultiGraph[str] = networkx.MultiGraph()
        graph.add_nodes_from(nodes)
        for each in self.elements:
            if keeps(each):
                graph.add_edge(each.a, each.b, each.name, record=each)
        return graph

    def without(self, names: Container[str]) -> "Electrical":
        """The same with the elements of these names taken out."""
        return Electrical(self.nodes, tuple(each for each in self.elements if each.name not in names))

    @cached_property
    def net_of(self) -> Mapping[str, int]:
        """Number of the net of each node: a connected part of the graph of what joins nodes for good."""
        return part_numbers(self.part(lambda element: element.kind in LASTING, self.nodes))

    @cached_property
    def number_of(self) -> Mapping[str, int]:
        """Number of each node in the order of nodes."""
        return {name: number for number, name in enumerate(self.nodes)}

    @cached_property
    def place_of(self) -> Mapping[str, int]:
        """Place of each element, by its name, in the order of edges."""
        return {each.name: place for place, each in enumerate(self.elements)}

    @cached_property
    def ends(self) -> "tuple[NDArray[np.intp], NDArray[np.intp]]":
        """Numbers of the nodes at the ends `a` and `b` of each edge, in the order of edges."""
        import numpy as np

        number_of, elements = self.number_of, self.elements
        a = np.array([number_of[each.a] for each in elements], dtype=np.intp)
        return a, np.array([number_of[each.b] for each in elements], dtype=np.intp)


def mate_of(cavity: str) -> str:
    """Node of what a connector's cavity is plugged into: the device's own pin."""
    return f"{cavity} mate"


def build_electrical(
    design: Design, parts: Parts, wires: tuple[Wire, ...], given: tuple[VehicleWire, ...] = ()
) -> Electrical:
    """The electrical graph of a design with its banks expanded; `given` are the wires of the vehicle."""
    return _Builder(design, parts, wires, given).build()


class _Builder:
    def __init__(self, design: Design, parts: Parts, wires: tuple[Wire, ...], given: tuple[VehicleWire, ...]) -> None:
        self.given = given
        self.design = design
        self.parts = parts
        self.wires = wires
        self.devices = design.devices
        self.nodes: dict[str, ElectricalNode] = {REFERENCE: ElectricalNode(REFERENCE, "reference", "", "")}
        self.elements: list[Element] = []
        self.pins: dict[str, None] = {}
        """Cavities behind which a device stands."""

    def build(self) -> Electrical:
        for wire in self.wires:
            for end in wire.ends:
                is_free = isinstance(self.devices.get(end.designator), Shield)
                kind = "shield" if is_free else _KIND_OF_END[end.kind]
                self._node(end.node, kind, end.designator, end.terminal)
            self.elements.append(Element(wire.mark, ElementKind.WIRE, wire.a.node, wire.b.node, wire=wire))
        for piece in self.given:
            ends = (self._given_node(piece.a), self._given_node(piece.b))
            self.elements.append(Element(piece.mark, ElementKind.VEHICLE_WIRE, *ends, given=piece))
        for device in self.devices.values():
            self.elements.extend(self._device(device))
        self._contacts()
        self._matings()
        return Electrical(self.nodes, tuple(self.elements))

    def _node(self, name: str, kind: str, designator: str, terminal: str) -> str:
        self.nodes.setdefault(name, ElectricalNode(name, kind, designator, terminal))
        return name

    def _given_node(self, name: str) -> str:
        """Node at an end of a wire of the vehicle: a cavity, a tap, or a device's terminal."""
        designator, _, terminal = name.partition("/")
        if designator in self.devices:
            return self._node(name, "terminal", designator, terminal)
        return self._node(name, "splice" if designator in self.design.splices else "cavity", designator, terminal)

    def _terminal(self, device: Device, terminal: str) -> str:
        """Node of a device's terminal: its pin behind a cavity, or the terminal itself where wires land on it."""
        cavity = device.cavity_of(terminal)
        if terminal in device.direct:
            return self._terminal(self.devices[device.direct[terminal]], "")
        if cavity is None:
            name = f"{device.name}/{terminal}" if terminal else device.name
            return self._node(name, "terminal", device.name, terminal)
        self.pins[str(cavity)] = None
        return self._node(mate_of(str(cavity)), "mate", cavity.designator, cavity.terminal)

    def _device(self, device: Device) -> Iterator[Element]:
        name = device.name
        match device:
            case Supply() | Ground():
                kind = ElementKind.SUPPLY if isinstance(device, Supply) else ElementKind.GROUND
                yield Element(name, kind, self._terminal(device, ""), REFERENCE, device=device)
            case Fuse() | Switch():
                kind = ElementKind.FUSE if isinstance(device, Fuse) else ElementKind.SWITCH
                yield Element(name, kind, self._terminal(device, "in"), self._terminal(device, "out"), device=device)
            case Driver():
                ends = self._terminal(device, "out"), self._terminal(device, "ground")
                yield Element(name, ElementKind.DRIVER, *ends, device=device)
            case Relay():
                yield from self._relay(device)
            case Load():
                yield from self._load(device)

    def _load(self, load: Load) -> Iterator[Element]:
        one, two = self._terminal(load, "1"), self._terminal(load, "2")
        if SIGNAL not in load.terminals:
            yield Element(load.name, ElementKind.LOAD, one, two, device=load)
            yield from self._suppressor(load, one, two)
            return
        signal = self._terminal(load, SIGNAL)
        yield Element(load.name, ElementKind.LOAD, one, signal, device=load)
        yield Element(f"{load.name} {SIGNAL}", ElementKind.LOAD, signal, two, device=load)

    def _relay(self, relay: Relay) -> Iterator[Element]:
        terminal = {mark: self._terminal(relay, mark) for mark in self.parts.relays[relay.part].terminals}
        name = relay.name
        yield Element(f"{name} coil", ElementKind.COIL, terminal["86"], terminal["85"], device=relay)
        yield Element(f"{name} 30-87", ElementKind.MAKE, terminal["30"], terminal["87"], device=relay)
        yield from self._suppressor(relay, terminal["86"], terminal["85"])
        if "87a" in terminal:
            yield Element(f"{name} 30-87a", ElementKind.BREAK, terminal["30"], terminal["87a"], device=relay)

    def _suppressor(self, device: Relay | Load, a: str, b: str) -> Iterator[Element]:
        suppression = suppression_of(device, self.parts)
        if suppression is not None and suppression.resistor_ohm is not None:
            yield Element(f"{device.name} resistor", ElementKind.SUPPRESSOR, a, b, device=device)

    def _contacts(self) -> None:
        for pin in self.pins:
            designator, _, cavity = pin.partition("/")
            self._node(pin, "cavity", designator, cavity)
            part = self.contact_part(designator, cavity)
            self.elements.append(Element(pin, ElementKind.CONTACT, pin, mate_of(pin), part=part))

    def _matings(self) -> None:
        for name, disconnect in self.design.disconnects.items():
            family = self.parts.connectors[disconnect.part]
            for cavity in family.cavities:
                halves = f"{name}s/{cavity}", f"{name}p/{cavity}"
                if any(half in self.nodes for half in halves):
                    for half in halves:
                        self._node(half, "cavity", half.partition("/")[0], cavity)
                    part = disconnect.contact or family.contact
                    self.elements.append(Element(f"{name}/{cavity}", ElementKind.MATING, *halves, part=part))

    def contact_part(self, designator: str, cavity: str) -> str:
        """Contact family in a cavity of a connector."""
        connector = self.design.connectors.get(designator)
        if connector is None:
            half = self.design.disconnects[designator[:-1]]
            return half.contact or self.parts.connectors[half.part].contact
        fill = connector.cavities.get(cavity)
        own = fill.contact if fill is not None else ""
        return own or connector.contact or self.parts.connectors[connector.part].contact


_KIND_OF_END = {EndKind.CAVITY: "cavity", EndKind.SPLICE: "splice", EndKind.LANDING: "terminal"}


def end_of(wire: Wire, node: str) -> WireEnd:
    """The end of `wire` at the electrical node `node`."""
    return wire.a if wire.a.node == node else wire.b
