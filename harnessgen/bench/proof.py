"""The procedures of a harness, each the least effort for its need, and what they prove: coverage, computed.

Coverage follows IEEE Std 1522-2004: the share
of the faults that are detected, here by number and by weight; what is not detected is listed with why.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import chain, count

from harnessgen.bench.detection.detection import Detection, detect
from harnessgen.bench.faults.bits import bits_of, taken
from harnessgen.bench.faults.fault import WEIGHTS, FaultKind, HarnessFault
from harnessgen.bench.faults.universe import Universe, universe_of
from harnessgen.bench.need import Need
from harnessgen.bench.pointers import Pointing
from harnessgen.bench.selection.selection import Chosen, choose
from harnessgen.bench.selection.set_cover import Candidate
from harnessgen.bench.setup.installed import Fitted
from harnessgen.bench.setup.step import Block, Procedure
from harnessgen.bench.steps.cautions import FUSES_FIRST
from harnessgen.bench.steps.effort import setup_seconds, step_seconds
from harnessgen.bench.steps.procedure import procedure_of
from harnessgen.measures.work import Work, one_by_one
from harnessgen.network.network import Network
from harnessgen.physics.physics import Physics


@dataclass(frozen=True)
class Proof:
    """A procedure for a need, of one section or of the whole harness (no letter), and what it shows.

    `chosen` is its choice of steps, by their bits in the pool, with the gap to the least effort; `places` are those of
    its faults among the faults of the whole harness.
    """

    need: Need
    section: str
    procedure: Procedure
    chosen: Chosen
    detection: Detection
    places: tuple[int, ...]


def weighted(detection: Detection) -> float:
    """Share of the faults that is shown, each by how often its class is met; 1 where there is no fault."""
    whole = sum(WEIGHTS[each.kind] * each.count for each in detection.covered)
    return sum(WEIGHTS[each.kind] * each.shown for each in detection.covered) / whole if whole else 1.0


@dataclass(frozen=True)
class Proofs:
    """All that is proved of a harness: its faults, everything that any step shows, and the procedures by need."""

    network: Network
    universe: Universe
    pool: Procedure
    detection: Detection
    proofs: tuple[Proof, ...]

    @property
    def untested(self) -> tuple[HarnessFault, ...]:
        """Faults that no step at all shows."""
        return self.detection.undetected


def proofs_of(network: Network, physics: Physics, work: Work = one_by_one) -> Proofs:
    """Every fault under every step, and from that the procedure for each need."""
    fitted = Fitted(network, physics)
    universe = universe_of(fitted)
    pool = procedure_of(network, physics)
    detection = detect(fitted, pool.blocks, universe.faults, work)
    letters = [section.letter for section in network.sections.sections]
    return Proofs(network, universe, pool, detection, tuple(procedures_of(pool, detection, letters)))


def procedures_of(pool: Procedure, detection: Detection, letters: Sequence[str]) -> Iterator[Proof]:
    """The procedure for each need, of each section by its letter where the need is of a section."""
    maker = _Maker(pool, detection)
    for need in Need:
        for letter in letters if need.is_of_section else [""]:
            proof = maker.proof(need, letter)
            if proof is not None:
                yield proof


@dataclass(frozen=True)
class _Maker:
    """Makes procedures of a pool of steps."""

    pool: Procedure
    detection: Detection

    @cached_property
    def bit_of(self) -> Mapping[str, int]:
        """The bit of each step, by its number."""
        return {number: bit for bit, number in enumerate(self.detection.numbers)}

    @cached_property
    def pointing(self) -> Pointing:
        return Pointing(self.detection.faults, self.detection.rank)

    @cached_property
    def alike(self) -> Sequence[tuple[int, Sequence[Sequence[int]]]]:
        """For each pattern of steps the places of the faults that they show, apart by class and section."""
        found = []
        for mask, places in self.detection.alike.items():
            apart: dict[tuple[FaultKind, str], list[int]] = {}
            for place in places:
                fault = self.detection.faults[place]
                apart.setdefault((fault.kind, fault.section), []).append(place)
            found.append((mask, list(apart.values())))
        return found

    def proof(self, need: Need, section: str) -> Proof | None:
        """The cheapest procedure for a need; None where no step shows what it asks for."""
        blocks = list(need.own(self.pool.blocks, section))
        candidates = {
            self.bit_of[step.number]: Candidate(block.number, step_seconds(block, step))
            for block in blocks
            for step in block.steps
        }
        own = sum(1 << bit for bit in candidates)
        asked: dict[int, list[int]] = {}
        for mask, apart in self.alike:
            shows = mask & own
            wanted = [places for places in apart if self._asks(need, section, self.detection.faults[places[0]], shows)]
            if wanted:
                asked.setdefault(shows, []).extend(chain.from_iterable(wanted))
        if not any(asked):
            return None
        chosen = choose(candidates, asked, {block.number: setup_seconds(block) for block in blocks})
        shown: dict[int, list[int]] = {}
        for mask, places in asked.items():
            shown.setdefault(mask & chosen.steps, []).extend(places)
        packed = dict(zip(taken(list(shown), list(bits_of(chosen.steps))), shown.values(), strict=True))
        kept = self._pointed(_renumbered(blocks, self.bit_of, chosen), packed)
        return self._proof(need, section, kept, chosen, packed)

    @staticmethod
    def _asks(need: Need, section: str, fault: HarnessFault, shows: int) -> bool:
        # One of a device, in no section, is asked of every section that has a step for it.
        is_met = need.is_of_section and not fault.section and shows
        return bool(is_met) or need.asks(fault, section)

    def _proof(
        self, need: Need, section: str, kept: Sequence[Block], chosen: Chosen, shown: Mapping[int, Sequence[int]]
    ) -> Proof:
        mask_at: list[int | None] = [None] * len(self.detection.faults)
        for mask, alike in shown.items():
            for place in alike:
                mask_at[place] = mask
        places = tuple(place for place, mask in enumerate(mask_at) if mask is not None)
        held = Detection(
            tuple(self.detection.faults[place] for place in places),
            tuple(mask for mask in mask_at if mask is not None),
            tuple(step.number for block in kept for step in block.steps),
        )
        finds = tuple(_finds(held, chosen))
        procedure = replace(self.pool, blocks=tuple(_fuses_first(kept)), finds=finds)
        return Proof(need, section, procedure, chosen, held, places)

    def _pointed(self, blocks: Sequence[Block], shown: Mapping[int, Sequence[int]]) -> list[Block]:
        """The blocks with what each of their steps points to, by the steps that show each fault."""
        lines = self.pointing.lines(shown)
        bits = count()
        return [
            replace(block, steps=tuple(replace(step, points_to=lines[next(bits)]) for step in block.steps))
            for block in blocks
        ]


def _renumbered(blocks: Sequence[Block], bit_of: Mapping[str, int], chosen: Chosen) -> list[Block]:
    """The chosen steps under numbers that run on."""
    kept: list[Block] = []
    for block in blocks:
        steps = [step for step in block.steps if chosen.steps >> bit_of[step.number] & 1]
        if steps:
            place = len(kept) + 1
            numbered = (replace(step, number=f"{place}.{index}") for index, step in enumerate(steps, start=1))
            kept.append(Block(place, block.setup, tuple(numbered)))
    return kept


def _fuses_first(blocks: Sequence[Block]) -> Iterator[Block]:
    """The blocks, the first with power cautioned to fit the fuses one at a time, whichever block that is."""
    has_power = False
    for block in blocks:
        setup = block.setup
        if setup.phase.is_powered and not has_power and FUSES_FIRST not in setup.cautions:
            setup = replace(setup, cautions=(FUSES_FIRST, *setup.cautions))
        has_power = has_power or setup.phase.is_powered
        yield replace(block, setup=setup)


def _finds(held: Detection, chosen: Chosen) -> Iterator[str]:
    """What the procedure finds and misses, in lines for its head."""
    shown, severe = held.severe
    missed = len(held.alike.get(0, ()))
    found = len(held.faults) - missed
    yield (
        f"Computed by laying each of {len(held.faults)} faults into the harness of every step: these steps show {found}"
        f" of them, and {shown} of the {severe} that lead to engine damage or fire."
        + (" The others are listed at the end, each with why and where it is shown." if missed else "")
    )
    if chosen.gap > 0:
        yield f"About {chosen.seconds / 60:.0f} min; a choice of steps could be up to {chosen.gap:.0%} quicker."
    else:
        yield f"About {chosen.seconds / 60:.0f} min, the least that shows all that can be shown; no step can be spared."
