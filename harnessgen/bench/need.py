"""What a procedure is for: which phases it may use, and which faults it has to show."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from enum import Enum

from harnessgen.bench.faults.fault import FaultKind, HarnessFault
from harnessgen.bench.setup.instruments import LAMP
from harnessgen.bench.setup.step import Block, Expected, Phase, Step

_SERVICED = frozenset(
    {
        FaultKind.TERMINAL_OPEN,
        FaultKind.CONNECTORS_EXCHANGED,
        FaultKind.NEIGHBOURS_BRIDGED,
        FaultKind.FUSE_MISSING,
        FaultKind.OUTPUT_STUCK_OFF,
    }
)
"""What taking a harness apart and mating it again can do."""


class Need(Enum):
    """What a procedure is for."""

    BENCH = "unpowered, on the bench"
    POWERED = "powered, before the outputs work"
    VEHICLE = "in the vehicle, disconnects mated"
    SERVICE = "after service"
    LAMP_BENCH = "with a test lamp alone, on the bench"
    LAMP_VEHICLE = "with a test lamp alone, in the vehicle"

    @property
    def phases(self) -> frozenset[Phase]:
        """The phases that it may use."""
        if self is Need.BENCH:
            return frozenset({Phase.LOOK, Phase.CONTINUITY, Phase.ISOLATION, Phase.DROP, Phase.THROUGH_LOADS})
        if self is Need.POWERED:
            return frozenset({Phase.FEEDS, Phase.RETURNS_AT_REST})
        if self is Need.LAMP_BENCH:
            return frozenset({Phase.LOOK, Phase.LAMP_JOINED, Phase.LAMP_APART})
        if self is Need.LAMP_VEHICLE:
            return frozenset({Phase.LAMP_FED, Phase.STATES, Phase.LAMP_WORKED, Phase.OUTPUTS})
        # Of the whole harness only taps are loaded: their joints are made in the vehicle.
        return frozenset(
            {Phase.DROP, Phase.THROUGH_LOADS, Phase.FEEDS, Phase.RETURNS_AT_REST, Phase.STATES, Phase.OUTPUTS}
        )

    @property
    def is_of_section(self) -> bool:
        """Whether it is for each section by itself."""
        return self in (Need.BENCH, Need.LAMP_BENCH)

    @property
    def has_meter(self) -> bool:
        """Whether the person has a meter, and not a lamp alone."""
        return self not in (Need.LAMP_BENCH, Need.LAMP_VEHICLE)

    def own(self, blocks: Iterable[Block], section: str) -> Iterator[Block]:
        """The blocks that may serve it: of a section by itself (by its letter), or of the whole harness.

        Without a meter, what one is needed for falls out of them.
        """
        for block in blocks:
            if block.setup.phase in self.phases and block.setup.section == section:
                yield block if self.has_meter else _without_meter(block)

    def asks(self, fault: HarnessFault, section: str) -> bool:
        """Whether a fault has to be shown; one of a device counts where it is seen."""
        if self.is_of_section:
            return fault.section == section
        return self is not Need.SERVICE or fault.kind in _SERVICED


def _without_meter(block: Block) -> Block:
    """The block without the steps that a meter is needed for, and without a reading that is for information alone."""
    kept = (step for each in block.steps if (step := _by_eye(each)) is not None)
    return replace(block, setup=replace(block.setup, meter_lines=()), steps=tuple(kept))


def _by_eye(step: Step) -> Step | None:
    if step.instrument in (None, LAMP):
        return step
    if step.reactions is None:
        return None
    return replace(step, instrument=None, a=None, expected=Expected(""))
