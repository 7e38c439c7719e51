"""Where a powered harness comes to rest with each fault: the relays that hold, the fuses that it blows.

A case is a fault under a setting of switches and outputs. Faults of one element are laid over the harness as it stands
without them; where one moves a relay or blows a fuse, or alters several elements, the harness begins anew with no relay
holding, and goes on until nothing moves. All cases that stand alike are solved together, each with its own parts alone.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from harnessgen.bench.fault import Change, Gone, Stuck
from harnessgen.bench.lamp import SEEN_SHARE, lamp_of
from harnessgen.bench.lamp_reading import RESTING_SHARE
from harnessgen.bench.powered_grid import Made, PoweredGrid
from harnessgen.bench.powered_rig import BLOWS_AT
from harnessgen.bench.readouts import Readouts, nearest, readouts
from harnessgen.design.device import Relay
from harnessgen.measures.frozen import frozen
from harnessgen.network.electrical import ElementKind
from harnessgen.physics.nodal_elements import Floats, Ints
from harnessgen.physics.operating_point import Search
from harnessgen.physics.parted import Parted
from harnessgen.physics.parted_bridges import Bridged, hub_moves
from harnessgen.physics.parted_lists import Lists, change_lists, members

_LISTS = 4_000
_ROWS = 40_000
"""Most lists of changes and most cases that are solved at one time."""

Names = frozenset[str]


@dataclass
class Course:
    """The way of one case to rest: that of the relays, and the fuses that it blew."""

    relays: Search = field(default_factory=Search)
    blown: Names = frozenset()

    def goes_on(self, holding: Names, blowing: Names) -> bool:
        """Take what the relays do and, once they rest, which fuses blow; whether that changes anything.

        Relays that do not come to rest are left as they are when they begin anew, like those of an operating point.
        """
        if self.relays.goes_on(holding):
            return True
        if blowing:
            self.relays, self.blown = Search(), self.blown | blowing
        return bool(blowing)


@frozen
class Batch:
    """Cases that are solved together: row by row of `bridged` the number of the case.

    `holds` are the relays that hold in it, `zones` pairs (row, zone) of what it touches, `moved_v` is the most that a
    hub moved against the harness without a fault (shape: rows).
    """

    bridged: Bridged
    cases: Ints
    holds: Sequence[Names]
    zones: tuple[Ints, Ints]
    moved_v: Floats


@frozen
class Cases:
    """Faults under settings: the number of each one's setting, and of its change, -1 for none (shape: cases)."""

    setting: Ints
    change: Ints

    def __len__(self) -> int:
        """Number of cases."""
        return len(self.setting)


