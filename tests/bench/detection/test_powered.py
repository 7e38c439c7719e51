"""Which steps under power show which faults, against each fault built into the whole harness and solved by itself."""

import math
from collections.abc import Mapping
from functools import cache

import numpy as np
import pytest

from harnessgen.bench.detection.powered import PoweredSteps
from harnessgen.bench.faults.bits import bits_of
from harnessgen.bench.faults.changes import Changes
from harnessgen.bench.faults.fault import Change, FaultKind, Gone, Stuck
from harnessgen.bench.faults.universe import universe_of
from harnessgen.bench.setup.installed import Fitted
from harnessgen.bench.setup.step import Step
from harnessgen.bench.setup.test_lamp import Light, lamp_of
from harnessgen.bench.simulation import powered_arrays as powered_grid
from harnessgen.bench.simulation.lamp_reading import RESTING_SHARE
from harnessgen.bench.simulation.powered import PoweredRig
from harnessgen.bench.steps.procedure import procedure_of
from harnessgen.physics.electrical.operating_point import OperatingPoint
from harnessgen.physics.nodal.elements import Ints
from harnessgen.physics.nodal.solution import ResistiveNetwork
from harnessgen.physics.physics import Physics
from tests.bench.read_faults import far_node
from tests.bench.solved_anew import solved_anew
from tests.benchmarks.vehicle import vehicle_text
from tests.drawings.generated import design_text, network_of
from tests.samples import some

CLOSE = 1e-6
"""What lies within this share of an edge is not compared."""
DESIGNS = {
    "relays": vehicle_text(7, 5),
    "switches": design_text(5, loads=6, disconnects=0),
    "many": vehicle_text(2, 14),
}


@cache
def fitted_of(name: str) -> Fitted:
    network = network_of(DESIGNS[name])
    return Fitted(network, Physics(network))


@cache
def steps_of(name: str) -> Mapping[tuple[str, ...], list[Step]]:
    """Steps under power of a design, by what is apart."""
    fitted = fitted_of(name)
    found: dict[tuple[str, ...], list[Step]] = {}
    for block in procedure_of(fitted.network, fitted.physics).blocks:
        if block.setup.phase.is_powered:
            found.setdefault(block.setup.apart, []).extend(block.steps)
    return found


@cache
def changes_of(name: str) -> list[Change]:
    """Every fault that a reading can show; a contact that comes and goes is an open one."""
    faults = universe_of(fitted_of(name)).faults
    found = (each.change for each in faults if each.kind is not FaultKind.COMES_AND_GOES)
    return list(dict.fromkeys(each for each in found if each is not None))


def shown(name: str, apart: tuple[str, ...]) -> list[set[str]]:
    """For each change the numbers of the steps that show it."""
    steps = steps_of(name)[apart]
    numbers = [step.number for step in steps]
    bits = {number: 1 << place for place, number in enumerate(numbers)}
    masks = PoweredSteps(fitted_of(name), apart, steps).shown(Changes(changes_of(name)), bits)
    return [{numbers[bit] for bit in bits_of(mask)} for mask in masks]


