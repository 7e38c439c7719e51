"""Nets of one section by itself, as it lies on the bench: every terminal off its stud, device and holder.

Two wires that share a stud are two nets here: only splices and common cavities join wires for good.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from harnessgen.bench.setup.connector_half import Half, contact_in, halves
from harnessgen.bench.setup.path_resistance import Beside, Edge, beside
from harnessgen.bench.setup.step import TouchPlace
from harnessgen.lengths.wire_length import WireLength
from harnessgen.measures.designator import natural_key
from harnessgen.network.joined import joined
from harnessgen.network.network import Network
from harnessgen.network.wires import EndKind, Wire, WireEnd
from harnessgen.physics.electrical.element_resistance import joint_ohm

_GAUGE = {"sockets": "mating pin or gauge pin", "pins": "mating socket contact"}


def point_of(wire: Wire, end: WireEnd) -> str:
    """Name of the point that an end of a wire makes by itself: on a stud each wire is its own."""
    return f"{end.node} {wire.mark}" if end.kind is EndKind.LANDING else end.node


def cold_ohm(network: Network, wire: Wire, length: WireLength) -> float:
    """Resistance of a wire at 20 degC on the bench, with the joints at its ends, in ohm."""
    conductor = wire.figures.resistance_ohm_per_m.value * max(length.needed_mm, 0.0) / 1000.0
    return max(conductor + joint_ohm(network, wire.a) + joint_ohm(network, wire.b), 1e-6)


@dataclass(frozen=True)
class SectionNet:
    """What the wires of one section join for good. `places` are those that can be touched, the handiest first."""

    section: str
    wires: tuple[Wire, ...]
    places: tuple[TouchPlace, ...]
    edges: tuple[Edge, ...]

    @cached_property
    def circuits(self) -> str:
        """Numbers of its circuits, for a heading."""
        return ", ".join(dict.fromkeys(wire.circuit for wire in self.wires))

    @cached_property
    def shares(self) -> frozenset[str]:
        """Connectors and parts of the route that it touches: where it could meet another net."""
        connectors = {end.designator for wire in self.wires for end in wire.ends if end.kind is EndKind.CAVITY}
        return frozenset(connectors | {f"{leg.start} {leg.end}" for wire in self.wires for leg in wire.way})

    def place_in(self, designator: str) -> TouchPlace | None:
        """Its first place in a connector, or None."""
        return next((place for place in self.places if place.designator == designator), None)

    @cached_property
    def beside(self) -> Beside:
        """Its wires by the points at their ends."""
        return beside(self.edges)


def section_nets(network: Network, lengths: Mapping[str, WireLength], section: str) -> tuple[SectionNet, ...]:
    """Nets of a section in the order of its wires."""
    held = halves(network)
    wires = [wire for wire in network.wires if wire.section == section]
    net_of = joined((point_of(wire, wire.a), point_of(wire, wire.b)) for wire in wires)
    groups: dict[int, list[Wire]] = {}
    for wire in wires:
        groups.setdefault(net_of[point_of(wire, wire.a)], []).append(wire)
    return tuple(_net(network, lengths, section, group, held) for group in groups.values())


def _net(
    network: Network, lengths: Mapping[str, WireLength], section: str, wires: list[Wire], held: Mapping[str, Half]
) -> SectionNet:
    edges = tuple(
        Edge(wire.mark, point_of(wire, wire.a), point_of(wire, wire.b), cold_ohm(network, wire, lengths[wire.mark]))
        for wire in wires
    )
    return SectionNet(section, tuple(wires), _places(network, wires, held), edges)


def _places(network: Network, wires: Sequence[Wire], held: Mapping[str, Half]) -> tuple[TouchPlace, ...]:
    """Cavities and landed terminals; a splice is sealed, and so is a shield that hangs free."""
    at: dict[str, tuple[WireEnd, list[Wire]]] = {}
    for wire in wires:
        for end in wire.ends:
            if end.kind is EndKind.CAVITY or network.contact_at(end) is not None:
                at.setdefault(point_of(wire, end), (end, []))[1].append(wire)
    places = [_place(network, held, point, end, own) for point, (end, own) in at.items()]

    def handiness(place: TouchPlace) -> tuple[bool, bool, object]:
        half = held.get(place.designator)
        return (half is None, half is not None and not half.is_disconnect, natural_key(place.name))

    return tuple(sorted(places, key=handiness))


def _place(network: Network, held: Mapping[str, Half], point: str, end: WireEnd, wires: Sequence[Wire]) -> TouchPlace:
    marks = tuple(wire.mark for wire in wires)
    if end.kind is EndKind.CAVITY:
        return TouchPlace(
            point,
            end.node,
            end.designator,
            end.terminal,
            cavity_reach(network, held, end.designator, end.terminal),
            marks,
        )
    contact = network.contact_at(end)
    title = contact.title if contact is not None else "terminal"
    reach = f"clip on the {title} of {marks[0]}, off {end.node}"
    return TouchPlace(point, f"{marks[0]} at {end.node}", end.designator, end.terminal, reach, marks)


def cavity_reach(network: Network, held: Mapping[str, Half], designator: str, cavity: str) -> str:
    """How a cavity of an open connector is touched from its mating side."""
    half = held[designator]
    return f"{_GAUGE[half.contacts]} ({contact_in(network, half, cavity).name}) on the mating side"
