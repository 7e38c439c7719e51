"""What is read of a powered harness, in arrays: which readings a fault can reach, and what they then are."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from harnessgen.bench.simulation.powered_arrays import PoweredGrid
from harnessgen.physics.nodal.elements import Floats, Ints, distinct, runs
from harnessgen.physics.partitioned.bridges import BridgedRows
from harnessgen.physics.partitioned.change_lists import members


@dataclass(frozen=True, eq=False)
class Readouts:
    """Voltages from node `a` to node `b`, or currents of the element `place` between them (-1: a voltage)."""

    grid: PoweredGrid
    a: Ints
    b: Ints
    place: Ints

    def __len__(self) -> int:
        """Number of readings."""
        return len(self.a)

    @cached_property
    def of_zone(self) -> tuple[Ints, Ints]:
        """Readings of each zone behind each other, and where those of each zone start."""
        zone = self.grid.zones[np.concatenate((self.a, self.b))]
        which = np.tile(np.arange(len(self)), 2)
        order = np.argsort(zone, kind="stable")
        starts = np.searchsorted(zone[order], np.arange(self.grid.zone_count + 1))
        return which[order], starts

    def reached(self, rows: Ints, zones: Ints) -> tuple[Ints, Ints]:
        """Entries (row, reading) of what each row can reach in each of its zones."""
        which, starts = self.of_zone
        place, reading = members(zones, which, starts)
        return rows[place], reading

    def volts(self, bridged: BridgedRows, rows: Ints, which: Ints) -> Floats:
        """Voltage from `a` to `b` of each entry, nothing where one of them hangs free, in V."""
        across = bridged.volts(rows, self.a[which]) - bridged.volts(rows, self.b[which])
        return np.nan_to_num(across, nan=0.0)

    def values(self, bridged: BridgedRows, rows: Ints, which: Ints) -> Floats:
        """Volts with their sign, or amperes without, of each entry."""
        volts = self.volts(bridged, rows, which)
        place = self.place[which]
        amperes = np.nonzero(place >= 0)[0]
        if len(amperes):
            siemens = bridged.changed.siemens(bridged.lists[rows[amperes]], place[amperes])
            volts[amperes] = np.abs(volts[amperes]) * siemens
        return volts

    def all_values(self, alone: BridgedRows) -> Floats:
        """Every value in the one row of `alone`."""
        every = np.arange(len(self))
        return self.values(alone, np.zeros_like(every), every)

    def per_hub_volt(self, bridged: BridgedRows, rows: Ints, which: Ints) -> Floats:
        """Most by which the value of each entry moves for a volt at the hubs, in its own unit for a volt."""
        moved = bridged.moved_by_hubs(rows, self.a[which], self.b[which])
        place = self.place[which]
        siemens = bridged.changed.siemens(bridged.lists[rows], np.maximum(place, 0))
        return np.where(place >= 0, moved * siemens, moved)

    def followed(self, bridged: BridgedRows, rows: Ints, which: Ints) -> tuple[Ints, Ints]:
        """Pairs (row, hub) of the hubs that the readings of entries follow."""
        table, count = bridged.changed.table, bridged.changed.hubs.base.count
        found = []
        for nodes in (self.a[which], self.b[which]):
            near = table.near[bridged.changed.at(bridged.lists[rows], nodes)]
            at, place = np.nonzero(near < count)
            found.append(rows[at] * (count + 1) + near[at, place])
        pairs = distinct(np.concatenate(found))
        return pairs // (count + 1), pairs % (count + 1)


def readouts(grid: PoweredGrid, pairs: Sequence[tuple[str, str]], places: Sequence[int] | None = None) -> Readouts:
    """Readings between nodes by name; with `places` the currents of elements there (-1 for a voltage)."""
    a = np.array([grid.index[one] for one, _ in pairs], dtype=np.intp)
    b = np.array([grid.index[other] for _, other in pairs], dtype=np.intp)
    which = np.full(len(pairs), -1, dtype=np.intp) if places is None else np.array(places, dtype=np.intp)
    return Readouts(grid, a, b, which)


@dataclass(frozen=True, eq=False)
class Edges:
    """Readings by the hubs that they follow, and the volts by which a hub must move to bring each over its edge.

    `keys` (ascending) is the number of the hub times `_SPAN_V` plus these volts.
    """

    keys: Floats
    which: Ints
    hubs: int

    def within(self, hubs: Ints, volts: Floats) -> tuple[Ints, Ints]:
        """Entries (place in `hubs`, reading) of what hubs that move by so many volts may bring over an edge."""
        first = np.searchsorted(self.keys, hubs * _SPAN_V)
        last = np.searchsorted(self.keys, hubs * _SPAN_V + np.minimum(volts, _SPAN_V / 2), side="right")
        place, at = runs(first, last)
        return place, self.which[at]

    @property
    def least_v(self) -> Floats:
        """Least volts by which each hub must move to bring anything over an edge (shape: hubs)."""
        first = np.searchsorted(self.keys, np.arange(self.hubs) * _SPAN_V)
        found = np.full(self.hubs, np.inf)
        has = first < len(self.keys)
        keys = self.keys[first[has]] - np.arange(self.hubs)[has] * _SPAN_V
        found[has] = np.where(keys <= _SPAN_V / 2, keys, np.inf)
        return found


_SPAN_V = 1e4
"""Above all volts of a harness, so that hubs and volts sort as one number."""


def edges(readings: Readouts, alone: BridgedRows, far: Floats, which: Ints) -> Edges:
    """The readings `which` by their hubs; `far` is how far each lies from its edge in the one row of `alone`."""
    table = alone.changed.table
    rows = np.zeros_like(which)
    with np.errstate(divide="ignore", invalid="ignore"):
        volts = far / readings.per_hub_volt(alone, rows, which)
    volts = np.minimum(np.nan_to_num(volts, nan=np.inf, posinf=np.inf), _SPAN_V / 2)
    hubs = alone.changed.hubs.base.count
    keys = []
    for nodes in (readings.a[which], readings.b[which]):
        place, slot = np.nonzero((table.response[nodes] > 0.0) & (table.near[nodes] < hubs))
        keys.append((table.near[nodes[place], slot], place))
    pairs = distinct(np.concatenate([hub * len(which) + place for hub, place in keys])) if len(which) else rows
    hub, place = pairs // max(len(which), 1), pairs % max(len(which), 1)
    key = hub * _SPAN_V + volts[place]
    order = np.argsort(key, kind="stable")
    return Edges(key[order], which[place[order]], hubs)
