"""Which faults the steps under power show: by volts and amperes, by how a lamp burns, by which loads work."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from harnessgen.bench.fault import Change
from harnessgen.bench.fitted import Fitted
from harnessgen.bench.lamp import lamp_of
from harnessgen.bench.lamp_reading import seen_ohms, shown_by_lamp
from harnessgen.bench.output import WORKS_SHARE
from harnessgen.bench.powered_readings import PoweredSet, Readings
from harnessgen.bench.powered_rig import PoweredRig
from harnessgen.bench.step import Step
from harnessgen.network.electrical import REFERENCE
from harnessgen.physics.nodal_elements import Flags, Floats

_STILL_SHARE = 0.1
"""Below this share of the supply's volts a load is seen not to work (common practice, no source)."""


@dataclass(frozen=True)
class PoweredSteps:
    """Steps under power: volts and amperes from the solution, how a lamp burns, and which loads are seen to work."""

    fitted: Fitted
    apart: tuple[str, ...]
    steps: Sequence[Step]

    def shown(self, changes: Sequence[Change], bits: Mapping[str, int]) -> list[int]:
        """For each change the bits of the steps that show it, of `bits` by the number of the step."""
        found = [0] * len(changes)
        rig = PoweredRig(self.fitted, self.apart)
        by_on: dict[tuple[str, ...], list[Step]] = {}
        for step in self.steps:
            by_on.setdefault(step.on, []).append(step)
        for on, steps in by_on.items():
            held = PoweredSet(rig, on, tuple(self._nodes(steps)))
            readings = held.readings(changes)
            for row, number in self._shown_by_lamp(held, changes, readings, steps):
                found[row] |= bits[number]
            for step in steps:
                for row in self._shows(step, readings).nonzero()[0].tolist():
                    found[row] |= bits[step.number]
        return found

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
                shown |= self._share(name, readings) >= WORKS_SHARE
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
    ) -> Iterator[tuple[int, str]]:
        """The row of each change with the number of each step with the lamp that shows it."""
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
            yield from ((row, number) for row in rows.tolist())

    def _share(self, load: str, readings: Readings) -> Floats:
        volts = [np.abs(readings.between(each.a, each.b)) for each in self.fitted.load_elements[load]]
        highest: Floats = np.max(volts, axis=0) / (self.fitted.supply_v or 1.0)
        return highest
