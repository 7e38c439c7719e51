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
from harnessgen.bench.fault import Change, Consequence, Fault, FaultKind, Series, Spot
from harnessgen.bench.fitted import Fitted
from harnessgen.bench.powered_detection import PoweredSteps
from harnessgen.bench.step import Block, Phase, Step
from harnessgen.bench.unpowered_detection import OhmBlock
from harnessgen.measures.frozen import frozen


@frozen
class Covered:
    """How many faults of a class there are, and how many of them are shown."""

    kind: FaultKind
    count: int
    shown: int


@dataclass(frozen=True)
class Detection:
    """The detection matrix: `masks` has for each fault, by its place in the list, the bits of the steps that show it.

    Bit 0 stands for the first of `numbers`.
    """

    faults: tuple[Fault, ...]
    masks: tuple[int, ...]
    numbers: tuple[str, ...]

    @cached_property
    def alike(self) -> Mapping[int, tuple[int, ...]]:
        """Places of the faults that the same steps show, by the bits of those steps, as the first of each comes."""
        # A long number takes long to look up, and most are the same object.
        lists: dict[int, list[int]] = {}
        found: dict[int, list[int]] = {}
        for place, mask in enumerate(self.masks):
            places = lists.get(id(mask))
            if places is None:
                places = lists[id(mask)] = found.setdefault(mask, [])
            places.append(place)
        return {mask: tuple(places) for mask, places in found.items()}

    @cached_property
    def _tally(self) -> Mapping[tuple[FaultKind, Consequence], tuple[int, int]]:
        """How many faults of a class and of a consequence there are, and how many of them are shown."""
        counts: dict[tuple[FaultKind, Consequence], list[bool]] = {}
        for fault, mask in zip(self.faults, self.masks, strict=True):
            counts.setdefault((fault.kind, fault.consequence), []).append(mask != 0)
        return {key: (len(shown), sum(shown)) for key, shown in counts.items()}

    @property
    def covered(self) -> tuple[Covered, ...]:
        """Coverage by class of fault, as the first of each comes."""
        found: dict[FaultKind, Covered] = {}
        for (kind, _), (count, shown) in self._tally.items():
            before = found.get(kind, Covered(kind, 0, 0))
            found[kind] = Covered(kind, before.count + count, before.shown + shown)
        return tuple(found.values())

    @property
    def severe(self) -> tuple[int, int]:
        """How many of the faults that lead to engine damage or fire are shown, and how many there are."""
        counts = [counts for (_, consequence), counts in self._tally.items() if consequence.is_severe]
        return sum(shown for _, shown in counts), sum(count for count, _ in counts)

    def steps_of(self, mask: int) -> tuple[str, ...]:
        """Numbers of the steps with these bits, in their order."""
        return tuple(self.numbers[bit] for bit in bits_of(mask))

    @property
    def undetected(self) -> tuple[Fault, ...]:
        """Faults that no step shows."""
        return tuple(self.faults[place] for place in self.alike.get(0, ()))

    @cached_property
    def ambiguity_groups(self) -> tuple[tuple[Fault, ...], ...]:
        """Detected faults that the same steps show, the largest groups first."""
        groups = sorted((places for mask, places in self.alike.items() if mask), key=len, reverse=True)
        return tuple(tuple(self.faults[place] for place in places) for places in groups)


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
    # Few patterns serve many faults, and each is long where there are many steps.
    same: dict[int, int] = {}
    for fault in faults:
        mask = looked.get(fault.looks, 0) if fault.is_seen else 0
        if fault.change is not None:
            # What comes and goes is caught only while it is bent.
            comes_and_goes = fault.kind is FaultKind.COMES_AND_GOES
            mask |= shown[row_of[_plain(fault.change)]] & (bent if comes_and_goes else -1)
        masks.append(same.setdefault(mask, mask))
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
