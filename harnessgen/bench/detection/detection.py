"""Which step shows which fault: every fault is laid into the harness of every step, and the reading is worked out anew.

A step shows a fault only where the faulty reading, with all that the instrument may be off, lies outside the band that
passes. So a band that cannot be told from the fault's reading does not count. Terms follow IEEE Std 1522-2004 where it
has them: a fault is detected if a step fails, and faults that fail the same steps are an ambiguity group.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, partial

from harnessgen.bench.detection.powered import PoweredSteps
from harnessgen.bench.detection.unpowered import OhmBlock
from harnessgen.bench.faults.bits import bits_of
from harnessgen.bench.faults.changes import Changes
from harnessgen.bench.faults.fault import Change, Consequence, FaultKind, HarnessFault, Series, Spot
from harnessgen.bench.setup.installed import Fitted
from harnessgen.bench.setup.step import Block, Phase, Step
from harnessgen.measures.designator import natural_key
from harnessgen.measures.frozen import frozen
from harnessgen.measures.work import Work, one_by_one

_LARGE = 20_000
"""From so many changes on it is worth while to share the work out."""


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

    faults: tuple[HarnessFault, ...]
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
    def rank(self) -> Mapping[str, int]:
        """The place of the subject of each fault in the natural order of names, in that order."""
        subjects = {fault.subject for fault in self.faults}
        return {subject: place for place, subject in enumerate(sorted(subjects, key=natural_key))}

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
    def undetected(self) -> tuple[HarnessFault, ...]:
        """Faults that no step shows."""
        return tuple(self.faults[place] for place in self.alike.get(0, ()))

    @cached_property
    def ambiguity_groups(self) -> tuple[tuple[HarnessFault, ...], ...]:
        """Detected faults that the same steps show, the largest groups first."""
        groups = sorted((places for mask, places in self.alike.items() if mask), key=len, reverse=True)
        return tuple(tuple(self.faults[place] for place in places) for places in groups)


def detect(
    fitted: Fitted, blocks: Sequence[Block], faults: Sequence[HarnessFault], work: Work = one_by_one
) -> Detection:
    """The detection matrix of a procedure; where there are many faults, done by `work`."""
    steps = [(block, step) for block in blocks for step in block.steps]
    bits = _bits(step for _, step in steps)
    bent = sum(bits[step.number] for block, step in steps if block.setup.phase.is_bent)
    looked: dict[str, int] = {}
    for block, step in steps:
        if block.setup.phase is Phase.LOOK:
            looked[step.looks_at] = looked.get(step.looks_at, 0) | bits[step.number]
    row_of: dict[Change, int] = {}
    rows = [-1 if fault.change is None else row_of.setdefault(_plain(fault.change), len(row_of)) for fault in faults]
    shown = _shown(fitted, blocks, Changes(tuple(row_of)), work if len(row_of) > _LARGE else one_by_one)
    masks = []
    # Few patterns serve many faults, and each is long where there are many steps.
    same: dict[int, int] = {}
    for fault, row in zip(faults, rows, strict=True):
        mask = shown[row] if row >= 0 else 0
        if fault.kind is FaultKind.COMES_AND_GOES:
            # What comes and goes is caught only while it is bent.
            mask &= bent
        if fault.is_seen:
            mask |= looked.get(fault.looks, 0)
        masks.append(same.setdefault(mask, mask))
    return Detection(tuple(faults), tuple(masks), tuple(bits))


def _plain(change: Change) -> Change:
    """Where along a wire it is broken makes no difference to what is read at its ends."""
    return replace(change, spot=Spot(change.spot.mark)) if isinstance(change, Series) else change


def _shown(fitted: Fitted, blocks: Sequence[Block], changes: Changes, work: Work) -> list[int]:
    """For each change the bits of the steps that show it, the first bit that of the first step."""
    powered: dict[tuple[str, ...], list[Block]] = {}
    alone: list[list[Block]] = []
    for block in blocks:
        phase = block.setup.phase
        if phase.is_powered:
            # Blocks that find the same connectors apart share their solutions.
            powered.setdefault(block.setup.apart, []).append(block)
        elif phase is not Phase.LOOK:
            alone.append([block])
    # What has the most outputs takes longest.
    groups = [*sorted(powered.values(), key=_settings, reverse=True), *alone]
    told = list(zip(groups, work(partial(_shown_by, fitted, changes), groups), strict=True))
    first_of = {block.number: sum(len(before.steps) for before in blocks[:place]) for place, block in enumerate(blocks)}
    # Few patterns of what each group of blocks shows serve many changes.
    laid: dict[tuple[int, ...], int] = {(): 0}
    found = list(zip(*(masks for _, masks in told), strict=True)) or [()] * len(changes)
    for masks in found:
        if masks not in laid:
            laid[masks] = sum(_laid(own, mask, first_of) for (own, _), mask in zip(told, masks, strict=True))
    return [laid[masks] for masks in found]


def _shown_by(fitted: Fitted, changes: Changes, blocks: Sequence[Block]) -> list[int]:
    """For each change the bits of the steps of these blocks that show it."""
    if not blocks[0].setup.phase.is_powered:
        return OhmBlock(fitted, blocks[0]).shown(changes, _bits(blocks[0].steps))
    steps = [step for block in blocks for step in block.steps]
    return PoweredSteps(fitted, blocks[0].setup.apart, steps).shown(changes, _bits(steps))


def _settings(blocks: Sequence[Block]) -> int:
    return len({step.on for block in blocks for step in block.steps})


def _bits(steps: Iterable[Step]) -> dict[str, int]:
    return {step.number: 1 << place for place, step in enumerate(steps)}


def _laid(blocks: Sequence[Block], mask: int, first_of: Mapping[int, int]) -> int:
    """Bits of the steps of some blocks, which are told one behind the other, where they lie among all steps."""
    found = 0
    for block in blocks:
        found |= (mask & ((1 << len(block.steps)) - 1)) << first_of[block.number]
        mask >>= len(block.steps)
    return found