@dataclass(frozen=True)
class Courses:
    """A harness with some connectors apart under settings that have the switches `switches` on, and outputs besides."""

    grid: PoweredGrid
    switches: Names
    settings: Sequence[Names]
    changes: Sequence[Change]
    _made: dict[tuple[int, int], Made] = field(default_factory=dict)

    @cached_property
    def base_holds(self) -> Names:
        """Relays that hold with the switches alone."""
        return self.grid.rig.solve(tuple(sorted(self.switches))).pulled_in

    @cached_property
    def usual(self) -> Sequence[Names]:
        """Relays that hold in each setting without a fault."""
        count = len(self.settings)
        cases = Cases(np.arange(count), np.full(count, -1, dtype=np.intp))
        found = [self.base_holds] * count
        for batch, done in self._run(cases, {case: Course() for case in range(count)}):
            for row in done.tolist():
                found[int(batch.cases[row])] = batch.holds[row]
        return found

    @cached_property
    def alone(self) -> Bridged:
        """The harness with the switches alone, without a fault: one row."""
        nothing = np.zeros(0, dtype=np.intp)
        base = self.grid.solved(self.switches, self.base_holds)
        changed = change_lists(base, Lists(nothing, nothing, nothing, nothing, np.zeros(0), 1))
        none = np.full(1, -1, dtype=np.intp)
        return Bridged(changed, np.zeros(1, dtype=np.intp), none, none, np.ones(1))

    def made(self, setting: int, change: int) -> Made:
        """What a change alters in a setting."""
        if change < 0:
            return Made({}, ())
        # Only what an output does depends on whether it is on.
        where = setting if self.is_of_output(change) else 0
        if (where, change) not in self._made:
            self._made[where, change] = self.grid.made(self.changes[change], self.settings[where])
        return self._made[where, change]

    def is_of_output(self, change: int) -> bool:
        """Whether a change is of an output itself, and so depends on whether it is on."""
        return isinstance(self.changes[change], Stuck | Gone)

    def device_of(self, change: int) -> str:
        """The device of a change of an output, empty for any other."""
        own = self.changes[change]
        return own.device if isinstance(own, Stuck | Gone) else ""

    def settled(self, cases: Cases) -> Iterator[tuple[Batch, Ints]]:
        """Batches with the rows in which a case has come to rest; each case comes once."""
        yield from self._run(cases, {})

    def _run(self, cases: Cases, left: dict[int, Course]) -> Iterator[tuple[Batch, Ints]]:
        """All cases to rest; those in `left` begin anew, the others as the harness stands without them."""
        pairs = zip(cases.setting.tolist(), cases.change.tolist(), strict=True)
        if not left:
            first: dict[tuple[int, Names, Names], list[int]] = {}
            for case, (setting, change) in enumerate(pairs):
                if self.made(setting, change).count > 1:
                    left[case] = Course()
                else:
                    first.setdefault((setting, self.usual[setting], frozenset()), []).append(case)
            for batch in self._batches(cases, first):
                holding, blowing = self._moves(batch)
                done = []
                for row, case in enumerate(batch.cases.tolist()):
                    setting, change = int(cases.setting[case]), int(cases.change[case])
                    moves = holding[row] != self.usual[setting] or bool(blowing[row])
                    if moves and change >= 0 and self.made(setting, change).count:
                        left[case] = Course()
                    else:
                        done.append(row)
                yield batch, np.array(done, dtype=np.intp)
        while left:
            together: dict[tuple[int, Names, Names], list[int]] = {}
            for case, course in left.items():
                together.setdefault((int(cases.setting[case]), course.relays.holds, course.blown), []).append(case)
            goes_on: dict[int, Course] = {}
            for batch in self._batches(cases, together):
                holding, blowing = self._moves(batch)
                done = []
                for row, case in enumerate(batch.cases.tolist()):
                    if left[case].goes_on(holding[row], blowing[row]):
                        goes_on[case] = left[case]
                    else:
                        done.append(row)
                yield batch, np.array(done, dtype=np.intp)
            left = goes_on

    def _batches(self, cases: Cases, together: Mapping[tuple[int, Names, Names], list[int]]) -> Iterator[Batch]:
        """The cases by how they stand, in batches over the same solved harness."""
        over: dict[Names, _Gathered] = {}
        for (setting, holds, blown), members_of in together.items():
            near = min((frozenset[str](), self.base_holds), key=lambda each: len(each ^ holds))
            if near not in over:
                over[near] = self._gathered(near)
            gathered = over[near]
            standing = self._standing(setting, holds, blown, near)
            for case in members_of:
                if gathered.is_full:
                    yield gathered.batch()
                    over[near] = gathered = self._gathered(near)
                gathered.add(case, standing, holds, self.made(setting, int(cases.change[case])))
        for gathered in over.values():
            yield gathered.batch()

    def _gathered(self, near: Names) -> "_Gathered":
        # What holds otherwise than without a fault is touched by every case that is solved from there.
        moved = [place for name in sorted(near ^ self.base_holds) for place in self.grid.of_device.get(name, ())]
        base = self.grid.solved(self.switches, near)
        ends = np.concatenate((base.elements.a[moved], base.elements.b[moved]))
        return _Gathered(self.grid, base, self.alone, np.unique(self.grid.zones[ends]))

    def _standing(self, setting: int, holds: Names, blown: Names, near: Names) -> Mapping[int, float]:
        on = self.settings[setting]
        devices = (*sorted(holds ^ near), *sorted(on - self.switches))
        return {**self.grid.switched(devices, on, holds), **self.grid.out(sorted(blown))}

    @cached_property
    def watch(self) -> "Watch":
        """Coils and fuses."""
        return Watch(self.grid, self.alone)

    def _moves(self, batch: Batch) -> tuple[list[Names], list[Names]]:
        """Relays that pull in, and fuses that blow, row by row."""
        return self.watch.moves(batch)


