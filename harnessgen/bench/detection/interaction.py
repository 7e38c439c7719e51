"""Which faults have to be solved together with which outputs.

Both touch the same zone; or what one does to the volts of a hub could bring what the other reaches over an edge.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

import numpy as np

from harnessgen.bench.detection.loads import STILL_SHARE, Loads
from harnessgen.bench.detection.meters import Meters
from harnessgen.bench.simulation.powered_batch import Batch, Cases
from harnessgen.bench.simulation.settling import Courses
from harnessgen.bench.steps.output import WORKS_SHARE
from harnessgen.measures.frozen import frozen
from harnessgen.physics.nodal.elements import Floats, Ints, distinct, runs
from harnessgen.physics.partitioned.change_lists import members

_SAFE = 2.0
"""How many times as far as alone a hub may move: a difference of two nodes can follow it twice."""


@frozen
class Side:
    """What cases (changes, or settings) do alone.

    Pairs (case, zone) that they touch; (case, hub, volts) by which they move hubs; (case, hub, times) the hubs that
    they alter or that their readings follow, with how many times as far these move for what feeds them. `slack_v`
    (cases) is how far such a hub may move before anything that the case reaches comes over an edge.
    """

    zones: tuple[Ints, Ints]
    shifts: tuple[Ints, Ints, Floats]
    gains: tuple[Ints, Ints, Floats]
    slack_v: Floats


@dataclass
class InteractionSearch:
    """Collects what each change does with the outputs off, and tells the pairs of changes and settings that meet."""

    courses: Courses
    loads: Loads
    meters: Meters
    _taken: list[Side] = field(default_factory=list)

    def take(self, batch: Batch, rows: Ints, cases: Cases) -> None:
        """Note what each change does with the outputs off."""
        self._taken.append(self._side(batch, rows, [WORKS_SHARE], cases, batch.cases, False))

    def _side(
        self, batch: Batch, rows: Ints, shares: Sequence[float], cases: Cases, number: Ints, is_read: bool
    ) -> Side:
        """What these rows do; `number` is what to call each, and with `is_read` what is read in its steps counts."""
        # On the way to rest, too, a fuse may come near to blowing.
        slack = [
            self.courses.watch.slack_v(batch, np.arange(len(batch.cases))),
            self.loads.slack_v(batch, rows, shares, cases),
        ]
        readings = [self.courses.watch.readouts, self.loads.readouts]
        if is_read:
            slack.append(self.meters.slack_v(batch, rows, cases))
            readings.append(self.meters.readouts)
        least_v = np.full(len(batch.cases), np.inf)
        for at, _, volts in slack:
            np.minimum.at(least_v, at, volts)
        # What it alters may carry the move of one hub to another, and so to what is near that.
        np.minimum.at(least_v, batch.gains[0], self._least_v[batch.gains[1]])
        followed = [own.followed(batch.bridged, *each[:2]) for own, each in zip(readings, slack, strict=True)]
        gains = [batch.gains, *((at, hub, np.ones(len(at))) for at, hub in followed)]
        at, hub, times = _joined(gains)
        slack_v = np.full(int(number.max(initial=-1)) + 1, np.inf)
        np.minimum.at(slack_v, number, least_v)
        zones, shifts = (number[batch.zones[0]], batch.zones[1]), (number[batch.shifts[0]], *batch.shifts[1:])
        return Side(zones, shifts, (number[at], hub, times), slack_v)

    @cached_property
    def _least_v(self) -> Floats:
        """Least volts by which each hub must move to bring anything over an edge in the harness without a fault."""
        edges = self.courses.watch.reference(self.courses.base_holds).edges, self.loads.edges
        found: Floats = np.min([each.least_v for each in edges], axis=0)
        return found

    def pairs(self) -> tuple[Ints, Ints]:
        """Changes with the settings that they meet."""
        count, hubs = len(self.courses.changes), self.courses.grid.hub_count
        changes, settings = _together(self._taken, count), self._settings()
        zones = _pairs([changes.zones, self._output_zones()])
        met = [_by_number(settings.zones, zones, count)]
        moved, gains = _Lookup(changes.shifts, hubs), changes.gains
        slack_v = changes.slack_v[gains[0]]
        with np.errstate(divide="ignore", invalid="ignore"):
            # Volts of a hub that bring over an edge what the change reaches, and times by which it adds to these volts.
            edge = _Lookup((gains[0], gains[1], slack_v / (_SAFE * gains[2])), hubs)
            more = _Lookup((gains[0], gains[1], gains[2] - 1.0), hubs)
            setting, hub, volts = settings.shifts
            met.append(_keyed(setting, edge.up_to(hub, volts), count))
            met.append(_keyed(setting, more.from_(hub, settings.slack_v[setting] / (_SAFE * volts)), count))
            left_v = np.where(np.isinf(volts), 0.0, self._least_v[hub] / _SAFE - np.where(np.isinf(volts), 0.0, volts))
            met.append(_keyed(setting, moved.from_(hub, left_v), count))
            setting, hub, times = settings.gains
            met.append(_keyed(setting, moved.from_(hub, settings.slack_v[setting] / (_SAFE * times)), count))
            # What an output opens is seldom; then any move of the hub counts.
            opened = times > 1.0 + 1e-9
            met.append(_keyed(setting[opened], moved.from_(hub[opened], np.zeros(opened.sum())), count))
        both = distinct(np.concatenate(met))
        change, setting = both % count, both // count
        acts = self.courses.effects.counts[change] > 0
        acts[~acts] = np.isin(change[~acts], list(self.courses.effects.outputs))
        return change[acts], setting[acts]

    def _settings(self) -> Side:
        """What each output does without a fault, with the zones of all that should work or is read in its steps."""
        count = len(self.courses.settings)
        cases = Cases(np.arange(1, count), np.full(count - 1, -1, dtype=np.intp))
        sides = []
        for batch, rows in self.courses.settled(cases, self.courses.at_rest()):
            own = cases.setting[batch.cases]
            sides.append(self._side(batch, rows, [STILL_SHARE, WORKS_SHARE], cases, own, True))
        side = _together(sides, count)
        zones = _pairs([side.zones, self.loads.zones(), self.meters.zones()])
        kept = (zones[0] > 0) & (zones[1] >= 0)
        return Side((zones[0][kept], zones[1][kept]), side.shifts, side.gains, side.slack_v)

    def _output_zones(self) -> tuple[Ints, Ints]:
        """Changes of outputs with the zones of these outputs: off, an output that does not conduct alters nothing."""
        grid, pairs = self.courses.grid, []
        for change, device in self.courses.effects.outputs.items():
            for place in grid.of_device.get(device, ()):
                ends = (grid.elements[place].a, grid.elements[place].b)
                pairs += [(change, zone) for end in ends if (zone := int(grid.zones[grid.index[end]])) >= 0]
        found = np.array(pairs, dtype=np.intp).reshape(-1, 2)
        return found[:, 0], found[:, 1]


def _pairs(pairs: Sequence[tuple[Ints, Ints]]) -> tuple[Ints, Ints]:
    return np.concatenate([one for one, _ in pairs]), np.concatenate([other for _, other in pairs])


def _joined(triples: Sequence[tuple[Ints, Ints, Floats]]) -> tuple[Ints, Ints, Floats]:
    return (
        np.concatenate([each[0] for each in triples]),
        np.concatenate([each[1] for each in triples]),
        np.concatenate([each[2] for each in triples]),
    )


def _together(sides: Sequence[Side], count: int) -> Side:
    """All sides as one, of so many cases."""
    slack_v = np.full(count, np.inf)
    for side in sides:
        slack_v[: len(side.slack_v)] = np.minimum(slack_v[: len(side.slack_v)], side.slack_v)
    shifts, gains = _joined([each.shifts for each in sides]), _joined([each.gains for each in sides])
    return Side(_pairs([each.zones for each in sides]), shifts, gains, slack_v)


def _by_number(settings: tuple[Ints, Ints], changes: tuple[Ints, Ints], count: int) -> Ints:
    """Pairs that share a number, as setting times `count` plus change."""
    most = int(max(settings[1].max(initial=0), changes[1].max(initial=0))) + 1
    order = np.argsort(changes[1], kind="stable")
    starts = np.searchsorted(changes[1][order], np.arange(most + 1))
    row, change = members(settings[1], changes[0][order], starts)
    return distinct(settings[0][row] * count + change)


def _keyed(settings: Ints, found: tuple[Ints, Ints], count: int) -> Ints:
    return distinct(settings[found[0]] * count + found[1])


class _Lookup:
    """Cases by hub and a value there."""

    def __init__(self, triples: tuple[Ints, Ints, Floats], hubs: int) -> None:
        case, hub, values = triples
        values = np.nan_to_num(values, nan=np.inf, posinf=np.inf)
        order = np.lexsort((values, hub))
        self.case, self.values = case[order], values[order]
        self.starts = np.searchsorted(hub[order], np.arange(hubs + 1))

    def up_to(self, hubs: Ints, values: Floats) -> tuple[Ints, Ints]:
        """Place in `hubs` and case, of the cases with such a value there or less."""
        return self._between(self.starts[hubs], self._found(hubs, values, "right"))

    def from_(self, hubs: Ints, values: Floats) -> tuple[Ints, Ints]:
        """Place in `hubs` and case, of the cases with such a value there or more."""
        return self._between(self._found(hubs, values, "left"), self.starts[hubs + 1])

    def _found(self, hubs: Ints, values: Floats, side: Literal["left", "right"]) -> Ints:
        values = np.nan_to_num(values, nan=0.0, posinf=np.inf)
        found = np.empty(len(hubs), dtype=np.intp)
        for hub in distinct(hubs).tolist():
            at = np.nonzero(hubs == hub)[0]
            low, high = self.starts[hub], self.starts[hub + 1]
            found[at] = low + np.searchsorted(self.values[low:high], values[at], side)
        return found

    def _between(self, first: Ints, last: Ints) -> tuple[Ints, Ints]:
        place, at = runs(first, last)
        return place, self.case[at]
