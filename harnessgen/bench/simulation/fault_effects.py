"""What each fault does to a powered harness, as arrays over all faults: elements altered, bridges added.

Only what is done to an output depends on what is on: it has a second effect for when that output is on.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from harnessgen.bench.faults.changes import Changes
from harnessgen.bench.faults.fault import Gone, Stuck
from harnessgen.bench.simulation.powered_arrays import Made, PoweredGrid
from harnessgen.physics.nodal.elements import Flags, Floats, Ints, runs


@dataclass(frozen=True, eq=False)
class AlteredElements:
    """Elements that effects alter: those of effect n from `starts[n]` on, with their conductance afterwards."""

    place: Ints
    siemens: Floats
    starts: Ints

    def of(self, effects: Ints) -> tuple[Ints, Ints, Floats]:
        """Place in `effects`, element and siemens of each alteration."""
        row, at = runs(self.starts[effects], self.starts[effects + 1])
        return row, self.place[at], self.siemens[at]


@dataclass(frozen=True, eq=False)
class AddedBridges:
    """Bridges that effects add, as in `AlteredElements`: end nodes and ohms."""

    a: Ints
    b: Ints
    ohm: Floats
    starts: Ints

    def of(self, effects: Ints) -> tuple[Ints, Ints]:
        """Place in `effects` and number of each bridge."""
        return runs(self.starts[effects], self.starts[effects + 1])


@dataclass(frozen=True)
class Effects:
    """The effects of changes in a harness that has these switches on; the last effect does nothing."""

    grid: PoweredGrid
    switches: frozenset[str]
    changes: Changes

    @cached_property
    def outputs(self) -> Mapping[int, str]:
        """The device of each change that is of an output."""
        own = ((row, change) for row, change in self.changes.others.items() if isinstance(change, Stuck | Gone))
        return {row: change.device for row, change in own}

    @cached_property
    def _when_on(self) -> Mapping[int, int]:
        """The effect of each change of an output while it is on."""
        return {change: len(self.changes) + place for place, change in enumerate(self.outputs)}

    @cached_property
    def _made(self) -> Mapping[int, Made]:
        """What all effects do but those that bring two places together."""
        found = {row: self.grid.made(change, self.switches) for row, change in self.changes.others.items()}
        for row, device in self.outputs.items():
            found[self._when_on[row]] = self.grid.made(self.changes.others[row], self.switches | {device})
        return found

    @property
    def _starts(self) -> Ints:
        """Each effect, and one more: the last but one does nothing."""
        return np.arange(len(self.changes) + len(self.outputs) + 2)

    @cached_property
    def altered(self) -> AlteredElements:
        """Elements that each effect alters."""
        every = [
            (effect, place, siemens) for effect, made in self._made.items() for place, siemens in made.siemens.items()
        ]
        effect, place = (np.array([each[column] for each in every], dtype=np.intp) for column in range(2))
        order = np.argsort(effect, kind="stable")
        siemens = np.array([siemens for _, _, siemens in every], dtype=np.float64)
        return AlteredElements(place[order], siemens[order], np.searchsorted(effect[order], self._starts))

    @cached_property
    def bridges(self) -> AddedBridges:
        """Bridges that each effect adds."""
        meetings, node = self.changes.meetings, self.grid.rig.node
        met = meetings.ends([self.grid.index[node(spot)] for spot in meetings.spots])
        every = [(effect, each) for effect, made in self._made.items() for each in made.bridges]
        effect = np.concatenate((meetings.row, np.array([effect for effect, _ in every], dtype=np.intp)))
        a = np.concatenate((met[0], np.array([each.a for _, each in every], dtype=np.intp)))
        b = np.concatenate((met[1], np.array([each.b for _, each in every], dtype=np.intp)))
        ohm = np.concatenate((meetings.ohm, np.array([each.ohm for _, each in every], dtype=np.float64)))
        order = np.argsort(effect, kind="stable")
        return AddedBridges(a[order], b[order], ohm[order], np.searchsorted(effect[order], self._starts))

    @cached_property
    def counts(self) -> Ints:
        """Number of elements that each effect alters or adds."""
        found: Ints = np.diff(self.altered.starts) + np.diff(self.bridges.starts)
        return found

    @cached_property
    def is_plain(self) -> Flags:
        """Effects that add one bridge and alter nothing, or do nothing at all."""
        found: Flags = (np.diff(self.altered.starts) == 0) & (np.diff(self.bridges.starts) <= 1)
        return found

    def of(self, changes: Ints, settings: Ints, on: Sequence[frozenset[str]]) -> Ints:
        """The effect of each change (-1 for none) in a setting, of which `on` tells what is on."""
        effects = np.where(changes < 0, len(self.counts) - 1, changes)
        for at in np.nonzero(np.isin(changes, list(self.outputs)))[0].tolist():
            change = int(changes[at])
            if self.outputs[change] in on[int(settings[at])]:
                effects[at] = self._when_on[change]
        return effects
