"""A parted network under lists of changes, with one more bridge in each row: what it does, wherever it is asked.

A bridge carries what the voltage between its ends drives through it and through the network (Thevenin), and every
other voltage moves by its share of that current. What hung free and is now tied on takes the voltage of the other end.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from harnessgen.physics.nodal.elements import Floats, Ints, distinct
from harnessgen.physics.partitioned.change_lists import Changed, members
from harnessgen.physics.partitioned.interface_nodes import LEAK_S
from harnessgen.physics.partitioned.partition import FREE_S


@dataclass(frozen=True, eq=False)
class BridgedRows:
    """Rows, each under a list of changes with a bridge from `a` to `b` of so many ohms; -1 where there is none.

    Shape: rows. What is asked of them has the shape of the entries: the row of each, and nodes of the network.
    """

    changed: Changed
    lists: Ints
    a: Ints
    b: Ints
    ohm: Floats

    @cached_property
    def _ends(self) -> tuple[Ints, Ints]:
        has = self.a >= 0
        a = self.changed.at(self.lists, np.where(has, self.a, 0))
        return a, np.where(has, self.changed.at(self.lists, np.where(has, self.b, 0)), a)

    @cached_property
    def _apart(self) -> tuple[Ints, Floats]:
        """Hubs near the ends, and the difference of the ends' responses to each (rows, places)."""
        return self._difference(*self._ends)

    def _difference(self, one: Ints, other: Ints) -> tuple[Ints, Floats]:
        """Hubs near two places of the table, and the difference of their responses (entries, places)."""
        table = self.changed.table
        near = np.concatenate((table.near[one], table.near[other]), axis=1)
        return near, np.concatenate((table.response[one], -table.response[other]), axis=1)

    @cached_property
    def _held_ohm(self) -> Floats:
        """Resistance of the way through the bridge and the parts of its ends, hubs held."""
        a, b = self._ends
        ohm = self.changed.table.ohm
        return self.ohm + ohm(a, a) + ohm(b, b) - ohm(a, b) - ohm(b, a)

    @cached_property
    def _loop_ohm(self) -> Floats:
        hubs, apart = self._apart
        return self._held_ohm + self.changed.hubs.across(self.lists, hubs, apart, hubs, apart)

    @cached_property
    def _alone_v(self) -> tuple[Floats, Floats]:
        """Voltage of each end without the bridge, nan where it hangs free."""
        near = self.changed.table.near
        one, other = (self._volts(each, self.changed.hubs.volts(self.lists, near[each])) for each in self._ends)
        return one, other

    def _volts(self, at: Ints, hub_v: Floats) -> Floats:
        """Volts at places of the table for volts of the hubs near them (entries, places)."""
        table = self.changed.table
        response = table.response[at]
        # A hub that hangs free is no number; a node that it does not reach does not ask.
        volts: Floats = table.volts[at] + np.where(response > 0.0, response * hub_v, 0.0).sum(axis=1)
        return np.where(table.floats[at], np.nan, volts)

    @cached_property
    def ampere(self) -> Floats:
        """Current of the bridge from `a` to `b` (shape: rows)."""
        one, other = self._alone_v
        a, b = self._ends
        with np.errstate(invalid="ignore"):
            current = (one - other) / self._loop_ohm
        return np.where((a == b) | np.isnan(current), 0.0, current)

    @cached_property
    def _carried(self) -> tuple[Ints, Floats]:
        """The part that hung free and is tied on by the bridge, -1 for none, and the voltage that it takes."""
        table = self.changed.table
        a, b = self._ends
        one, other = self._alone_v
        by_b = table.floats[a] & ~np.isnan(other)
        by_a = table.floats[b] & ~np.isnan(one)
        part = np.where(by_b, table.part[a], np.where(by_a, table.part[b], -1))
        return part, np.where(by_b, other, one)

    @cached_property
    def _tied(self) -> tuple[Ints, Floats]:
        """Label of the hubs that hung free and are tied on by the bridge, -1 for none, and the voltage they take."""
        table, hubs = self.changed.table, self.changed.hubs
        label, volts = np.full(len(self.lists), -1, dtype=np.intp), np.zeros(len(self.lists))
        one, other = self._alone_v
        for end, own, there in ((self._ends[0], one, other), (self._ends[1], other, one)):
            rows = np.nonzero(np.isnan(own) & ~np.isnan(there) & ~table.floats[end])[0]
            near, of = table.near[end[rows]], self.lists[rows]
            free = (table.response[end[rows]] > 0.0) & ~hubs.lives(of, near)
            place = np.argmax(free, axis=1)
            hub = near[np.arange(len(rows)), place]
            label[rows], volts[rows] = hubs.label[hubs.row[of], hub], there[rows]
        return label, volts

    @cached_property
    def fed(self) -> tuple[Ints, Floats, Floats]:
        """What feeds the hubs otherwise than in the base, as amperes into a few of them.

        Hubs (rows, places), the amperes, and the amperes for one through the bridge.
        """
        hubs, lists = self.changed.hubs, self.lists
        near, apart = self._apart
        columns = np.concatenate((hubs.near[lists], near), axis=1)
        mesh_back = np.zeros((len(lists), hubs.near.shape[1]))
        at = np.nonzero(hubs.has[lists])[0]
        mesh_back[at] = np.einsum("eij,ej->ei", hubs.mesh[lists[at]], hubs.pushed(lists[at], near[at], apart[at]))
        by_bridge = np.concatenate((mesh_back, -apart), axis=1)
        ampere = self.ampere[:, None] * by_bridge
        ampere[:, : hubs.near.shape[1]] += hubs.push[lists]
        return columns, ampere, by_bridge

    @cached_property
    def moved(self) -> tuple[Ints, Ints, Floats]:
        """Rows and hubs with the volts by which the hub moves against the base, where it moves."""
        columns, ampere, _ = self.fed
        return spread(columns, ampere, self.changed.hubs.base.lift)

    @cached_property
    def hub_v(self) -> Floats:
        """Volts of the hubs with the bridge of each row, nan where they hang free (rows, hubs + 1)."""
        hubs, row = self.changed.hubs, self.changed.hubs.row[self.lists]
        found = np.repeat(hubs.base.volts[None, :], len(row), axis=0)
        rows, moved, volts = self.moved
        found[rows, moved] += volts
        free = hubs.label != hubs.base.count
        found[np.ix_(np.nonzero(row == 0)[0], np.nonzero(free[0])[0])] = np.nan
        other = np.nonzero(row > 0)[0]
        at, hub = np.nonzero(free[row[other]])
        found[other[at], hub] = np.nan
        label, tied_v = self._tied
        tied = np.nonzero(label >= 0)[0]
        if len(tied):
            at, hub = np.nonzero(hubs.label[row[tied]] == label[tied][:, None])
            found[tied[at], hub] = tied_v[tied[at]]
        return found

    def volts(self, rows: Ints, nodes: Ints) -> Floats:
        """Voltage of each node in its row, nan where it hangs free."""
        at = self.changed.at(self.lists[rows], nodes)
        hub_v = self.hub_v[rows[:, None], self.changed.table.near[at]]
        found = self._volts(at, hub_v) - self.ampere[rows] * self._share(rows, at)
        part, volts = self._carried
        tied = (part[rows] >= 0) & (self.changed.table.part[at] == part[rows])
        return np.where(tied, volts[rows], found)

    def _share(self, rows: Ints, at: Ints) -> Floats:
        """Volts by which a place falls for each ampere of the bridge, hubs held."""
        a, b = self._ends
        ohm = self.changed.table.ohm
        return ohm(at, a[rows]) - ohm(at, b[rows])

    def moved_by_hubs(self, rows: Ints, nodes: Ints, others: Ints) -> Floats:
        """Most by which the voltage from each node to the other moves for a volt at the hubs, without a unit."""
        lists = self.lists[rows]
        one, other = (self.changed.at(lists, each) for each in (nodes, others))
        near, response = self._difference(*(self._live(rows, each) for each in (one, other)))
        share = self._share(rows, one) - self._share(rows, other)
        is_idle = (self._ends[0] == self._ends[1]) | (self.ampere == 0.0)
        by_bridge = np.where(is_idle[rows], 0.0, share / self._held_ohm[rows])
        moved = _together(near, response)
        at = np.nonzero(by_bridge != 0.0)[0]
        if len(at):
            hubs, apart = self._apart[0][rows[at]], self._apart[1][rows[at]]
            both = np.concatenate((near[at], hubs), axis=1)
            moved[at] = _together(both, np.concatenate((response[at], -by_bridge[at][:, None] * apart), axis=1))
        return moved

    def _live(self, rows: Ints, at: Ints) -> Ints:
        """The place whose voltage a place follows: the other end of the bridge, where it ties on what hung free."""
        table, (a, b) = self.changed.table, self._ends
        part, _ = self._carried
        tied = (part[rows] >= 0) & (table.part[at] == part[rows])
        return np.where(tied, np.where(table.floats[a], b, a)[rows], at)

    def ohms(self, rows: Ints, nodes: Ints, others: Ints) -> Floats:
        """Resistance from each node to the other in its row, sources joined; 100 Mohm where a hub hangs free."""
        lists = self.lists[rows]
        table, hubs = self.changed.table, self.changed.hubs
        m, n = self.changed.at(lists, nodes), self.changed.at(lists, others)
        near, apart = self._difference(m, n)
        own = table.ohm(m, m) + table.ohm(n, n) - table.ohm(m, n) - table.ohm(n, m)
        own = own + hubs.across(lists, near, apart, near, apart)
        at_ends, ends = self._apart[0][rows], self._apart[1][rows]
        shared = self._share(rows, m) - self._share(rows, n)
        shared = shared + hubs.across(lists, at_ends, ends, near, apart)
        loop = np.where((self._ends[0] != self._ends[1])[rows], self._loop_ohm[rows], np.inf)
        found = own - shared**2 / loop
        label = self._tied[0][rows]
        tied = np.nonzero(label >= 0)[0]
        if len(tied):
            # The leak of what the bridge ties on is taken out again.
            of, leak, amp = lists[tied], label[tied][:, None], np.ones((len(tied), 1))
            by_ends = hubs.across(of, leak, amp, at_ends[tied], ends[tied])
            at_leak = hubs.across(of, leak, amp, leak, amp) - by_ends**2 / loop[tied]
            across = hubs.across(of, leak, amp, near[tied], apart[tied]) - by_ends * shared[tied] / loop[tied]
            found[tied] -= across**2 / (at_leak - 1.0 / LEAK_S)
        free = ~hubs.lives(lists, near) & (hubs.label[hubs.row[lists][:, None], near] != label[:, None])
        return np.where((free & (apart != 0.0)).any(axis=1), 1.0 / FREE_S, np.maximum(found, 0.0))


