"""Many lists of changes of one parted network, each made by itself: only the parts that it touches are solved anew.

The patches of all lists are laid side by side, each with its own copies of nodes, and solved together with the hubs
held; what they then feed to the hubs takes the place of what the parts fed before.
"""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from harnessgen.measures.frozen import frozen
from harnessgen.physics.nodal.elements import Floats, Ints, elements, runs
from harnessgen.physics.partitioned.interface_nodes import ChangedHubs, Spokes, both, change_hubs
from harnessgen.physics.partitioned.partition import (
    NodeTable,
    Parted,
    SolvedParts,
    direct_spokes,
    is_direct,
    solved_parts,
)
from harnessgen.physics.partitioned.patches import Lists, Patches, patches


@frozen
class Changed:
    """A parted network with each list of changes made.

    `table` has the nodes of the network as it was and behind them the copies: of `keys` (list times nodes plus node,
    ascending) each has its place there. `hubs` are the hubs under each list; `altered` are list times resistors plus
    resistor, ascending, with the conductance afterwards.
    """

    base: Parted
    table: NodeTable
    keys: Ints
    places: Ints
    hubs: ChangedHubs
    altered: Ints
    altered_s: Floats

    def at(self, lists: Ints, nodes: Ints) -> Ints:
        """Where each node is found in the table under a list."""
        if not len(self.keys):
            return nodes
        wanted = lists * self.base.elements.node_count + nodes
        where = np.minimum(np.searchsorted(self.keys, wanted), len(self.keys) - 1)
        return np.where(self.keys[where] == wanted, self.places[where], nodes)

    def siemens(self, lists: Ints, resistors: Ints) -> Floats:
        """Conductance of each resistor under a list."""
        usual = self.base.elements.siemens[resistors]
        if not len(self.altered):
            return usual
        wanted = lists * len(self.base.elements.a) + resistors
        where = np.minimum(np.searchsorted(self.altered, wanted), len(self.altered) - 1)
        return np.where(self.altered[where] == wanted, self.altered_s[where], usual)


def change_lists(base: Parted, lists: Lists) -> Changed:
    """The network with each list of changes made.

    Raises:
        ArithmeticError: the resistances lie too far apart to be solved together.
    """
    touched, count = patches(base, lists), base.elements.node_count
    row, node = members(touched.part, base.nodes, base.node_starts)
    sizes = base.node_starts[touched.part + 1] - base.node_starts[touched.part]
    # Only what is solved has copies; all else is found at those of its like.
    own = np.where(touched.is_solved, sizes, 0)
    start, copies = np.cumsum(own) - own, int(own.sum())
    place = start[touched.like[row]] + np.arange(len(row)) - (np.cumsum(sizes) - sizes)[row]
    keys = touched.of[row] * count + node
    order = np.argsort(keys)
    keys, place = keys[order], place[order]
    solved, patch_of = _solved(base, lists, touched, (keys, place), copies)
    altered = lists.of * len(base.elements.a) + lists.resistor
    named = lists.resistor >= 0
    sorting = np.argsort(altered[named])
    return Changed(
        base,
        _behind(base.table, solved.table, copies, base.part_count, len(base.hubs)),
        keys,
        count + place,
        change_hubs(
            base.complement,
            _gone(base, lists, touched),
            _made(base, lists, touched, solved, patch_of),
            lists.count,
        ),
        altered[named][sorting],
        lists.siemens[named][sorting],
    )


def members(owners: Ints, members: Ints, starts: Ints) -> tuple[Ints, Ints]:
    """All members of the owners: the row of the owner, and the member."""
    row, at = runs(starts[owners], starts[owners + 1])
    return row, members[at]


