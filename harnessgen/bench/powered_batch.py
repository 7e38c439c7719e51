"""Cases of a powered harness that are solved together, and which readings each of them can reach."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from harnessgen.bench.powered_deeds import Deeds
from harnessgen.bench.powered_grid import PoweredGrid
from harnessgen.bench.readouts import Edges, Readouts
from harnessgen.measures.frozen import frozen
from harnessgen.physics.nodal_elements import Floats, Ints, distinct
from harnessgen.physics.parted import Parted
from harnessgen.physics.parted_bridges import Bridged, altered_hubs, hub_shifts
from harnessgen.physics.parted_lists import Lists, change_lists, members


@frozen
class Cases:
    """Faults under settings: the number of each one's setting, and of its change, -1 for none (shape: cases)."""

    setting: Ints
    change: Ints

    def __len__(self) -> int:
        """Number of cases."""
        return len(self.setting)


@frozen
class Batch:
    """Cases that are solved together: row by row of `bridged` the number of the case and of the group it came in.

    `holds` are the relays that hold in each group, `near` those in the harness over which they are laid. `zones` are
    pairs (row, zone) of what the rows touch, `shifts` (row, hub, volts) how far hubs move against that harness without
    a fault, `gains` (row, hub, times) the hubs next to what they alter, with how many times as far these then move.
    """

    bridged: Bridged
    cases: Ints
    group: Ints
    holds: Mapping[int, frozenset[str]]
    near: frozenset[str]
    zones: tuple[Ints, Ints]
    shifts: tuple[Ints, Ints, Floats]
    gains: tuple[Ints, Ints, Floats]


@dataclass
class Gathering:
    """Cases over one solved harness, until they are solved together."""

    grid: PoweredGrid
    deeds: Deeds
    near: frozenset[str]
    base: Parted
    lamp_a: float
    """Amperes by which the resistance of the hubs counts as volts."""
    lists: int = 1
    """Number of lists; the first changes nothing."""
    rows: int = 0
    _holds: dict[int, frozenset[str]] = field(default_factory=dict)
    _cases: list[Ints] = field(default_factory=list)
    _groups: list[Ints] = field(default_factory=list)
    _list_of: list[Ints] = field(default_factory=list)
    _bridges: list[tuple[Ints, Ints, Floats]] = field(default_factory=list)
    _changes: list[tuple[Ints, Ints, Ints, Ints, Floats]] = field(default_factory=list)

    def add(self, cases: Ints, deeds: Ints, group: tuple[int, frozenset[str]], standing: Mapping[int, float]) -> None:
        """Take cases with their deeds, all in a harness in which these elements conduct otherwise.

        `group` is the number of their group, with the relays that hold in it.
        """
        self._holds[group[0]] = group[1]
        plain = self.deeds.is_plain[deeds]
        places = np.array(list(standing), dtype=np.intp)
        siemens = np.array(list(standing.values()), dtype=np.float64)
        for which in (np.nonzero(plain)[0], np.nonzero(~plain)[0]):
            if not len(which):
                continue
            self._cases.append(cases[which])
            self._groups.append(np.full(len(which), group[0], dtype=np.intp))
            self.rows += len(which)
            if plain[which[0]]:
                self._add_plain(deeds[which], places, siemens)
            else:
                self._add_listed(deeds[which], places, siemens)

    def _add_plain(self, deeds: Ints, places: Ints, siemens: Floats) -> None:
        """Deeds of one bridge at most: all over one list of what conducts otherwise."""
        number = 0
        if len(places):
            number, self.lists = self.lists, self.lists + 1
            self._change(np.full(len(places), number, dtype=np.intp), places, siemens)
        self._list_of.append(np.full(len(deeds), number, dtype=np.intp))
        bridges = self.deeds.bridges
        a, b = np.full(len(deeds), -1, dtype=np.intp), np.full(len(deeds), -1, dtype=np.intp)
        ohm = np.ones(len(deeds))
        row, at = bridges.of(deeds)
        a[row], b[row], ohm[row] = bridges.a[at], bridges.b[at], bridges.ohm[at]
        self._bridges.append((a, b, ohm))

    def _add_listed(self, deeds: Ints, places: Ints, siemens: Floats) -> None:
        """Deeds with a list each."""
        numbers = self.lists + np.arange(len(deeds))
        self.lists += len(deeds)
        self._list_of.append(numbers)
        none = np.full(len(deeds), -1, dtype=np.intp)
        self._bridges.append((none, none, np.ones(len(deeds))))
        row, own, own_s = self.deeds.altered.of(deeds)
        # What a fault does to an element goes before what is switched.
        of, place = np.repeat(numbers, len(places)), np.tile(places, len(deeds))
        count = len(self.base.elements.a)
        kept = ~np.isin(of * count + place, numbers[row] * count + own)
        self._change(of[kept], place[kept], np.tile(siemens, len(deeds))[kept])
        self._change(numbers[row], own, own_s)
        row, at = self.deeds.bridges.of(deeds)
        bridges = self.deeds.bridges
        added = np.full(len(row), -1, dtype=np.intp)
        self._changes.append((numbers[row], added, bridges.a[at], bridges.b[at], 1.0 / bridges.ohm[at]))

    def _change(self, of: Ints, places: Ints, siemens: Floats) -> None:
        have = self.base.elements
        self._changes.append((of, places, have.a[places], have.b[places], siemens))

    def batch(self) -> Batch:
        """All of them, solved."""
        none = np.zeros(0, dtype=np.intp)
        changes = [*self._changes, (none, none, none, none, np.zeros(0))]
        of, resistor, a, b, siemens = (np.concatenate([each[column] for each in changes]) for column in range(5))
        lists = Lists(of, resistor, a, b, siemens, self.lists)
        changed = change_lists(self.base, lists)
        ends = [np.concatenate([each[column] for each in self._bridges]) for column in range(3)]
        bridged = Bridged(changed, np.concatenate(self._list_of), *ends)
        cases, groups = np.concatenate(self._cases), np.concatenate(self._groups)
        return Batch(
            bridged,
            cases,
            groups,
            self._holds,
            self.near,
            self._zones(bridged, lists),
            hub_shifts(bridged, self.lamp_a),
            altered_hubs(bridged),
        )

    def _zones(self, bridged: Bridged, lists: Lists) -> tuple[Ints, Ints]:
        """Pairs (row, zone) of what the rows touch."""
        zones, count = self.grid.zones, max(self.grid.zone_count, 1)
        of, zone = np.tile(lists.of, 2), zones[np.concatenate((lists.a, lists.b))]
        pairs = distinct(of[zone >= 0] * count + zone[zone >= 0])
        starts = np.searchsorted(pairs // count, np.arange(self.lists + 1))
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
