"""A network parted at its hubs: with a few well connected nodes held, small parts are left that share no unknown.

A change then concerns the parts that it touches, and all others only through the volts of the hubs. Each part is solved
with the hubs at 0 V, and once for a volt at each hub that it touches; what flows from the parts into the hubs gives the
hubs' own volts (the complement of Schur). So a fault costs what its parts cost, however large the network around them.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from harnessgen.measures.frozen import frozen
from harnessgen.physics.nodal.elements import Elements, Flags, Floats, Ints, Sources, elements
from harnessgen.physics.nodal.factors import DENSE_LIMIT, DensePart, SparsePart, StarMeshPart, factorise
from harnessgen.physics.nodal.solution import ResistiveNetwork, paths
from harnessgen.physics.partitioned.interface_nodes import Hubs, Spokes, both, hubs_on

_LARGE = 48
"""Parts of more nodes than this are parted further: a part is inverted anew for every fault in it."""
_HUB_ENDS = (64, 32, 16, 8, 6, 5, 4)
"""Numbers of elements at a node from which on it is tried as a hub, one after the other."""
FREE_S = 1e-8
"""What hangs free is tied to a fixed node by 100 Mohm where its own resistance is asked for: nothing flows there."""


@frozen
class NodeTable:
    """Nodes in parts, hubs held: volts with the hubs at 0 V (nodes), and for a volt at each hub near by.

    `near` (nodes, width) are the hubs that the part of each node touches, the number of hubs where there are fewer;
    `response` (nodes, width) belongs to them. A hub is near itself alone. `part` numbers the part of each node, -1
    where it is held; `floats` is true without a path to a held node. The transfer resistance between nodes m and n of
    one part, hubs held, is `inverse[start[m] + place[n]]`.
    """

    volts: Floats
    near: Ints
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


@dataclass(frozen=True, eq=False)
class Parted:
    """A network with its hubs held.

    Shapes: `nodes` and `resistors` list those of each part behind each other, from `node_starts` and
    `resistor_starts` on. `hub_of` is the number of each hub, -1 for other nodes. `spokes` are those of the parts and
    behind them those of the elements `direct` (ascending), which run from a hub to a held node.
    """

    elements: Elements
    fixed: Flags
    fixed_v: Floats
    hubs: Ints
    hub_of: Ints
    table: NodeTable
    spokes: Spokes
    direct: Ints
    nodes: Ints
    node_starts: Ints
    resistors: Ints
    resistor_starts: Ints

    @cached_property
    def held(self) -> Flags:
        """Nodes whose voltage is given or held: fixed nodes and hubs."""
        return self.fixed | (self.hub_of >= 0)

    @cached_property
    def complement(self) -> Hubs:
        """The hubs on what everything feeds them."""
        return hubs_on(self.spokes, len(self.hubs))

    @property
    def part_count(self) -> int:
        """Number of parts."""
        return len(self.node_starts) - 1


def hubs_of(network: ResistiveNetwork) -> Ints:
    """The nodes to hold: the best connected, as few as leave small parts; none where that is not to be had."""
    free = network.anchored & ~network.fixed
    largest = np.bincount(network.label[free], minlength=1).max()
    ends = network.elements.neighbours()
    chosen = np.zeros(0, dtype=np.intp)
    for fewest in _HUB_ENDS:
        if largest <= _LARGE:
            break
        hub = (ends >= fewest) & free
        label, anchored = paths(network.elements, network.fixed | hub)
        left = np.bincount(label[anchored & ~network.fixed & ~hub], minlength=1).max()
        if left < largest:
            chosen, largest = np.nonzero(hub)[0], left
    return chosen


def parted(network: ResistiveNetwork, hubs: Ints) -> Parted:
    """The network with these free nodes held.

    Raises:
        ArithmeticError: the resistances lie too far apart to be solved together.
    """
    have, fixed = network.elements, network.fixed
    hub_of = np.full(have.node_count, -1, dtype=np.intp)
    hub_of[hubs] = np.arange(len(hubs))
    held = fixed | (hub_of >= 0)
    held_v = np.where(fixed, network.fixed_v, 0.0)
    solved = solved_parts(have, held, held_v, hub_of, len(hubs))
    free = np.nonzero(~held)[0]
    names, numbers = np.unique(solved.label[free], return_inverse=True)
    part = np.full(have.node_count, -1, dtype=np.intp)
    part[free] = numbers
    found = solved.table
    table = NodeTable(
        found.volts, found.near, found.response, part, found.floats, found.start, found.place, found.inverse
    )
    owner = np.where(held[have.a], part[have.b], part[have.a])
    direct = np.nonzero(is_direct(have, held, hub_of))[0]
    spokes = both(
        solved.spokes(owner, len(names)),
        direct_spokes(have, direct, hub_of, held_v, len(hubs), found.near.shape[1]),
    )
    inner = np.nonzero((have.siemens > 0.0) & (owner >= 0))[0]
    return Parted(
        have,
        fixed,
        network.fixed_v,
        hubs,
        hub_of,
        table,
        spokes,
        direct,
        *_listed(free, part[free], len(names)),
        *_listed(inner, owner[inner], len(names)),
    )


def _listed(members: Ints, owner: Ints, count: int) -> tuple[Ints, Ints]:
    """Members in the order of their owners, and where each owner's begin (shape: owners and one more)."""
    order = np.argsort(owner, kind="stable")
    return members[order], np.searchsorted(owner[order], np.arange(count + 1))