class _Gathered:
    """Cases over one solved harness, until they are solved together."""

    def __init__(self, grid: PoweredGrid, base: Parted, usual: Bridged, touched: Ints) -> None:
        self.grid, self.base, self.usual, self.touched = grid, base, usual, touched[touched >= 0]
        self.holds: list[Names] = []
        self.cases: list[int] = []
        self.list_of: list[int] = []
        self.bridges: list[tuple[int, int, float]] = []
        self.shared: dict[int, int] = {}
        self.kept: list[Mapping[int, float]] = []
        self.changes: list[tuple[int, int, int, int, float]] = []
        self.count = 1

    @property
    def is_full(self) -> bool:
        """Whether it is time to solve."""
        return self.count >= _LISTS or len(self.cases) >= _ROWS

    def add(self, case: int, standing: Mapping[int, float], holds: Names, made: Made) -> None:
        """Take a case."""
        self.cases.append(case)
        self.holds.append(holds)
        if not made.siemens and len(made.bridges) <= 1:
            self.list_of.append(self._list_of(standing))
            self.bridges.extend((each.a, each.b, each.ohm) for each in made.bridges)
            if not made.bridges:
                self.bridges.append((-1, -1, 1.0))
        else:
            self.list_of.append(self._listed({**standing, **made.siemens}, made))
            self.bridges.append((-1, -1, 1.0))

    def _list_of(self, standing: Mapping[int, float]) -> int:
        if not standing:
            return 0
        if id(standing) not in self.shared:
            self.kept.append(standing)
            self.shared[id(standing)] = self._listed(standing, Made({}, ()))
        return self.shared[id(standing)]

    def _listed(self, siemens: Mapping[int, float], made: Made) -> int:
        number, have = self.count, self.base.elements
        self.count += 1
        ends = have.a.item, have.b.item
        self.changes.extend((number, place, ends[0](place), ends[1](place), own) for place, own in siemens.items())
        self.changes.extend((number, -1, each.a, each.b, 1.0 / each.ohm) for each in made.bridges)
        return number

    def batch(self) -> Batch:
        """All of them, solved."""
        rows = np.array([each[:4] for each in self.changes], dtype=np.intp).reshape(-1, 4)
        siemens = np.array([each[4] for each in self.changes], dtype=np.float64)
        lists = Lists(rows[:, 0], rows[:, 1], rows[:, 2], rows[:, 3], siemens, self.count)
        changed = change_lists(self.base, lists)
        ends = np.array([each[:2] for each in self.bridges], dtype=np.intp).reshape(-1, 2)
        ohm = np.array([each[2] for each in self.bridges], dtype=np.float64)
        bridged = Bridged(changed, np.array(self.list_of, dtype=np.intp), ends[:, 0], ends[:, 1], ohm)
        zones = self._zones(bridged, lists)
        moved_v = hub_moves(bridged, self.usual, self._lamp_a)
        return Batch(bridged, np.array(self.cases, dtype=np.intp), self.holds, zones, moved_v)

    @property
    def _lamp_a(self) -> float:
        """Amperes by which what a lamp sees of the hubs counts as volts: twice, for both of its tips."""
        lamp = lamp_of(self.grid.rig.network.design.limits)
        return 2.0 * lamp.ampere(SEEN_SHARE * lamp.volts) / RESTING_SHARE

    def _zones(self, bridged: Bridged, lists: Lists) -> tuple[Ints, Ints]:
        """Pairs (row, zone) of what the rows touch."""
        zones, count = self.grid.zones, max(self.grid.zone_count, 1)
        of, zone = np.tile(lists.of, 2), zones[np.concatenate((lists.a, lists.b))]
        pairs = np.unique(of[zone >= 0] * count + zone[zone >= 0])
        starts = np.searchsorted(pairs // count, np.arange(self.count + 1))
        rows, own = members(bridged.lists, pairs % count, starts)
        every = np.arange(len(bridged.lists))
        found = [rows * count + own, (every[:, None] * count + self.touched).ravel()]
        for ends in (bridged.a, bridged.b):
            has = np.nonzero(ends >= 0)[0]
            zone = zones[ends[has]]
            found.append(has[zone >= 0] * count + zone[zone >= 0])
        both = np.unique(np.concatenate(found))
        return both // count, both % count


class Watch:
    """The coils and fuses of a harness: what pulls in, and what blows; `alone` is the harness without a fault."""

    def __init__(self, grid: PoweredGrid, alone: Bridged) -> None:
        network = grid.rig.network
        coils = [
            (each.device.name, each.a, each.b, network.parts.relays[each.device.part].pull_in_v.value)
            for each in network.electrical.elements
            if each.kind is ElementKind.COIL and isinstance(each.device, Relay)
        ]
        fuses = [
            (name, grid.elements[grid.place_of[name]], BLOWS_AT * fuse.rating_a.value)
            for name, fuse in network.design.fuses.items()
            if name in grid.place_of
        ]
        self.names = [*(name for name, *_ in coils), *(name for name, *_ in fuses)]
        self.is_coil = np.arange(len(self.names)) < len(coils)
        self.edge = np.array([*(edge for *_, edge in coils), *(edge for *_, edge in fuses)], dtype=np.float64)
        pairs = [*((a, b) for _, a, b, _ in coils), *((each.a, each.b) for _, each, _ in fuses)]
        self.readouts = readouts(grid, pairs, [*(-1 for _ in coils), *(grid.place_of[name] for name, *_ in fuses)])
        values = np.abs(self.readouts.all_values(alone))
        self.over = values >= self.edge
        self.order, self.near_v = nearest(self.readouts, alone, np.abs(values - self.edge))

    def slack_v(self, batch: Batch, rows: Ints, slack_v: Floats) -> None:
        """Lower `slack_v` (shape: rows of the batch) to how far the hubs may move before one of these changes."""
        at, which = entries(self.readouts, batch, rows, self.order, self.near_v)
        far = np.abs(np.abs(self.readouts.values(batch.bridged, at, which)) - self.edge[which])
        lower(slack_v, at, far, self.readouts.per_hub_volt(batch.bridged, at, which))

    def moves(self, batch: Batch) -> tuple[list[Names], list[Names]]:
        """Relays that pull in, and fuses that blow, row by row."""
        count = len(batch.cases)
        rows, which = entries(self.readouts, batch, np.arange(count), self.order, self.near_v)
        now = np.abs(self.readouts.values(batch.bridged, rows, which)) >= self.edge[which]
        usual = [
            frozenset(self.names[each] for each in np.nonzero(self.over & kind)[0].tolist())
            for kind in (self.is_coil, ~self.is_coil)
        ]
        holding, blowing = [usual[0]] * count, [usual[1]] * count
        other = np.nonzero(now != self.over[which])[0]
        changed = np.unique(rows[other] * len(self.names) + which[other])
        for row, at in zip((changed // len(self.names)).tolist(), (changed % len(self.names)).tolist(), strict=True):
            of = holding if self.is_coil[at] else blowing
            of[row] = of[row] ^ {self.names[at]}
        return holding, blowing


def lower(slack_v: Floats, rows: Ints, far: Floats, per_volt: Floats) -> None:
    """Lower the slack of each row to the least volts of the hubs that bring one of its readings over its edge."""
    with np.errstate(divide="ignore", invalid="ignore"):
        volts = np.nan_to_num(far / per_volt, nan=np.inf, posinf=np.inf)
    np.minimum.at(slack_v, rows, volts)


def entries(readings: Readouts, batch: Batch, rows: Ints, order: Ints, volts: Floats) -> tuple[Ints, Ints]:
    """Entries (row, reading) of these rows: in zones that they touch, or of `order` within what their hubs moved.

    `volts` (ascending) is how far the hubs must move to bring each reading of `order` over its edge.
    """
    wanted = np.zeros(len(batch.cases), dtype=np.bool_)
    wanted[rows] = True
    kept = wanted[batch.zones[0]]
    near = readings.reached(batch.zones[0][kept], batch.zones[1][kept])
    # Twice what the hubs moved, since a difference of two nodes can follow them twice.
    within = np.searchsorted(volts, 2.0 * batch.moved_v[rows], side="right")
    far_rows = np.repeat(rows, within)
    step = np.arange(len(far_rows)) - np.repeat(np.cumsum(within) - within, within)
    return np.concatenate((near[0], far_rows)), np.concatenate((near[1], order[step]))
