"""Prospective currents of shorts: what a supply drives through a fuse into a short at a node, at most and at least.

Loads and drivers are left out; switches are closed, relays all hold or all rest, whichever feeds the node. At most:
cold conductors, the highest supply, the short to the ground point of least resistance. At least: conductors as hot as
their zones, the lowest supply, the short to the ground point of most resistance, or within a load through its own
return.
"""

import math
from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from harnessgen.design.records.device import Ground, Supply
from harnessgen.design.records.state import State
from harnessgen.evidence.derivation import Balance, Evaluated, Input, Solved, evaluated
from harnessgen.evidence.publication import common_practice
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantised import quantised, settled_number
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.electrical.conducting_network import LiveNetwork, live_network
from harnessgen.physics.electrical.kirchhoff import CURRENT_LAW, VOLTAGE_LAW
from harnessgen.physics.electrical.main_current_path import strongest, way
from harnessgen.physics.physics import Physics
from harnessgen.physics.states.conditions import supply_range

CHAFE_OHM = 1.0
"""Ground points of more than this are inputs, no body that a wire chafes through to."""
_LEAST_OHM = 1e-6
_FED_V = 0.5
THEVENIN = common_practice(
    "theorem of the equivalent source: between two points a network is a source and a resistance"
)


@frozen
class Short:
    """A short and the current that it draws through a fuse: where it is, and what was taken for it.

    Seen from the short the harness is a source of `open_v` behind `inner_ohm`; `return_ohm` is the way back through the
    body. The fuse carries `idle_a` without the short, and the share `share` of the short's own current.
    """

    fuse: str
    at: str
    case: Case
    volts: float
    open_v: float
    inner_ohm: float
    return_ohm: float
    idle_a: float
    share: float
    nodes: tuple[str, str]
    """Nodes that the short joins; the second is empty where it goes to the body."""
    left_open: ElementKind
    """Contacts of relays that were open when it was solved: those that a relay opens, or those that it closes."""

    @property
    def current_a(self) -> float:
        """Current of the fuse in the short; currents are linear in what is drawn."""
        return abs(self.idle_a + self.share * self.open_v / max(self.inner_ohm + self.return_ohm, _LEAST_OHM))

    @property
    def derivation(self) -> Evaluated:
        """Where the current of the fuse comes from."""
        inputs = (
            Input("V", f"at {self.at} before the short, {self.case.value}", self.open_v, "V", CURRENT_LAW),
            Input("Ri", "seen from there: supply, feed and what of the return is wired", self.inner_ohm, "ohm"),
            Input("Rb", "back through the body", self.return_ohm, "ohm"),
            Input("s", f"share of it that flows in {self.fuse}", self.share, "1"),
            Input("Io", f"current of {self.fuse} before the short", self.idle_a, "A"),
            Input("least", "no loop is taken to have less", _LEAST_OHM, "ohm"),
        )
        title = f"current of {self.fuse} in a short at {self.at}, {self.case.value}"
        return evaluated(title, "abs(Io + s * V / max(Ri + Rb, least))", inputs, "A", THEVENIN)

    def through_a(self, current_a: float) -> Evaluated:
        """What a short there would need of resistance of its own to draw `current_a` through the fuse, in ohm."""
        inputs = (
            Input("I", f"current of {self.fuse}", current_a, "A"),
            Input("V", f"at {self.at} before the short", self.open_v, "V", CURRENT_LAW),
            Input("Ri", "seen from there: supply, feed and what of the return is wired", self.inner_ohm, "ohm"),
            Input("Rb", "back through the body", self.return_ohm, "ohm"),
            Input("s", f"share of it that flows in {self.fuse}", self.share, "1"),
            Input("Io", f"current of {self.fuse} before the short", self.idle_a, "A"),
        )
        title = f"resistance of a short at {self.at} that draws {current_a:.4g} A through {self.fuse}"
        return evaluated(title, "max(s * V / (I - Io) - Ri - Rb, 0)", inputs, "ohm", THEVENIN)


