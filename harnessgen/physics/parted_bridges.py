"""A parted network under lists of changes, with one more bridge in each row: what it does, wherever it is asked.

A bridge carries what the voltage between its ends drives through it and through the network (Thevenin), and every
other voltage moves by its share of that current. What hung free and is now tied on takes the voltage of the other end.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from harnessgen.physics.nodal_elements import Floats, Ints
from harnessgen.physics.parted_lists import Changed


@dataclass(frozen=True, eq=False)
class Bridged:
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
    def _apart(self) -> Floats:
        """Difference of the ends' responses to the hubs (rows, hubs)."""
        a, b = self._ends
        apart: Floats = self.changed.table.response[a] - self.changed.table.response[b]
        return apart

    @cached_property
    def _held_ohm(self) -> Floats:
        """Resistance of the way through the bridge and the parts of its ends, hubs held."""
        a, b = self._ends
        ohm = self.changed.table.ohm
        return self.ohm + ohm(a, a) + ohm(b, b) - ohm(a, b) - ohm(b, a)

    @cached_property
    def _loop_ohm(self) -> Floats:
        apart = self._apart
        found: Floats = self._held_ohm + np.einsum("ri,rij,rj->r", apart, self.changed.lift[self.lists], apart)
        return found

    @cached_property
    def _alone_v(self) -> tuple[Floats, Floats]:
        """Voltage of each end without the bridge, nan where it hangs free."""
        hub_v = self.changed.hub_v[self.lists]
        one, other = (self._volts(each, hub_v) for each in self._ends)
        return one, other

    def _volts(self, at: Ints, hub_v: Floats) -> Floats:
        """Volts at places of the table for volts of the hubs (entries, hubs)."""
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
    def hub_v(self) -> Floats:
        """Volts of the hubs with the bridge, nan where they hang free (rows, hubs)."""
        moved = np.einsum("rij,rj->ri", self.changed.lift[self.lists], self._apart)
        found: Floats = self.changed.hub_v[self.lists] - self.ampere[:, None] * moved
        one, other = self._alone_v
        for near, volts, there in ((0, one, other), (1, other, one)):
            end = self._ends[near]
            tied = np.nonzero(np.isnan(volts) & ~np.isnan(there) & ~self.changed.table.floats[end])[0]
            if len(tied):
                # The hubs that hang free with this end take the voltage of the other.
                own = (self.changed.table.response[end[tied]] > 0.0) & np.isnan(found[tied])
                with_it = (own[:, :, None] & self.changed.reach[self.lists[tied]]).any(axis=1)
                found[tied] = np.where(with_it & np.isnan(found[tied]), there[tied][:, None], found[tied])
        return found

    @cached_property
    def hub_ohm(self) -> Floats:
        """Volts of the hubs for an ampere into each, with the bridge (rows, hubs, hubs)."""
        lift, loop_ohm = self.changed.lift[self.lists], self._loop_ohm
        a, b = self._ends
        moved = np.einsum("rij,rj->ri", lift, self._apart) * np.where(a == b, 0.0, loop_ohm**-0.5)[:, None]
        found: Floats = lift - moved[:, :, None] * moved[:, None, :]
        return found

    def volts(self, rows: Ints, nodes: Ints) -> Floats:
        """Voltage of each node in its row, nan where it hangs free."""
        return self._volts_at(rows, self.changed.at(self.lists[rows], nodes))

    def _volts_at(self, rows: Ints, at: Ints) -> Floats:
        found = self._volts(at, self.hub_v[rows]) - self.ampere[rows] * self._share(rows, at)
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
        one, other = (self._following(rows, self.changed.at(lists, each)) for each in (nodes, others))
        moved: Floats = np.abs(one - other).sum(axis=1)
        return moved

    def _following(self, rows: Ints, at: Ints) -> Floats:
        table = self.changed.table
        a, b = self._ends
        part, _ = self._carried
        tied = (part[rows] >= 0) & (table.part[at] == part[rows])
        live = np.where(table.floats[a], b, a)[rows]
        by_bridge = (self._share(rows, at) / self._held_ohm[rows])[:, None] * self._apart[rows]
        by_bridge = np.where(((self._ends[0] == self._ends[1]) | (self.ampere == 0.0))[rows, None], 0.0, by_bridge)
        return np.where(tied[:, None], table.response[live], table.response[at] - by_bridge)

    def ohms(self, rows: Ints, nodes: Ints, others: Ints) -> Floats:
        """Resistance from each node to the other in its row, sources joined; some 100 Mohm where one hangs free."""
        lists = self.lists[rows]
        table = self.changed.table
        m, n = self.changed.at(lists, nodes), self.changed.at(lists, others)
        apart = table.response[m] - table.response[n]
        lift = self.changed.lift[lists]
        own = table.ohm(m, m) + table.ohm(n, n) - table.ohm(m, n) - table.ohm(n, m)
        own = own + np.einsum("ri,rij,rj->r", apart, lift, apart)
        shared = self._share(rows, m) - self._share(rows, n)
        shared = shared + np.einsum("ri,rij,rj->r", apart, lift, self._apart[rows])
        has = (self._ends[0] != self._ends[1])[rows]
        with np.errstate(divide="ignore", invalid="ignore"):
            found = np.where(has, own - shared**2 / self._loop_ohm[rows], own)
        own_ohm: Floats = np.maximum(found, 0.0)
        return own_ohm


def hub_moves(bridged: Bridged, usual: Bridged, ampere: float) -> Floats:
    """Most by which any hub moves in each row against the one row of `usual`, in V (shape: rows).

    What its volts move for `ampere` drawn through the hubs counts too: that is how a lamp tells one resistance from
    another. Infinite where a hub hangs free that did not, or the other way round.
    """
    usual_v = usual.hub_v[0]
    if not len(usual_v):
        return np.zeros(len(bridged.lists))
    free = np.isnan(bridged.hub_v) != np.isnan(usual_v)
    moved = np.where(free, np.inf, np.nan_to_num(np.abs(bridged.hub_v - usual_v), nan=0.0))
    if ampere > 0.0:
        moved = moved + ampere * np.abs(bridged.hub_ohm - usual.hub_ohm[0]).max(axis=2)
    most: Floats = np.max(moved, axis=1)
    return most
