"""Lifting a part away at a disconnect: whether the mated harness lets it, and what else ties the sections together."""

import math
from collections.abc import Iterator, Mapping

import networkx

from harnessgen.design.checks.names import terminal_names
from harnessgen.design.limits.table import Limit, limit
from harnessgen.design.records.connector import Disconnect
from harnessgen.design.records.reach import Lift
from harnessgen.evidence.derivation import Evaluated, Input, evaluated
from harnessgen.evidence.publication import Publication
from harnessgen.measures.frozen import frozen
from harnessgen.network.network import Network
from harnessgen.network.route import Leg
from harnessgen.network.wires import EndKind, Wire, WireEnd

LIFT_SOURCE = Publication("Distance of two points of which one moves, elementary geometry")


@frozen
class LiftCheck:
    """Lifting a part with its disconnect mated, in mm.

    `loose_mm` is the way of bundle between the fixings on either side, `slack_mm` the slack on purpose that lies in it
    (of the wires through one cavity, the least), `cavity` the one where that is so.
    """

    disconnect: str
    cavity: str
    travel_mm: float
    is_across: bool
    loose_mm: float
    slack_mm: float
    stroke: Limit
    loose: tuple[Leg, ...]

    @property
    def lifted_mm(self) -> float:
        """How much further apart the fixings lie once the part is lifted."""
        return self.derivation_of_lift.result

    @property
    def needed_mm(self) -> float:
        """Slack that is needed to lift the part and to draw the halves apart."""
        return self.lifted_mm + self.stroke.value.value

    @property
    def margin_mm(self) -> float:
        """Slack that is left; negative when the halves cannot be parted at the stated travel."""
        return self.slack_mm - self.needed_mm

    @property
    def derivation_of_lift(self) -> Evaluated:
        """Where the lengthening by the lift comes from, in mm."""
        inputs = (
            Input("travel", "way by which the part is lifted", self.travel_mm, "mm"),
            Input("loose", "bundle between the fixings on either side", self.loose_mm, "mm"),
        )
        formula = "sqrt(loose ** 2 + travel ** 2) - loose" if self.is_across else "travel + 0 * loose"
        return evaluated(f"lengthening by the lift at {self.disconnect}", formula, inputs, "mm", LIFT_SOURCE)


@frozen
class Tie:
    """Something that holds a lifted section to what stays: the thing, a wire's end there, and why it holds."""

    thing: str
    wire: Wire
    end: WireEnd
    why: str


def lift_checks(network: Network) -> Iterator[LiftCheck]:
    """The worst cavity of each disconnect whose lift is given, where wires pass it."""
    for disconnect in network.design.disconnects.values():
        if disconnect.lift is None:
            continue
        checks = list(_cavity_checks(network, disconnect, disconnect.lift))
        if checks:
            yield min(checks, key=lambda each: each.margin_mm)


def ties(network: Network, disconnect: Disconnect) -> list[Tie]:
    """What ties the section that comes away at a disconnect to what stays, besides the disconnects at that point."""
    lift = disconnect.lift
    if lift is None:
        return []
    lifted = _lifted_sections(network, disconnect, lift)
    poles = {**network.design.supplies, **network.design.grounds}
    behind = _devices_by_cavity(network)
    found: dict[str, Tie] = {}
    staying: set[str] = set()
    for wire, end in _ends_of(network.wires):
        device = _device_at(end, behind)
        if wire.section not in lifted and device:
            staying.add(device)
    for wire, end in _ends_of(network.wires):
        if wire.section not in lifted or end.kind is EndKind.SPLICE:
            continue
        device = _device_at(end, behind)
        named = [name for name in (device, end.designator) if name in lift.stays]
        if named:
            found.setdefault(named[0], Tie(named[0], wire, end, "it stays behind"))
        elif device in poles and device not in lift.comes:
            found.setdefault(
                device, Tie(device, wire, end, f"{poles[device].noun} stays behind unless it is said to come")
            )
        elif device in staying and device not in lift.comes:
            found.setdefault(device, Tie(device, wire, end, "wires of a section that stays end there too"))
    return list(found.values())