@frozen
class SolvedParts:
    """Parts solved with their hubs held: `label` names the part of each node, `current_a` has a column for the hubs at
    0 V and one for a volt at each place of `near`.
    """

    have: Elements
    held: Flags
    hub_of: Ints
    table: NodeTable
    label: Ints
    current_a: Floats

    def spokes(self, owner: Ints, owners: int) -> Spokes:
        """What the parts take from the hubs; `owner` numbers the part of each element, -1 between held nodes."""
        have, width = self.have, self.table.near.shape[1]
        near = np.full((owners, width), np.count_nonzero(self.hub_of >= 0), dtype=np.intp)
        siemens, ampere = np.zeros((owners, width, width)), np.zeros((owners, width))
        fixes = np.zeros(owners, dtype=np.bool_)
        closed = (have.siemens > 0.0) & (owner >= 0)
        for ends, others, sense in ((have.a, have.b, 1.0), (have.b, have.a, -1.0)):
            at = np.nonzero(closed & self.held[ends] & ~self.held[others])[0]
            hub, of = self.hub_of[ends[at]], owner[at]
            fixes[of[hub < 0]] = True
            at, of, hub = at[hub >= 0], of[hub >= 0], hub[hub >= 0]
            near[of] = self.table.near[others[at]]
            slot = np.argmax(near[of] == hub[:, None], axis=1)
            np.add.at(siemens, (of, slot), sense * self.current_a[at, 1:])
            np.add.at(ampere, (of, slot), -sense * self.current_a[at, 0])
        return Spokes(near, siemens, ampere, fixes)


