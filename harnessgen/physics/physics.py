"""All that the physics of a network gives, each part computed when it is first asked for."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from harnessgen.network.electrical import Element
from harnessgen.network.network import Network
from harnessgen.physics.ampacity import AllowedCurrent, allowed_current
from harnessgen.physics.element_resistance import element_ohm
from harnessgen.physics.operating_point import OperatingPoint, operating_point
from harnessgen.physics.wire_length import WireLength, wire_length


@dataclass(frozen=True)
class Physics:
    """Lengths, resistances, operating points and allowed currents of a network."""

    network: Network

    @cached_property
    def lengths(self) -> Mapping[str, WireLength]:
        """Length of each wire, by mark."""
        return {wire.mark: wire_length(self.network, wire) for wire in self.network.wires}

    @cached_property
    def ohms(self) -> Mapping[str, float]:
        """Resistance of each element while it conducts, by name, in ohm."""
        return {each.name: element_ohm(self.network, each, self.lengths) for each in self.network.electrical.elements}

    @cached_property
    def points(self) -> Mapping[str, OperatingPoint]:
        """Operating point of each declared state."""
        states = self.network.design.states
        return {name: self.solve(name, frozenset(state.on)) for name, state in states.items()}

    def solve(self, state: str, on: frozenset[str]) -> OperatingPoint:
        """Operating point with these switches and drivers on, under the name `state`."""
        return operating_point(self.network, state, on, self.ohms)

    @cached_property
    def allowed(self) -> Mapping[str, AllowedCurrent]:
        """Allowed current of each wire, by mark."""
        return {wire.mark: allowed_current(self.network, wire) for wire in self.network.wires}

    def highest_current(self, element: Element) -> tuple[float, str]:
        """Highest current of an element over all declared states, in A, and the state that it flows in."""
        currents = ((abs(point.amperes[element.name]), name) for name, point in self.points.items())
        return max(currents, default=(0.0, ""), key=lambda each: each[0])
