"""Which step shows which fault: every fault is laid into the harness of every step, and the reading is worked out anew.

A step shows a fault only where the faulty reading, with all that the instrument may be off, lies outside the band that
passes. So a band that cannot be told from the fault's reading does not count. Terms follow IEEE Std 1522-2004 where it
has them: a fault is detected if a step fails, and faults that fail the same steps are an ambiguity group.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import isinf

import numpy as np

from harnessgen.bench.fault import Change, Fault, FaultKind, Series, Spot
from harnessgen.bench.fitted import Fitted
from harnessgen.bench.lamp import HIGH_SHARE, LOW_SHARE, Light, lamp_of
from harnessgen.bench.lamp_reading import seen_ohms, shown_by_lamp
from harnessgen.bench.mated import MatedHarness
from harnessgen.bench.path import Edge, Tangle, ohms_of
from harnessgen.bench.powered_readings import PoweredSet, Readings
from harnessgen.bench.powered_rig import PoweredRig
from harnessgen.bench.rig import METAL_POINT, Broken, Rig
from harnessgen.bench.section_net import section_nets
from harnessgen.bench.step import Block, Phase, Step, TouchPlace
from harnessgen.bench.through_loads import LoadedSection
from harnessgen.measures.frozen import frozen
from harnessgen.network.electrical import REFERENCE, ElementKind
from harnessgen.physics.nodal_elements import Flags, Floats

_WORKS_SHARE = 0.3
"""From this share of the supply's volts on a load is seen to work (common practice, no source)."""
_STILL_SHARE = 0.1
"""Below this share it is seen not to."""
_CHUNK = 256
"""Faults whose readings on the bench are held at one time."""


@dataclass(frozen=True)
class Detection:
    """The detection matrix: for each fault, by its place in the list, the numbers of the steps that show it."""

    faults: tuple[Fault, ...]
    shown_by: tuple[frozenset[str], ...]

    @cached_property
    def shows(self) -> Mapping[str, tuple[int, ...]]:
        """For each step, by its number, the places of the faults that it shows."""
        found: dict[str, list[int]] = {}
        for place, steps in enumerate(self.shown_by):
            for number in steps:
                found.setdefault(number, []).append(place)
        return {number: tuple(places) for number, places in found.items()}

    @property
    def undetected(self) -> tuple[Fault, ...]:
        """Faults that no step shows."""
        return tuple(fault for fault, steps in zip(self.faults, self.shown_by, strict=True) if not steps)

    @cached_property
    def ambiguity_groups(self) -> tuple[tuple[Fault, ...], ...]:
        """Detected faults that the same steps show, the largest groups first."""
        groups: dict[frozenset[str], list[Fault]] = {}
        for fault, steps in zip(self.faults, self.shown_by, strict=True):
            if steps:
                groups.setdefault(steps, []).append(fault)
        return tuple(sorted(map(tuple, groups.values()), key=len, reverse=True))

    def within(self, numbers: frozenset[str]) -> "Detection":
        """The same with these steps alone."""
        return Detection(self.faults, tuple(steps & numbers for steps in self.shown_by))


def detect(fitted: Fitted, blocks: Sequence[Block], faults: Sequence[Fault]) -> Detection:
    """The detection matrix of a procedure."""
    shown: list[set[str]] = [set() for _ in faults]
    looked: dict[str, list[str]] = {}
    for block in blocks:
        if block.setup.phase is Phase.LOOK:
            for step in block.steps:
                looked.setdefault(step.looks_at, []).append(step.number)
    for place, fault in enumerate(faults):
        if fault.is_seen:
            shown[place].update(looked.get(fault.looks, ()))
    alike: dict[Change, list[int]] = {}
    for place, fault in enumerate(faults):
        if fault.change is not None:
            alike.setdefault(_plain(fault.change), []).append(place)
    bent = {step.number for block in blocks if block.setup.phase.is_bent for step in block.steps}
    for change, numbers in _shown_in(fitted, blocks, tuple(alike)):
        for place in alike[change]:
            # What comes and goes is caught only while it is bent.
            is_whole = faults[place].kind is not FaultKind.COMES_AND_GOES
            shown[place].update(number for number in numbers if is_whole or number in bent)
    return Detection(tuple(faults), tuple(map(frozenset, shown)))


def _plain(change: Change) -> Change:
    """Where along a wire it is broken makes no difference to what is read at its ends."""
    return replace(change, spot=Spot(change.spot.mark)) if isinstance(change, Series) else change


def _shown_in(fitted: Fitted, blocks: Sequence[Block], changes: Sequence[Change]) -> Iterator[tuple[Change, list[str]]]:
    powered: dict[tuple[str, ...], list[Step]] = {}
    for block in blocks:
        phase = block.setup.phase
        if phase.is_powered:
            # Blocks that find the same connectors apart share their solutions.
            powered.setdefault(block.setup.apart, []).extend(block.steps)
        elif phase is not Phase.LOOK:
            yield from _OhmBlock(fitted, block).shown(changes)
    for apart, steps in powered.items():
        yield from _PoweredSteps(fitted, apart, steps).shown(changes)


