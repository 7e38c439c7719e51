"""Which faults the steps under power show: by volts and amperes, by how a lamp burns, by which loads work.

Steps with the same switches on are one setting each, by the outputs that are on besides. A fault far from what an
output works shows there what it shows with every output off; it is solved together with the output only where both
touch the same parts of the harness, or where the volts of a hub could bring a reading over its edge.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from harnessgen.bench.fault import Change
from harnessgen.bench.fitted import Fitted
from harnessgen.bench.output import WORKS_SHARE
from harnessgen.bench.powered_course import Batch, Cases, Courses
from harnessgen.bench.powered_grid import PoweredGrid
from harnessgen.bench.powered_loads import STILL_SHARE, Loads
from harnessgen.bench.powered_meters import Meters
from harnessgen.bench.powered_rig import PoweredRig
from harnessgen.bench.step import Step
from harnessgen.physics.nodal_elements import Flags, Floats, Ints
from harnessgen.physics.parted_lists import members

_CELLS = 20_000_000
"""Pairs of faults and settings that are weighed at one time."""


@dataclass(frozen=True)
class PoweredSteps:
    """Steps under power, made while these connectors are apart."""

    fitted: Fitted
    apart: tuple[str, ...]
    steps: Sequence[Step]

    def shown(self, changes: Sequence[Change], bits: Mapping[str, int]) -> list[int]:
        """For each change the bits of the steps that show it, of `bits` by the number of the step."""
        grid = PoweredGrid(PoweredRig(self.fitted, self.apart))
        switches = self.fitted.network.design.switches
        by_switches: dict[frozenset[str], list[Step]] = {}
        for step in self.steps:
            by_switches.setdefault(frozenset(each for each in step.on if each in switches), []).append(step)
        found = [0] * len(changes)
        for on, steps in by_switches.items():
            _Settings(grid, on, steps, changes, bits, found).show()
        return found


@dataclass(frozen=True)
class _Settings:
    """Steps that have these switches on; what shows each change is added to `found`."""

    grid: PoweredGrid
    switches: frozenset[str]
    steps: Sequence[Step]
    changes: Sequence[Change]
    bits: Mapping[str, int]
    found: list[int]
    near: dict[int, set[int]] = field(default_factory=dict)

    @cached_property
    def settings(self) -> list[frozenset[str]]:
        """What is on in each setting: first the switches alone."""
        return list(dict.fromkeys((self.switches, *(frozenset(step.on) for step in self.steps))))

    @cached_property
    def steps_of(self) -> list[list[Step]]:
        """Steps of each setting."""
        found: list[list[Step]] = [[] for _ in self.settings]
        number = {on: place for place, on in enumerate(self.settings)}
        for step in self.steps:
            found[number[frozenset(step.on)]].append(step)
        return found

    @cached_property
    def courses(self) -> Courses:
        return Courses(self.grid, self.switches, self.settings, self.changes)

    @cached_property
    def loads(self) -> Loads:
        return Loads(self.courses, self.steps_of, self.bits)

    @cached_property
    def meters(self) -> Meters:
        return Meters(self.courses, self.steps_of, self.bits)

    def show(self) -> None:
        """Every fault with the outputs off, and with each output that it could meet."""
        count = len(self.changes)
        base = Cases(np.zeros(count, dtype=np.intp), np.arange(count))
        meeting = _Meeting(self.courses, self.loads, self.meters) if len(self.settings) > 1 else None
        masks = [0] * count
        for batch, rows in self.courses.settled(base):
            self._read(batch, rows, base, masks)
            if meeting is not None:
                self.loads.far(batch, rows, base, masks)
                meeting.take(batch, rows)
        if meeting is not None:
            change, setting = meeting.pairs()
            for one, which in zip(change.tolist(), setting.tolist(), strict=True):
                masks[one] &= ~self.own_bits[which]
            cases = Cases(setting, change)
            for batch, rows in self.courses.settled(cases):
                self._read(batch, rows, cases, masks)
        for place, mask in enumerate(masks):
            self.found[place] |= mask

    @cached_property
    def own_bits(self) -> list[int]:
        """Bits of the steps of each setting."""
        return [sum(self.bits[step.number] for step in steps) for steps in self.steps_of]

    def _read(self, batch: Batch, rows: Ints, cases: Cases, masks: list[int]) -> None:
        self.loads.read(batch, rows, cases, masks)
        self.meters.read(batch, rows, cases, masks)


class _Meeting:
    """Which faults have to be solved together with which outputs.

    Both touch the same zone; or what one does to the volts of the hubs could bring what the other reaches over an edge.
    """

    def __init__(self, courses: Courses, loads: Loads, meters: Meters) -> None:
        self.courses, self.loads, self.meters = courses, loads, meters
        count = len(courses.changes)
        self.touched: list[tuple[Ints, Ints]] = []
        self.slack_v, self.moved_v = np.full(count, np.inf), np.zeros(count)
        self.is_idle = np.zeros(count, dtype=np.bool_)

    def take(self, batch: Batch, rows: Ints) -> None:
        """Note what each change touches with the outputs off, and how near it leaves anything to its edge."""
        changes = batch.cases[rows]
        self.touched.append(self._zones(batch, rows, batch.cases))
        self.slack_v[changes] = self._slack(batch, rows, [WORKS_SHARE], None)
        self.moved_v[changes] = batch.moved_v[rows]

    def _slack(self, batch: Batch, rows: Ints, shares: Sequence[float], cases: Cases | None) -> Floats:
        slack_v = np.full(len(batch.cases), np.inf)
        self.courses.watch.slack_v(batch, rows, slack_v)
        self.loads.slack_v(batch, rows, shares, slack_v)
        if cases is not None:
            self.meters.slack_v(batch, rows, cases, slack_v)
        found: Floats = slack_v[rows]
        return found

    def _zones(self, batch: Batch, rows: Ints, of_row: Ints) -> tuple[Ints, Ints]:
        """Pairs (case, zone) of these rows, with the zones of relays that hold otherwise than without a fault."""
        wanted = np.zeros(len(batch.cases), dtype=np.bool_)
        wanted[rows] = True
        kept = wanted[batch.zones[0]]
        return of_row[batch.zones[0][kept]], batch.zones[1][kept]

    def pairs(self) -> tuple[Ints, Ints]:
        """Changes with the settings that they meet."""
        settings = len(self.courses.settings)
        cases = Cases(np.arange(1, settings), np.full(settings - 1, -1, dtype=np.intp))
        slack_v, moved_v = np.full(settings, np.inf), np.zeros(settings)
        zones: list[tuple[Ints, Ints]] = []
        for batch, rows in self.courses.settled(cases):
            own = cases.setting[batch.cases]
            slack_v[own[rows]] = self._slack(batch, rows, [STILL_SHARE, WORKS_SHARE], cases)
            moved_v[own[rows]] = batch.moved_v[rows]
            zones.append(self._zones(batch, rows, own))
        zones += [self.loads.zones(), self.meters.zones(), self._coil_zones()]
        count = len(self.courses.changes)
        met = np.unique(np.concatenate((self._sharing(zones), *self._through_hubs(slack_v, moved_v))))
        change, setting = met % count, met // count
        kept = np.array(
            [self.courses.made(0, each).count > 0 or self.courses.is_of_output(each) for each in change.tolist()],
            dtype=np.bool_,
        )
        return change[kept], setting[kept]

    def _coil_zones(self) -> tuple[Ints, Ints]:
        """Zones of the relays that a setting moves."""
        grid, pairs = self.courses.grid, []
        for setting, holds in enumerate(self.courses.usual):
            places = [each for name in holds ^ self.courses.base_holds for each in grid.of_device.get(name, ())]
            ends = {node for each in places for node in (grid.elements[each].a, grid.elements[each].b)}
            pairs += [(setting, int(grid.zones[grid.index[node]])) for node in ends]
        found = np.array(pairs, dtype=np.intp).reshape(-1, 2)
        return found[:, 0], found[:, 1]

    def _sharing(self, zones: Sequence[tuple[Ints, Ints]]) -> Ints:
        """Pairs of a change and a setting that touch one zone, as setting times changes plus change."""
        count = len(self.courses.changes)
        setting, zone = (np.concatenate([each[side] for each in zones]) for side in (0, 1))
        setting, zone = setting[(zone >= 0) & (setting > 0)], zone[(zone >= 0) & (setting > 0)]
        own_zones = self._output_zones()
        change, own = (np.concatenate([each[side] for each in (*self.touched, own_zones)]) for side in (0, 1))
        order = np.argsort(own, kind="stable")
        starts = np.searchsorted(own[order], np.arange(self.courses.grid.zone_count + 1))
        row, found = members(zone, change[order], starts)
        return np.unique(setting[row] * count + found)

    def _output_zones(self) -> tuple[Ints, Ints]:
        """Changes of outputs with the zones of these outputs: off, an output that does not conduct alters nothing."""
        grid, pairs = self.courses.grid, []
        for change in filter(self.courses.is_of_output, range(len(self.courses.changes))):
            for place in grid.of_device.get(self.courses.device_of(change), ()):
                ends = (grid.elements[place].a, grid.elements[place].b)
                pairs += [(change, zone) for end in ends if (zone := int(grid.zones[grid.index[end]])) >= 0]
        found = np.array(pairs, dtype=np.intp).reshape(-1, 2)
        return found[:, 0], found[:, 1]

    def _through_hubs(self, slack_v: Floats, moved_v: Floats) -> Iterator[Ints]:
        """Pairs in which twice what the hubs move could bring something over its edge."""
        count = len(self.courses.changes)
        least = min(self.courses.watch.near_v[:1].tolist() + self.loads.near_v[:1].tolist(), default=np.inf)
        most = float(moved_v[1:].max(initial=0.0))
        hardest = np.min(slack_v[1:], initial=np.inf)
        is_near = (2.0 * most >= self.slack_v) | (2.0 * self.moved_v >= hardest)
        is_near |= 2.0 * (most + self.moved_v) >= least
        candidates = np.nonzero(is_near)[0]
        for setting in range(1, len(moved_v)):
            met: Flags = 2.0 * moved_v[setting] >= self.slack_v[candidates]
            met |= 2.0 * self.moved_v[candidates] >= slack_v[setting]
            met |= 2.0 * (moved_v[setting] + self.moved_v[candidates]) >= least
            yield setting * count + candidates[met]
