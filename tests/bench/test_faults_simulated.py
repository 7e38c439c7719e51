"""Each fault, built into the harness and solved by a circuit simulator, gives the reading that the matrix rests on."""

import random
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import inf, isinf
from pathlib import Path

import numpy as np
import pytest

from harnessgen import run
from harnessgen.bench.detection import detect
from harnessgen.bench.fault import Change, FaultKind, Stuck
from harnessgen.bench.fitted import Fitted
from harnessgen.bench.powered_detection import PoweredSteps
from harnessgen.bench.powered_readings import PoweredSet
from harnessgen.bench.powered_rig import BLOWS_AT, PoweredRig
from harnessgen.bench.procedure import procedure_of
from harnessgen.bench.step import Block, Phase, Step
from harnessgen.bench.universe import universe_of
from harnessgen.bench.unpowered_detection import OhmBlock
from tests.bench.proving import shown_by, text_of
from tests.bench.simulated import BrokenBench, Circuit, Powered, settle, solved
from tests.physics.simulator import needs_simulator

pytestmark = needs_simulator

CLOSE = 1e-3
"""Readings agree to 0.1 %, or to what the instrument can show."""
FULL = ["flat-six", "twin-fans"]
SAMPLED = ["ignition-sensors", "small-boat", "trailer", "v8-second-injectors"]


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


@pytest.mark.parametrize(("name", "most"), [*((name, None) for name in FULL), *((name, 15) for name in SAMPLED)])
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


@pytest.mark.parametrize(("name", "most"), [*((name, None) for name in FULL), *((name, 15) for name in SAMPLED)])
def test_under_power_each_fault_reads_as_the_simulator_says(name: str, most: int | None, tmp_path: Path) -> None:
    """Every fault under every step of the full designs, 15 faults of each other by seed 7: volts, amperes, what works.

    Relays pull in and fuses blow by what the simulator finds.
    """
    drawn = laid(name, most)
    shown, changes, fitted = drawn.shown, list(drawn.shown), drawn.fitted
    harnesses: dict[tuple[int, tuple[str, ...]], list[Powered]] = {}
    powered = [block for block in drawn.blocks if block.setup.phase.is_powered]
    for block in powered:
        elements = fitted.with_apart(block.setup.apart).electrical.elements
        for on in dict.fromkeys(step.on for step in block.steps):
            harnesses[block.number, on] = [Powered(fitted, elements, frozenset(on), each) for each in changes]
    settle([each for row in harnesses.values() for each in row], BLOWS_AT, tmp_path)
    for block in powered:
        inside, rig = PoweredSteps(fitted, block.setup.apart, block.steps), PoweredRig(fitted, block.setup.apart)
        for on in dict.fromkeys(step.on for step in block.steps):
            steps = [step for step in block.steps if step.on == on]
            readings = PoweredSet(rig, on, tuple(inside._nodes(steps))).readings(changes)
            for row, harness in enumerate(harnesses[block.number, on]):
                where = (name, block.number, on, harness.change)
                for node in readings.node_of:
                    volts = readings.volts[row, readings.node_of[node]]
                    expected = harness.volts.get(node, 0.0)
                    assert np.nan_to_num(volts) == pytest.approx(expected, rel=CLOSE, abs=1e-4), (*where, node)
                for element, at in readings.element_of.items():
                    if harness.change == Stuck(element) and element not in on:
                        # The clamp goes on an output only while it is worked, so no reading rests on this one.
                        continue
                    ampere = harness.amperes.get(element, 0.0)
                    assert readings.amperes[row, at] == pytest.approx(ampere, rel=CLOSE, abs=1e-4), (*where, element)
                for step in steps:
                    verdict = _is_shown(inside, step, harness)
                    if verdict is not None:
                        assert verdict == (step.number in shown[harness.change]), (*where, step.number)


def _is_shown(inside: PoweredSteps, step: Step, harness: Powered) -> bool | None:
    """Whether the simulator's reading shows the fault; None where it lies at the edge of what tells it."""
    fitted = inside.fitted
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
            value = harness.between(step.a.node, inside._far(step))
        verdicts.append(is_outside(step, value, value, CLOSE))
    return True if True in verdicts else None if None in verdicts else False
