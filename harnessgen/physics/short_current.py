"""Prospective currents of shorts: what a supply drives through a fuse into a short at a node, at most and at least.

Loads and drivers are left out; switches are closed, relays all hold or all rest, whichever feeds the node. At most:
cold conductors, the highest supply, the short to the ground point of least resistance. At least: conductors as hot as
their zones, the lowest supply, the short to the ground point of most resistance, or within a load through its own
return.
"""

from collections.abc import Iterator, Mapping, Sequence

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


@frozen
class Asked:
    """A fuse whose prospective currents are asked for: for shorts at `near`, right behind it, and at any of `nodes`."""

    fuse: Element
    near: str
    nodes: tuple[str, ...]


def short_currents(physics: Physics, asked: Sequence[Asked]) -> list[ShortCurrents | None]:
    """Largest and smallest current of each fuse, all of them solved together."""
    strong, weak = _networks(physics, Case.STRONG), _networks(physics, Case.WEAK)
    largest = _shorts_of_all(physics, strong, [(each.fuse, [each.near]) for each in asked], Case.STRONG)
    smallest = _shorts_of_all(physics, weak, [(each.fuse, [each.near, *each.nodes]) for each in asked], Case.WEAK)
    return [_ends_of(*both) for both in zip(largest, smallest, strict=True)]


def _ends_of(largest: Sequence[Short], smallest: Sequence[Short]) -> ShortCurrents | None:
    if not largest or not smallest:
        return None
    # A node that is fed both ways counts with the way that drives more.
    by_place: dict[str, Short] = {}
    for each in smallest:
        if each.at not in by_place or each.current_a > by_place[each.at].current_a:
            by_place[each.at] = each
    far = min(by_place.values(), key=lambda each: each.current_a)
    return ShortCurrents(max(largest, key=lambda each: each.current_a), far)


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


_Place = tuple[str, str, str]
"""Two nodes between which a short lies, the second empty for the body, and the name of the place."""


def _shorts_of_all(
    physics: Physics, networks: Sequence[LiveNetwork], fuses: Sequence[tuple[Element, Sequence[str]]], case: Case
) -> list[list[Short]]:
    """For each fuse its currents for shorts at its nodes, in all networks."""
    found: list[list[Short]] = [[] for _ in fuses]
    for live in networks:
        for own, shorts in zip(found, _shorts(physics, live, fuses, case), strict=True):
            own += shorts
    return found


def _shorts(
    physics: Physics, live: LiveNetwork, fuses: Sequence[tuple[Element, Sequence[str]]], case: Case
) -> Iterator[list[Short]]:
    """Current of each fuse for a short to the body at each fed node, and within each load between two fed nodes."""
    volts = live.voltages_v(live.nodal.solve())
    places = [_places(physics, volts, nodes, case) for _, nodes in fuses]
    column = {place: at for at, place in enumerate(dict.fromkeys(each for own in places for each in own), 1)}
    injections = np.zeros((live.nodal.elements.node_count, len(column) + 1))
    for (a, b, _), at in column.items():
        injections[live.index[a], at] -= 1.0
        if b:
            injections[live.index[b], at] += 1.0
    solution = live.nodal.solve(injections)
    currents = live.currents_a(solution)
    row = {each.name: at for at, each in enumerate(live.elements)}
    back_ohm, highest_v = body_ohm(physics, case), max(supply_volts(physics, case).values(), default=0.0)
    for (fuse, _), own in zip(fuses, places, strict=True):
        shorts: list[Short] = []
        for place in own if fuse.name in row else ():
            a, b, name = place
            at_a = solution.voltages_v[live.index[a]]
            at_b = solution.voltages_v[live.index[b]] if b else np.zeros_like(at_a)
            open_v = float(at_a[0] - at_b[0])
            inner_ohm = open_v - float(at_a[column[place]] - at_b[column[place]])
            outer_ohm = back_ohm if not b else 0.0
            short_a = open_v / max(inner_ohm + outer_ohm, _LEAST_OHM)
            # Currents are linear in what is drawn: the fuse's own is its idle one and its share of the short's.
            through = currents[row[fuse.name]]
            current_a = abs(float(through[0] + short_a * (through[column[place]] - through[0])))
            if current_a > 0.0:
                shorts.append(Short(name, current_a, case, highest_v, outer_ohm))
        yield shorts


def _places(physics: Physics, volts: Mapping[str, float], nodes: Sequence[str], case: Case) -> list[_Place]:
    """Where a short is tried: at each of the nodes that is fed, and with hot conductors in each load at one of them."""
    wanted = set(nodes)
    places: list[_Place] = [(node, "", node) for node in dict.fromkeys(nodes) if volts[node] > _FED_V]
    if case is Case.WEAK:
        places += [
            (each.a, each.b, each.name)
            for each in physics.network.electrical.elements
            if each.kind is ElementKind.LOAD
            and {each.a, each.b} & wanted
            and abs(volts[each.a] - volts[each.b]) > _FED_V
        ]
    return places
