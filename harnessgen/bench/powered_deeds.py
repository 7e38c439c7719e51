"""What each fault does to a powered harness, as arrays over all faults: elements altered, bridges added.

Only what is done to an output depends on what is on: it has a second deed for when that output is on.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from harnessgen.bench.fault import Change, Gone, Meets, Stuck
from harnessgen.bench.powered_grid import Bridge, PoweredGrid
from harnessgen.physics.nodal_elements import Flags, Floats, Ints, runs


@dataclass(frozen=True, eq=False)
class Altered:
    """Elements that deeds alter: those of deed n from `starts[n]` on, with their conductance afterwards."""

    place: Ints
    siemens: Floats
    starts: Ints

    def of(self, deeds: Ints) -> tuple[Ints, Ints, Floats]:
        """Place in `deeds`, element and siemens of each alteration."""
        row, at = runs(self.starts[deeds], self.starts[deeds + 1])
        return row, self.place[at], self.siemens[at]


@dataclass(frozen=True, eq=False)
class Bridges:
    """Bridges that deeds add, as in `Altered`: end nodes and ohms."""

    a: Ints
    b: Ints
    ohm: Floats
    starts: Ints

    def of(self, deeds: Ints) -> tuple[Ints, Ints]:
        """Place in `deeds` and number of each bridge."""
        return runs(self.starts[deeds], self.starts[deeds + 1])


@dataclass(frozen=True)
class Deeds:
    """The deeds of changes in a harness that has these switches on; the last deed does nothing."""

    grid: PoweredGrid
    switches: frozenset[str]
    changes: Sequence[Change]

    @cached_property
    def outputs(self) -> Mapping[int, str]:
        """The device of each change that is of an output."""
        own = ((place, change) for place, change in enumerate(self.changes) if isinstance(change, Stuck | Gone))
        return {place: change.device for place, change in own}

    @cached_property
    def _when_on(self) -> Mapping[int, int]:
        """The deed of each change of an output while it is on."""
        return {change: len(self.changes) + place for place, change in enumerate(self.outputs)}

    @cached_property
    def _all(self) -> tuple[Altered, Bridges]:
        altered: tuple[list[int], list[float], list[int]] = [], [], [0]
        bridges: tuple[list[int], list[int], list[float], list[int]] = [], [], [], [0]

        def take(change: Change, on: frozenset[str]) -> None:
            added: tuple[Bridge, ...]
            if isinstance(change, Meets):
                # By far the most: they need no more than their bridge.
                added = (self.grid.met(change),)
            else:
                made = self.grid.made(change, on)
                added = made.bridges
                altered[0].extend(made.siemens)
                altered[1].extend(made.siemens.values())
            for each in added:
                bridges[0].append(each.a)
                bridges[1].append(each.b)
                bridges[2].append(each.ohm)
            altered[2].append(len(altered[0]))
            bridges[3].append(len(bridges[0]))

        for each in self.changes:
            take(each, self.switches)
        for place, device in self.outputs.items():
            take(self.changes[place], self.switches | {device})
        altered[2].append(len(altered[0]))
        bridges[3].append(len(bridges[0]))
        integers = [np.array(each, dtype=np.intp) for each in (altered[0], altered[2], *bridges[:2], bridges[3])]
        ohm = np.array(bridges[2], dtype=np.float64)
        return (
            Altered(integers[0], np.array(altered[1], dtype=np.float64), integers[1]),
            Bridges(integers[2], integers[3], ohm, integers[4]),
        )

    @property
    def altered(self) -> Altered:
        """Elements that each deed alters."""
        return self._all[0]

    @property
    def bridges(self) -> Bridges:
        """Bridges that each deed adds."""
        return self._all[1]

    @cached_property
    def counts(self) -> Ints:
        """Number of elements that each deed alters or adds."""
        found: Ints = np.diff(self.altered.starts) + np.diff(self.bridges.starts)
        return found

    @cached_property
    def is_plain(self) -> Flags:
        """Deeds that add one bridge and alter nothing, or do nothing at all."""
        found: Flags = (np.diff(self.altered.starts) == 0) & (np.diff(self.bridges.starts) <= 1)
        return found

    def of(self, changes: Ints, settings: Ints, on: Sequence[frozenset[str]]) -> Ints:
        """The deed of each change (-1 for none) in a setting, of which `on` tells what is on."""
        deeds = np.where(changes < 0, len(self.counts) - 1, changes)
        for at in np.nonzero(np.isin(changes, list(self.outputs)))[0].tolist():
            change = int(changes[at])
            if self.outputs[change] in on[int(settings[at])]:
                deeds[at] = self._when_on[change]
        return deeds
