"""The circuit as it is drawn: strands that run down the sheet between junctions.

A strand is a chain of wires, connectors and devices without a branch, so it becomes one straight column. A junction is
where strands branch or end: a supply, a ground, a splice, the pin of a device that several circuits share. Each strand
runs from its end nearer the supply to its end nearer ground, whatever is switched on, so the scheme needs no solution.
"""

import heapq
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import Enum
from itertools import pairwise
from math import inf

from harnessgen.design.records.device import Device
from harnessgen.drawings.circuit.elements.bodies import Body, bodies_of, drawn_as_one, terminals_of
from harnessgen.network.electrical import REFERENCE, Element, ElementKind, mate_of
from harnessgen.network.network import Network

_WORK_STEPS = 1000
"""Steps that a load counts on the way from supply to ground: far more than all else in a path."""


class JunctionKind(Enum):
    """What strands end in."""

    SUPPLY = "supply"
    GROUND = "ground"
    SPLICE = "splice"
    PIN = "pin"
    """A pin of a device behind a connector that several circuits of the device share."""
    TERMINAL = "terminal"
    """A terminal or cavity that holds several wires."""
    BUS = "bus bar"
    END = "end"
    """Nothing: a wire or a cavity that leads nowhere further."""
    BODY = "body"
    """A device with three terminals that is drawn as one symbol."""
    CUT = "cut"
    """A wire that is too far down for one sheet and goes on on another one."""


SHARED_KINDS = (JunctionKind.SPLICE, JunctionKind.PIN, JunctionKind.TERMINAL, JunctionKind.BUS, JunctionKind.BODY)
"""Junctions that join strands and stand once in a drawing."""


@dataclass(frozen=True, slots=True)
class Junction:
    """Where strands end; `name` is the electrical node, `device` the supply, ground point, bus bar or body that it is.

    `terminals` of a body: names of the elements that are brought to it, each with its terminal.
    """

    name: str
    kind: JunctionKind
    device: str = ""
    terminals: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class StrandPiece:
    """An element in a strand, with the electrical nodes at its upper and lower end."""

    element: Element
    upper: str
    lower: str


@dataclass(frozen=True, slots=True)
class SheetReference:
    """Where a strand goes on: `sheet` in words (`sheet 2`), and what is to be looked for there, which may be empty."""

    sheet: str
    named: str


@dataclass(frozen=True, slots=True)
class Strand:
    """A column of the drawing: pieces from top to bottom between two junctions (names of electrical nodes).

    `from_sheet` and `to_sheet` stand at an end whose junction is drawn on another sheet.
    """

    upper: str
    lower: str
    pieces: tuple[StrandPiece, ...]
    from_sheet: SheetReference | None = None
    to_sheet: SheetReference | None = None
    near: str = ""
    """Name of the element at its joint, where a reference stands in for that element."""

    def element_at(self, joint: str) -> str:
        """Name of the element by which it is brought to `joint`."""
        if not self.pieces:
            return self.near
        return self.pieces[0 if self.upper == joint else -1].element.name

    @property
    def is_stub(self) -> bool:
        """Whether it only says where a strand of this sheet's joint goes on."""
        return len(self.pieces) < 2 and (self.from_sheet is not None or self.to_sheet is not None)


@dataclass(frozen=True, slots=True)
class CircuitGraph:
    """All strands and junctions; `feed_side` says of each node whether it lies on the supply's side of the loads."""

    junctions: Mapping[str, Junction]
    strands: tuple[Strand, ...]
    feed_side: Mapping[str, bool]


def circuit_graph(network: Network) -> CircuitGraph:
    """Strands and junctions of a network, in the order of its elements."""
    return _StrandBuilder(network).build()


