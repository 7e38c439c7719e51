"""How far the ways lead from a terminal of a load: to a supply, to ground, or to where they end."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import field

from harnessgen.design.records.device import Device
from harnessgen.evidence.finding import Proposal
from harnessgen.measures.frozen import frozen
from harnessgen.network.conduction import Conduction, IsClosed, conduction, parts_of, way_to
from harnessgen.network.electrical import Electrical, Element, ElementKind, end_of
from harnessgen.network.network import Network
from harnessgen.rules.cavity.lost_wire import joined
from harnessgen.rules.cavity.pins import moves, pins_of
from harnessgen.rules.wording.places import node_place, written_end
from harnessgen.source.kind import names_in
from harnessgen.source.place import Place

_MOST_NAMED = 3


@frozen
class WayEnd:
    """Where a way ends: in words, where the file names it, the relay whose contact stays open there, other cavities."""

    words: str
    place: Place
    relay: str = ""
    proposals: tuple[Proposal, ...] = ()


@frozen
class Ways:
    """The network with all that conducts in one declared state or another, or with everything where none is declared.

    `closed_ever` names the elements that do, `everything` is the network with every contact closed. `parts` names for
    each node the part of the network that what conducts holds together; what holds for one node of it holds for all.
    """

    network: Network
    closed_ever: frozenset[str]
    ever: Conduction
    everything: Conduction
    work_nodes: frozenset[str]
    parts: Mapping[str, str]
    _ends: dict[tuple[str, bool], WayEnd | None] = field(default_factory=dict)

    @staticmethod
    def of(network: Network, electrical: Electrical, closed: Sequence[IsClosed]) -> "Ways":
        """The ways by `electrical`, all of a network or a part of it; `closed` says what conducts in each state."""
        elements = electrical.elements
        closed_ever = frozenset(each.name for each in elements if any(is_closed(each) for is_closed in closed))
        ever = conduction(electrical, lambda element: element.name in closed_ever)
        return Ways(
            network,
            closed_ever,
            ever,
            network.ways if electrical is network.electrical else conduction(electrical, lambda element: True),
            frozenset(node for each in elements if each.kind.does_work for node in (each.a, each.b)),
            parts_of(ever),
        )

    def supplies(self, node: str) -> tuple[str, ...]:
        """Supplies that a way leads to from `node`."""
        return self.ever.poles(node)[0]

    def grounds(self, node: str) -> tuple[str, ...]:
        """Ground points that a way leads to from `node`."""
        return self.ever.poles(node)[1]

    def switches(self, node: str, pole: str) -> list[str]:
        """What opens and closes the way from `node` to the supply or ground point `pole`."""
        came_by = self.ever.ways_from(node)
        poles = (self.ever.supplies, self.ever.grounds)
        goal = next(at for at in came_by for kind in poles for each in kind.get(at, ()) if each.name == pole)
        return [each.switched_by for each in way_to(came_by, goal) if each.switched_by]

    def end(self, start: str, *, toward_supply: bool) -> WayEnd:
        """Where the way from the terminal `start` towards a supply (or ground) ends."""
        key = self.parts.get(start, start), toward_supply
        if key not in self._ends:
            self._ends[key] = self._end_of_part(*key)
        return self._ends[key] or self._named([start])

    def _end_of_part(self, part: str, toward_supply: bool) -> WayEnd | None:
        """The end of the ways within a part of the network; None where they lead to loads alone."""
        whole = self.ever.part(part)
        reached = frozenset(whole)
        poles = self.everything.supplies if toward_supply else self.everything.grounds
        open_there: Element | None = None
        for node in whole:
            for after, element in self.everything.at(node):
                if element.name in self.closed_ever or after in reached:
                    continue
                if any(beyond in poles for beyond in self.everything.part(after, reached)):
                    return _at_contact(element)
                open_there = open_there or element
        if open_there is not None:
            return _at_contact(open_there)
        ends = dict(self.ever.graph.degree(whole))
        leaves = [node for node in whole if node not in self.work_nodes and ends.get(node) == 1]
        buses = [node for node in whole if node in self.network.design.buses]
        # Where many ways end, the bus bar that they hang on is what lacks its wire.
        return self._named(buses[:1] if buses and len(leaves) != 1 else leaves) if leaves or buses else None

    def _named(self, nodes: Sequence[str]) -> WayEnd:
        """The end of a way at nodes where it goes no further."""
        names = [node.removesuffix(" mate") for node in nodes]
        first = names[0]
        place = node_place(self.network, first)
        proposals: tuple[Proposal, ...] = ()
        if first in self.network.wires_at:
            wire = self.network.wires_at[first][0]
            proposals = moves(self.network, wire, end_of(wire, first))
        else:
            place = next((pin.place for pin in pins_of(self.network) if pin.cavity == first), place)
            device = self.network.design.devices.get(first.partition("/")[0])
            if device is not None:
                proposals = (*joined(self.network, first, [device]), *_from_like(self.network, first, device))
        listed = names if len(names) <= _MOST_NAMED else [*names[:_MOST_NAMED], f"{len(names) - _MOST_NAMED} more"]
        return WayEnd(names_in(listed), place, "", proposals)


def _from_like(network: Network, node: str, device: Device) -> Iterator[Proposal]:
    """For a terminal without a wire: each of several wires that share the same terminal of a device like it."""
    terminal = node.partition("/")[2]
    for other in network.design.devices.values():
        wires = network.wires_at.get(f"{other.name}/{terminal}", ())
        if type(other) is not type(device) or len(wires) < 2:
            continue
        for wire in wires[::-1]:
            written = written_end(network.design, wire, end_of(wire, f"{other.name}/{terminal}"))
            if written is not None:
                text = node if written.terminal else device.name
                words = f"{text} in place of {written} for {wire.mark}: no wire is there yet"
                yield Proposal(written.place, text, words)


def _at_contact(element: Element) -> WayEnd:
    """The end of a way at a switch, driver or relay contact that no state closes."""
    assert element.device is not None
    place = element.device.place
    if element.kind in (ElementKind.MAKE, ElementKind.BREAK):
        return WayEnd(f"{element.name}, which closes in no state", place, element.device.name)
    return WayEnd(f"{element.name}, which no state turns on", place)
