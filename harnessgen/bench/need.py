"""What a procedure is for: which phases it may use, and which faults it has to show."""

from enum import Enum

from harnessgen.bench.fault import Fault, FaultKind
from harnessgen.bench.step import Block, Phase

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

    @property
    def phases(self) -> frozenset[Phase]:
        """The phases that it may use."""
        if self is Need.BENCH:
            return frozenset({Phase.LOOK, Phase.CONTINUITY, Phase.ISOLATION, Phase.DROP, Phase.THROUGH_LOADS})
        if self is Need.POWERED:
            return frozenset({Phase.FEEDS, Phase.RETURNS_AT_REST})
        return frozenset({Phase.THROUGH_LOADS, Phase.FEEDS, Phase.RETURNS_AT_REST, Phase.STATES, Phase.OUTPUTS})

    def takes(self, block: Block, section: str) -> bool:
        """Whether a block may serve it: a section by itself (by its letter) on the bench, the whole harness else."""
        return block.setup.phase in self.phases and block.setup.section == section

    def asks(self, fault: Fault, section: str) -> bool:
        """Whether a fault has to be shown; one of a device counts where it is seen."""
        if self is Need.BENCH:
            return fault.section == section
        return self is not Need.SERVICE or fault.kind in _SERVICED
