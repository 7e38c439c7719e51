"""Which faults the steps under power show: by volts and amperes, by how a lamp burns, by which loads work.

Steps with the same switches on are one setting each, by the outputs that are on besides. A fault far from what an
output works shows there what it shows with every output off; it is solved together with the output only where both
touch the same parts of the harness, or where the volts of a hub could bring a reading over its edge.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from harnessgen.bench.detection.interaction import InteractionSearch
from harnessgen.bench.detection.loads import Loads
from harnessgen.bench.detection.meters import Meters
from harnessgen.bench.faults.changes import Changes
from harnessgen.bench.setup.installed import Fitted
from harnessgen.bench.setup.step import Step
from harnessgen.bench.simulation.powered import PoweredRig
from harnessgen.bench.simulation.powered_arrays import PoweredGrid
from harnessgen.bench.simulation.powered_batch import Batch, Cases
from harnessgen.bench.simulation.settling import Courses
from harnessgen.physics.nodal.elements import Ints


@dataclass(frozen=True)
class PoweredSteps:
    """Steps under power, made while these connectors are apart."""

    fitted: Fitted
    apart: tuple[str, ...]
    steps: Sequence[Step]

    def shown(self, changes: Changes, bits: Mapping[str, int]) -> list[int]:
        """For each change the bits of the steps that show it, of `bits` by the number of the step."""
        grid = PoweredGrid(PoweredRig(self.fitted, self.apart))
        lasting = self.fitted.lasting
        by_switches: dict[frozenset[str], list[Step]] = {}
        for step in self.steps:
            by_switches.setdefault(frozenset(each for each in step.on if each in lasting), []).append(step)
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
    changes: Changes
    bits: Mapping[str, int]
    found: list[int]

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
        meeting = InteractionSearch(self.courses, self.loads, self.meters) if len(self.settings) > 1 else None
        masks, rests = [0] * count, self.courses.at_rest()
        for batch, rows in self.courses.settled(base, rests):
            self._read(batch, rows, base, masks)
            if meeting is not None:
                rests.take(batch, rows, base)
                self.loads.far(batch, rows, base, masks)
                meeting.take(batch, rows, base)
        if meeting is not None:
            change, setting = meeting.pairs()
            for one, which in zip(change.tolist(), setting.tolist(), strict=True):
                masks[one] &= ~self.own_bits[which]
            cases = Cases(setting, change)
            for batch, rows in self.courses.settled(cases, rests):
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
