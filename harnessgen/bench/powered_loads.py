"""Which loads are seen to work with each fault where they should rest, or to rest where they should work."""

from collections.abc import Mapping, Sequence
from functools import cached_property

import numpy as np

from harnessgen.bench.output import WORKS_SHARE
from harnessgen.bench.powered_course import Batch, Cases, Courses, entries, lower
from harnessgen.bench.readouts import nearest, readouts
from harnessgen.bench.step import Step
from harnessgen.physics.nodal_elements import Floats, Ints

STILL_SHARE = 0.1
"""Below this share of the supply's volts a load is seen not to work (common practice, no source)."""


class Loads:
    """The loads of a harness, and the steps of each setting that look at them."""

    def __init__(self, courses: Courses, steps_of: Sequence[Sequence[Step]], bits: Mapping[str, int]) -> None:
        fitted = courses.grid.rig.fitted
        pairs = [(name, each) for name, elements in fitted.load_elements.items() for each in elements]
        self.courses = courses
        self.number = {name: place for place, name in enumerate(fitted.load_elements)}
        self.of = np.array([self.number[name] for name, _ in pairs], dtype=np.intp)
        self.readouts = readouts(courses.grid, [(each.a, each.b) for _, each in pairs])
        self.supply_v = fitted.supply_v or 1.0
        # Bits of the steps of a setting in which a load should work, and in which it should rest.
        self.work: list[dict[int, int]] = [{} for _ in steps_of]
        self.rest: list[dict[int, int]] = [{} for _ in steps_of]
        for setting, steps in enumerate(steps_of):
            for step in steps:
                if step.reactions is not None:
                    for names, of in ((step.reactions.work, self.work), (step.reactions.rest, self.rest)):
                        for name in names:
                            load = self.number[name]
                            of[setting][load] = of[setting].get(load, 0) | bits[step.number]

    @cached_property
    def _usual(self) -> tuple[Ints, Floats]:
        """Which loads lie how near to an edge without a fault."""
        share = np.abs(self.readouts.all_values(self.courses.alone)) / self.supply_v
        far = np.minimum(np.abs(share - WORKS_SHARE), np.abs(share - STILL_SHARE)) * self.supply_v
        return nearest(self.readouts, self.courses.alone, far)

    @property
    def near_v(self) -> Floats:
        """Volts by which the hubs must move to change what a load does, ascending."""
        return self._usual[1]

    def _shares(self, batch: Batch, rows: Ints, which: Ints) -> tuple[Ints, Ints, Floats]:
        """Row, load and share of the supply's volts, the highest of its elements."""
        share = np.abs(self.readouts.values(batch.bridged, rows, which)) / self.supply_v
        keys, place = np.unique(rows * len(self.number) + self.of[which], return_inverse=True)
        highest = np.zeros(len(keys))
        np.maximum.at(highest, place, share)
        return keys // len(self.number), keys % len(self.number), highest

    def read(self, batch: Batch, rows: Ints, cases: Cases, masks: list[int]) -> None:
        """Add the steps that show the change of each of these rows."""
        if not any(self.work) and not any(self.rest):
            return
        at, which = entries(self.readouts, batch, rows, *self._usual)
        row, load, share = self._shares(batch, at, which)
        for flags, bits_of in ((share >= WORKS_SHARE, self.rest), (share < STILL_SHARE, self.work)):
            hit = np.nonzero(flags)[0]
            case = batch.cases[row[hit]]
            setting, change = cases.setting[case].tolist(), cases.change[case].tolist()
            for own, changed, one in zip(setting, change, load[hit].tolist(), strict=True):
                masks[changed] |= bits_of[own].get(one, 0)

    def far(self, batch: Batch, rows: Ints, cases: Cases, masks: list[int]) -> None:
        """Add the steps of all other settings in which a load that now works should rest."""
        at, which = entries(self.readouts, batch, rows, *self._usual)
        row, load, share = self._shares(batch, at, which)
        hit = np.nonzero(share >= WORKS_SHARE)[0]
        for change, one in zip(cases.change[batch.cases[row[hit]]].tolist(), load[hit].tolist(), strict=True):
            masks[change] |= self._anywhere[one]

    @cached_property
    def _anywhere(self) -> list[int]:
        found = [0] * len(self.number)
        for rest in self.rest[1:]:
            for load, bits in rest.items():
                found[load] |= bits
        return found

    def slack_v(self, batch: Batch, rows: Ints, shares: Sequence[float], slack_v: Floats) -> None:
        """Lower `slack_v` (rows of the batch) to how far the hubs may move before a load comes over one of `shares`."""
        at, which = entries(self.readouts, batch, rows, *self._usual)
        volts = np.abs(self.readouts.values(batch.bridged, at, which))
        far = np.min([np.abs(volts - share * self.supply_v) for share in shares], axis=0)
        lower(slack_v, at, far, self.readouts.per_hub_volt(batch.bridged, at, which))

    def zones(self) -> tuple[Ints, Ints]:
        """Settings with the zones of the loads that should work in them."""
        zones = self.courses.grid.zones
        elements_of: dict[int, list[int]] = {}
        for place, load in enumerate(self.of.tolist()):
            elements_of.setdefault(load, []).append(place)
        pairs = [
            (setting, int(zones[node]))
            for setting, work in enumerate(self.work)
            for load in work
            for place in elements_of[load]
            for node in (self.readouts.a[place], self.readouts.b[place])
        ]
        found = np.array(pairs, dtype=np.intp).reshape(-1, 2)
        return found[:, 0], found[:, 1]