def _together(hubs: Ints, shares: Floats) -> Floats:
    """Sum of the magnitudes of the shares, those of one hub taken together first (both of shape entries, places)."""
    total = np.zeros(len(hubs))
    for place in range(hubs.shape[1]):
        same = hubs == hubs[:, place : place + 1]
        is_first = ~same[:, :place].any(axis=1)
        total += np.where(is_first, np.abs(np.where(same, shares, 0.0).sum(axis=1)), 0.0)
    return total


def hub_shifts(bridged: BridgedRows, ampere: float) -> tuple[Ints, Ints, Floats]:
    """Rows and hubs with the volts by which the hub moves against the base, infinite where it hangs free or no more.

    What its volts move for `ampere` drawn at the hub counts too: that is how a lamp tells one resistance from another.
    Hubs that do not move are left out.
    """
    hubs, lists = bridged.changed.hubs, bridged.lists
    at, hub, volts = bridged.moved
    columns, _, by_bridge = bridged.fed
    has = bridged._ends[0] != bridged._ends[1]
    drawn = np.where(has, bridged._loop_ohm, np.inf) ** -0.5
    drawn_at, drawn_hub, drawn_v = spread(columns, by_bridge * drawn[:, None], hubs.base.lift)
    list_at, list_hub, list_ohm = _altered_ohm(bridged)
    free_at, free_hub = _set_free(bridged)
    every = np.concatenate((at, drawn_at, list_at, free_at)), np.concatenate((hub, drawn_hub, list_hub, free_hub))
    moved = (np.abs(volts), ampere * drawn_v**2, ampere * list_ohm, np.full(len(free_at), np.inf))
    lives = hubs.label[hubs.row[lists[every[0]]], every[1]] == hubs.base.count
    size = np.concatenate(moved)
    kept = ((lives & (size > 0.0)) | np.isinf(size)) & (every[1] < hubs.base.count)
    keys = every[0][kept] * (hubs.base.count + 1) + every[1][kept]
    pairs = distinct(keys)
    total = np.zeros(len(pairs))
    np.add.at(total, np.searchsorted(pairs, keys), size[kept])
    return pairs // (hubs.base.count + 1), pairs % (hubs.base.count + 1), total


