"""Many lists of changes of one parted network, each made by itself: only the parts that it touches are solved anew.

The touched parts of all lists are laid side by side, each list with its own copies, and solved together with the hubs
held; what they then feed to the hubs takes the place of what they fed before.
"""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from harnessgen.measures.frozen import frozen
from harnessgen.physics.nodal_elements import Elements, Floats, Ints, distinct, elements, runs
from harnessgen.physics.parted import NodeTable, Parted, SolvedParts, direct_spokes, is_direct, solved_parts
from harnessgen.physics.parted_hubs import ChangedHubs, Spokes, both, change_hubs


@frozen
class Lists:
    """Lists of changes as arrays (shape: changes): `of` is the list of each, `resistor` is -1 for an added bridge.

    `siemens` is the conductance afterwards. A list names no resistor twice. `count` is the number of lists.
    """

    of: Ints
    resistor: Ints
    a: Ints
    b: Ints
    siemens: Floats
    count: int


@frozen
class Changed:
    """A parted network with each list of changes made.

    `table` has the nodes of the network as it was and behind them the copies, of which `keys` (list times nodes plus
    node, ascending) are at the places from `first` on in the order `order`. `hubs` are the hubs under each list;
    `altered` are list times resistors plus resistor, ascending, with the conductance afterwards.
    """

    base: Parted
    table: NodeTable
    keys: Ints
    order: Ints
    first: int
    hubs: ChangedHubs
    altered: Ints
    altered_s: Floats

    def at(self, lists: Ints, nodes: Ints) -> Ints:
        """Where each node is found in the table under a list."""
        if not len(self.keys):
            return nodes
        wanted = lists * self.base.elements.node_count + nodes
        where = np.minimum(np.searchsorted(self.keys, wanted), len(self.keys) - 1)
        return np.where(self.keys[where] == wanted, self.first + self.order[where], nodes)

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
    count, held = base.elements.node_count, base.held
    ends = np.concatenate((lists.a, lists.b))
    of = np.concatenate((lists.of, lists.of))
    inner = base.table.part[ends] >= 0
    pairs = distinct(of[inner] * base.part_count + base.table.part[ends[inner]])
    pair_of, pair_part = pairs // max(base.part_count, 1), pairs % max(base.part_count, 1)
    copy_row, copy_node = members(pair_part, base.nodes, base.node_starts)
    keys = pair_of[copy_row] * count + copy_node
    order = np.argsort(keys)
    copies, of_copy = _copies(base, lists, (pair_of, pair_part), keys[order], order)
    held_nodes = np.nonzero(held)[0]
    holds = np.concatenate((np.zeros(len(keys), dtype=np.bool_), np.ones(len(held_nodes), dtype=np.bool_)))
    held_v = np.concatenate((np.zeros(len(keys)), np.where(base.fixed, base.fixed_v, 0.0)[held_nodes]))
    hub_of = np.concatenate((np.full(len(keys), -1, dtype=np.intp), base.hub_of[held_nodes]))
    solved = solved_parts(copies, holds, held_v, hub_of, len(base.hubs))
    gone = _gone(base, lists, (pair_of, pair_part))
    made = _made(solved, of_copy, held_v, len(base.hubs))
    altered = lists.of * len(base.elements.a) + lists.resistor
    named = lists.resistor >= 0
    sorting = np.argsort(altered[named])
    return Changed(
        base,
        _behind(base.table, solved.table, len(keys), base.part_count, len(base.hubs)),
        keys[order],
        order,
        count,
        change_hubs(base.complement, gone, made, lists.count),
        altered[named][sorting],
        lists.siemens[named][sorting],
    )


def members(owners: Ints, members: Ints, starts: Ints) -> tuple[Ints, Ints]:
    """All members of the owners: the row of the owner, and the member."""
    row, at = runs(starts[owners], starts[owners + 1])
    return row, members[at]


def _copies(base: Parted, lists: Lists, pairs: tuple[Ints, Ints], keys: Ints, order: Ints) -> tuple[Elements, Ints]:
    """Elements of the touched parts as each list leaves them, held nodes behind the copies; the list of each."""
    have = base.elements
    row, resistor = members(pairs[1], base.resistors, base.resistor_starts)
    of = pairs[0][row]
    changed = lists.of * len(have.a) + lists.resistor
    kept = ~np.isin(of * len(have.a) + resistor, changed[lists.resistor >= 0])
    of, resistor = of[kept], resistor[kept]
    made = lists.siemens > 0.0
    all_of = np.concatenate((of, lists.of[made]))
    place = np.full(have.node_count, -1, dtype=np.intp)
    held_count = int(np.count_nonzero(base.held))
    place[base.held] = len(keys) + np.arange(held_count)
    ends = []
    for own, given in ((have.a, lists.a), (have.b, lists.b)):
        node = np.concatenate((own[resistor], given[made]))
        where = np.minimum(np.searchsorted(keys, all_of * have.node_count + node), max(len(keys) - 1, 0))
        copy = order[where] if len(keys) else np.zeros(len(node), dtype=np.intp)
        ends.append(np.where(place[node] >= 0, place[node], copy))
    siemens = np.concatenate((have.siemens[resistor], lists.siemens[made]))
    return elements(len(keys) + held_count, ends[0], ends[1], siemens), all_of


def _gone(base: Parted, lists: Lists, pairs: tuple[Ints, Ints]) -> tuple[Ints, Spokes]:
    """What the hubs lose: what touched parts and altered elements between held nodes fed, with the list of each."""
    at = np.nonzero(lists.resistor >= 0)[0]
    place = np.searchsorted(base.direct, lists.resistor[at])
    known = place < len(base.direct)
    known[known] = base.direct[place[known]] == lists.resistor[at[known]]
    owners = np.concatenate((pairs[1], base.part_count + place[known]))
    return np.concatenate((pairs[0], lists.of[at[known]])), base.spokes.at(owners)


def _made(solved: SolvedParts, of: Ints, held_v: Floats, hubs: int) -> tuple[Ints, Spokes]:
    """What the hubs gain, with the list of each: each piece that a part falls into is an owner of its own."""
    have, held = solved.have, solved.held
    label = np.where(held[have.a], solved.label[have.b], solved.label[have.a])
    label = np.where(held[have.a] & held[have.b], -1, label)
    names, owner = np.unique(label, return_inverse=True)
    # The elements between held nodes, which come first, are no piece.
    extra = int(len(names) > 0 and names[0] == -1)
    of_piece = np.zeros(len(names), dtype=np.intp)
    of_piece[owner] = of
    pieces = solved.spokes(owner - extra, len(names) - extra)
    direct = np.nonzero(is_direct(have, held, solved.hub_of))[0]
    own = direct_spokes(have, direct, solved.hub_of, held_v, hubs, pieces.near.shape[1])
    return np.concatenate((of_piece[extra:], of[direct])), both(pieces, own)


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