@dataclass(frozen=True)
class _OhmBlock:
    """A block without power: the meter's own current is all that flows, or that of the drop test."""

    fitted: Fitted
    block: Block

    @cached_property
    def rigs(self) -> tuple[Rig, ...]:
        """The harness as it stands; with loads at their lowest and at their highest resistance where loads are in."""
        setup, network = self.block.setup, self.fitted.network
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

    def shown(self, changes: Sequence[Change]) -> Iterator[tuple[Change, list[str]]]:
        first = self.rigs[0]
        at: dict[int, list[_Placed]] = {}
        for step in self.block.steps:
            if step.instrument is not None:
                placed = self._placed(first, step)
                for island in placed.near:
                    at.setdefault(island, []).append(placed)
        for start in range(0, len(changes), _CHUNK):
            yield from self._shown_of(changes[start : start + _CHUNK], at)

    def _shown_of(
        self, changes: Sequence[Change], at: Mapping[int, Sequence["_Placed"]]
    ) -> Iterator[tuple[Change, list[str]]]:
        readings: list[tuple[Change, _Placed, list[float | Tangle]]] = []
        for change in changes:
            touched = self.rigs[0].touched(change)
            near = {each.step.number: each for island in touched for each in at.get(island, ())}
            reached = [each for each in near.values() if not each.far or each.far & touched]
            broken = [Broken(rig, change) for rig in self.rigs] if reached else []
            readings += [(change, each, [rig.between(each.a, each.b) for rig in broken]) for each in reached]
        ohms = iter(ohms_of([each for *_, own in readings for each in own]))
        found: dict[Change, list[str]] = {}
        for change, placed, own in readings:
            if self._shows(placed, [next(ohms) for _ in own]):
                found.setdefault(change, []).append(placed.step.number)
        yield from found.items()

    def _placed(self, rig: Rig, step: Step) -> "_Placed":
        a, b = self._points(step.a), self._far(step)
        near, far = ({rig.islands.get(point, -1) for point in points} for points in (a, b))
        good = rig.ohm(a, b) if self.block.setup.phase is Phase.DROP else 0.0
        # Between places that nothing joins a reading changes only where a fault is on both.
        is_apart = not near & far and step.expected.high is None
        return _Placed(
            step, a, b, frozenset(near if is_apart else near | far), frozenset(far if is_apart else ()), good
        )

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


@frozen
class _Placed:
    """A step with the points of its tips. It reads anew what a fault does to islands of `near`, if also on `far`."""

    step: Step
    a: tuple[str, ...]
    b: tuple[str, ...]
    near: frozenset[int]
    far: frozenset[int]
    good_ohm: float


@dataclass(frozen=True)
class _PoweredSteps:
    """Steps under power: volts and amperes from the solution, how a lamp burns, and which loads are seen to work."""

    fitted: Fitted
    apart: tuple[str, ...]
    steps: Sequence[Step]

    def shown(self, changes: Sequence[Change]) -> Iterator[tuple[Change, list[str]]]:
        rig = PoweredRig(self.fitted, self.apart)
        by_on: dict[tuple[str, ...], list[Step]] = {}
        for step in self.steps:
            by_on.setdefault(step.on, []).append(step)
        numbers: list[list[str]] = [[] for _ in changes]
        for on, steps in by_on.items():
            held = PoweredSet(rig, on, tuple(self._nodes(steps)))
            readings = held.readings(changes)
            for number, row in self._shown_by_lamp(held, changes, readings, steps):
                numbers[row].append(number)
            for step in steps:
                for row in self._shows(step, readings).nonzero()[0].tolist():
                    numbers[row].append(step.number)
        yield from ((change, found) for change, found in zip(changes, numbers, strict=True) if found)

    def _nodes(self, steps: Sequence[Step]) -> Iterator[str]:
        yield REFERENCE
        for step in steps:
            if step.reactions is not None:
                yield from (
                    node for each in self.fitted.load_elements.values() for load in each for node in (load.a, load.b)
                )
            elif step.a is not None and (step.expected.unit == "V" or step.expected.light is not None):
                yield from (step.a.node, self._far(step))

    def _far(self, step: Step) -> str:
        return REFERENCE if step.b is None or step.b == self.fitted.metal else step.b.node

    def _shows(self, step: Step, readings: Readings) -> Flags:
        """For each change whether this step shows it."""
        shown = np.zeros(len(readings.volts), dtype=np.bool_)
        if step.reactions is not None:
            for name in step.reactions.work:
                shown |= self._share(name, readings) < _STILL_SHARE
            for name in step.reactions.rest:
                shown |= self._share(name, readings) >= _WORKS_SHARE
        instrument, expected = step.instrument, step.expected
        if instrument is None or step.a is None or expected.light is not None:
            return shown
        is_ampere = expected.unit == "A"
        value = readings.ampere(step.a.designator) if is_ampere else readings.between(step.a.node, self._far(step))
        off = np.abs(value) * instrument.share + instrument.fixed
        if expected.low is not None:
            shown |= value + off < expected.low
        if expected.high is not None:
            shown |= value - off > expected.high
        return shown

    def _shown_by_lamp(
        self, held: PoweredSet, changes: Sequence[Change], readings: Readings, steps: Sequence[Step]
    ) -> Iterator[tuple[str, int]]:
        """Number of each step with the lamp, with the row of each change that it shows."""
        lamp = lamp_of(self.fitted.network.design.limits)
        told = [
            (step.number, light, (step.a.node, self._far(step)))
            for step in steps
            if step.a is not None and (light := step.expected.light) is not None
        ]
        if not told:
            return
        ohms = seen_ohms(held, changes, readings, [pair for _, _, pair in told])
        for column, (number, light, pair) in enumerate(told):
            rows = shown_by_lamp(lamp, light, readings.between(*pair), ohms[:, column]).nonzero()[0]
            yield from ((number, row) for row in rows.tolist())

    def _share(self, load: str, readings: Readings) -> Floats:
        volts = [np.abs(readings.between(each.a, each.b)) for each in self.fitted.load_elements[load]]
        highest: Floats = np.max(volts, axis=0) / (self.fitted.supply_v or 1.0)
        return highest
