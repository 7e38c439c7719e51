"""Cases of a powered harness that are solved together, and which readings each of them can reach."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from harnessgen.bench.simulation.fault_effects import AlteredElements, Effects
from harnessgen.bench.simulation.powered_arrays import PoweredGrid
from harnessgen.bench.simulation.readings import Edges, Readouts
from harnessgen.measures.frozen import frozen
from harnessgen.physics.nodal.elements import Floats, Ints, distinct
from harnessgen.physics.partitioned.bridges import BridgedRows, altered_hubs, hub_shifts
from harnessgen.physics.partitioned.change_lists import change_lists, members
from harnessgen.physics.partitioned.partition import Parted
from harnessgen.physics.partitioned.patches import Lists


@frozen
class Cases:
    """Faults under settings: the number of each one's setting, and of its change, -1 for none (shape: cases)."""

    setting: Ints
    change: Ints

    def __len__(self) -> int:
        """Number of cases."""
        return len(self.setting)


_Changes = tuple[Ints, Ints, Ints, Ints, Floats]
"""As in `Lists`."""
Standing = tuple[int, frozenset[str], frozenset[str]]
"""Number of a setting, the relays that hold, and the fuses that are out."""


@frozen
class Batch:
    """Cases that are solved together: row by row of `bridged` the number of the case and of the group it came in.

    `standings` tell how each group stands, `near` which relays hold where they are laid over. `zones` are pairs (row,
    zone) of what the rows touch, `shifts` (row, hub, volts) how far hubs move against that harness without a fault,
    `gains` (row, hub, times) the hubs next to what they alter, with how many times as far these then move.
    """

    bridged: BridgedRows
    cases: Ints
    group: Ints
    standings: Sequence[Standing]
    near: frozenset[str]
    zones: tuple[Ints, Ints]
    shifts: tuple[Ints, Ints, Floats]
    gains: tuple[Ints, Ints, Floats]


@dataclass(frozen=True)
class Laying:
    """Groups of cases that are laid over one solved harness, in which the relays `near` hold.

    `conducts` has for each group the elements that conduct otherwise as it stands. By the amperes `lamp_a` the
    resistance of the hubs counts as volts.
    """

    grid: PoweredGrid
    effects: Effects
    near: frozenset[str]
    base: Parted
    lamp_a: float
    standings: Sequence[Standing]
    conducts: AlteredElements

    def plain(self, cases: Ints, group: Ints, effects: Ints) -> Batch:
        """Cases with effects of one bridge at most: those of a group share one list of what conducts otherwise."""
        groups = distinct(group)
        of, place, siemens = self.conducts.of(groups)
        lists = self._lists([self._altered(of, place, siemens)], len(groups))
        bridges = self.effects.bridges
        a, b = np.full(len(effects), -1, dtype=np.intp), np.full(len(effects), -1, dtype=np.intp)
        ohm = np.ones(len(effects))
        row, at = bridges.of(effects)
        a[row], b[row], ohm[row] = bridges.a[at], bridges.b[at], bridges.ohm[at]
        return self._batch(cases, group, lists, (np.searchsorted(groups, group), a, b, ohm))

    def listed(self, cases: Ints, group: Ints, effects: Ints) -> Batch:
        """Cases with effects of any kind, a list each."""
        own_of, own, own_s = self.effects.altered.of(effects)
        of, place, siemens = self.conducts.of(group)
        # What a fault does to an element goes before what is switched.
        count = len(self.base.elements.a)
        kept = ~np.isin(of * count + place, own_of * count + own)
        row, at = self.effects.bridges.of(effects)
        bridges = self.effects.bridges
        added = row, np.full(len(row), -1, dtype=np.intp), bridges.a[at], bridges.b[at], 1.0 / bridges.ohm[at]
        altered = [self._altered(of[kept], place[kept], siemens[kept]), self._altered(own_of, own, own_s)]
        lists = self._lists([*altered, added], len(cases))
        none = np.full(len(cases), -1, dtype=np.intp)
        return self._batch(cases, group, lists, (np.arange(len(cases)), none, none, np.ones(len(cases))))

    def _altered(self, of: Ints, places: Ints, siemens: Floats) -> _Changes:
        have = self.base.elements
        return of, places, have.a[places], have.b[places], siemens

    @staticmethod
    def _lists(changes: Sequence[_Changes], count: int) -> Lists:
        of, resistor, a, b, siemens = (np.concatenate(each) for each in zip(*changes, strict=True))
        return Lists(of, resistor, a, b, siemens, count)

    def _batch(self, cases: Ints, group: Ints, lists: Lists, rows: tuple[Ints, Ints, Ints, Floats]) -> Batch:
        bridged = BridgedRows(change_lists(self.base, lists), *rows)
        return Batch(
            bridged,
            cases,
            group,
            self.standings,
            self.near,
            self._zones(bridged, lists),
            hub_shifts(bridged, self.lamp_a),
            altered_hubs(bridged),
        )

    def _zones(self, bridged: BridgedRows, lists: Lists) -> tuple[Ints, Ints]:
        """Pairs (row, zone) of what the rows touch."""
        zones, count = self.grid.zones, max(self.grid.zone_count, 1)
        of, zone = np.tile(lists.of, 2), zones[np.concatenate((lists.a, lists.b))]
        pairs = distinct(of[zone >= 0] * count + zone[zone >= 0])
        starts = np.searchsorted(pairs // count, np.arange(lists.count + 1))
        rows, own = members(bridged.lists, pairs % count, starts)
        found = [rows * count + own]
        for ends in (bridged.a, bridged.b):
            has = np.nonzero(ends >= 0)[0]
            zone = zones[ends[has]]
            found.append(has[zone >= 0] * count + zone[zone >= 0])
        both = distinct(np.concatenate(found))
        return both // count, both % count


def entries(readings: Readouts, batch: Batch, rows: Ints, near: Edges) -> tuple[Ints, Ints]:
    """Entries (row, reading) of these rows: in zones that they touch, or near enough to an edge for what hubs moved."""
    wanted = np.zeros(len(batch.cases), dtype=np.bool_)
    wanted[rows] = True
    kept = wanted[batch.zones[0]]
    at, which = readings.reached(batch.zones[0][kept], batch.zones[1][kept])
    kept = wanted[batch.shifts[0]]
    # Twice what the hubs moved, since a difference of two nodes can follow them twice.
    place, far = near.within(batch.shifts[1][kept], 2.0 * batch.shifts[2][kept])
    keys = np.concatenate((at * len(readings) + which, batch.shifts[0][kept][place] * len(readings) + far))
    keys = distinct(keys)
    return keys // max(len(readings), 1), keys % max(len(readings), 1)


def to_edge_v(far: Floats, per_volt: Floats) -> Floats:
    """Volts of the hubs that bring each entry over its edge, which it is so `far` from."""
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.nan_to_num(far / per_volt, nan=np.inf, posinf=np.inf)
