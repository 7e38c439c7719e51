"""The part of an electrical graph that conducts at one time, ready for the nodal solver."""

from collections.abc import Iterable, Mapping

import numpy as np

from harnessgen.design.records.device import Supply
from harnessgen.measures.frozen import frozen
from harnessgen.network.electrical import REFERENCE, Element, ElementKind
from harnessgen.network.network import Network
from harnessgen.physics.nodal.elements import Floats, Ints
from harnessgen.physics.nodal.solution import ResistiveNetwork as NodalNetwork
from harnessgen.physics.nodal.solution import Solution, assemble_arrays


@frozen
class LiveNetwork:
    """What conducts, assembled: `index` is the number of each node, `resistive` the elements in the nodal order.

    `ideal` are supplies and ground points without resistance, each with its node. `edges` says where in the order of
    edges of the electrical graph each of the solver's elements stands.
    """

    nodal: NodalNetwork
    index: Mapping[str, int]
    resistive: tuple[Element, ...]
    ideal: tuple[tuple[Element, int], ...]
    edges: Ints

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
    """Assemble the elements of `closed`, in the order of edges; `ohms` by element, `supply_v` by supply.

    Raises:
        ValueError: a resistance or a voltage is no finite number above zero.
    """
    electrical = network.electrical
    conducts = tuple(closed)
    edges = np.array([electrical.place_of[each.name] for each in conducts], dtype=np.intp)
    ohm = np.array([ohms[each.name] for each in conducts], dtype=np.float64)
    a, b = (ends[edges] for ends in electrical.ends)
    count = len(electrical.nodes)
    fixed = {electrical.number_of[REFERENCE]: 0.0}
    for row, element in enumerate(conducts):
        if element.kind is ElementKind.SUPPLY and isinstance(element.device, Supply):
            volts = supply_v[element.device.name]
            if ohm[row] > 0:
                # The voltage without load stands behind the inner resistance, at a node of its own.
                b[row], count = count, count + 1
                fixed[int(b[row])] = volts
            else:
                fixed[int(a[row])] = volts
        elif element.kind is ElementKind.GROUND and ohm[row] == 0:
            fixed[int(a[row])] = 0.0
    resists = ohm > 0
    nodal = assemble_arrays(count, a[resists], b[resists], ohm[resists], fixed)
    resistive = tuple(conducts[row] for row in np.nonzero(resists)[0].tolist())
    ideal = tuple((conducts[row], int(a[row])) for row in np.nonzero(~resists)[0].tolist())
    return LiveNetwork(nodal, electrical.number_of, resistive, ideal, edges[resists])
