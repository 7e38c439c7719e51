"""The coils and fuses of a powered harness: which relays pull in with each fault, and which fuses blow."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from harnessgen.bench.simulation.powered import BLOWS_AT
from harnessgen.bench.simulation.powered_arrays import PoweredGrid
from harnessgen.bench.simulation.powered_batch import Batch, entries, to_edge_v
from harnessgen.bench.simulation.readings import Edges, Readouts, edges, readouts
from harnessgen.design.records.device import Relay
from harnessgen.measures.frozen import frozen
from harnessgen.network.electrical import ElementKind
from harnessgen.physics.nodal.elements import Flags, Floats, Ints, distinct
from harnessgen.physics.partitioned.bridges import BridgedRows

Names = frozenset[str]


@frozen
class FaultFreeReference:
    """A harness without a fault: relays that pull in, fuses that blow, all of these by number, and how near to it."""

    holding: Names
    blowing: Names
    over: Flags
    edges: Edges


@dataclass(frozen=True)
class Watch:
    """What is watched: `alone` is the harness without a fault while certain relays hold, by these."""

    grid: PoweredGrid
    alone: Mapping[Names, BridgedRows]
    _references: dict[Names, FaultFreeReference] = field(default_factory=dict)

    @cached_property
    def _coils(self) -> list[tuple[str, str, str, float]]:
        network = self.grid.rig.network
        return [
            (each.device.name, each.a, each.b, network.parts.relays[each.device.part].pull_in_v.value)
            for each in network.electrical.elements
            if each.kind is ElementKind.COIL and isinstance(each.device, Relay)
        ]

    @cached_property
    def _fuses(self) -> list[tuple[str, int, float]]:
        fuses, place_of = self.grid.rig.network.design.fuses, self.grid.place_of
        return [
            (name, place_of[name], BLOWS_AT * fuse.rating_a.value) for name, fuse in fuses.items() if name in place_of
        ]

    @cached_property
    def names(self) -> list[str]:
        """Relays, and behind them fuses."""
        return [*(name for name, *_ in self._coils), *(name for name, *_ in self._fuses)]

    @cached_property
    def _edge(self) -> Floats:
        return np.array([*(edge for *_, edge in self._coils), *(edge for *_, edge in self._fuses)], dtype=np.float64)

    @cached_property
    def readouts(self) -> Readouts:
        """Volts of the coils, amperes of the fuses."""
        elements = [self.grid.elements[place] for _, place, _ in self._fuses]
        pairs = [*((a, b) for _, a, b, _ in self._coils), *((each.a, each.b) for each in elements)]
        places = [*(-1 for _ in self._coils), *(place for _, place, _ in self._fuses)]
        return readouts(self.grid, pairs, places)

    def reference(self, holds: Names) -> FaultFreeReference:
        """The harness without a fault while these relays hold."""
        if holds not in self._references:
            alone = self.alone[holds]
            values = np.abs(self.readouts.all_values(alone))
            over = values >= self._edge
            near = edges(self.readouts, alone, np.abs(values - self._edge), np.arange(len(values)))
            coils = len(self._coils)
            holding, blowing = (
                self._named(np.nonzero(over[:coils])[0]),
                self._named(coils + np.nonzero(over[coils:])[0]),
            )
            self._references[holds] = FaultFreeReference(holding, blowing, over, near)
        return self._references[holds]

    def slack_v(self, batch: Batch, rows: Ints) -> tuple[Ints, Ints, Floats]:
        """Entries (row, reading) of these rows, and how far the hubs may move before one of them changes."""
        at, which = entries(self.readouts, batch, rows, self.reference(batch.near).edges)
        far = np.abs(np.abs(self.readouts.values(batch.bridged, at, which)) - self._edge[which])
        return at, which, to_edge_v(far, self.readouts.per_hub_volt(batch.bridged, at, which))

    def moves(self, batch: Batch) -> Mapping[int, tuple[Names, Names]]:
        """Relays that pull in and fuses that blow, of each row that differs from the reference."""
        usual = self.reference(batch.near)
        rows, which = entries(self.readouts, batch, np.arange(len(batch.cases)), usual.edges)
        now = np.abs(self.readouts.values(batch.bridged, rows, which)) >= self._edge[which]
        other = np.nonzero(now != usual.over[which])[0]
        count = len(self.names)
        if not len(other):
            return {}
        changed = distinct(rows[other] * count + which[other])
        moved, starts = np.unique(changed // count, return_index=True)
        # Many rows move the same.
        after: dict[bytes, tuple[Names, Names]] = {}
        found: dict[int, tuple[Names, Names]] = {}
        for row, own in zip(moved.tolist(), np.split(changed % count, starts[1:]), strict=True):
            key = own.tobytes()
            if key not in after:
                coils, fuses = own[own < len(self._coils)], own[own >= len(self._coils)]
                after[key] = usual.holding ^ self._named(coils), usual.blowing ^ self._named(fuses)
            found[row] = after[key]
        return found

    def _named(self, which: Ints) -> Names:
        return frozenset(self.names[each] for each in which.tolist())
