"""Which loads are seen to work with each fault where they should rest, or to rest where they should work."""

from collections.abc import Mapping, Sequence
from functools import cached_property

import numpy as np

from harnessgen.bench.output import WORKS_SHARE
from harnessgen.bench.powered_course import Batch, Cases, Courses, entries, lower
from harnessgen.bench.readouts import nearest, readouts
from harnessgen.bench.step import Step
from harnessgen.physics.nodal_elements import Floats, Ints
from harnessgen.physics.parted_lists import members

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

    @cached_property
    def _elements(self) -> tuple[Ints, Ints]:
        """Readings of each load behind each other, and where those of each load start."""
        order = np.argsort(self.of, kind="stable")
        return order, np.searchsorted(self.of[order], np.arange(len(self.number) + 1))

    @cached_property
    def _turned(self) -> tuple[Ints, Ints]:
        """Loads that each setting turns on or off, behind each other, and where those of each setting start.

        A fault may leave such a load as it is with the outputs off, and touch nothing near it.
        """
        usual = np.zeros(len(self.number))
        np.maximum.at(usual, self.of, np.abs(self.readouts.all_values(self.courses.alone)) / self.supply_v)
        found = [
            [load for load in work if usual[load] < STILL_SHARE] + [load for load in rest if usual[load] >= WORKS_SHARE]
            for work, rest in zip(self.work, self.rest, strict=True)
        ]
        starts = np.cumsum([0, *(len(each) for each in found)])
        return np.array([load for each in found for load in each], dtype=np.intp), starts

    def _shares(self, batch: Batch, rows: Ints, cases: Cases) -> tuple[Ints, Ints, Floats]:
        """Row, load and share of the supply's volts, the highest of its elements, of loads that may show a fault."""
        at, which = entries(self.readouts, batch, rows, *self._usual)
        turned, own = members(cases.setting[batch.cases[rows]], *self._turned)
        count = max(len(self.number), 1)
        keys = np.unique(np.concatenate((at * count + self.of[which], rows[turned] * count + own)))
        place, element = members(keys % count, *self._elements)
        share = np.abs(self.readouts.values(batch.bridged, (keys // count)[place], element)) / self.supply_v
        highest = np.zeros(len(keys))
        np.maximum.at(highest, place, share)
        return keys // count, keys % count, highest

    def read(self, batch: Batch, rows: Ints, cases: Cases, masks: list[int]) -> None:
        """Add the steps that show the change of each of these rows."""
        if not any(self.work) and not any(self.rest):
            return
        row, load, share = self._shares(batch, rows, cases)
        for flags, bits_of in ((share >= WORKS_SHARE, self.rest), (share < STILL_SHARE, self.work)):
            hit = np.nonzero(flags)[0]
            case = batch.cases[row[hit]]
            setting, change = cases.setting[case].tolist(), cases.change[case].tolist()
            for own, changed, one in zip(setting, change, load[hit].tolist(), strict=True):
                masks[changed] |= bits_of[own].get(one, 0)

    def far(self, batch: Batch, rows: Ints, cases: Cases, masks: list[int]) -> None:
        """Add the steps of all other settings in which a load that now works should rest."""
        row, load, share = self._shares(batch, rows, cases)
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
