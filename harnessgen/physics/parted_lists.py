"""Many lists of changes of one parted network, each made by itself: only the parts that it touches are solved anew.

The touched parts of all lists are laid side by side, each list with its own copies, and solved together with the hubs
held; what they then feed to the hubs takes the place of what they fed before. Whether a hub still has a way to a fixed
node is counted, never told by a vanishing number.
"""

import numpy as np

from harnessgen.measures.frozen import frozen
from harnessgen.physics.nodal_elements import Elements, Flags, Floats, Ints, elements
from harnessgen.physics.parted import LEAK_S, NodeTable, Parted, Spokes, solved_parts, spokes_of


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
    node, ascending) are at the places from `first` on in the order `order`. `pairs` are the lists with the parts that
    they touch, by list. `hub_v` (lists, hubs) is nan where a hub has no way to a fixed node; `lift` (lists, hubs,
    hubs) is its volts for an ampere into each hub; `altered` are list times resistors plus resistor, ascending, with
    the conductance afterwards.
    """

    base: Parted
    table: NodeTable
    keys: Ints
    order: Ints
    first: int
    pairs: tuple[Ints, Ints]
    hub_v: Floats
    lift: Floats
    reach: Flags
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
    pairs = np.unique(of[inner] * base.part_count + base.table.part[ends[inner]])
    pair_of, pair_part = pairs // max(base.part_count, 1), pairs % max(base.part_count, 1)
    copy_row, copy_node = members(pair_part, base.nodes, base.node_starts)
    keys = pair_of[copy_row] * count + copy_node
    order = np.argsort(keys)
    copies, of_copy = _copies(base, lists, (pair_of, pair_part), keys[order], order)
    held_nodes = np.nonzero(held)[0]
    holds = np.concatenate((np.zeros(len(keys), dtype=np.bool_), np.ones(len(held_nodes), dtype=np.bool_)))
    held_v = np.concatenate((np.zeros(len(keys)), np.where(base.fixed, base.fixed_v, 0.0)[held_nodes]))
    hub_of = np.concatenate((np.full(len(keys), -1, dtype=np.intp), base.hub_of[held_nodes]))
    table, current_a, label = solved_parts(copies, holds, held_v, hub_of, len(base.hubs))
    whole = _whole(base, lists, (pair_of, pair_part), (copies, holds, hub_of, current_a, label, of_copy))
    hub_v, lift, reach = _lifted(whole)
    altered = lists.of * len(base.elements.a) + lists.resistor
    named = lists.resistor >= 0
    sorting = np.argsort(altered[named])
    return Changed(
        base,
        _behind(base.table, table, len(keys), base.part_count),
        keys[order],
        order,
        count,
        (pair_of, pair_part),
        hub_v,
        lift,
        reach,
        altered[named][sorting],
        lists.siemens[named][sorting],
    )


def members(owners: Ints, members: Ints, starts: Ints) -> tuple[Ints, Ints]:
    """All members of the owners: the row of the owner, and the member."""
    first, last = starts[owners], starts[owners + 1]
    row = np.repeat(np.arange(len(owners)), last - first)
    step = np.arange(len(row)) - np.repeat(np.cumsum(last - first) - (last - first), last - first)
    return row, members[first[row] + step]


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


def _whole(
    base: Parted,
    lists: Lists,
    pairs: tuple[Ints, Ints],
    copies: tuple[Elements, Flags, Ints, Floats, Ints, Ints],
) -> Spokes:
    """What flows into the hubs under each list: as it was, less what the touched parts fed, and what they feed now."""
    have, holds, hub_of, current_a, label, of = copies
    hubs = len(base.hubs)
    part = np.where(holds[have.a], label[have.b], label[have.a])
    direct = holds[have.a] & holds[have.b]
    # Each piece that a part falls into is an owner of its own: two pieces join nothing.
    names, owner = np.unique(np.where(direct, have.node_count + np.arange(len(part)), part), return_inverse=True)
    fed = spokes_of(have, holds, hub_of, hubs, current_a, owner, len(names))
    of_owner = np.zeros(len(names), dtype=np.intp)
    of_owner[owner] = of
    found = Spokes(
        np.repeat(base.whole.siemens, lists.count, axis=0),
        np.repeat(base.whole.ampere, lists.count, axis=0),
        np.repeat(base.whole.joins, lists.count, axis=0),
    )
    for total, piece, own in zip(
        (found.siemens, found.ampere, found.joins),
        (fed.siemens, fed.ampere, fed.joins),
        (base.spokes.siemens, base.spokes.ampere, base.spokes.joins),
        strict=True,
    ):
        np.subtract.at(total, pairs[0], own[pairs[1]])
        np.add.at(total, of_owner, piece)
    _take_out_direct(base, lists, found)
    return found


def _take_out_direct(base: Parted, lists: Lists, found: Spokes) -> None:
    """Take out what changed elements between held nodes fed before."""
    have, held, hubs = base.elements, base.held, len(base.hubs)
    at = np.nonzero(lists.resistor >= 0)[0]
    which = lists.resistor[at]
    gone = (have.siemens[which] > 0.0) & held[have.a[which]] & held[have.b[which]]
    which, of = which[gone], lists.of[at[gone]]
    if not len(which):
        return
    own = elements(have.node_count, have.a[which], have.b[which], have.siemens[which])
    columns = np.zeros((have.node_count, 1 + hubs))
    columns[:, 0] = np.where(base.fixed, base.fixed_v, 0.0)
    columns[base.hubs, 1 + np.arange(hubs)] = 1.0
    current_a = own.siemens[:, None] * (columns[own.a] - columns[own.b])
    fed = spokes_of(own, held, base.hub_of, hubs, current_a, np.arange(len(which)), len(which))
    np.subtract.at(found.siemens, of, fed.siemens)
    np.subtract.at(found.ampere, of, fed.ampere)
    np.subtract.at(found.joins, of, fed.joins)


def _lifted(whole: Spokes) -> tuple[Floats, Floats, Flags]:
    """Volts of the hubs, and their volts for an ampere into each; what hangs free is led away as its parts are."""
    hubs = whole.ampere.shape[1]
    reach = (whole.joins > 0) | np.eye(hubs + 1, dtype=np.bool_)
    for _ in range(max(1, int(hubs).bit_length())):
        reach = (reach.astype(np.intp) @ reach.astype(np.intp)) > 0
    lives = reach[:, :hubs, hubs]
    together = reach[:, :hubs, :hubs]
    if not hubs:
        return np.zeros((len(reach), 0)), whole.siemens, together
    # A tie of one siemens at the first of the hubs that hang free together; the rest of its way is added afterwards.
    free = ~lives[:, :, None] & together
    first = ~lives & (np.argmax(together, axis=2) == np.arange(hubs))
    both = free | (lives[:, :, None] & lives[:, None, :])
    siemens = np.where(both, whole.siemens, 0.0) + np.where(first[:, :, None], np.eye(hubs), 0.0)
    lift = np.where(both, np.linalg.inv(siemens) + np.where(free, 1.0 / LEAK_S - 1.0, 0.0), 0.0)
    hub_v = np.where(lives, np.einsum("lij,lj->li", np.where(free, 0.0, lift), whole.ampere), np.nan)
    return hub_v, lift, together


def _behind(base: NodeTable, copies: NodeTable, count: int, part_count: int) -> NodeTable:
    """The table of the network with that of the first `count` copies behind it."""
    part = copies.part[:count]
    return NodeTable(
        np.concatenate((base.volts, copies.volts[:count])),
        np.concatenate((base.response, copies.response[:count])),
        np.concatenate((base.part, np.where(part >= 0, part + part_count, -1))),
        np.concatenate((base.floats, copies.floats[:count])),
        np.concatenate((base.start, copies.start[:count] + len(base.inverse))),
        np.concatenate((base.place, copies.place[:count])),
        np.concatenate((base.inverse, copies.inverse)),
    )
