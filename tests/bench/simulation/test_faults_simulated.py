"""Each fault, built into the harness and solved by a circuit simulator, gives the reading that the matrix rests on."""

import random
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from math import inf, isinf
from pathlib import Path

import numpy as np
import pytest

from harnessgen import run
from harnessgen.bench.detection.detection import detect
from harnessgen.bench.detection.unpowered import OhmBlock
from harnessgen.bench.faults.fault import Change, Exchanged, FaultKind, Stuck, Swapped
from harnessgen.bench.faults.universe import universe_of
from harnessgen.bench.setup.installed import Fitted
from harnessgen.bench.setup.step import Block, Phase, Step
from harnessgen.bench.setup.test_lamp import Lamp, Light, lamp_of
from harnessgen.bench.simulation.lamp_reading import RESTING_SHARE
from harnessgen.bench.simulation.powered import BLOWS_AT, PoweredRig
from harnessgen.bench.steps.procedure import procedure_of
from tests.bench.proving import shown_by, text_of
from tests.bench.read_faults import far_node, read_elements, read_faults, read_nodes
from tests.bench.simulated import BrokenBench, Circuit, Piece, Powered, powered, settle, solved
from tests.physics.simulator import needs_simulator
from tests.samples import some

pytestmark = needs_simulator

CLOSE = 1e-3
"""Readings agree to 0.1 %, or to what the instrument can show."""
FULL = ["flat-six", "twin-fans"]
SAMPLED = ["ignition-sensors", "small-boat", "trailer", "v8-second-injectors"]
USUAL = [("flat-six", 40), ("twin-fans", 40), ("ignition-sensors", 15), ("small-boat", 15)]
SIZES = [*((name, None) for name in FULL), *((name, 40) for name in FULL), *((name, 15) for name in SAMPLED)]


@dataclass(frozen=True)
class Laid:
    """A harness with every step of its procedures, and the steps that show each fault."""

    fitted: Fitted
    blocks: tuple[Block, ...]
    shown: Mapping[Change, frozenset[str]]


@cache
def laid(name: str, most: int | None) -> Laid:
    """A design with all of its faults that a reading can show, or so many of them by a fixed seed."""
    physics = run.examine_text(text_of(name)).physics
    assert physics is not None
    fitted, blocks = Fitted(physics.network, physics), procedure_of(physics.network, physics).blocks
    # A contact that comes and goes is an open one, shown by fewer steps: it reads as that does.
    faults = [
        each
        for each in universe_of(fitted).faults
        if each.change is not None and each.kind is not FaultKind.COMES_AND_GOES
    ]
    if most is not None:
        faults = random.Random(7).sample(faults, min(most, len(faults)))
    pairs = zip(faults, shown_by(detect(fitted, blocks, faults)), strict=True)
    return Laid(fitted, blocks, {fault.change: steps for fault, steps in pairs if fault.change is not None})


def is_outside(step: Step, low: float, high: float, slack: float) -> bool | None:
    """Whether readings from `low` to `high` leave the band for certain; None where they end within `slack` of it."""
    expected, instrument = step.expected, step.instrument
    assert instrument is not None
    verdicts = {
        (expected.low is not None and high * sign + instrument.allowance(high) < expected.low)
        or (expected.high is not None and (isinf(low) or low * sign - instrument.allowance(low) > expected.high))
        for sign in (1.0 - slack, 1.0 + slack)
    }
    return verdicts.pop() if len(verdicts) == 1 else None


