"""The operating point of each state: what conducts, every node's voltage, every element's current.

Relays close this loop: which contacts conduct follows from what their coils get, which follows from what conducts. Only
this module iterates it, and it says so when the loop does not come to rest.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from harnessgen.design.device import Relay, Supply
from harnessgen.network.electrical import REFERENCE, Element, ElementKind
from harnessgen.network.network import Network
from harnessgen.physics.nodal import Resistor, assemble


@dataclass(frozen=True, slots=True)
class OperatingPoint:
    """A solved state.

    `on` are the switches and drivers that are on, `pulled_in` the relays that hold. `volts` are node voltages against
    the reference (nan where a node hangs free), `amperes` the current of every element from its `a` to its `b` (0 where
    it does not conduct), `ohms` the resistance of those that conduct. `is_at_rest` is False when a relay neither holds
    nor falls off for good.
    """

    state: str
    on: frozenset[str]
    pulled_in: frozenset[str]
    volts: Mapping[str, float]
    amperes: Mapping[str, float]
    ohms: Mapping[str, float]
    is_at_rest: bool

    def across(self, element: Element) -> float:
        """Voltage across an element, from its `a` to its `b`, in volts; 0 where an end hangs free."""
        across = self.volts[element.a] - self.volts[element.b]
        return 0.0 if math.isnan(across) else across


def conducting(element: Element, on: frozenset[str], pulled_in: frozenset[str]) -> bool:
    """Whether an element conducts with these switches and drivers on and these relays holding."""
    switch = element.switched_by
    if not switch:
        return True
    if element.kind is ElementKind.MAKE:
        return switch in pulled_in
    if element.kind is ElementKind.BREAK:
        return switch not in pulled_in
    return switch in on


def operating_point(network: Network, state: str, on: frozenset[str], ohms: Mapping[str, float]) -> OperatingPoint:
    """Solve with the switches and drivers of `on`; `ohms` is every element's resistance while it conducts."""
    pulled_in: frozenset[str] = frozenset()
    seen: set[frozenset[str]] = set()
    while True:
        point = _solved(network, state, on, pulled_in, ohms)
        holding = _holding(network, point)
        if holding == pulled_in:
            return point
        seen.add(pulled_in)
        if holding in seen:
            return OperatingPoint(state, on, pulled_in, point.volts, point.amperes, point.ohms, is_at_rest=False)
        pulled_in = holding


def _holding(network: Network, point: OperatingPoint) -> frozenset[str]:
    coils = (each for each in network.electrical.elements if each.kind is ElementKind.COIL)
    return frozenset(
        coil.device.name
        for coil in coils
        if isinstance(coil.device, Relay)
        and abs(point.across(coil)) >= network.parts.relays[coil.device.part].pull_in_v.value
    )


def _solved(
    network: Network, state: str, on: frozenset[str], pulled_in: frozenset[str], ohms: Mapping[str, float]
) -> OperatingPoint:
    index = {name: number for number, name in enumerate(network.electrical.nodes)}
    fixed = {index[REFERENCE]: 0.0}
    names: list[Element] = []
    resistors: list[Resistor] = []
    ideal: list[tuple[Element, int]] = []
    count = len(index)
    for element in network.electrical.elements:
        if not conducting(element, on, pulled_in):
            continue
        a, b, ohm = index[element.a], index[element.b], ohms[element.name]
        if element.kind is ElementKind.SUPPLY and isinstance(element.device, Supply):
            volts = element.device.voltage_v.value
            if ohm > 0:
                # The voltage without load stands behind the inner resistance, at a node of its own.
                b, count = count, count + 1
                fixed[b] = volts
            else:
                fixed[a] = volts
        elif element.kind is ElementKind.GROUND and ohm == 0:
            fixed[a] = 0.0
        if ohm > 0:
            names.append(element)
            resistors.append(Resistor(a, b, ohm))
        else:
            ideal.append((element, a))
    solution = assemble(count, resistors, fixed).solve()
    amperes = dict.fromkeys((each.name for each in network.electrical.elements), 0.0)
    amperes.update(zip((each.name for each in names), map(float, solution.currents_a), strict=True))
    for element, node in ideal:
        # What an ideal source feeds in comes up through it from the reference.
        amperes[element.name] = -float(solution.supplied_a[node])
    voltages = {name: float(solution.voltages_v[number]) for name, number in index.items()}
    used = {each.name: ohms[each.name] for each in (*names, *(element for element, _ in ideal))}
    return OperatingPoint(state, on, pulled_in, voltages, amperes, used, is_at_rest=True)
