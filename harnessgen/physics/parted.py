"""A network parted at its hubs: with a few well connected nodes held, small parts are left that share no unknown.

A change then concerns the parts that it touches, and all others only through the volts of the hubs. Each part is solved
with the hubs at 0 V, and once for a volt at each hub; what flows from the parts into the hubs gives the hubs' own volts
(the complement of Schur). So a fault costs what its parts cost, however large the network around them is.
"""

from dataclasses import dataclass, field

import numpy as np

from harnessgen.measures.frozen import frozen
from harnessgen.physics.nodal import Network, paths
from harnessgen.physics.nodal_elements import Elements, Flags, Floats, Ints, Sources, elements
from harnessgen.physics.nodal_factors import DENSE_LIMIT, DensePart, SparsePart, StarMeshPart, factorise

_MOST_HUBS = 16
_HUB_ENDS = (64, 32, 16, 8)
"""Numbers of elements at a node from which on it is tried as a hub, one after the other."""
LEAK_S = 1e-8
"""What hangs free is tied to a fixed node by 100 Mohm where its own resistance is asked for: nothing flows there."""


@frozen
class NodeTable:
    """Nodes in parts, hubs held: volts with the hubs at 0 V (nodes), and for a volt at each hub (nodes, hubs).

    `part` numbers the part of each node, -1 where it is held; `floats` is true without a path to a held node. The
    transfer resistance between nodes m and n of one part, hubs held, is `inverse[start[m] + place[n]]`.
    """

    volts: Floats
    response: Floats
    part: Ints
    floats: Flags
    start: Ints
    place: Ints
    inverse: Floats

    def ohm(self, m: Ints, n: Ints) -> Floats:
        """Volts at `m` for an ampere into `n`, hubs held; nothing between parts."""
        together = (self.part[m] == self.part[n]) & (self.part[m] >= 0)
        found = np.zeros(len(m))
        found[together] = self.inverse[self.start[m[together]] + self.place[n[together]]]
        return found


@frozen
class Spokes:
    """What leaves the hubs, by owner: siemens (owners, hubs, hubs), amperes that flow in with the hubs at 0 V.

    `joins` (owners, hubs + 1, hubs + 1) counts the ways between hubs, the last row being the fixed nodes.
    """

    siemens: Floats
    ampere: Floats
    joins: Ints

    def total(self) -> "Spokes":
        """All owners together, as one."""
        return Spokes(*(each.sum(axis=0, keepdims=True) for each in (self.siemens, self.ampere, self.joins)))


@dataclass(frozen=True, eq=False)
class Parted:
    """A network with its hubs held.

    Shapes: `nodes` and `resistors` list those of each part behind each other, from `node_starts` and
    `resistor_starts` on. `hub_of` is the number of each hub, -1 for other nodes, `spokes` what each part and, last,
    the elements between held nodes feed to the hubs.
    """

    elements: Elements
    fixed: Flags
    fixed_v: Floats
    hubs: Ints
    hub_of: Ints
    table: NodeTable
    spokes: Spokes
    nodes: Ints
    node_starts: Ints
    resistors: Ints
    resistor_starts: Ints
    whole: Spokes = field(init=False)

    def __post_init__(self) -> None:
        """Sum what flows into the hubs once: every change of parts starts from it."""
        object.__setattr__(self, "whole", self.spokes.total())

    @property
    def held(self) -> Flags:
        """Nodes whose voltage is given or held: fixed nodes and hubs."""
        return self.fixed | (self.hub_of >= 0)

    @property
    def part_count(self) -> int:
        """Number of parts."""
        return len(self.node_starts) - 1


def hubs_of(network: Network) -> Ints:
    """The nodes to hold: the best connected, as few as leave small parts; none where that is not to be had."""
    free = network.anchored & ~network.fixed
    largest = np.bincount(network.label[free], minlength=1).max()
    ends = network.elements.neighbours()
    chosen = np.zeros(0, dtype=np.intp)
    for fewest in _HUB_ENDS:
        if largest <= DENSE_LIMIT:
            break
        hub = (ends >= fewest) & free
        if hub.sum() > _MOST_HUBS:
            break
        label, anchored = paths(network.elements, network.fixed | hub)
        left = np.bincount(label[anchored & ~network.fixed & ~hub], minlength=1).max()
        if left < largest:
            chosen, largest = np.nonzero(hub)[0], left
    return chosen


def parted(network: Network, hubs: Ints) -> Parted:
    """The network with these free nodes held.

    Raises:
        ArithmeticError: the resistances lie too far apart to be solved together.
    """
    have, fixed = network.elements, network.fixed
    hub_of = np.full(have.node_count, -1, dtype=np.intp)
    hub_of[hubs] = np.arange(len(hubs))
    held = fixed | (hub_of >= 0)
    found, current_a, label = solved_parts(have, held, np.where(fixed, network.fixed_v, 0.0), hub_of, len(hubs))
    free = np.nonzero(~held)[0]
    names, numbers = np.unique(label[free], return_inverse=True)
    part = np.full(have.node_count, -1, dtype=np.intp)
    part[free] = numbers
    table = NodeTable(found.volts, found.response, part, found.floats, found.start, found.place, found.inverse)
    owner = np.where(held[have.a], part[have.b], part[have.a])
    owner = np.where(owner < 0, len(names), owner)
    closed = np.nonzero(have.siemens > 0.0)[0]
    spokes = spokes_of(have, held, hub_of, len(hubs), current_a, owner, len(names) + 1)
    inner = closed[owner[closed] < len(names)]
    return Parted(
        have,
        fixed,
        network.fixed_v,
        hubs,
        hub_of,
        table,
        spokes,
        *_listed(free, part[free], len(names)),
        *_listed(inner, owner[inner], len(names)),
    )