@pytest.mark.parametrize(("name", "most"), some(SIZES, USUAL))
def test_without_power_each_fault_reads_as_the_simulator_says(name: str, most: int | None, tmp_path: Path) -> None:
    """Every fault under every step of the full designs, 15 faults of each other by seed 7: ohms, or drop under load."""
    drawn = laid(name, most)
    shown, changes, fitted = drawn.shown, list(drawn.shown), drawn.fitted
    wanted: dict[Circuit, int] = {}
    cases: list[tuple[OhmBlock, Step, Change, list[Circuit | None]]] = []
    for block in drawn.blocks:
        if block.setup.phase is Phase.LOOK or block.setup.phase.is_powered:
            continue
        inside = OhmBlock(fitted, block)
        for change in changes:
            broken = [BrokenBench(rig, change) for rig in inside.rigs]
            for step in block.steps:
                circuits = [each.circuit(inside._points(step.a), inside._far(step)) for each in broken]
                cases.append((inside, step, change, circuits))
                for circuit in circuits:
                    if circuit is not None:
                        wanted.setdefault(circuit, len(wanted))
    readings = solved(list(wanted), tmp_path)
    for inside, step, change, circuits in cases:
        a, b = inside._points(step.a), inside._far(step)
        found = [inf if each is None else readings[wanted[each]][a[0]] for each in circuits]
        for rig, ohm in zip(inside.rigs, found, strict=True):
            assert rig.ohm(a, b, change) == pytest.approx(ohm, rel=1e-6, abs=1e-9), (name, step.number, change)
        if inside.block.setup.phase is Phase.DROP:
            good = inside.rigs[0].ohm(a, b)
            found = [ohm * (step.expected.value or 0.0) / good for ohm in found]
        light = step.expected.light
        if light is not None:
            lit = {inside._shows_by_lamp(light, found[0] * share) for share in (1.0 - CLOSE, 1.0 + CLOSE)}
            verdict = lit.pop() if len(lit) == 1 else None
        else:
            verdict = is_outside(step, found[0], found[-1], CLOSE)
        if verdict is not None:
            assert verdict == (step.number in shown[change]), (name, step.number, change)


@pytest.mark.parametrize(("name", "most"), some(SIZES, USUAL))
def test_under_power_each_fault_reads_as_the_simulator_says(name: str, most: int | None, tmp_path: Path) -> None:
    """Every fault under every step of the full designs, 15 faults of each other by seed 7: volts, amperes, what works.

    Relays pull in and fuses blow by what the simulator finds.
    """
    drawn = laid(name, most)
    shown, changes, fitted = drawn.shown, list(drawn.shown), drawn.fitted
    harnesses: dict[tuple[int, tuple[str, ...]], list[Powered]] = {}
    blocks = [block for block in drawn.blocks if block.setup.phase.is_powered]
    for block in blocks:
        elements = fitted.with_apart(block.setup.apart).electrical.elements
        for on in dict.fromkeys(step.on for step in block.steps):
            harnesses[block.number, on] = [powered(fitted, elements, on, each) for each in changes]
    settle([each for row in harnesses.values() for each in row], BLOWS_AT, tmp_path)
    for block in blocks:
        rig = PoweredRig(fitted, block.setup.apart)
        elements = read_elements(rig)
        for on in dict.fromkeys(step.on for step in block.steps):
            steps = [step for step in block.steps if step.on == on]
            nodes = read_nodes(rig, steps)
            readings = read_faults(rig, on, changes, nodes, elements)
            for row, harness in enumerate(harnesses[block.number, on]):
                where = (name, block.number, on, harness.change)
                for node, volts in zip(nodes, readings.volts[row], strict=True):
                    expected = harness.volts.get(node, 0.0)
                    assert np.nan_to_num(volts) == pytest.approx(expected, rel=CLOSE, abs=1e-4), (*where, node)
                for element, found in zip(elements, readings.amperes[row], strict=True):
                    if harness.change == Stuck(element) and element not in on:
                        # The clamp goes on an output only while it is worked, so no reading rests on this one.
                        continue
                    ampere = harness.amperes.get(element, 0.0)
                    assert found == pytest.approx(ampere, rel=CLOSE, abs=1e-4), (*where, element)
                for step in steps:
                    verdict = _is_shown(fitted, step, harness)
                    if verdict is not None:
                        assert verdict == (step.number in shown[harness.change]), (*where, step.number)