def _cavity_checks(network: Network, disconnect: Disconnect, lift: Lift) -> Iterator[LiftCheck]:
    stroke = limit("parting-stroke", network.design.limits)
    sides: dict[str, dict[str, list[Wire]]] = {"s": {}, "p": {}}
    for wire, end in _ends_of(network.wires):
        if end.designator[:-1] == disconnect.name and end.kind is EndKind.CAVITY:
            sides[end.designator[-1]].setdefault(end.terminal, []).append(wire)
    for cavity, wires in sides["s"].items():
        for first in wires:
            for second in sides["p"].get(cavity, ()):
                loose = (
                    *_loose(network, first, f"{disconnect.name}s", lift),
                    *_loose(network, second, f"{disconnect.name}p", lift),
                )
                slack_mm = math.fsum(_slack_mm(leg) for leg in loose)
                loose_mm = math.fsum(leg.length_mm for leg in loose)
                across = lift.direction == "across"
                travel_mm = lift.travel_mm.highest
                yield LiftCheck(disconnect.name, cavity, travel_mm, across, loose_mm, slack_mm, stroke, loose)


def _loose(network: Network, wire: Wire, half: str, lift: Lift) -> Iterator[Leg]:
    """The way of a wire from a half of the disconnect to where its bundle is fixed."""
    is_from_start = wire.a.designator == half
    node = (wire.a if is_from_start else wire.b).route_node
    for leg in wire.way if is_from_start else wire.way[::-1]:
        yield leg
        node = leg.end if leg.start == node else leg.start
        point = network.route.points[node]
        if point.splice:
            continue
        if not lift.fixed or point.point in lift.fixed:
            return


def _slack_mm(leg: Leg) -> float:
    stretch = leg.stretch
    return leg.share * math.fsum((stretch.slack_mm.value, stretch.drip_loop_mm.value, stretch.movement_mm.value))


def _lifted_sections(network: Network, disconnect: Disconnect, lift: Lift) -> set[str]:
    """Letters of the sections that come away: the lifted half's, and what hangs on it by other disconnects."""
    letter_of = network.sections.letter_of
    route = network.route
    here = [each for each in route.matings if each.point == disconnect.at]
    sockets = route.side_node(disconnect.at, disconnect.socket_side[0])
    start = next(
        node for each in here for node in (each.start, each.end) if (node == sockets) is (lift.half == "sockets")
    )
    mated: networkx.Graph[str] = networkx.Graph()
    mated.add_nodes_from(letter_of.values())
    others = (mating for mating in route.matings if mating.point != disconnect.at)
    mated.add_edges_from((letter_of[mating.start], letter_of[mating.end]) for mating in others)
    return networkx.node_connected_component(mated, letter_of[start])


def _devices_by_cavity(network: Network) -> Mapping[str, str]:
    """Designator of the device behind each cavity."""
    found: dict[str, str] = {}
    for name, device in network.design.devices.items():
        for terminal in terminal_names(network.design, network.parts, name):
            cavity = device.cavity_of(terminal)
            if cavity is not None:
                found[str(cavity)] = name
    return found


def _device_at(end: WireEnd, behind: Mapping[str, str]) -> str:
    """The device that a wire's end is fixed to or stands before; empty for a splice or a half of a disconnect."""
    if end.kind is EndKind.LANDING:
        return end.designator
    return behind.get(end.node, "") if end.kind is EndKind.CAVITY else ""


def _ends_of(wires: tuple[Wire, ...]) -> Iterator[tuple[Wire, WireEnd]]:
    """Every end of every wire."""
    for wire in wires:
        yield wire, wire.a
        yield wire, wire.b
