"""Which faults a block without power shows: only the meter's own current flows, or that of the drop test."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import isinf

from harnessgen.bench.fault import Change
from harnessgen.bench.fitted import Fitted
from harnessgen.bench.lamp import HIGH_SHARE, LOW_SHARE, Light, lamp_of
from harnessgen.bench.mated import MatedHarness
from harnessgen.bench.path import Edge, Tangle, ohms_of
from harnessgen.bench.rig import METAL_POINT, Broken, Rig
from harnessgen.bench.section_net import section_nets
from harnessgen.bench.step import Block, Phase, Step, TouchPlace
from harnessgen.bench.through_loads import LoadedSection
from harnessgen.measures.frozen import frozen
from harnessgen.network.electrical import ElementKind

_CHUNK = 256
"""Faults whose readings on the bench are held at one time."""


@dataclass(frozen=True)
class OhmBlock:
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

    def shown(self, changes: Sequence[Change], bits: Mapping[str, int]) -> list[int]:
        """For each change the bits of the steps that show it, of `bits` by the number of the step."""
        first = self.rigs[0]
        at: dict[int, list[_Placed]] = {}
        for step in self.block.steps:
            if step.instrument is not None:
                placed = self._placed(first, step)
                for island in placed.near:
                    at.setdefault(island, []).append(placed)
        found = [0] * len(changes)
        for start in range(0, len(changes), _CHUNK):
            for row, number in self._shown_of(range(start, min(start + _CHUNK, len(changes))), changes, at):
                found[row] |= bits[number]
        return found

    def _shown_of(
        self, rows: range, changes: Sequence[Change], at: Mapping[int, Sequence["_Placed"]]
    ) -> Iterator[tuple[int, str]]:
        readings: list[tuple[int, _Placed, list[float | Tangle]]] = []
        for row in rows:
            change = changes[row]
            touched = self.rigs[0].touched(change)
            near = {each.step.number: each for island in touched for each in at.get(island, ())}
            reached = [each for each in near.values() if not each.far or each.far & touched]
            broken = [Broken(rig, change) for rig in self.rigs] if reached else []
            readings += [(row, each, [rig.between(each.a, each.b) for rig in broken]) for each in reached]
        ohms = iter(ohms_of([each for *_, own in readings for each in own]))
        for row, placed, own in readings:
            if self._shows(placed, [next(ohms) for _ in own]):
                yield row, placed.step.number

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
