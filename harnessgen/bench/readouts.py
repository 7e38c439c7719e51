"""What is read of a powered harness, in arrays: which readings a fault can reach, and what they then are."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from harnessgen.bench.powered_grid import PoweredGrid
from harnessgen.physics.nodal_elements import Floats, Ints
from harnessgen.physics.parted_bridges import Bridged
from harnessgen.physics.parted_lists import members


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

    def volts(self, bridged: Bridged, rows: Ints, which: Ints) -> Floats:
        """Voltage from `a` to `b` of each entry, nothing where one of them hangs free, in V."""
        across = bridged.volts(rows, self.a[which]) - bridged.volts(rows, self.b[which])
        return np.nan_to_num(across, nan=0.0)

    def values(self, bridged: Bridged, rows: Ints, which: Ints) -> Floats:
        """Volts with their sign, or amperes without, of each entry."""
        volts = self.volts(bridged, rows, which)
        place = self.place[which]
        amperes = np.nonzero(place >= 0)[0]
        if len(amperes):
            siemens = bridged.changed.siemens(bridged.lists[rows[amperes]], place[amperes])
            volts[amperes] = np.abs(volts[amperes]) * siemens
        return volts

    def all_values(self, alone: Bridged) -> Floats:
        """Every value in the one row of `alone`."""
        every = np.arange(len(self))
        return self.values(alone, np.zeros_like(every), every)

    def per_hub_volt(self, bridged: Bridged, rows: Ints, which: Ints) -> Floats:
        """Most by which the value of each entry moves for a volt at the hubs, in its own unit for a volt."""
        moved = bridged.moved_by_hubs(rows, self.a[which], self.b[which])
        place = self.place[which]
        siemens = bridged.changed.siemens(bridged.lists[rows], np.maximum(place, 0))
        return np.where(place >= 0, moved * siemens, moved)


def readouts(grid: PoweredGrid, pairs: Sequence[tuple[str, str]], places: Sequence[int] | None = None) -> Readouts:
    """Readings between nodes by name; with `places` the currents of elements there (-1 for a voltage)."""
    a = np.array([grid.index[one] for one, _ in pairs], dtype=np.intp)
    b = np.array([grid.index[other] for _, other in pairs], dtype=np.intp)
    which = np.full(len(pairs), -1, dtype=np.intp) if places is None else np.array(places, dtype=np.intp)
    return Readouts(grid, a, b, which)


def nearest(readings: Readouts, alone: Bridged, far: Floats) -> tuple[Ints, Floats]:
    """Readings by how many volts the hubs must move to bring each over its edge, and these volts, ascending.

    `far` is how far each lies from its edge in the one row of `alone`, in its own unit.
    """
    every = np.arange(len(readings))
    with np.errstate(divide="ignore", invalid="ignore"):
        volts = far / readings.per_hub_volt(alone, np.zeros_like(every), every)
    volts = np.where(np.isnan(volts), np.inf, volts)
    order = np.argsort(volts, kind="stable")
    return order, volts[order]
