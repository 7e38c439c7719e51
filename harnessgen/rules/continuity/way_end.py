"""How far the ways lead from a terminal of a load: to a supply, to ground, or to where they end."""

from collections.abc import Sequence
from dataclasses import dataclass

from harnessgen.evidence.finding import Proposal
from harnessgen.network.electrical import Element, ElementKind, end_of
from harnessgen.network.network import Network
from harnessgen.rules.cavity.pins import moves, pins_of
from harnessgen.rules.continuity.conduction import Conduction, IsClosed, conduction, way_to
from harnessgen.rules.places import node_place
from harnessgen.source.kind import names_in
from harnessgen.source.place import Place

_MOST_NAMED = 3


@dataclass(frozen=True, slots=True)
class WayEnd:
    """Where a way ends: in words, where the file names it, the relay whose contact stays open there, other cavities."""

    words: str
    place: Place
    relay: str = ""
    proposals: tuple[Proposal, ...] = ()


@dataclass(frozen=True, slots=True)
class Ways:
    """The network with all that conducts in one declared state or another, or with everything where none is declared.

    `closed_ever` names the elements that do, `everything` is the network with every contact closed.
    """

    network: Network
    closed_ever: frozenset[str]
    ever: Conduction
    everything: Conduction
    work_nodes: frozenset[str]

    @staticmethod
    def of(network: Network, elements: Sequence[Element], closed: Sequence[IsClosed]) -> "Ways":
        """The ways by `elements` of a network; `closed` says for each state which of them conduct in it."""
        closed_ever = frozenset(each.name for each in elements if any(is_closed(each) for is_closed in closed))
        return Ways(
            network,
            closed_ever,
            conduction(elements, lambda element: element.name in closed_ever),
            conduction(elements, lambda element: True),
            frozenset(node for each in elements if each.kind.does_work for node in (each.a, each.b)),
        )

    def supplies(self, node: str) -> list[str]:
        """Supplies that a way leads to from `node`, the nearest first."""
        reached = self.ever.ways_from(node)
        return [each.name for at in reached for each in self.ever.supplies.get(at, ())]

    def grounds(self, node: str) -> list[str]:
        """Ground points that a way leads to from `node`, the nearest first."""
        reached = self.ever.ways_from(node)
        return [each.name for at in reached for each in self.ever.grounds.get(at, ())]

    def switches(self, node: str, pole: str) -> list[str]:
        """What opens and closes the way from `node` to the supply or ground point `pole`."""
        came_by = self.ever.ways_from(node)
        poles = (self.ever.supplies, self.ever.grounds)
        goal = next(at for at in came_by for kind in poles for each in kind.get(at, ()) if each.name == pole)
        return [each.switched_by for each in way_to(came_by, goal) if each.switched_by]

    def end(self, start: str, *, toward_supply: bool) -> WayEnd:
        """Where the way from the terminal `start` towards a supply (or ground) ends."""
        reached = self.ever.ways_from(start)
        poles = self.everything.supplies if toward_supply else self.everything.grounds
        open_there: Element | None = None
        for node in reached:
            for after, element in self.everything.neighbours.get(node, ()):
                if element.name in self.closed_ever or after in reached:
                    continue
                if any(beyond in poles for beyond in self.everything.ways_from(after, avoid=reached)):
                    return _at_contact(element)
                open_there = open_there or element
        return _at_contact(open_there) if open_there is not None else self._at_node(start, list(reached))

    def _at_node(self, start: str, reached: list[str]) -> WayEnd:
        leaves = [
            node for node in reached if node not in self.work_nodes and len(self.ever.neighbours.get(node, ())) == 1
        ] or [start]
        names = [node.removesuffix(" mate") for node in leaves]
        first = names[0]
        place = node_place(self.network, first)
        proposals: tuple[Proposal, ...] = ()
        if first in self.network.wires_at:
            wire = self.network.wires_at[first][0]
            proposals = moves(self.network, wire, end_of(wire, first))
        else:
            place = next((pin.place for pin in pins_of(self.network) if pin.cavity == first), place)
        listed = names if len(names) <= _MOST_NAMED else [*names[:_MOST_NAMED], f"{len(names) - _MOST_NAMED} more"]
        return WayEnd(names_in(listed), place, "", proposals)


def _at_contact(element: Element) -> WayEnd:
    """The end of a way at a switch, driver or relay contact that no state closes."""
    assert element.device is not None
    place = element.device.place
    if element.kind in (ElementKind.MAKE, ElementKind.BREAK):
        return WayEnd(f"{element.name}, which closes in no state", place, element.device.name)
    return WayEnd(f"{element.name}, which no state turns on", place)
