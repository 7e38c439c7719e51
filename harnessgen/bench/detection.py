"""Which step shows which fault: every fault is laid into the harness of every step, and the reading is worked out anew.

A step shows a fault only where the faulty reading, with all that the instrument may be off, lies outside the band that
passes. So a band that cannot be told from the fault's reading does not count. Terms follow IEEE Std 1522-2004 where it
has them: a fault is detected if a step fails, and faults that fail the same steps are an ambiguity group.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from operator import or_

from harnessgen.bench.bits import bits_of
from harnessgen.bench.fault import Change, Fault, FaultKind, Series, Spot
from harnessgen.bench.fitted import Fitted
from harnessgen.bench.powered_detection import PoweredSteps
from harnessgen.bench.step import Block, Phase, Step
from harnessgen.bench.unpowered_detection import OhmBlock


@dataclass(frozen=True)
class Detection:
    """The detection matrix: `masks` has for each fault, by its place in the list, the bits of the steps that show it.

    Bit 0 stands for the first of `numbers`.
    """

    faults: tuple[Fault, ...]
    masks: tuple[int, ...]
    numbers: tuple[str, ...]

    @cached_property
    def shown_by(self) -> tuple[frozenset[str], ...]:
        """For each fault the numbers of the steps that show it."""
        # Few patterns serve many faults.
        steps_of = {mask: frozenset(self.numbers[bit] for bit in bits_of(mask)) for mask in set(self.masks)}
        return tuple(steps_of[mask] for mask in self.masks)

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
        return tuple(fault for fault, mask in zip(self.faults, self.masks, strict=True) if not mask)

    @cached_property
    def ambiguity_groups(self) -> tuple[tuple[Fault, ...], ...]:
        """Detected faults that the same steps show, the largest groups first."""
        groups: dict[int, list[Fault]] = {}
        for fault, mask in zip(self.faults, self.masks, strict=True):
            if mask:
                groups.setdefault(mask, []).append(fault)
        return tuple(sorted(map(tuple, groups.values()), key=len, reverse=True))


def detect(fitted: Fitted, blocks: Sequence[Block], faults: Sequence[Fault]) -> Detection:
    """The detection matrix of a procedure."""
    steps = [(block, step) for block in blocks for step in block.steps]
    bits = {step.number: 1 << place for place, (_, step) in enumerate(steps)}
    bent = sum(bits[step.number] for block, step in steps if block.setup.phase.is_bent)
    looked: dict[str, int] = {}
    for block, step in steps:
        if block.setup.phase is Phase.LOOK:
            looked[step.looks_at] = looked.get(step.looks_at, 0) | bits[step.number]
    row_of: dict[Change, int] = {}
    for fault in faults:
        if fault.change is not None:
            row_of.setdefault(_plain(fault.change), len(row_of))
    shown = _shown(fitted, blocks, tuple(row_of), bits)
    masks = []
    for fault in faults:
        mask = looked.get(fault.looks, 0) if fault.is_seen else 0
        if fault.change is not None:
            # What comes and goes is caught only while it is bent.
            comes_and_goes = fault.kind is FaultKind.COMES_AND_GOES
            mask |= shown[row_of[_plain(fault.change)]] & (bent if comes_and_goes else -1)
        masks.append(mask)
    return Detection(tuple(faults), tuple(masks), tuple(bits))


def _plain(change: Change) -> Change:
    """Where along a wire it is broken makes no difference to what is read at its ends."""
    return replace(change, spot=Spot(change.spot.mark)) if isinstance(change, Series) else change


def _shown(
    fitted: Fitted, blocks: Sequence[Block], changes: Sequence[Change], bits: Mapping[str, int]
) -> Sequence[int]:
    found = [0] * len(changes)
    powered: dict[tuple[str, ...], list[Step]] = {}
    for block in blocks:
        phase = block.setup.phase
        if phase.is_powered:
            # Blocks that find the same connectors apart share their solutions.
            powered.setdefault(block.setup.apart, []).extend(block.steps)
        elif phase is not Phase.LOOK:
            found = list(map(or_, found, OhmBlock(fitted, block).shown(changes, bits)))
    for apart, powered_steps in powered.items():
        found = list(map(or_, found, PoweredSteps(fitted, apart, powered_steps).shown(changes, bits)))
    return found