def spread(hubs: Ints, ampere: Floats, lift: Floats) -> tuple[Ints, Ints, Floats]:
    """Rows and hubs with the volts for amperes into hubs (both of shape rows, places), where these are not nothing."""
    from scipy.sparse import csr_array

    at, place = np.nonzero((ampere != 0.0) & (hubs < len(lift) - 1))
    pushed = csr_array((ampere[at, place], (at, hubs[at, place])), shape=(len(hubs), len(lift)))
    moved = (pushed @ csr_array(lift)).tocoo()
    row, hub = (np.asarray(each, dtype=np.intp) for each in moved.coords)
    return row, hub, np.asarray(moved.data, dtype=np.float64)


def _altered_ohm(bridged: BridgedRows) -> tuple[Ints, Ints, Floats]:
    """Rows and hubs with the ohms by which the list of the row alters the way from the hub to the fixed nodes."""
    from scipy.sparse import csr_array

    hubs = bridged.changed.hubs
    own, lift = np.nonzero(hubs.has)[0], csr_array(hubs.base.lift)
    width = hubs.near.shape[1]
    place = np.arange(len(own) * width)
    near = hubs.near[own].ravel()
    inner = near < hubs.base.count
    pick = csr_array((np.ones(inner.sum()), (place[inner], near[inner])), shape=(len(place), lift.shape[0]))
    seen = (pick @ lift).tocoo()
    row, hub = seen.coords
    keys = distinct(row // width * lift.shape[0] + hub)
    towards = np.zeros((len(keys), width))
    towards[np.searchsorted(keys, row // width * lift.shape[0] + hub), row % width] = seen.data
    of = own[keys // lift.shape[0]]
    ohm = np.abs(np.einsum("ei,eij,ej->e", towards, hubs.mesh[of], towards))
    starts = np.searchsorted(of, np.arange(len(hubs.near) + 1))
    at, which = members(bridged.lists, np.arange(len(keys)), starts)
    return at, keys[which] % lift.shape[0], ohm[which]


def altered_hubs(bridged: BridgedRows) -> tuple[Ints, Ints, Floats]:
    """Rows and hubs next to what each row alters, with how many times as far the hub then moves for what feeds it."""
    hubs, table = bridged.changed.hubs, bridged.changed.table
    count = hubs.base.count
    at, place = np.nonzero(hubs.near[bridged.lists] < count)
    of = bridged.lists[at]
    found = [(at, hubs.near[of, place], np.maximum(hubs.gains[of, place], 1.0))]
    for end in bridged._ends:
        at, place = np.nonzero((table.near[end] < count) & (bridged.a >= 0)[:, None])
        found.append((at, table.near[end[at], place], np.ones(len(at))))
    rows, near, gains = (np.concatenate(each) for each in zip(*found, strict=True))
    return rows, near, gains


def _set_free(bridged: BridgedRows) -> tuple[Ints, Ints]:
    """Rows and hubs that hang free and did not, or the other way round."""
    hubs = bridged.changed.hubs
    count = hubs.base.count
    lives = hubs.label == count
    row, hub = np.nonzero(lives != lives[0])
    order = np.argsort(row, kind="stable")
    starts = np.searchsorted(row[order], np.arange(len(hubs.label) + 1))
    at, found = members(hubs.row[bridged.lists], hub[order], starts)
    label, _ = bridged._tied
    tied = np.nonzero(label >= 0)[0]
    own, tied_hub = np.nonzero(hubs.label[hubs.row[bridged.lists[tied]]] == label[tied][:, None])
    return np.concatenate((at, tied[own])), np.concatenate((found, tied_hub))