@pytest.mark.parametrize(
    ("name", "most"),
    some(
        [("flat-six", 4), ("twin-fans", 4), ("ignition-sensors", 4), ("v8-second-injectors", 2), ("trailer", 1)],
        [("flat-six", 4), ("twin-fans", 4)],
    ),
)
def test_under_power_the_lamp_burns_as_the_simulator_says(name: str, most: int, tmp_path: Path) -> None:
    """For each step with the lamp, by seed 7, so many faults of any kind that it shows, as many that it does not.

    As many again of each have wires swapped or connectors exchanged. Volts without the lamp, and those with ten ohm in
    its place, give what it sees: R = 10 (V / V10 - 1) by Thevenin.
    """
    drawn, chance = laid(name, None), random.Random(7)
    fitted, lamp = drawn.fitted, lamp_of(drawn.fitted.network.design.limits)
    told = [
        (block.setup.apart, step)
        for block in drawn.blocks
        for step in block.steps
        if block.setup.phase.is_powered and step.expected.light is not None
    ]
    pairs: list[tuple[tuple[str, ...], Step, Change]] = []
    for apart, step in told:
        for kind in (True, False):
            fits = [each for each, steps in drawn.shown.items() if (step.number in steps) is kind]
            several = [each for each in fits if isinstance(each, Swapped | Exchanged)]
            wanted = chance.sample(several, min(most, len(several))) + chance.sample(fits, min(most, len(fits)))
            pairs += [(apart, step, change) for change in wanted]
    harness_of: dict[tuple[tuple[str, ...], tuple[str, ...], Change], Powered] = {}
    for apart, step, change in pairs:
        if (apart, step.on, change) not in harness_of:
            elements = fitted.with_apart(apart).electrical.elements
            harness_of[apart, step.on, change] = powered(fitted, elements, step.on, change)
    settle(list(harness_of.values()), BLOWS_AT, tmp_path)
    loaded = []
    for apart, step, change in pairs:
        assert step.a is not None
        circuit = harness_of[apart, step.on, change].circuit()
        probe = Piece("probe", step.a.node, far_node(fitted, step), 10.0)
        loaded.append(replace(circuit, pieces=(*circuit.pieces, probe)))
    compared = 0
    for (apart, step, change), found in zip(pairs, solved(loaded, tmp_path), strict=True):
        assert step.a is not None
        a, b = step.a.node, far_node(fitted, step)
        volts, loaded_v = abs(harness_of[apart, step.on, change].between(a, b)), abs(found[a] - found[b])
        ohm = 10.0 * (volts / loaded_v - 1.0) if volts > 1e-3 else inf
        verdict = _is_lamp_off(lamp, step, volts, ohm)
        if verdict is not None:
            assert verdict == (step.number in drawn.shown[change]), (name, step.number, change, volts, ohm)
            compared += isinstance(change, Swapped | Exchanged)
    assert compared > len(told)


def _is_lamp_off(lamp: Lamp, step: Step, volts: float, ohm: float) -> bool | None:
    """Whether the lamp surely shows something else than it should; None at the edge of what tells it."""
    is_dark = step.expected.light is Light.DARK
    near = [(volts * (1.0 + sign * CLOSE), ohm * (1.0 - sign * CLOSE)) for sign in (-1, 1)]
    found = {lamp.is_seen(RESTING_SHARE * v, r) if is_dark else lamp.is_dark(v, r) for v, r in near}
    return found.pop() if len(found) == 1 else None


def _is_shown(fitted: Fitted, step: Step, harness: Powered) -> bool | None:
    """Whether the simulator's reading shows the fault; None where it lies at the edge of what tells it."""
    shares = {}
    for name, elements in fitted.load_elements.items():
        across = [abs(harness.between(each.a, each.b)) for each in elements]
        shares[name] = max(across) / (fitted.supply_v or 1.0)
    if step.expected.light is not None:
        # How a lamp burns in a powered harness has a test of its own.
        return None
    verdicts: list[bool | None] = [False]
    if step.reactions is not None:
        for names, limit, is_below in ((step.reactions.work, 0.1, True), (step.reactions.rest, 0.3, False)):
            for name in names:
                near = abs(shares[name] - limit) < CLOSE * limit
                verdicts.append(None if near else (shares[name] < limit) == is_below)
    if step.instrument is not None and step.a is not None:
        if step.expected.unit == "A":
            value = abs(harness.amperes.get(step.a.designator, 0.0))
        else:
            value = harness.between(step.a.node, far_node(fitted, step))
        verdicts.append(is_outside(step, value, value, CLOSE))
    return True if True in verdicts else None if None in verdicts else False
