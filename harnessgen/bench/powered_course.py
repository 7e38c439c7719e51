"""Where a powered harness comes to rest with each fault: the relays that hold, the fuses that it blows.

A case is a fault under a setting of switches and outputs. Faults of one element are laid over the harness as it stands
without them; where one moves a relay or blows a fuse, or alters several elements, the harness begins anew with no relay
holding, and goes on until nothing moves. All cases that stand alike are solved together, each with its own parts alone.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from harnessgen.bench.fault import Change
from harnessgen.bench.lamp import SEEN_SHARE, lamp_of
from harnessgen.bench.lamp_reading import RESTING_SHARE
from harnessgen.bench.powered_batch import Batch, Cases, Gathering
from harnessgen.bench.powered_deeds import Deeds
from harnessgen.bench.powered_grid import PoweredGrid
from harnessgen.bench.powered_watch import Names, Watch
from harnessgen.physics.nodal_elements import Flags, Ints
from harnessgen.physics.operating_point import Search
from harnessgen.physics.parted_bridges import Bridged
from harnessgen.physics.parted_lists import Lists, change_lists

_LISTS = 4_000
_ROWS = 40_000
"""Most lists of changes and most cases that are solved at one time."""
_CELLS = 12_000_000
"""Most volts of hubs that are held at one time: with many hubs so many fewer cases."""

_Standing = tuple[int, Names, Names]
"""Number of a setting, the relays that hold, and the fuses that are out."""


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


@dataclass(frozen=True)
class Courses:
    """A harness with some connectors apart under settings that have the switches `switches` on, and outputs besides."""

    grid: PoweredGrid
    switches: Names
    settings: Sequence[Names]
    changes: Sequence[Change]

    @cached_property
    def deeds(self) -> Deeds:
        """What each change does."""
        return Deeds(self.grid, self.switches, self.changes)

    @cached_property
    def base_holds(self) -> Names:
        """Relays that hold with the switches alone."""
        return self.grid.rig.solve(tuple(sorted(self.switches))).pulled_in

    @cached_property
    def _starts(self) -> Mapping[Names, Bridged]:
        """The harness without a fault, one row each, with the relays that hold at rest, and on the way to it."""
        found = {self.base_holds: self._without_fault(self.base_holds)}
        holds: Names = frozenset()
        while holds not in found:
            found[holds] = self._without_fault(holds)
            holds = Watch(self.grid, found).reference(holds).holding
        return found

    def _without_fault(self, holds: Names) -> Bridged:
        nothing = np.zeros(0, dtype=np.intp)
        base = self.grid.solved(self.switches, holds)
        changed = change_lists(base, Lists(nothing, nothing, nothing, nothing, np.zeros(0), 1))
        none = np.full(1, -1, dtype=np.intp)
        return Bridged(changed, np.zeros(1, dtype=np.intp), none, none, np.ones(1))

    @cached_property
    def _lamp_a(self) -> float:
        """Amperes by which what a lamp sees of the hubs counts as volts: twice, for both of its tips."""
        lamp = lamp_of(self.grid.rig.network.design.limits)
        return 2.0 * lamp.ampere(SEEN_SHARE * lamp.volts) / RESTING_SHARE

    @property
    def alone(self) -> Bridged:
        """The harness with the switches alone, without a fault: one row."""
        return self._starts[self.base_holds]

    @property
    def _rows(self) -> int:
        return min(_ROWS, max(_LISTS, _CELLS // (self.grid.hub_count + 1)))

    @cached_property
    def watch(self) -> Watch:
        """Coils and fuses."""
        return Watch(self.grid, self._starts)

    @cached_property
    def usual(self) -> Sequence[Names]:
        """Relays that hold in each setting without a fault."""
        count = len(self.settings)
        cases = Cases(np.arange(count), np.full(count, -1, dtype=np.intp))
        courses = {case: Course() for case in range(count)}
        for _ in self._to_rest(cases, self._deeds(cases), dict(courses)):
            pass
        return [courses[case].relays.holds for case in range(count)]

    def _deeds(self, cases: Cases) -> Ints:
        return self.deeds.of(cases.change, cases.setting, self.settings)

    def settled(self, cases: Cases) -> Iterator[tuple[Batch, Ints]]:
        """Batches with the rows in which a case has come to rest; each case comes once."""
        deeds = self._deeds(cases)
        counts = self.deeds.counts[deeds]
        left = {case: Course() for case in np.nonzero(counts > 1)[0].tolist()}
        groups = []
        for setting in np.unique(cases.setting).tolist():
            own = np.nonzero((cases.setting == setting) & (counts <= 1))[0]
            groups.append(((setting, self.usual[setting], frozenset[str]()), own))
        for batch in self._batches(deeds, groups):
            moving = {row: course for row, course in self._moving(batch).items() if counts[batch.cases[row]]}
            left.update((int(batch.cases[row]), course) for row, course in moving.items())
            yield batch, np.setdiff1d(np.arange(len(batch.cases)), list(moving))
        yield from self._to_rest(cases, deeds, left)

    def _moving(self, batch: Batch) -> dict[int, Course]:
        """Rows in which a relay moves or a fuse blows, each with the course that it takes from there.

        Where no relay moves, the fuses are out that blow as it stands.
        """
        usual, moves = self.watch.reference(batch.near), self.watch.moves(batch)
        holds = batch.holds
        strange = [group for group, each in holds.items() if usual.blowing or usual.holding != each]
        rows = np.nonzero(np.isin(batch.group, strange))[0]
        moved = dict.fromkeys(rows.tolist(), (usual.holding, usual.blowing)) | dict(moves)
        return {
            row: Course(blown=blowing) if holding == holds[int(batch.group[row])] else Course()
            for row, (holding, blowing) in moved.items()
            if blowing or holding != holds[int(batch.group[row])]
        }

    def _to_rest(self, cases: Cases, deeds: Ints, left: dict[int, Course]) -> Iterator[tuple[Batch, Ints]]:
        """Cases that begin anew, each time laid over what is nearest; at rest over the harness without a fault."""
        rested: dict[int, Course] = {}
        while left:
            groups = _together(cases, left)
            goes_on: dict[int, Course] = {}
            for batch in self._batches(deeds, groups):
                usual, moves = self.watch.reference(batch.near), self.watch.moves(batch)
                done = []
                for row, case in enumerate(batch.cases.tolist()):
                    holding, blowing = moves.get(row, (usual.holding, usual.blowing))
                    if left[case].goes_on(holding, blowing):
                        goes_on[case] = left[case]
                    elif batch.near == self.base_holds:
                        done.append(row)
                    else:
                        rested[case] = left[case]
                yield batch, np.array(done, dtype=np.intp)
            left = goes_on
        for batch in self._batches(deeds, _together(cases, rested), self.base_holds):
            yield batch, np.arange(len(batch.cases))

    def _batches(
        self, deeds: Ints, groups: Iterable[tuple[_Standing, Ints]], near: Names | None = None
    ) -> Iterator[Batch]:
        """The cases of the groups, in batches over one solved harness: `near`, or that which is nearest to each."""
        over: dict[Names, Gathering] = {}
        for group, ((setting, holds, blown), members_of) in enumerate(groups):
            start = near if near is not None else min(self._starts, key=lambda each: len(each ^ holds))
            standing = self._standing(setting, holds, blown, start)
            for some in _pieces(members_of, self.deeds.is_plain[deeds[members_of]], self._rows):
                if start not in over:
                    over[start] = Gathering(
                        self.grid, self.deeds, start, self.grid.solved(self.switches, start), self._lamp_a
                    )
                over[start].add(some, deeds[some], (group, holds), standing)
                if over[start].lists >= _LISTS or over[start].rows >= self._rows:
                    yield over.pop(start).batch()
        for gathering in over.values():
            yield gathering.batch()

    def _standing(self, setting: int, holds: Names, blown: Names, near: Names) -> dict[int, float]:
        on = self.settings[setting]
        devices = (*sorted(holds ^ near), *sorted(on - self.switches))
        return {**self.grid.switched(devices, on, holds), **self.grid.out(sorted(blown))}


def _together(cases: Cases, left: Mapping[int, Course]) -> list[tuple[_Standing, Ints]]:
    """The cases that stand alike."""
    found: dict[_Standing, list[int]] = {}
    for case, course in left.items():
        found.setdefault((int(cases.setting[case]), course.relays.holds, course.blown), []).append(case)
    return [(standing, np.array(members_of, dtype=np.intp)) for standing, members_of in found.items()]


def _pieces(cases: Ints, plain: Flags, rows: int) -> Iterator[Ints]:
    """The cases in pieces that can be solved at one time: those that need no list of their own first."""
    for own, most in ((cases[plain], rows), (cases[~plain], _LISTS)):
        for first in range(0, len(own), most):
            yield own[first : first + most]
