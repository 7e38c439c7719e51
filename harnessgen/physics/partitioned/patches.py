"""What lists of changes alter of a parted network, as patches: touched parts that changes join, the same ones once.

Many lists alter one part alike, such as all those in which the same output is on; what is alike is solved once.
"""

import numpy as np

from harnessgen.measures.frozen import frozen
from harnessgen.physics.nodal.elements import Flags, Floats, Ints, connected, distinct
from harnessgen.physics.partitioned.partition import Parted


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
class Patches:
    """Parts that lists touch, and the patch of each: parts of one list that its changes join.

    Shape touched parts: `of` is the list, `part` the part; `name` is the first touched part of the patch, `like` the
    touched part that is solved in its place. Shape changes: `owner` is the patch of each by its name, -1 where both
    ends are held.
    """

    of: Ints
    part: Ints
    name: Ints
    like: Ints
    owner: Ints

    @property
    def is_solved(self) -> Flags:
        """Which touched parts are solved, all others being like one of them."""
        found: Flags = self.like == np.arange(len(self.like))
        return found


def patches(base: Parted, lists: Lists) -> Patches:
    """The patches of lists of changes."""
    count = max(base.part_count, 1)
    a, b = base.table.part[lists.a], base.table.part[lists.b]
    keys_a, keys_b = lists.of * count + a, lists.of * count + b
    touched = distinct(np.concatenate((keys_a[a >= 0], keys_b[b >= 0])))
    at_a, at_b = np.searchsorted(touched, keys_a), np.searchsorted(touched, keys_b)
    is_joined = (a >= 0) & (b >= 0)
    name = connected(len(touched), at_a[is_joined], at_b[is_joined])
    owner = np.full(len(a), -1, dtype=np.intp)
    for end, at in ((a, at_a), (b, at_b)):
        owner[end >= 0] = name[at[end >= 0]]
    first = _first_alike(base, lists, owner, len(touched))
    # Patches that are alike touch the same parts: each finds its like by its place among those of the patch.
    order = np.argsort(name, kind="stable")
    starts = np.searchsorted(name[order], name)
    place = np.empty(len(touched), dtype=np.intp)
    place[order] = np.arange(len(touched))
    like = order[np.searchsorted(name[order], first[name]) + place - starts]
    return Patches(touched // count, touched % count, name, like, owner)


def _first_alike(base: Parted, lists: Lists, owner: Ints, touched: int) -> Ints:
    """The first patch that has the same changes as each, by their names (shape: touched parts)."""
    have = base.elements
    inner = np.nonzero(owner >= 0)[0]
    bridge = len(have.a) + lists.a[inner] * have.node_count + lists.b[inner]
    element = np.where(lists.resistor[inner] >= 0, lists.resistor[inner], bridge)
    siemens, change = np.unique(lists.siemens[inner], return_inverse=True)
    change = np.unique(element * max(len(siemens), 1) + change, return_inverse=True)[1]
    kinds = int(change.max(initial=0)) + 1
    order = np.lexsort((change, owner[inner]))
    change = change[order]
    names, starts, sizes = np.unique(owner[inner][order], return_index=True, return_counts=True)
    # The changes of a patch, ascending, are compared one place after the other.
    sequence = np.zeros(len(names), dtype=np.intp)
    for place in range(int(sizes.max(initial=0))):
        has = np.nonzero(sizes > place)[0]
        sequence[has] = np.unique(sequence[has] * kinds + change[starts[has] + place], return_inverse=True)[1]
    both = sequence * (int(sizes.max(initial=0)) + 1) + sizes
    _, at, kind = np.unique(both, return_index=True, return_inverse=True)
    found = np.arange(touched)
    found[names] = names[at[kind]]
    return found