class _StrandBuilder:
    def __init__(self, network: Network) -> None:
        self.network = network
        self.nodes = network.electrical.nodes
        # A resistor across a coil is part of the coil's own sign.
        outer = (ElementKind.SUPPLY, ElementKind.GROUND, ElementKind.SUPPRESSOR)
        self.supplies = self._poles(ElementKind.SUPPLY)
        self.grounds = self._poles(ElementKind.GROUND)
        self.buses = {_node_of(bus): name for name, bus in network.design.buses.items()}
        inner = [each for each in network.electrical.elements if each.kind not in outer]
        ends = _count(inner)
        self.all_elements = [each for each in inner if not _is_unused_contact(each, ends)]
        poles = (*self.supplies, *self.grounds, *self.buses)
        self.bodies: dict[str, Body] = bodies_of(self.all_elements, poles)
        self.elements: list[Element] = self.all_elements
        self.edges: dict[str, list[Element]] = self._edges()
        self.promoted: set[str] = set()

    def _edges(self) -> dict[str, list[Element]]:
        edges: dict[str, list[Element]] = {name: [] for name in (*self.nodes, *self.bodies) if name != REFERENCE}
        for element in self.elements:
            edges[element.a].append(element)
            edges[element.b].append(element)
        return edges

    def _join_bodies(self, height: dict[str, tuple[float, float, int]]) -> None:
        """Bring what is at the terminals of each body to one node, but of contacts that would lie sideways."""
        for name, body in tuple(self.bodies.items()):
            height[name] = height[body.middle]
            if body.is_contact:
                common, *others = (height[node] for node in body.nodes.values())
                if len({each > common for each in others}) > 1:
                    del self.bodies[name]
        self.elements = drawn_as_one(self.all_elements, self.bodies)
        self.edges = self._edges()

    def _poles(self, kind: ElementKind) -> dict[str, str]:
        """Device of each node that is a supply, or a ground point."""
        found = (each for each in self.network.electrical.elements if each.kind is kind)
        return {each.a: each.device.name for each in found if each.device is not None}

    def build(self) -> CircuitGraph:
        height = self._heights()
        self._join_bodies(height)
        chains = self._chains()
        while looped := [nodes for nodes, _ in chains if nodes[0] == nodes[-1] and len(nodes) > 2]:
            # A ring has no upper and lower end until it is cut in two.
            self.promoted |= {nodes[len(nodes) // 2] for nodes in looped}
            chains = self._chains()
        strands = [_strand(nodes, elements, height) for nodes, elements in chains if nodes[0] != nodes[-1]]
        # What leads from a node back to itself hangs from it and ends in its name.
        own = [elements[0] for nodes, elements in chains if nodes[0] == nodes[-1]]
        strands += [Strand(each.a, f"{each.a} again", (StrandPiece(each, each.a, each.b),)) for each in own]
        strands += [Strand(name, name, ()) for name in (*self.supplies, *self.grounds) if not self.edges[name]]
        bare = [name for name in self.buses if not self.edges.get(name)]
        strands += [Strand(name, f"{name} again", ()) for name in bare]
        names = dict.fromkeys(name for strand in strands for name in (strand.upper, strand.lower))
        poles = self.buses | self.grounds | self.supplies
        names_back = [*bare, *(each.a for each in own)]
        back = {f"{name} again": Junction(f"{name} again", JunctionKind.END, name) for name in names_back}
        found = (self._junction(name, poles.get(name, "")) for name in names if name not in back)
        junctions = {each.name: each for each in found} | back
        feed_side = {name: each[0] < 0.5 for name, each in height.items()}
        feed_side |= dict.fromkeys(bare, True)
        feed_side |= {name: feed_side[each.device] for name, each in back.items()}
        return CircuitGraph(junctions, tuple(strands), feed_side)

    def _junction(self, name: str, pole: str) -> Junction:
        body = self.bodies.get(name)
        if body is None:
            return Junction(name, self._kind(name), pole)
        device = body.elements[0].device
        assert device is not None  # what a body is made of is a load or a relay
        return Junction(name, JunctionKind.BODY, device.name, terminals_of(self.all_elements, body))

    def _is_inline(self, node: str) -> bool:
        edges = self.edges[node]
        ends = (self.promoted, self.supplies, self.grounds, self.buses, self.bodies)
        if len(edges) != 2 or any(node in each for each in ends):
            return False
        return self.nodes[node].kind == "splice" or sum(each.kind.is_wire for each in edges) < 2

    def _kind(self, name: str) -> JunctionKind:
        if name in self.supplies:
            return JunctionKind.SUPPLY
        if name in self.grounds:
            return JunctionKind.GROUND
        if name in self.buses:
            return JunctionKind.BUS
        kind = self.nodes[name].kind
        if len(self.edges[name]) < 2:
            return JunctionKind.END
        if kind == "splice":
            return JunctionKind.SPLICE
        return JunctionKind.PIN if kind == "mate" else JunctionKind.TERMINAL

    def _chains(self) -> list[tuple[list[str], list[Element]]]:
        seen: set[str] = set()
        chains = [
            self._follow(node, edge, seen)
            for node, edges in self.edges.items()
            if not self._is_inline(node)
            for edge in edges
            if edge.name not in seen
        ]
        for element in self.elements:
            if element.name not in seen:
                self.promoted.add(element.a)
                chains.append(self._follow(element.a, element, seen))
        return chains

    def _follow(self, node: str, edge: Element, seen: set[str]) -> tuple[list[str], list[Element]]:
        nodes, elements = [node], []
        while True:
            seen.add(edge.name)
            elements.append(edge)
            node = edge.b if edge.a == node else edge.a
            nodes.append(node)
            if not self._is_inline(node):
                return nodes, elements
            ahead = [each for each in self.edges[node] if each.name not in seen]
            if not ahead:
                return nodes, elements
            edge = ahead[0]

    def _heights(self) -> dict[str, tuple[float, float, int]]:
        """For each node a key that grows from supply to ground: its share of the way, its distance, its place."""
        from_supply = self._distances(self.supplies)
        to_ground = self._distances(self.grounds)
        far = 1000.0 * _WORK_STEPS
        height: dict[str, tuple[float, float, int]] = {}
        for place, node in enumerate(self.edges):
            down, up = from_supply.get(node, inf), to_ground.get(node, inf)
            if down == inf and up == inf:
                share = 0.5
            elif up == inf:
                share = down / far
            elif down == inf:
                share = 1 - up / far
            else:
                share = down / (down + up) if down + up else 0.5
            height[node] = (share, min(down, far), place)
        return height

    def _distances(self, starts: Iterable[str]) -> dict[str, float]:
        found: dict[str, float] = {}
        queue = [(0.0, name) for name in starts]
        heapq.heapify(queue)
        while queue:
            steps, node = heapq.heappop(queue)
            if node in found:
                continue
            found[node] = steps
            for edge in self.edges[node]:
                other = edge.b if edge.a == node else edge.a
                if other not in found:
                    heapq.heappush(queue, (steps + (_WORK_STEPS if edge.kind.does_work else 1), other))
        return found


def _node_of(bus: Device) -> str:
    """Electrical node of a bus bar."""
    cavity = bus.cavity_of("")
    return bus.name if cavity is None else mate_of(str(cavity))


def _count(elements: Iterable[Element]) -> dict[str, int]:
    ends: dict[str, int] = {}
    for element in elements:
        for node in (element.a, element.b):
            ends[node] = ends.get(node, 0) + 1
    return ends


def _is_unused_contact(element: Element, ends: Mapping[str, int]) -> bool:
    """A change-over relay whose resting side has no wire is drawn as a make contact."""
    return element.kind is ElementKind.BREAK and ends[element.b] == 1


def _strand(nodes: list[str], elements: list[Element], height: Mapping[str, tuple[float, float, int]]) -> Strand:
    if height[nodes[0]] > height[nodes[-1]]:
        nodes, elements = nodes[::-1], elements[::-1]
    pieces = (StrandPiece(each, *ends) for each, ends in zip(elements, pairwise(nodes), strict=True))
    return Strand(nodes[0], nodes[-1], tuple(pieces))
