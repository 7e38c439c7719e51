"""The procedures of a harness, each the least effort for its need, and what they prove: coverage, computed.

Coverage follows IEEE Std 1522-2004: the share
of the faults that are detected, here by number and by weight; what is not detected is listed with why.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from harnessgen.bench.cautions import FUSES_FIRST
from harnessgen.bench.detection import Detection, detect
from harnessgen.bench.effort import setup_seconds, step_seconds
from harnessgen.bench.fault import WEIGHTS, Fault, FaultKind
from harnessgen.bench.fitted import Fitted
from harnessgen.bench.need import Need
from harnessgen.bench.pointers import pointers
from harnessgen.bench.procedure import procedure_of
from harnessgen.bench.selection import Candidate, Chosen, choose
from harnessgen.bench.step import Block, Procedure
from harnessgen.bench.universe import Universe, universe_of
from harnessgen.network.network import Network
from harnessgen.physics.physics import Physics


@dataclass(frozen=True, slots=True)
class Covered:
    """How many faults of a class there are, and how many of them are shown."""

    kind: FaultKind
    count: int
    shown: int


@dataclass(frozen=True)
class Proof:
    """A procedure for a need, of one section or of the whole harness (no letter), and what it shows.

    `chosen` is its choice of steps with the gap to the least effort.
    """

    need: Need
    section: str
    procedure: Procedure
    chosen: Chosen
    detection: Detection

    @cached_property
    def covered(self) -> tuple[Covered, ...]:
        """Coverage by class of fault."""
        counts: dict[FaultKind, list[bool]] = {}
        for fault, steps in zip(self.detection.faults, self.detection.shown_by, strict=True):
            counts.setdefault(fault.kind, []).append(bool(steps))
        return tuple(Covered(kind, len(shown), sum(shown)) for kind, shown in counts.items())


def weighted(detection: Detection) -> float:
    """Share of the faults that is shown, each by how often its class is met; 1 where there is no fault."""
    pairs = list(zip(detection.faults, detection.shown_by, strict=True))
    whole = sum(WEIGHTS[fault.kind] for fault, _ in pairs)
    return sum(WEIGHTS[fault.kind] for fault, steps in pairs if steps) / whole if whole else 1.0


@dataclass(frozen=True)
class Proofs:
    """All that is proved of a harness: its faults, everything that any step shows, and the procedures by need."""

    network: Network
    universe: Universe
    pool: Procedure
    detection: Detection
    proofs: tuple[Proof, ...]

    @property
    def untested(self) -> tuple[Fault, ...]:
        """Faults that no step at all shows."""
        return self.detection.undetected


def proofs_of(network: Network, physics: Physics) -> Proofs:
    """Every fault under every step, and from that the procedure for each need."""
    fitted = Fitted(network, physics)
    universe = universe_of(fitted)
    pool = procedure_of(network, physics)
    detection = detect(fitted, pool.blocks, universe.faults)
    letters = [section.letter for section in network.sections.sections]
    asked = [(need, letter) for need in Need for letter in (letters if need.is_of_section else [""])]
    found = (_proof(need, letter, pool, detection) for need, letter in asked)
    return Proofs(network, universe, pool, detection, tuple(proof for proof in found if proof is not None))


def _proof(need: Need, section: str, pool: Procedure, detection: Detection) -> Proof | None:
    blocks = list(need.own(pool.blocks, section))
    own = {step.number for block in blocks for step in block.steps}
    asked = frozenset(
        place
        for place, (fault, steps) in enumerate(zip(detection.faults, detection.shown_by, strict=True))
        if need.asks(fault, section) or (need.is_of_section and not fault.section and own & steps)
    )
    candidates = [
        Candidate(step.number, block.number, step_seconds(block, step), shown)
        for block in blocks
        for step in block.steps
        if (shown := asked.intersection(detection.shows.get(step.number, ())))
    ]
    if not candidates:
        return None
    chosen = choose(candidates, {block.number: setup_seconds(block) for block in blocks})
    shown_by = {place: steps & chosen.numbers for place, steps in enumerate(detection.shown_by) if place in asked}
    kept, numbers = _renumbered(blocks, chosen)
    faults = tuple(detection.faults[place] for place in shown_by)
    bits = {number: 1 << place for place, number in enumerate(numbers.values())}
    masks = tuple(sum(bits[numbers[each]] for each in steps) for steps in shown_by.values())
    held = Detection(faults, masks, tuple(bits))
    pointed = tuple(_pointed(block, held) for block in _fuses_first(kept))
    procedure = replace(pool, blocks=pointed, finds=tuple(_finds(held, chosen)))
    return Proof(need, section, procedure, replace(chosen, numbers=frozenset(numbers.values())), held)


def _renumbered(blocks: Sequence[Block], chosen: Chosen) -> tuple[list[Block], dict[str, str]]:
    """The chosen steps under numbers that run on, and the new number of each by its old one."""
    kept: list[Block] = []
    numbers: dict[str, str] = {}
    for block in blocks:
        steps = [step for step in block.steps if step.number in chosen.numbers]
        if steps:
            place = len(kept) + 1
            numbers.update({step.number: f"{place}.{index}" for index, step in enumerate(steps, start=1)})
            kept.append(Block(place, block.setup, tuple(replace(each, number=numbers[each.number]) for each in steps)))
    return kept, numbers


def _fuses_first(blocks: Sequence[Block]) -> Iterator[Block]:
    """The blocks, the first with power cautioned to fit the fuses one at a time, whichever block that is."""
    has_power = False
    for block in blocks:
        setup = block.setup
        if setup.phase.is_powered and not has_power and FUSES_FIRST not in setup.cautions:
            setup = replace(setup, cautions=(FUSES_FIRST, *setup.cautions))
        has_power = has_power or setup.phase.is_powered
        yield replace(block, setup=setup)


def _pointed(block: Block, held: Detection) -> Block:
    """The block with what each step points to."""
    steps = (
        replace(step, points_to=pointers(held.faults[place] for place in held.shows.get(step.number, ())))
        for step in block.steps
    )
    return replace(block, steps=tuple(steps))


def _finds(held: Detection, chosen: Chosen) -> Iterator[str]:
    """What the procedure finds and misses, in lines for its head."""
    pairs = list(zip(held.faults, held.shown_by, strict=True))
    severe = [bool(steps) for fault, steps in pairs if fault.consequence.is_severe]
    found = len(held.faults) - len(held.undetected)
    yield (
        f"Computed by laying each of {len(held.faults)} faults into the harness of every step: these steps show {found}"
        f" of them, and {sum(severe)} of the {len(severe)} that lead to engine damage or fire."
        + (" The others are listed at the end, each with why and where it is shown." if held.undetected else "")
    )
    if chosen.gap > 0:
        yield f"About {chosen.seconds / 60:.0f} min; a choice of steps could be up to {chosen.gap:.0%} quicker."
    else:
        yield f"About {chosen.seconds / 60:.0f} min, the least that shows all that can be shown; no step can be spared."