def _listed(members: Ints, owner: Ints, count: int) -> tuple[Ints, Ints]:
    """Members in the order of their owners, and where each owner's begin (shape: owners and one more)."""
    order = np.argsort(owner, kind="stable")
    return members[order], np.searchsorted(owner[order], np.arange(count + 1))


def solved_parts(
    have: Elements, held: Flags, held_v: Floats, hub_of: Ints, hubs: int
) -> tuple[NodeTable, Floats, Ints]:
    """Parts with their hubs held, the current of each element (columns: hubs at 0 V, a volt at each), and labels.

    Raises:
        ArithmeticError: the resistances lie too far apart to be solved together.
    """
    label, anchored = paths(have, held)
    floats = ~anchored
    loose = np.nonzero(floats)[0]
    ground = np.full(len(loose), np.argmax(held), dtype=np.intp)
    leaky = elements(
        have.node_count,
        np.concatenate((have.a, loose)),
        np.concatenate((have.b, ground)),
        np.concatenate((have.siemens, np.full(len(loose), LEAK_S))),
    )
    factors = factorise(leaky, label, ~held)
    network = Network(have, held, held_v, label, anchored, factors)
    columns = np.zeros((have.node_count, 1 + hubs))
    columns[:, 0] = held_v
    at = np.nonzero(hub_of >= 0)[0]
    columns[at, 1 + hub_of[at]] = 1.0
    state = network.state(Sources(columns, np.zeros_like(columns)))
    start, place, inverse = _inverses(network)
    table = NodeTable(state.high_v[:, 0], state.high_v[:, 1:], np.where(held, -1, label), floats, start, place, inverse)
    return table, state.current_a, label


def _inverses(network: Network) -> tuple[Ints, Ints, Floats]:
    """Where the transfer resistances of each node start, its place among those of its part, and all of them."""
    count = network.elements.node_count
    start, place = np.zeros(count, dtype=np.intp), np.zeros(count, dtype=np.intp)
    pieces: list[Floats] = []
    used = 0
    for part in network.factors.parts:
        if isinstance(part, DensePart):
            nodes, ohm = part.nodes, part.ohm
        else:
            nodes, ohm = _inverse(part, count)
        parts, size = nodes.shape
        start[nodes] = used + np.arange(parts * size).reshape(parts, size) * size
        place[nodes] = np.arange(size)
        pieces.append(ohm.ravel())
        used += ohm.size
    return start, place, np.concatenate(pieces) if pieces else np.zeros(0)


def _inverse(part: object, count: int) -> tuple[Ints, Floats]:
    """Nodes (1, size) and transfer resistances (1, size, size) of a part that is not factorised densely."""
    if not isinstance(part, SparsePart | StarMeshPart):
        raise TypeError(f"no inverse is known of {part!r}")
    nodes = part.nodes if isinstance(part, SparsePart) else np.array([step[0] for step in part.steps], dtype=np.intp)
    injection = np.zeros((count, len(nodes)))
    injection[nodes, np.arange(len(nodes))] = 1.0
    volts = np.zeros_like(injection)
    part.solve_into(injection, volts)
    return nodes[None, :], volts[nodes][None, :, :]


def spokes_of(
    have: Elements, held: Flags, hub_of: Ints, hubs: int, current_a: Floats, owner: Ints, owners: int
) -> Spokes:
    """What the elements of each owner take from the hubs, from their currents (elements, 1 + hubs)."""
    siemens, ampere = np.zeros((owners, hubs, hubs)), np.zeros((owners, hubs))
    for ends, sense in ((have.a, 1.0), (have.b, -1.0)):
        at = np.nonzero((hub_of[ends] >= 0) & (have.siemens > 0.0))[0]
        np.add.at(siemens, (owner[at], hub_of[ends[at]]), sense * current_a[at, 1:])
        np.add.at(ampere, (owner[at], hub_of[ends[at]]), -sense * current_a[at, 0])
    return Spokes(siemens, ampere, _joins(have, held, hub_of, hubs, owner, owners))


def _joins(have: Elements, held: Flags, hub_of: Ints, hubs: int, owner: Ints, owners: int) -> Ints:
    """How many ways each owner makes between hubs and fixed nodes; a part makes one, whatever its elements are."""
    joins = np.zeros((owners, hubs + 1, hubs + 1), dtype=np.intp)
    kind = np.where(hub_of >= 0, hub_of, hubs)
    closed = have.siemens > 0.0
    both = np.nonzero(closed & held[have.a] & held[have.b])[0]
    one, other = kind[have.a[both]], kind[have.b[both]]
    np.add.at(joins, (owner[both], one, other), 1)
    np.add.at(joins, (owner[both], other, one), 1)
    touches = np.zeros((owners, hubs + 1), dtype=np.bool_)
    for near, far in ((have.a, have.b), (have.b, have.a)):
        at = np.nonzero(closed & held[near] & ~held[far])[0]
        touches[owner[at], kind[near[at]]] = True
    return joins + (touches[:, :, None] & touches[:, None, :])
