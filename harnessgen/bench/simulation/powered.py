"""The harness under power with some connectors apart, as it stands without a fault."""

from dataclasses import dataclass
from functools import cached_property

from harnessgen.bench.faults.fault import Spot
from harnessgen.bench.setup.installed import Fitted
from harnessgen.network.electrical import REFERENCE
from harnessgen.network.network import Network
from harnessgen.physics.electrical.operating_point import OperatingPoint, operating_point

BLOWS_AT = 2.0
"""Share of its rating from which a fuse opens within seconds: 200 % in 5 s at most (ISO 8820-3, blade fuses)."""


@dataclass(frozen=True)
class PoweredRig:
    """The harness with these connectors apart."""

    fitted: Fitted
    apart: tuple[str, ...]

    @cached_property
    def network(self) -> Network:
        """The network as it stands without a fault."""
        return self.fitted.with_apart(self.apart)

    def solve(self, on: tuple[str, ...]) -> OperatingPoint:
        """Operating point with these switches and outputs on, without a fault."""
        return operating_point(self.network, "bench", frozenset(on), self.fitted.physics.ohms)

    @property
    def supply_v(self) -> dict[str, float]:
        """Volts of each supply."""
        return {name: supply.voltage_v.value for name, supply in self.network.design.supplies.items()}

    def node(self, spot: Spot) -> str:
        """Node of the electrical graph at an end of a wire, or the reference for bare metal."""
        if not spot.mark:
            return REFERENCE
        return self.fitted.network.wire_of[spot.mark].ends[spot.end].node
