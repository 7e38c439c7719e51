"""The part of an electrical graph that conducts at one time, ready for the nodal solver."""

from collections.abc import Iterable, Mapping

import numpy as np

from harnessgen.design.device import Supply
from harnessgen.measures.frozen import frozen
from harnessgen.network.electrical import REFERENCE, Element, ElementKind
from harnessgen.network.network import Network
from harnessgen.physics.nodal import Network as NodalNetwork
from harnessgen.physics.nodal import Resistor, Solution, assemble
from harnessgen.physics.nodal_elements import Floats


@frozen
class LiveNetwork:
    """What conducts, assembled: `index` is the number of each node, `resistive` the elements in the nodal order.

    `ideal` are supplies and ground points without resistance, each with its node.
    """

    nodal: NodalNetwork
    index: Mapping[str, int]
    resistive: tuple[Element, ...]
    ideal: tuple[tuple[Element, int], ...]

    @property
    def elements(self) -> tuple[Element, ...]:
        """All elements that conduct, in the order of `currents_a`."""
        return (*self.resistive, *(element for element, _ in self.ideal))

    def currents_a(self, solution: Solution) -> Floats:
        """Current of each element from its `a` to its `b`; shape: elements, with a last axis where sets were given."""
        # What an ideal source feeds in comes up through it from the reference.
        nodes = [node for _, node in self.ideal]
        through = solution.currents_a[: len(self.resistive)]
        return np.concatenate((through, -solution.supplied_a[nodes]), axis=0)

    def voltages_v(self, solution: Solution) -> dict[str, float]:
        """Voltage of each node against the reference, nan where it hangs free."""
        return {name: float(solution.voltages_v[number]) for name, number in self.index.items()}


def live_network(
    network: Network, closed: Iterable[Element], ohms: Mapping[str, float], supply_v: Mapping[str, float]
) -> LiveNetwork:
    """Assemble the elements of `closed`; `ohms` by element, `supply_v` by supply.

    Raises:
        ValueError: a resistance or a voltage is no finite number above zero.
    """
    index = {name: number for number, name in enumerate(network.electrical.nodes)}
    fixed = {index[REFERENCE]: 0.0}
    resistive: list[Element] = []
    resistors: list[Resistor] = []
    ideal: list[tuple[Element, int]] = []
    count = len(index)
    for element in closed:
        a, b, ohm = index[element.a], index[element.b], ohms[element.name]
        if element.kind is ElementKind.SUPPLY and isinstance(element.device, Supply):
            volts = supply_v[element.device.name]
            if ohm > 0:
                # The voltage without load stands behind the inner resistance, at a node of its own.
                b, count = count, count + 1
                fixed[b] = volts
            else:
                fixed[a] = volts
        elif element.kind is ElementKind.GROUND and ohm == 0:
            fixed[a] = 0.0
        if ohm > 0:
            resistive.append(element)
            resistors.append(Resistor(a, b, ohm))
        else:
            ideal.append((element, a))
    return LiveNetwork(assemble(count, resistors, fixed), index, tuple(resistive), tuple(ideal))
