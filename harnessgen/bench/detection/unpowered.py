"""Which faults a block without power shows: only the meter's own current flows, or that of the drop test."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from functools import cached_property
from math import isinf

from harnessgen.bench.detection.separate_islands import Apart, bridges_of
from harnessgen.bench.faults.changes import Changes
from harnessgen.bench.faults.fault import Exchanged, Swapped
from harnessgen.bench.setup.installed import Fitted
from harnessgen.bench.setup.path_resistance import Edge, Tangle, ohms_of
from harnessgen.bench.setup.section_nets import section_nets
from harnessgen.bench.setup.step import Block, Phase, Step, TouchPlace
from harnessgen.bench.setup.test_lamp import HIGH_SHARE, LOW_SHARE, Light, lamp_of
from harnessgen.bench.simulation.unpowered import METAL_POINT, Broken, Rig
from harnessgen.bench.simulation.unpowered_faults import Joined, Moved, rows_within
from harnessgen.bench.steps.mated import MatedHarness
from harnessgen.bench.steps.through_loads import LoadedSection
from harnessgen.measures.frozen import frozen
from harnessgen.network.electrical import ElementKind

_CHUNK = 1000
"""Readings that are solved at one time."""


@dataclass(frozen=True)
class OhmBlock:
    """A block without power: the meter's own current is all that flows, or that of the drop test."""

    fitted: Fitted
    block: Block

    @cached_property
    def rigs(self) -> tuple[Rig, ...]:
        """The harness as it stands; with loads at their lowest and at their highest resistance where loads are in."""
        setup, network = self.block.setup, self.fitted.network
        if setup.phase is Phase.DROP and not setup.section:
            return (Rig(network, tuple(MatedHarness(self.fitted).joined_for_good()), is_landed=True),)
        if setup.phase is not Phase.THROUGH_LOADS:
            nets = section_nets(network, self.fitted.physics.lengths, setup.section)
            return (Rig(network, tuple(edge for net in nets for edge in net.edges), is_landed=False),)
        grounds = frozenset(each.a for each in network.electrical.elements if each.kind is ElementKind.GROUND)
        metal = frozenset() if setup.section else grounds - self.fitted.inner
        return tuple(
            Rig(network, tuple(self._loaded(which)), not setup.section, metal) for which in ("lowest", "highest")
        )

    def _loaded(self, which: str) -> list[Edge]:
        setup, fitted = self.block.setup, self.fitted
        if not setup.section:
            return MatedHarness(fitted).edges(which)
        nets = section_nets(fitted.network, fitted.physics.lengths, setup.section)
        return LoadedSection(fitted, nets).edges(which)

    def shown(self, changes: Changes, bits: Mapping[str, int]) -> list[int]:
        """For each change the bits of the steps that show it, of `bits` by the number of the step."""
        placed = [self._placed(step) for step in self.block.steps if step.instrument is not None]
        found = [0] * len(changes)
        for sort, shown in (
            (_Sort.JOINED, self._shown_joined),
            (_Sort.APART, self._shown_apart),
            (_Sort.OTHER, self._shown_anew),
        ):
            alike = [each for each in placed if each.sort is sort]
            for row, place in shown(changes, alike) if alike else ():
                bit = bits[alike[place].step.number]
                # A bit of a large procedure is a large number: changes that one step shows share it.
                found[row] = found[row] | bit if found[row] else bit
        return found

    def _shown_joined(self, changes: Changes, placed: Sequence["_Placed"]) -> Iterator[tuple[int, int]]:
        """Changes and steps that show them, both by their places, of steps with both tips on one island."""
        index = self.rigs[0].pieces.index
        joined = Joined(self.rigs, [(index[each.a[0]], index[each.b[0]]) for each in placed])
        moved: list[_Moved] = []
        for row in rows_within(self.rigs[0], changes):
            change = changes[row]
            if isinstance(change, Swapped | Exchanged) and self.rigs[0].is_moved_within(change):
                anew = [Moved(rig, change) for rig in self.rigs]
                places = dict.fromkeys(place for piece in anew[0].held for place in joined.at.get(piece, ()))
                moved += [_Moved(row, at, [each.between(*joined.pairs[at]) for each in anew]) for at in places]
                continue
            for place, ohms in joined.read(change):
                if self._shows(placed[place], ohms):
                    yield row, place
        yield from self._solved(moved, placed)

    def _shown_apart(self, changes: Changes, placed: Sequence["_Placed"]) -> Iterator[tuple[int, int]]:
        """The same of steps with tips on islands that nothing joins, and changes that join them."""
        rig = self.rigs[0]
        apart = Apart(rig, [rig.pieces.index[each.a[0]] for each in placed], [each.b for each in placed])
        bridges = bridges_of(rig, changes)
        for place, which in apart.shown(bridges, lambda place, ohm: self._shows(placed[place], [ohm])):
            for row in bridges.rows[which].tolist():
                yield row, place
        moved: list[_Moved] = []
        for row, change in enumerate(changes):
            if isinstance(change, Swapped) and len(touched := sorted(rig.touched(change))) > 1:
                anew = Moved(rig, change)
                for place, clip in apart.between(*touched):
                    part, ohm = anew.between(apart.near[place], clip)
                    moved.append(_Moved(row, place, [(part, ohm + apart.lead_ohm(place, clip))]))
        yield from self._solved(moved, placed)

    def _shown_anew(self, changes: Changes, placed: Sequence["_Placed"]) -> Iterator[tuple[int, int]]:
        """The same of all other steps, read anew with each change that touches an island of theirs."""
        for row, change in enumerate(changes):
            touched = self.rigs[0].touched(change)
            broken = [Broken(rig, change) for rig in self.rigs] if touched else []
            for place, each in enumerate(placed):
                if not each.is_read_anew(touched):
                    continue
                if self._shows(each, ohms_of([rig.between(each.a, each.b) for rig in broken])):
                    yield row, place

    def _solved(self, moved: Sequence["_Moved"], placed: Sequence["_Placed"]) -> Iterator[tuple[int, int]]:
        for start in range(0, len(moved), _CHUNK):
            some = moved[start : start + _CHUNK]
            ohms = iter(ohms_of([part for each in some for part, _ in each.parts]))
            for each in some:
                if self._shows(placed[each.place], [next(ohms) + ohm for _, ohm in each.parts]):
                    yield each.row, each.place

    def _placed(self, step: Step) -> "_Placed":
        rig, is_by_bridges = self.rigs[0], self.block.setup.phase in (Phase.ISOLATION, Phase.LAMP_APART)
        a, b = self._points(step.a), self._far(step)
        near, far = (frozenset(rig.islands.get(point, -1) for point in points) for points in (a, b))
        if len(a) == len(b) == 1 and near == far and -1 not in near:
            good = [each.pieces.ohm(each.pieces.index[a[0]], each.pieces.index[b[0]]) for each in self.rigs]
            placed = _Placed(_Sort.JOINED, step, a, b, good[0])
            if not self._shows(placed, good):
                return placed
        is_apart = not near & far and step.expected.high is None
        if is_apart and is_by_bridges and len(near) == len(a) == 1 and -1 not in near and len(far) == len(b):
            return _Placed(_Sort.APART, step, a, b)
        # Also one that a good harness would fail: it is shown by faults that move nothing in it.
        good_ohm = rig.ohm(a, b) if self.block.setup.phase is Phase.DROP else 0.0
        return _Placed(_Sort.OTHER, step, a, b, good_ohm, near, far, is_apart)

    def _points(self, place: TouchPlace | None) -> tuple[str, ...]:
        if place is None:
            return ()
        return (METAL_POINT,) if place == self.fitted.metal else (place.node,)

    def _far(self, step: Step) -> tuple[str, ...]:
        return step.joined or self._points(step.b)

    def _shows(self, placed: "_Placed", ohms: list[float]) -> bool:
        expected, instrument = placed.step.expected, placed.step.instrument
        if instrument is None:
            return False
        if expected.light is not None:
            return self._shows_by_lamp(expected.light, ohms[0])
        if self.block.setup.phase is Phase.DROP:
            ohms = [ohm * (expected.value or 0.0) / placed.good_ohm for ohm in ohms]
        low, high = ohms[0], ohms[-1]
        is_low = expected.low is not None and high + instrument.allowance(high) < expected.low
        is_high = expected.high is not None and (isinf(low) or low - instrument.allowance(low) > expected.high)
        return is_low or is_high

    def _shows_by_lamp(self, light: Light, ohm: float) -> bool:
        lamp = lamp_of(self.fitted.network.design.limits)
        if light is Light.DARK:
            return lamp.is_seen(LOW_SHARE * lamp.volts, ohm)
        return lamp.is_dark(HIGH_SHARE * lamp.volts, ohm)


class _Sort(Enum):
    """How the readings of a step are found: both tips on one island, on islands apart, or anew with every change."""

    JOINED = "joined"
    APART = "apart"
    OTHER = "other"


@frozen
class _Placed:
    """A step with the points of its tips; where it is read anew, the islands that they are on.

    If it `is_apart`, nothing joins them and open is good: then its reading changes only where a fault is on both.
    """

    sort: _Sort
    step: Step
    a: tuple[str, ...]
    b: tuple[str, ...]
    good_ohm: float = 0.0
    near: frozenset[int] = frozenset()
    far: frozenset[int] = frozenset()
    is_apart: bool = False

    def is_read_anew(self, touched: frozenset[int]) -> bool:
        """Whether a change that touches these islands may move its reading."""
        if self.is_apart:
            return bool(self.near & touched and self.far & touched)
        return bool((self.near | self.far) & touched)


@frozen
class _Moved:
    """A change and a step by their places, and on each rig what gives its reading, and ohms to add to that."""

    row: int
    place: int
    parts: list[tuple[float | Tangle, float]]