@frozen
class ShortNetwork:
    """What can conduct without loads, drivers and one kind of relay contacts."""

    live: LiveNetwork
    left_open: ElementKind


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
    strong, weak = _both(physics)
    largest = _shorts_of_all(physics, strong, [(each.fuse, [each.near]) for each in asked], Case.STRONG)
    smallest = _shorts_of_all(physics, weak, [(each.fuse, [each.near, *each.nodes]) for each in asked], Case.WEAK)
    return [_ends_of(*both) for both in zip(largest, smallest, strict=True)]


def _ends_of(largest: Sequence[Short], smallest: Sequence[Short]) -> ShortCurrents | None:
    if not largest or not smallest:
        return None
    # A node that is fed both ways counts with the way that drives more.
    by_place: dict[str, Short] = {}
    for each in smallest:
        if each.at not in by_place or _ampere(each) > _ampere(by_place[each.at]):
            by_place[each.at] = each
    far = min(by_place.values(), key=_ampere)
    return ShortCurrents(max(largest, key=_ampere), far)


def shorts_through(physics: Physics, element: Element) -> ShortCurrents | None:
    """Largest and smallest current of an element for dead shorts at its own ends: the one away from the supply counts.

    None where no short to the body draws any current through it.
    """
    strong, weak = _both(physics)
    ends = [(element, (element.a, element.b))]
    (largest,), (smallest,) = (
        _shorts_of_all(physics, networks, ends, case) for networks, case in ((strong, Case.STRONG), (weak, Case.WEAK))
    )
    if not largest or not smallest:
        return None
    return ShortCurrents(
        max(largest, key=_ampere),
        max((each for each in smallest if each.nodes[1] == ""), key=_ampere, default=smallest[0]),
    )


def _ampere(short: Short) -> float:
    return quantised(short.current_a)


def _both(physics: Physics) -> tuple[tuple[ShortNetwork, ...], tuple[ShortNetwork, ...]]:
    return _networks(physics, Case.STRONG), _networks(physics, Case.WEAK)


def _networks(physics: Physics, case: Case) -> tuple[ShortNetwork, ...]:
    return tuple(_network(physics, case, left_open) for left_open in (ElementKind.BREAK, ElementKind.MAKE))


def _network(physics: Physics, case: Case, left_open: ElementKind) -> ShortNetwork:
    # What is as hot as its zone is as stated: a weak case changes loads and coils alone, which are left out here.
    ohms = physics.ohms_in(Case.STRONG) if case is Case.STRONG else physics.ohms
    closed = [
        each
        for each in physics.network.electrical.elements
        if not each.kind.does_work and each.kind not in (ElementKind.DRIVER, left_open)
    ]
    return ShortNetwork(live_network(physics.network, closed, ohms, supply_volts(physics, case)), left_open)


_AT_ONCE = 128
"""Places that are solved for at one time: more columns only take memory."""
_Place = tuple[str, str, str]
"""Two nodes between which a short lies, the second empty for the body, and the name of the place."""


def _shorts_of_all(
    physics: Physics, networks: Sequence[ShortNetwork], fuses: Sequence[tuple[Element, Sequence[str]]], case: Case
) -> list[list[Short]]:
    """For each fuse its currents for shorts at its nodes, in all networks."""
    found: list[list[Short]] = [[] for _ in fuses]
    for each in networks:
        for own, shorts in zip(found, _shorts(physics, each, fuses, case), strict=True):
            own += shorts
    return found


