"""Where a powered harness comes to rest with each fault: the relays that hold, the fuses that it blows.

The fault is there before the supply is on. With the outputs off the harness comes to rest first; then an output goes
on, and relays and fuses go on from where they were: a fuse that is out stays out. A case is a fault under a setting of
switches and outputs. Where a fault of one element leaves the relays as they hold without it, that is where they rest;
with several elements altered a relay could hold itself, so there they begin with none holding. All cases that stand
alike are solved together, each with its own parts alone.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache, cached_property

import numpy as np

from harnessgen.bench.faults.changes import Changes
from harnessgen.bench.setup.test_lamp import SEEN_SHARE, lamp_of
from harnessgen.bench.simulation.fault_effects import AlteredElements, Effects
from harnessgen.bench.simulation.lamp_reading import RESTING_SHARE
from harnessgen.bench.simulation.powered_arrays import PoweredGrid
from harnessgen.bench.simulation.powered_batch import Batch, Cases, Laying, Standing
from harnessgen.bench.simulation.relays_and_fuses import Names, Watch
from harnessgen.physics.electrical.operating_point import Search
from harnessgen.physics.nodal.elements import Flags, Ints, distinct
from harnessgen.physics.partitioned.bridges import BridgedRows
from harnessgen.physics.partitioned.change_lists import change_lists
from harnessgen.physics.partitioned.patches import Lists

_FEWEST = 4000
_MOST = 10_000
"""Most cases that are solved at one time, with many hubs and with few."""
_CELLS = 12_000_000
"""Most volts of hubs that are held at one time: with many hubs so many fewer cases."""


@dataclass
class Course:
    """The way of one case to rest: that of the relays, and the fuses that it blew."""

    relays: Search
    blown: Names

    def goes_on(self, holding: Names, blowing: Names) -> bool:
        """Take what the relays do and, once they rest, which fuses blow; whether that changes anything.

        Relays that do not come to rest begin anew with none holding, and are left as an operating point leaves them.
        """
        if self.relays.goes_on(holding):
            return True
        if self.relays.restless and self.relays.begin:
            self.relays = Search()
            return True
        if blowing:
            self.relays, self.blown = Search(self.relays.holds), self.blown | blowing
        return bool(blowing)


@dataclass
class Rests:
    """Where changes come to rest with the outputs off: relays that hold, fuses that are out.

    Only what differs from the harness without a fault is kept.
    """

    usual: tuple[Names, Names]
    of: dict[int, tuple[Names, Names]] = field(default_factory=dict)

    def numbered(self, changes: int) -> tuple[list[tuple[Names, Names]], Ints]:
        """All that differ, the usual one first, and the number of that of each change (shape: changes and one more).

        The last is that of no change.
        """
        number, found = np.zeros(changes + 1, dtype=np.intp), {self.usual: 0}
        for change, rest in self.of.items():
            number[change] = found.setdefault(rest, len(found))
        return list(found), number

    def take(self, batch: Batch, rows: Ints, cases: Cases) -> None:
        """Note the changes that have come to rest in these rows."""
        groups = distinct(batch.group[rows]).tolist()
        other = [group for group in groups if batch.standings[group][1:] != self.usual]
        rows = rows[np.isin(batch.group[rows], other)]
        for change, group in zip(cases.change[batch.cases[rows]].tolist(), batch.group[rows].tolist(), strict=True):
            self.of[change] = batch.standings[group][1:]


@dataclass(frozen=True)
class Courses:
    """A harness with some connectors apart under settings that have the switches `switches` on, and outputs besides."""

    grid: PoweredGrid
    switches: Names
    settings: Sequence[Names]
    changes: Changes

    @cached_property
    def effects(self) -> Effects:
        """What each change does."""
        return Effects(self.grid, self.switches, self.changes)

    @cached_property
    def base_holds(self) -> Names:
        """Relays that hold with the switches alone."""
        return self.grid.rig.solve(tuple(sorted(self.switches))).pulled_in

    @cached_property
    def _starts(self) -> Mapping[Names, BridgedRows]:
        """The harness without a fault, one row each, with the relays that hold at rest, and on the way to it."""
        found = {self.base_holds: self._without_fault(self.base_holds)}
        holds: Names = frozenset()
        while holds not in found:
            found[holds] = self._without_fault(holds)
            holds = Watch(self.grid, found).reference(holds).holding
        return found

    def _without_fault(self, holds: Names) -> BridgedRows:
        nothing = np.zeros(0, dtype=np.intp)
        base = self.grid.solved(self.switches, holds)
        changed = change_lists(base, Lists(nothing, nothing, nothing, nothing, np.zeros(0), 1))
        none = np.full(1, -1, dtype=np.intp)
        return BridgedRows(changed, np.zeros(1, dtype=np.intp), none, none, np.ones(1))

    @cached_property
    def _lamp_a(self) -> float:
        """Amperes by which what a lamp sees of the hubs counts as volts: twice, for both of its tips."""
        lamp = lamp_of(self.grid.rig.network.design.limits)
        return 2.0 * lamp.ampere(SEEN_SHARE * lamp.volts) / RESTING_SHARE

    @property
    def alone(self) -> BridgedRows:
        """The harness with the switches alone, without a fault: one row."""
        return self._starts[self.base_holds]

    @property
    def _rows(self) -> int:
        return min(_MOST, max(_FEWEST, _CELLS // (self.grid.hub_count + 1)))

    @cached_property
    def watch(self) -> Watch:
        """Coils and fuses."""
        return Watch(self.grid, self._starts)

    @cached_property
    def usual(self) -> Sequence[tuple[Names, Names]]:
        """Relays that hold and fuses that are out in each setting without a fault."""
        nothing: Names = frozenset()
        found = {0: (nothing, nothing)}
        for some in (range(1), range(1, len(self.settings))):
            cases = Cases(np.array(some, dtype=np.intp), np.full(len(some), -1, dtype=np.intp))
            begins = [((setting, *found[0]), np.array([case])) for case, setting in enumerate(some)]
            for batch, rows in self._to_rest(cases, self._effects(cases), begins):
                for row in rows.tolist():
                    found[some[int(batch.cases[row])]] = batch.standings[int(batch.group[row])][1:]
        return [found[setting] for setting in range(len(self.settings))]

    def _effects(self, cases: Cases) -> Ints:
        return self.effects.of(cases.change, cases.setting, self.settings)

    def at_rest(self) -> Rests:
        """Where changes come to rest with the outputs off, none of them known yet to rest otherwise than usual."""
        return Rests(self.usual[0])

    def settled(self, cases: Cases, rests: Rests) -> Iterator[tuple[Batch, Ints]]:
        """Batches with the rows in which a case has come to rest; each case comes once.

        For outputs on, `rests` tells how the changes came to rest before.
        """
        effects = self._effects(cases)
        return self._to_rest(cases, effects, self._beginnings(cases, self.effects.counts[effects] > 1, rests))

    def _beginnings(self, cases: Cases, is_several: Flags, rests: Rests) -> list[tuple[Standing, Ints]]:
        """Where cases begin, those that begin alike together."""
        known, number = rests.numbered(len(self.changes))
        keys = ((cases.setting * len(known)) + number[cases.change]) * 2 + is_several
        found: dict[Standing, list[Ints]] = {}
        order = np.argsort(keys, kind="stable")
        for own in np.split(order, np.nonzero(np.diff(keys[order]))[0] + 1) if len(order) else ():
            first = own[0]
            beginning = self._beginning(
                int(cases.setting[first]), known[number[cases.change[first]]], bool(is_several[first])
            )
            found.setdefault(beginning, []).append(own)
        return [(standing, np.concatenate(own)) for standing, own in found.items()]

    def _beginning(self, setting: int, rest: tuple[Names, Names], is_several: bool) -> Standing:
        holds, blown = rest
        if is_several:
            return (setting, holds, blown) if setting else (setting, frozenset(), frozenset())
        # The relays that the output moves without a fault are taken to move; where that holds, it saves a solution.
        return setting, holds ^ self.usual[0][0] ^ self.usual[setting][0], blown if setting else frozenset()

    def _moving(self, batch: Batch) -> dict[int, tuple[Names, Names]]:
        """Rows in which a relay moves or a fuse blows, with the relays that pull in and the fuses that blow."""
        usual, moves = self.watch.reference(batch.near), self.watch.moves(batch)
        standings = batch.standings
        groups = distinct(batch.group).tolist()
        strange = [group for group in groups if usual.blowing or usual.holding != standings[group][1]]
        rows = np.nonzero(np.isin(batch.group, strange))[0]
        moved = dict.fromkeys(rows.tolist(), (usual.holding, usual.blowing)) | dict(moves)
        return {
            row: (holding, blowing)
            for row, (holding, blowing) in moved.items()
            if blowing or holding != standings[int(batch.group[row])][1]
        }

    def _to_rest(
        self, cases: Cases, effects: Ints, groups: Sequence[tuple[Standing, Ints]]
    ) -> Iterator[tuple[Batch, Ints]]:
        """The cases of groups from where they begin, laid over what is nearest; at rest over what has no fault."""
        rested: list[tuple[Standing, Ints]] = []
        courses: dict[int, Course] = {}
        while groups:
            goes_on: dict[int, Course] = {}
            for batch in self._batches(effects, groups):
                moving = []
                for row, (holding, blowing) in self._moving(batch).items():
                    case, (_, holds, blown) = int(batch.cases[row]), batch.standings[int(batch.group[row])]
                    course = courses.get(case) or Course(Search(holds), blown)
                    if course.goes_on(holding, blowing):
                        goes_on[case] = course
                        moving.append(row)
                done = np.setdiff1d(np.arange(len(batch.cases)), moving)
                if batch.near == self.base_holds:
                    yield batch, done
                else:
                    yield batch, done[:0]
                    own, group = batch.cases[done], batch.group[done]
                    rested += [(batch.standings[each], own[group == each]) for each in distinct(group).tolist()]
            courses, groups = goes_on, _together(cases, goes_on)
        for batch in self._batches(effects, rested, self.base_holds):
            yield batch, np.arange(len(batch.cases))

    def _batches(
        self, effects: Ints, groups: Sequence[tuple[Standing, Ints]], near: Names | None = None
    ) -> Iterator[Batch]:
        """The cases of the groups, in batches over one solved harness: `near`, or that which is nearest to each."""
        over: dict[Names, list[tuple[Standing, Ints]]] = {}
        for standing, cases in groups:
            start = near if near is not None else min(self._starts, key=lambda each: len(each ^ standing[1]))
            over.setdefault(start, []).append((standing, cases))
        for start, own in over.items():
            laying = self._laying(start, [standing for standing, _ in own])
            case = np.concatenate([cases for _, cases in own])
            group = np.repeat(np.arange(len(own)), [len(cases) for _, cases in own])
            is_plain = self.effects.is_plain[effects[case]]
            listed = np.nonzero(~is_plain)[0]
            # What cases alter alike is solved once where they come together.
            listed = listed[np.argsort(effects[case[listed]], kind="stable")]
            for which, solve in ((np.nonzero(is_plain)[0], laying.plain), (listed, laying.listed)):
                for first in range(0, len(which), self._rows):
                    some = which[first : first + self._rows]
                    yield solve(case[some], group[some], effects[case[some]])

    def _laying(self, near: Names, standings: Sequence[Standing]) -> Laying:
        """Groups that stand so, over the harness in which these relays hold."""
        base, grid = self.grid.solved(self.switches, near), self.grid
        switched = cache(lambda setting, holds: self._switched(setting, holds, near))
        out = cache(lambda blown: list(grid.out(sorted(blown)).items()))
        altered = [[*switched(setting, holds), *out(blown)] for setting, holds, blown in standings]
        every = [each for own in altered for each in own]
        conducts = AlteredElements(
            np.array([place for place, _ in every], dtype=np.intp),
            np.array([siemens for _, siemens in every], dtype=np.float64),
            np.cumsum([0, *map(len, altered)]),
        )
        return Laying(grid, self.effects, near, base, self._lamp_a, standings, conducts)

    def _switched(self, setting: int, holds: Names, near: Names) -> list[tuple[int, float]]:
        on = self.settings[setting]
        devices = (*sorted(holds ^ near), *sorted(on - self.switches))
        return list(self.grid.switched(devices, on, holds).items())


def _together(cases: Cases, left: Mapping[int, Course]) -> list[tuple[Standing, Ints]]:
    """The cases that stand alike."""
    found: dict[Standing, list[int]] = {}
    for case, course in left.items():
        found.setdefault((int(cases.setting[case]), course.relays.holds, course.blown), []).append(case)
    return [(standing, np.array(members_of, dtype=np.intp)) for standing, members_of in found.items()]
