"""Which loads are seen to work with each fault where they should rest, or to rest where they should work."""

from collections.abc import Mapping, Sequence
from functools import cached_property

import numpy as np

from harnessgen.bench.setup.step import Step
from harnessgen.bench.simulation.powered_batch import Batch, Cases, entries, to_edge_v
from harnessgen.bench.simulation.readings import Edges, edges, readouts
from harnessgen.bench.simulation.settling import Courses
from harnessgen.bench.steps.output import WORKS_SHARE
from harnessgen.physics.nodal.elements import Flags, Floats, Ints, distinct
from harnessgen.physics.partitioned.change_lists import members

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
    def edges(self) -> Edges:
        """How near each load lies to doing otherwise without a fault."""
        share = np.abs(self.readouts.all_values(self.courses.alone)) / self.supply_v
        far = np.minimum(np.abs(share - WORKS_SHARE), np.abs(share - STILL_SHARE)) * self.supply_v
        return edges(self.readouts, self.courses.alone, far, np.arange(len(far)))

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

    def _entries(self, batch: Batch, rows: Ints, cases: Cases) -> tuple[Ints, Ints, Ints, Ints]:
        """Row and load of what may show a fault; and of each of its elements the place among these, and the reading."""
        at, which = entries(self.readouts, batch, rows, self.edges)
        turned, own = members(cases.setting[batch.cases[rows]], *self._turned)
        count = max(len(self.number), 1)
        keys = distinct(np.concatenate((at * count + self.of[which], rows[turned] * count + own)))
        return keys // count, keys % count, *members(keys % count, *self._elements)

    def _shares(self, batch: Batch, rows: Ints, cases: Cases) -> tuple[Ints, Ints, Floats]:
        """Row, load and share of the supply's volts, the highest of its elements, of loads that may show a fault."""
        row, load, place, element = self._entries(batch, rows, cases)
        share = np.abs(self.readouts.values(batch.bridged, row[place], element)) / self.supply_v
        highest = np.zeros(len(row))
        np.maximum.at(highest, place, share)
        return row, load, highest

    def read(self, batch: Batch, rows: Ints, cases: Cases, masks: list[int]) -> None:
        """Add the steps that show the change of each of these rows."""
        if not any(self.work) and not any(self.rest):
            return
        row, load, share = self._shares(batch, rows, cases)
        case = batch.cases[row]
        setting, change = cases.setting[case], cases.change[case]
        told = (share >= WORKS_SHARE, self.rest, self._told[0]), (share < STILL_SHARE, self.work, self._told[1])
        for flags, bits_of, is_told in told:
            hit = np.nonzero(flags & is_told[setting, load])[0]
            each = zip(setting[hit].tolist(), change[hit].tolist(), load[hit].tolist(), strict=True)
            for own, changed, one in each:
                masks[changed] |= bits_of[own][one]

    @cached_property
    def _told(self) -> tuple[Flags, Flags]:
        """Which loads should rest, and which should work, in the steps of each setting (settings, loads)."""
        found = np.zeros((2, len(self.work), len(self.number)), dtype=np.bool_)
        for kind, of in enumerate((self.rest, self.work)):
            for setting, loads in enumerate(of):
                found[kind, setting, list(loads)] = True
        return found[0], found[1]

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

    def slack_v(self, batch: Batch, rows: Ints, shares: Sequence[float], cases: Cases) -> tuple[Ints, Ints, Floats]:
        """Entries (row, reading) of these rows, and how far hubs may move before a load comes over one of `shares`."""
        row, _, place, which = self._entries(batch, rows, cases)
        at = row[place]
        volts = np.abs(self.readouts.values(batch.bridged, at, which))
        far = np.min([np.abs(volts - share * self.supply_v) for share in shares], axis=0)
        return at, which, to_edge_v(far, self.readouts.per_hub_volt(batch.bridged, at, which))

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