def _shorts(
    physics: Physics, live_of: ShortNetwork, fuses: Sequence[tuple[Element, Sequence[str]]], case: Case
) -> Iterator[list[Short]]:
    """Current of each fuse for a short to the body at each fed node, and within each load between two fed nodes."""
    live = live_of.live
    idle = live.nodal.solve()
    volts, idle_a = live.voltages_v(idle), live.currents_a(idle)
    row = {each.name: at for at, each in enumerate(live.elements)}
    places = [_places(physics, volts, nodes, case) if fuse.name in row else [] for fuse, nodes in fuses]
    asked: dict[_Place, list[int]] = {}
    for (fuse, _), own in zip(fuses, places, strict=True):
        for place in own:
            asked.setdefault(place, []).append(row[fuse.name])
    drawn = _drawn(live, asked)
    back_ohm, highest_v = body_ohm(physics, case), max(supply_volts(physics, case).values(), default=0.0)
    for (fuse, _), own in zip(fuses, places, strict=True):
        shorts: list[Short] = []
        for place in own:
            a, b, name = place
            open_v = settled_number(volts[a] - (volts[b] if b else 0.0))
            across_v, through_a = map(settled_number, drawn[row[fuse.name], place])
            # Currents are linear in what is drawn: the fuse's own is its idle one and its share of the short's.
            own_a = settled_number(float(idle_a[row[fuse.name]]))
            sign = -1.0 if through_a < own_a else 1.0
            short = Short(
                fuse.name, name, case, highest_v, open_v, open_v - across_v, back_ohm if not b else 0.0, sign * own_a,
                sign * (through_a - own_a), (a, b), live_of.left_open,
            )  # fmt: skip
            if short.current_a > 0.0:
                shorts.append(short)
        yield shorts


def _drawn(live: LiveNetwork, asked: Mapping[_Place, Sequence[int]]) -> dict[tuple[int, _Place], tuple[float, float]]:
    """Volts left at each place with an ampere drawn there, and what then flows through the elements asked for."""
    found: dict[tuple[int, _Place], tuple[float, float]] = {}
    every = list(asked)
    for first in range(0, len(every), _AT_ONCE):
        some = every[first : first + _AT_ONCE]
        injections = np.zeros((live.nodal.elements.node_count, len(some)))
        for at, (a, b, _) in enumerate(some):
            injections[live.index[a], at] -= 1.0
            if b:
                injections[live.index[b], at] += 1.0
        solution = live.nodal.solve(injections)
        currents = live.currents_a(solution)
        for at, place in enumerate(some):
            a, b, _ = place
            left_v = solution.voltages_v[live.index[a], at] - (solution.voltages_v[live.index[b], at] if b else 0.0)
            for row in asked[place]:
                found[row, place] = float(left_v), float(currents[row, at])
    return found


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


def short_loop(physics: Physics, short: Short) -> Solved | None:
    """What each part of the loop takes of the supply's volts, from a short to the supply and back, by solving it again.

    None where the way is none of single elements from one supply.
    """
    live = _network(physics, short.case, short.left_open).live
    (a, b), node_count = short.nodes, live.nodal.elements.node_count
    injections = np.zeros((node_count, 2))
    drawn_a = short.open_v / max(short.inner_ohm + short.return_ohm, _LEAST_OHM)
    injections[live.index[a], 1] -= drawn_a
    if b:
        injections[live.index[b], 1] += drawn_a
    solution = live.nodal.solve(injections)
    flowing = live.currents_a(solution)
    amperes = {each.name: float(flowing[number, 1]) for number, each in enumerate(live.elements)}
    volts = {node: float(solution.voltages_v[number, 1]) for node, number in live.index.items()}
    brings, takes = strongest(live.elements, amperes)
    up, down = way(a, brings), way(b, takes) if b else []
    supply = up[-1].device if up else None
    if not isinstance(supply, Supply) or (b and not down):
        return None
    source_v = supply_volts(physics, short.case)[supply.name]
    terms = [(f"{supply.name} without load", source_v), (f"inside {supply.name}", volts[up[-1].a] - source_v)]
    terms += [(each.name, -abs(volts[each.a] - volts[each.b])) for each in (*reversed(up[:-1]), *down)]
    terms += [("back through the body", -drawn_a * short.return_ohm)] if not b else []
    balance = Balance(f"round the loop of the short at {short.at}", tuple(terms), "V")
    title = f"volts that the loop of a short at {short.at} takes, {short.case.value}"
    equations = "node voltages of the network with the short; round the loop the volts add to 0"
    return Solved(title, equations, (balance,), math.fsum(-each for _, each in terms[1:]), "V", (VOLTAGE_LAW,))
