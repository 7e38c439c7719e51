"""The operating point of each state: what conducts, every node's voltage, every element's current.

Relays close this loop: which contacts conduct follows from what their coils get, which follows from what conducts. Only
this module says how it is iterated, and says when the loop does not come to rest, or when a load that keeps its power
or current finds no voltage at which it can.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from harnessgen.design.records.device import Relay
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantised import settled_number
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.network.network import Network
from harnessgen.physics.electrical.conditions import Case, Conditions
from harnessgen.physics.electrical.conducting_network import LiveNetwork, live_network
from harnessgen.physics.nodal.newton import Bent, BentSolution, Character, solve_bent


@frozen
class OperatingPoint:
    """A solved state.

    `on` are the switches and drivers that are on, `pulled_in` the relays that hold. `volts` are node voltages against
    the reference (nan where a node hangs free), `amperes` the current of every element from its `a` to its `b` (0 where
    it does not conduct), `ohms` the resistance of those that conduct (voltage over current where it is no resistor).
    `is_at_rest` is False when a relay neither holds nor falls off for good, or a load finds no voltage to work at;
    `reason` then says which. `case` says which ends of the ranges were taken, `forward` are the coils whose diode
    conducts, as one that sits the wrong way round does: the diode then shorts the coil.
    """

    state: str
    on: frozenset[str]
    pulled_in: frozenset[str]
    volts: Mapping[str, float]
    amperes: Mapping[str, float]
    ohms: Mapping[str, float]
    is_at_rest: bool
    case: Case = Case.STATED
    reason: str = ""
    forward: frozenset[str] = frozenset()

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
    """Solve with the switches and drivers of `on`, supplies as stated and every load a resistor.

    `ohms` is every element's resistance while it conducts.
    """
    return settled(network, stated(network, state, on, ohms))


def stated(network: Network, state: str, on: frozenset[str], ohms: Mapping[str, float]) -> Conditions:
    """The conditions of `operating_point`."""
    design = network.design
    supply_v = {name: supply.voltage_v.value for name, supply in design.supplies.items()}
    pull_in_v = {name: network.parts.relays[relay.part].pull_in_v.value for name, relay in design.relays.items()}
    return Conditions(state, Case.STATED, on, supply_v, ohms, pull_in_v)


class Search:
    """The way of the relays to rest: `begin` are those that hold at first, `holds` those that hold now.

    `restless` are those that neither hold nor fall off for good, once that is known.
    """

    def __init__(self, begin: frozenset[str] = frozenset()) -> None:
        self.begin = self.holds = begin
        self.restless: frozenset[str] = frozenset()
        self._seen: set[frozenset[str]] = set()

    def goes_on(self, holding: frozenset[str]) -> bool:
        """Take what the coils call for while `holds` hold; whether it is worth another solution."""
        if holding == self.holds:
            return False
        self._seen.add(self.holds)
        if holding in self._seen:
            self.restless = holding ^ self.holds
            return False
        self.holds = holding
        return True


def settled(
    network: Network,
    given: Conditions,
    pulled_in: frozenset[str] | None = None,
    begin: frozenset[str] = frozenset(),
) -> OperatingPoint:
    """Solve for `given`; with `pulled_in` these relays hold whatever their coils get, else those of `begin` at first.

    Raises:
        ArithmeticError: the resistances lie too far apart to be solved together.
    """
    if pulled_in is not None:
        return solved(network, given, pulled_in)
    search = Search(begin)
    point = solved(network, given, search.holds)
    while search.goes_on(_holding(network, given, point)):
        point = solved(network, given, search.holds)
    if not search.restless:
        return point
    reason = point.reason or f"{', '.join(sorted(search.restless))} neither holds nor falls off for good"
    return replace(point, is_at_rest=False, reason=reason)


def _holding(network: Network, given: Conditions, point: OperatingPoint) -> frozenset[str]:
    coils = (each for each in network.electrical.elements if each.kind is ElementKind.COIL)
    return frozenset(
        coil.device.name
        for coil in coils
        if isinstance(coil.device, Relay) and abs(point.across(coil)) >= given.pull_in_v[coil.device.name]
    )


def solved(network: Network, given: Conditions, pulled_in: frozenset[str]) -> OperatingPoint:
    """Solve for `given` with these relays holding and all others off.

    Raises:
        ArithmeticError: the resistances lie too far apart to be solved together.
    """
    closed = [each for each in network.electrical.elements if conducting(each, given.on, pulled_in)]
    live = live_network(network, closed, given.ohms, given.supply_v)
    bent = {each.name: given.characters[each.name] for each in closed if each.name in given.characters}
    if not bent:
        point = _linear(network, given, pulled_in, live)
        bent = _forward_diodes(given, closed, point)
        if not bent:
            return point
    else:
        bent |= {each.name: given.diodes[each.name] for each in closed if each.name in given.diodes}
    return _bent(network, given, pulled_in, live, bent)


def _linear(network: Network, given: Conditions, pulled_in: frozenset[str], live: LiveNetwork) -> OperatingPoint:
    solution = live.nodal.solve()
    amperes = dict.fromkeys((each.name for each in network.electrical.elements), 0.0)
    currents = map(settled_number, live.currents_a(solution).tolist())
    amperes.update(zip((each.name for each in live.elements), currents, strict=True))
    used = {each.name: given.ohms[each.name] for each in live.elements}
    volts = _settled_volts(live.voltages_v(solution))
    return OperatingPoint(given.state, given.on, pulled_in, volts, amperes, used, True, given.case)


def _settled_volts(volts: Mapping[str, float]) -> dict[str, float]:
    return {node: settled_number(each) for node, each in volts.items()}


def _forward_diodes(given: Conditions, closed: Sequence[Element], point: OperatingPoint) -> dict[str, Character]:
    """Diodes across coils that the state drives forward, as one does that sits the wrong way round."""
    across = {each.name: point.across(each) for each in closed if each.name in given.diodes}
    forward = any(given.diodes[name].conducts(volts) for name, volts in across.items())
    return {name: given.diodes[name] for name in across} if forward else {}


def _bent(
    network: Network,
    given: Conditions,
    pulled_in: frozenset[str],
    live: LiveNetwork,
    characters: Mapping[str, Character],
) -> OperatingPoint:
    curved = [each for each in live.resistive if each.name in characters]
    ends = [
        Bent(live.index[each.a], live.index[each.b], given.ohms[each.name], characters[each.name]) for each in curved
    ]
    found = solve_bent(live.nodal, ends)
    amperes = dict.fromkeys((each.name for each in network.electrical.elements), 0.0)
    flowing = map(settled_number, live.currents_a(found.linear).tolist())
    amperes.update(zip((each.name for each in live.elements), flowing, strict=True))
    used = {each.name: given.ohms[each.name] for each in live.elements}
    own_v, own_a = (map(settled_number, each.tolist()) for each in (found.volts, found.amperes))
    for element, volts, current in zip(curved, own_v, own_a, strict=True):
        amperes[element.name] = current
        if current != 0.0 and volts / current > 0.0:
            used[element.name] = volts / current
    volts_at = _settled_volts(live.voltages_v(found.linear))
    reason = "" if found.is_settled else _why_not(curved, characters, found)
    diodes = ((each.name, given.diodes.get(each.name)) for each in curved)
    volts_of = dict(zip((each.name for each in curved), found.volts.tolist(), strict=True))
    forward = frozenset(name for name, diode in diodes if diode is not None and diode.conducts(volts_of[name]))
    return OperatingPoint(
        given.state,
        given.on,
        pulled_in,
        volts_at,
        amperes,
        used,
        found.is_settled,
        given.case,
        reason,
        forward,
    )


def _why_not(curved: Sequence[Element], characters: Mapping[str, Character], found: BentSolution) -> str:
    """Which loads find no voltage to work at, in words."""
    starved = [
        f"{element.name} (left with {volts:.2f} V)"
        for element, volts in zip(curved, found.volts.tolist(), strict=True)
        if 0.0 < abs(volts) < characters[element.name].least_v
    ]
    names = starved or [element.name for element in curved]
    return f"no voltage was found at which {', '.join(names)} can keep what it takes"
