"""Prospective currents of shorts: what a supply drives through a fuse into a short at a node, at most and at least.

Loads and drivers are left out; switches are closed, relays all hold or all rest, whichever feeds the node. At most:
cold conductors, the highest supply, the short to the ground point of least resistance. At least: conductors as hot as
their zones, the lowest supply, the short to the ground point of most resistance, or within a load through its own
return.
"""

from collections.abc import Iterable, Mapping, Sequence

import numpy as np

from harnessgen.design.device import Ground
from harnessgen.design.state import State
from harnessgen.measures.frozen import frozen
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.physics.conditions import Case
from harnessgen.physics.live_network import LiveNetwork, live_network
from harnessgen.physics.physics import Physics
from harnessgen.physics.state_conditions import supply_range

CHAFE_OHM = 1.0
"""Ground points of more than this are inputs, no body that a wire chafes through to."""
_LEAST_OHM = 1e-6
_FED_V = 0.5


@frozen
class Short:
    """A short and the current that it draws through a fuse: where it is, and what was taken for it."""

    at: str
    current_a: float
    case: Case
    volts: float
    return_ohm: float


@frozen
class ShortCurrents:
    """The largest current of a fuse, from a short right behind it, and the smallest, from a short far away.

    None where no supply feeds the fuse.
    """

    near: Short
    far: Short


def body_ohm(physics: Physics, case: Case) -> float:
    """Resistance of the way back to the supply from where a wire chafes through, in ohm."""
    grounds = [each.resistance_ohm.value for each in physics.network.design.grounds.values() if _is_body(each)]
    pick = max if case is Case.WEAK else min
    return pick(grounds, default=0.0)


def _is_body(ground: Ground) -> bool:
    return bool(ground.at) and ground.resistance_ohm.value <= CHAFE_OHM


def supply_volts(physics: Physics, case: Case) -> Mapping[str, float]:
    """Highest or lowest voltage of each supply over the states, in V."""
    design = physics.network.design
    states: list[State | None] = [*design.states.values()]
    states = states or [None]
    pick = max if case is Case.STRONG else min
    found: dict[str, float] = {}
    for supply in design.supplies.values():
        found[supply.name] = pick(supply_range(design, supply, state).in_case(case) for state in states)
    return found


def short_currents(
    physics: Physics, fuse: Element, near: str, nodes: Iterable[str], networks: Sequence[LiveNetwork] | None = None
) -> ShortCurrents | None:
    """Largest and smallest current of `fuse` for shorts at `near` and at any of `nodes`."""
    strong, weak = (networks[:2], networks[2:]) if networks is not None else _both(physics)
    largest = [each for live in strong for each in _shorts(physics, live, fuse, [near], Case.STRONG)]
    smallest = [each for live in weak for each in _shorts(physics, live, fuse, [near, *nodes], Case.WEAK)]
    if not largest or not smallest:
        return None
    # A node that is fed both ways counts with the way that drives more.
    by_place: dict[str, Short] = {}
    for each in smallest:
        if each.at not in by_place or each.current_a > by_place[each.at].current_a:
            by_place[each.at] = each
    far = min(by_place.values(), key=lambda each: each.current_a)
    return ShortCurrents(max(largest, key=lambda each: each.current_a), far)


def short_networks(physics: Physics) -> tuple[LiveNetwork, ...]:
    """The networks that shorts are solved in, made once for all fuses: strong held, strong at rest, weak the same."""
    strong, weak = _both(physics)
    return *strong, *weak


def _both(physics: Physics) -> tuple[tuple[LiveNetwork, ...], tuple[LiveNetwork, ...]]:
    return _networks(physics, Case.STRONG), _networks(physics, Case.WEAK)


def _networks(physics: Physics, case: Case) -> tuple[LiveNetwork, ...]:
    # What is as hot as its zone is as stated: a weak case changes loads and coils alone, which are left out here.
    ohms = physics.ohms_in(Case.STRONG) if case is Case.STRONG else physics.ohms
    volts = supply_volts(physics, case)
    left_out = {ElementKind.DRIVER}
    made: list[LiveNetwork] = []
    for relay in (ElementKind.BREAK, ElementKind.MAKE):
        closed = [
            each
            for each in physics.network.electrical.elements
            if not each.kind.does_work and each.kind not in left_out and each.kind is not relay
        ]
        made.append(live_network(physics.network, closed, ohms, volts))
    return tuple(made)


def _shorts(physics: Physics, live: LiveNetwork, fuse: Element, nodes: Sequence[str], case: Case) -> list[Short]:
    """Current of the fuse for a short to the body at each fed node, and within each load between two anchored nodes."""
    volts = live.voltages_v(live.nodal.solve())
    which = next((number for number, each in enumerate(live.elements) if each.name == fuse.name), None)
    if which is None:
        return []
    wanted = set(nodes)
    pairs: list[tuple[str, str, str]] = [(node, "", node) for node in dict.fromkeys(nodes) if volts[node] > _FED_V]
    if case is Case.WEAK:
        pairs += [
            (each.a, each.b, each.name)
            for each in physics.network.electrical.elements
            if each.kind is ElementKind.LOAD
            and {each.a, each.b} & wanted
            and abs(volts[each.a] - volts[each.b]) > _FED_V
        ]
    if not pairs:
        return []
    injections = np.zeros((live.nodal.elements.node_count, len(pairs) + 1))
    for column, (a, b, _) in enumerate(pairs, 1):
        injections[live.index[a], column] -= 1.0
        if b:
            injections[live.index[b], column] += 1.0
    solution = live.nodal.solve(injections)
    through = live.currents_a(solution)[which]
    found: list[Short] = []
    for column, (a, b, name) in enumerate(pairs, 1):
        at_a = solution.voltages_v[live.index[a]]
        at_b = solution.voltages_v[live.index[b]] if b else np.zeros_like(at_a)
        open_v = float(at_a[0] - at_b[0])
        inner_ohm = open_v - float(at_a[column] - at_b[column])
        back_ohm = body_ohm(physics, case) if not b else 0.0
        short_a = open_v / max(inner_ohm + back_ohm, _LEAST_OHM)
        # Currents are linear in what is drawn: the fuse's own is its idle one and its share of the short's.
        current_a = abs(float(through[0] + short_a * (through[column] - through[0])))
        if current_a > 0.0:
            found.append(Short(name, current_a, case, max(supply_volts(physics, case).values()), back_ohm))
    return found