def solved_parts(have: Elements, held: Flags, held_v: Floats, hub_of: Ints, hubs: int) -> SolvedParts:
    """Parts with their hubs held.

    Raises:
        ArithmeticError: the resistances lie too far apart to be solved together.
    """
    label, anchored = paths(have, held)
    count = have.node_count
    at, place, pair_part, pair_hub, slot, width = _rims(have, held, hub_of, label, hubs)
    # Every part has its own copy of each hub that it touches, so that a column serves all parts.
    ends = have.a.copy(), have.b.copy()
    for side, own in enumerate(ends):
        own[at[side]] = count + place[side]
    loose = np.nonzero(~anchored)[0]
    ground = np.full(len(loose), np.argmax(held), dtype=np.intp)
    whole = count + len(pair_hub)
    leaky = elements(
        whole,
        np.concatenate((ends[0], loose)),
        np.concatenate((ends[1], ground)),
        np.concatenate((have.siemens, np.full(len(loose), FREE_S))),
    )
    columns = np.zeros((whole, 1 + width))
    columns[:count, 0] = held_v
    columns[count + np.arange(len(pair_hub)), 1 + slot] = 1.0
    holds = np.concatenate((held, np.ones(len(pair_hub), dtype=np.bool_)))
    labels = np.concatenate((label, count + np.arange(len(pair_hub))))
    # Transfer resistances are asked for between any two nodes of a part.
    factors = factorise(leaky, labels, ~holds, DENSE_LIMIT)
    network = ResistiveNetwork(leaky, holds, columns[:, 0], labels, np.ones(whole, dtype=np.bool_), factors)
    state = network.state(Sources(columns, np.zeros_like(columns)))
    near = np.full((whole, width), hubs, dtype=np.intp)
    near[pair_part, slot] = pair_hub
    near = near[label]
    response = state.high_v[:count, 1:].copy()
    at_hub = np.nonzero(hub_of >= 0)[0]
    near[at_hub, 0], response[at_hub, 0] = hub_of[at_hub], 1.0
    start, offset, inverse = _inverses(network)
    floats = ~anchored
    table = NodeTable(
        state.high_v[:count, 0],
        near,
        response,
        np.where(held, -1, label),
        floats,
        start[:count],
        offset[:count],
        inverse,
    )
    return SolvedParts(have, held, hub_of, table, label, state.current_a[: len(have.a)])


def _rims(
    have: Elements, held: Flags, hub_of: Ints, label: Ints, hubs: int
) -> tuple[tuple[Ints, Ints], tuple[Ints, Ints], Ints, Ints, Ints, int]:
    """Where parts touch hubs: elements by the side at which they do, the pair (part, hub) of each, and the pairs.

    Of each pair comes the part, the hub and its place among the hubs of the part, and last the most hubs of a part.
    """
    closed = have.siemens > 0.0
    at, keys = [], []
    for near, far in ((have.a, have.b), (have.b, have.a)):
        which = np.nonzero(closed & (hub_of[near] >= 0) & ~held[far])[0]
        at.append(which)
        keys.append(label[far[which]] * max(hubs, 1) + hub_of[near[which]])
    pairs, place = np.unique(np.concatenate(keys), return_inverse=True)
    part, hub = pairs // max(hubs, 1), pairs % max(hubs, 1)
    slot = np.arange(len(pairs)) - np.searchsorted(part, part)
    split = len(at[0])
    return (at[0], at[1]), (place[:split], place[split:]), part, hub, slot, max(2, int(slot.max(initial=0)) + 1)


def is_direct(have: Elements, held: Flags, hub_of: Ints) -> Flags:
    """Which elements conduct between a hub and a held node."""
    found: Flags = (have.siemens > 0.0) & held[have.a] & held[have.b]
    return found & ((hub_of[have.a] >= 0) | (hub_of[have.b] >= 0))


def direct_spokes(have: Elements, which: Ints, hub_of: Ints, held_v: Floats, hubs: int, width: int) -> Spokes:
    """What elements between a hub and a held node take, each an owner."""
    ends = have.a[which], have.b[which]
    siemens, near = np.zeros((len(which), width, width)), np.full((len(which), width), hubs, dtype=np.intp)
    ampere, fixes = np.zeros((len(which), width)), np.zeros(len(which), dtype=np.bool_)
    own = have.siemens[which]
    for side, (one, other) in enumerate((ends, ends[::-1])):
        is_hub, other_hub = hub_of[one] >= 0, hub_of[other] >= 0
        near[is_hub, side] = hub_of[one[is_hub]]
        siemens[is_hub, side, side] = own[is_hub]
        siemens[is_hub & other_hub, side, 1 - side] = -own[is_hub & other_hub]
        fed = is_hub & ~other_hub
        ampere[fed, side] = own[fed] * held_v[other[fed]]
        fixes |= fed
    return Spokes(near, siemens, ampere, fixes)


def _inverses(network: ResistiveNetwork) -> tuple[Ints, Ints, Floats]:
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