def _solved(
    base: Parted, lists: Lists, touched: Patches, places: tuple[Ints, Ints], copies: int
) -> tuple[SolvedParts, Ints]:
    """The patches that are solved, held nodes behind the copies, and the patch of each of their elements by its name.

    `places` are keys (list times nodes plus node, ascending) with the copy of each.
    """
    have = base.elements
    own = np.nonzero(touched.is_solved)[0]
    row, resistor = members(touched.part[own], base.resistors, base.resistor_starts)
    row = own[row]
    changed = lists.of * len(have.a) + lists.resistor
    kept = ~np.isin(touched.of[row] * len(have.a) + resistor, changed[lists.resistor >= 0])
    row, resistor = row[kept], resistor[kept]
    made = np.nonzero((touched.owner >= 0) & (lists.siemens > 0.0))[0]
    made = made[touched.is_solved[touched.owner[made]]]
    of = np.concatenate((touched.of[row], lists.of[made]))
    held = np.nonzero(base.held)[0]
    held_place = np.full(have.node_count, -1, dtype=np.intp)
    held_place[held] = copies + np.arange(len(held))
    ends = []
    for all_ends, given in ((have.a, lists.a), (have.b, lists.b)):
        node = np.concatenate((all_ends[resistor], given[made]))
        where = np.minimum(np.searchsorted(places[0], of * have.node_count + node), max(len(places[0]) - 1, 0))
        copy = places[1][where] if len(places[0]) else np.zeros(len(node), dtype=np.intp)
        ends.append(np.where(held_place[node] >= 0, held_place[node], copy))
    siemens = np.concatenate((have.siemens[resistor], lists.siemens[made]))
    solved = solved_parts(
        elements(copies + len(held), ends[0], ends[1], siemens),
        np.concatenate((np.zeros(copies, dtype=np.bool_), np.ones(len(held), dtype=np.bool_))),
        np.concatenate((np.zeros(copies), np.where(base.fixed, base.fixed_v, 0.0)[held])),
        np.concatenate((np.full(copies, -1, dtype=np.intp), base.hub_of[held])),
        len(base.hubs),
    )
    return solved, np.concatenate((touched.name[row], touched.owner[made]))


def _gone(base: Parted, lists: Lists, touched: Patches) -> tuple[Ints, Spokes]:
    """What the hubs lose: what touched parts and altered elements between held nodes fed, with the list of each."""
    at = np.nonzero(lists.resistor >= 0)[0]
    place = np.searchsorted(base.direct, lists.resistor[at])
    known = place < len(base.direct)
    known[known] = base.direct[place[known]] == lists.resistor[at[known]]
    owners = np.concatenate((touched.part, base.part_count + place[known]))
    return np.concatenate((touched.of, lists.of[at[known]])), base.spokes.at(owners)


def _made(base: Parted, lists: Lists, touched: Patches, solved: SolvedParts, patch_of: Ints) -> tuple[Ints, Spokes]:
    """What the hubs gain, with the list of each: each piece that a patch falls into is an owner of its own."""
    have = solved.have
    names, owner = np.unique(
        np.where(solved.held[have.a], solved.label[have.b], solved.label[have.a]), return_inverse=True
    )
    pieces = solved.spokes(owner, len(names))
    patch = np.zeros(len(names), dtype=np.intp)
    patch[owner] = patch_of
    # Every list gets the pieces of the patch that was solved in place of its own.
    order = np.argsort(patch, kind="stable")
    first = np.nonzero(touched.name == np.arange(len(touched.name)))[0]
    starts = np.searchsorted(patch[order], np.arange(len(touched.name) + 1))
    row, piece = members(touched.like[first], order, starts)
    between = elements(base.elements.node_count, lists.a, lists.b, lists.siemens)
    direct = np.nonzero(is_direct(between, base.held, base.hub_of))[0]
    width = pieces.near.shape[1]
    own = direct_spokes(between, direct, base.hub_of, base.fixed_v, len(base.hubs), width)
    return np.concatenate((touched.of[first[row]], lists.of[direct])), both(pieces.at(piece), own)


def _behind(base: NodeTable, copies: NodeTable, count: int, part_count: int, hubs: int) -> NodeTable:
    """The table of the network with that of the first `count` copies behind it."""
    part = copies.part[:count]
    width = max(base.near.shape[1], copies.near.shape[1])
    tables = (base, len(base.part)), (copies, count)
    near = [_wide(table.near[:size], width, hubs) for table, size in tables]
    response = [_wide(table.response[:size], width, 0.0) for table, size in tables]
    return NodeTable(
        np.concatenate((base.volts, copies.volts[:count])),
        np.concatenate(near),
        np.concatenate(response),
        np.concatenate((base.part, np.where(part >= 0, part + part_count, -1))),
        np.concatenate((base.floats, copies.floats[:count])),
        np.concatenate((base.start, copies.start[:count] + len(base.inverse))),
        np.concatenate((base.place, copies.place[:count])),
        np.concatenate((base.inverse, copies.inverse)),
    )


def _wide(values: NDArray[Any], width: int, fill: float) -> NDArray[Any]:
    """Rows made `width` wide by `fill`."""
    return np.pad(values, ((0, 0), (0, width - values.shape[1])), constant_values=fill)