class Alone:
    """One fault in the whole harness, for all steps with the same things apart."""

    def __init__(self, rig: PoweredRig, change: Change) -> None:
        self.rig, self.change = rig, change
        self.points: dict[tuple[str, ...], OperatingPoint] = {}
        self.loaded_v: dict[tuple[tuple[str, ...], tuple[str, str]], float] = {}

    def point(self, on: tuple[str, ...]) -> OperatingPoint:
        if on not in self.points:
            self.points[on] = solved_anew(self.rig, on, self.change)
        return self.points[on]

    def shows(self, step: Step) -> bool | None:
        """Whether a step shows the fault; None where that is too near to call, or where a relay never comes to rest."""
        if not self.point(step.on).is_at_rest:
            return None
        found: set[bool] = set()
        for factor in (1.0 - CLOSE, 1.0 + CLOSE):
            found.add(self._reacts(step, factor) or self._reads(step, factor))
        return found.pop() if len(found) == 1 else None

    def _reacts(self, step: Step, factor: float) -> bool:
        if step.reactions is None:
            return False
        fitted, point = self.rig.fitted, self.point(step.on)
        share = {
            name: factor * max(abs(point.across(each)) for each in elements) / fitted.supply_v
            for name, elements in fitted.load_elements.items()
        }
        return any(share[each] < 0.1 for each in step.reactions.work) or any(
            share[each] >= 0.3 for each in step.reactions.rest
        )

    def _reads(self, step: Step, factor: float) -> bool:
        if step.a is None or step.instrument is None:
            return False
        expected, a, b = step.expected, step.a.node, far_node(self.rig.fitted, step)
        if expected.light is not None:
            return self._lamp_is_off(expected.light, step.on, (a, b), factor)
        point = self.point(step.on)
        value = abs(point.amperes.get(step.a.designator, 0.0)) if expected.unit == "A" else between(point, a, b)
        value, off = value * factor, abs(value) * step.instrument.share + step.instrument.fixed
        low, high = expected.low, expected.high
        return (low is not None and value + off < low) or (high is not None and value - off > high)

    def _lamp_is_off(self, light: Light, on: tuple[str, ...], pair: tuple[str, str], factor: float) -> bool:
        """By the volts without it, and with a kilohm in its place: R = 1000 (V / V1000 - 1)."""
        lamp = lamp_of(self.rig.fitted.network.design.limits)
        volts = abs(between(self.point(on), *pair))
        if volts < 0.1:
            return light is not Light.DARK
        if (on, pair) not in self.loaded_v:
            loaded = solved_anew(self.rig, on, self.change, probe=(*pair, 1000.0))
            assert loaded.pulled_in == self.point(on).pulled_in
            self.loaded_v[on, pair] = abs(between(loaded, *pair))
        ohm = 1000.0 * (volts / self.loaded_v[on, pair] - 1.0) / factor
        volts *= factor
        return lamp.is_seen(RESTING_SHARE * volts, ohm) if light is Light.DARK else lamp.is_dark(volts, ohm)


def between(point: OperatingPoint, a: str, b: str) -> float:
    """What a meter reads: nothing where an end hangs free."""
    volts = point.volts[a] - point.volts[b]
    return 0.0 if math.isnan(volts) else volts


def busiest(network: ResistiveNetwork) -> Ints:
    """Every node with three elements or more as a hub, however small the network is."""
    found: Ints = np.nonzero((network.elements.neighbours() >= 3) & network.anchored & ~network.fixed)[0]
    return found


@pytest.mark.parametrize(
    ("name", "every", "has_hubs"),
    some(
        [(*each, held) for each in (("relays", 2), ("switches", 3), ("many", 8)) for held in (False, True)],
        [("relays", 2, False), ("relays", 2, True), ("many", 8, True)],
    ),
)
def test_what_shows_a_fault_is_what_shows_it_in_the_whole_harness(
    name: str, every: int, has_hubs: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each second, third or eighth fault under every step with a meter or the eye, a third of these with the lamp."""
    if has_hubs:
        monkeypatch.setattr(powered_grid, "hubs_of", busiest)
    counts = {True: 0, False: 0}
    for apart, steps in steps_of(name).items():
        rig = PoweredRig(fitted_of(name), apart)
        for place, found in enumerate(shown(name, apart)):
            if place % every:
                continue
            alone = alone_of(name, rig, changes_of(name)[place])
            for step in steps:
                if step.expected.light is not None and place % (3 * every):
                    continue
                verdict = alone.shows(step)
                if verdict is not None:
                    assert verdict == (step.number in found), (apart, step.number, alone.change)
                    counts[verdict] += 1
    assert min(counts.values()) > 150


@cache
def _kept() -> dict[tuple[str, tuple[str, ...], Change], Alone]:
    return {}


def alone_of(name: str, rig: PoweredRig, change: Change) -> Alone:
    """The fault by itself; kept, since hubs held or not make no difference to it."""
    return _kept().setdefault((name, rig.apart, change), Alone(rig, change))


@pytest.mark.parametrize("name", ["relays", "many"])
def test_an_output_shows_only_where_it_matters(name: str) -> None:
    """By hand: one that is gone, only while it should be on; one that is stuck, only while it should be off."""
    seen = 0
    for apart, steps in steps_of(name).items():
        on_of = {step.number: step.on for step in steps}
        for change, numbers in zip(changes_of(name), shown(name, apart), strict=True):
            if isinstance(change, Gone | Stuck) and change.device in fitted_of(name).network.design.drivers:
                is_gone = isinstance(change, Gone)
                assert all((change.device in on_of[number]) is is_gone for number in numbers), (apart, change)
                seen += len(numbers)
    assert seen > 0
