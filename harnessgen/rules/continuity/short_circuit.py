"""A path from a supply to ground, or to another supply, with no load in it."""

from collections.abc import Iterator, Sequence

from harnessgen.evidence.finding import Finding, Number, Severity, derived
from harnessgen.measures.frozen import frozen
from harnessgen.network.conduction import Conduction, IsClosed, conduction, way_to
from harnessgen.network.electrical import Electrical, Element, ElementKind, end_of
from harnessgen.network.network import Network
from harnessgen.network.wires import EndKind, Wire, WireEnd
from harnessgen.physics.electrical.operating_point import OperatingPoint, conducting
from harnessgen.physics.electrical.shorted import held_together
from harnessgen.physics.physics import Physics
from harnessgen.physics.states.current_derivation import point_derivation
from harnessgen.rules.cavity.pins import moves
from harnessgen.rules.continuity.conduction import all_on, closed_at
from harnessgen.rules.continuity.free_splices import free_splices
from harnessgen.rules.wording.places import end_place

RULE = "short-circuit"


@frozen
class _Short:
    """A way without a load from a supply to a ground point or to another supply (`far`)."""

    supply: Element
    far: Element
    way: tuple[Element, ...]


@frozen
class _Blamed:
    """The wire that is most to blame, its end on the far side, and whether all else works without it."""

    wire: Wire
    end: WireEnd
    is_needless: bool


def check(physics: Physics) -> list[Finding]:
    """One finding for each wire that makes a short, in the first state in which it does.

    A wire once blamed is taken out before the search goes on, so that one cause is told once and hides no other.
    """
    network = physics.network
    findings = list(_behind_one_cavity(network))
    left = network.electrical
    ways = [all_on, *(closed_at(point) for point in physics.points.values())]
    for words, point in _cases(physics):
        is_closed = closed_at(point)
        while (short := _short(left, is_closed)) is not None:
            blamed = _blamed(left, is_closed, ways, short)
            findings.append(_finding(network, short, blamed, words, point))
            left = left.without({blamed.wire.mark})
    return findings


def _behind_one_cavity(network: Network) -> Iterator[Finding]:
    """Supplies that share their cavity with a ground point or another supply: no wire is to blame."""
    poles = [each for each in network.electrical.elements if each.kind in (ElementKind.SUPPLY, ElementKind.GROUND)]
    for number, pole in enumerate(poles):
        for other in poles[:number]:
            if pole.a == other.a and other.kind is ElementKind.SUPPLY:
                cavity = pole.a.removesuffix(" mate")
                message = f"{other.name} and {pole.name} stand behind the same cavity, {cavity}, and so are joined."
                place = network.design.devices[pole.name].where("cavity")
                yield Finding(RULE, Severity.ERROR, cavity, place, message)


def _cases(physics: Physics) -> Iterator[tuple[str, OperatingPoint]]:
    """Every declared state, and every one with each single driver on besides; each set of what is on once.

    A state that has no short with all drivers on and every contact of every relay closed has none with a driver on.
    """
    design = physics.network.design
    seen: set[frozenset[str]] = set()
    states: list[tuple[str, OperatingPoint]] = [(f"in state {name}", point) for name, point in physics.points.items()]
    states = states or [("with everything off", physics.solve("off", frozenset()))]
    for words, point in states:
        if point.on not in seen:
            seen.add(point.on)
            yield words, point
    for words, point in states:
        for driver in design.drivers if _may_short(physics.network, point) else ():
            on = point.on | {driver}
            if on not in seen:
                seen.add(on)
                yield f"{words} with {driver} on", physics.solve(point.state, on)


def _may_short(network: Network, point: OperatingPoint) -> bool:
    on = point.on | frozenset(network.design.drivers)
    contacts = (ElementKind.MAKE, ElementKind.BREAK)
    return _has_short(network.electrical, lambda each: each.kind in contacts or conducting(each, on, point.pulled_in))


def _has_short(electrical: Electrical, is_closed: IsClosed) -> bool:
    """Whether a part of the network holds a supply and, at another node, a ground point or a second supply."""
    part_of = held_together(electrical, is_closed)
    poles: dict[int, set[str]] = {}
    for each in electrical.elements:
        if each.kind in (ElementKind.SUPPLY, ElementKind.GROUND):
            poles.setdefault(part_of[each.a], set()).add(each.a)
    fed = (part_of[each.a] for each in electrical.elements if each.kind is ElementKind.SUPPLY)
    return any(len(poles[part]) > 1 for part in fed)


def _short(electrical: Electrical, is_closed: IsClosed) -> _Short | None:
    return next(_shorts(conduction(electrical, is_closed)), None) if _has_short(electrical, is_closed) else None


def _shorts(closed: Conduction) -> Iterator[_Short]:
    for start, supplies in closed.supplies.items():
        came_by = closed.ways_from(start)
        for node in came_by:
            for far in (*closed.grounds.get(node, ()), *closed.supplies.get(node, ())):
                if node != start:
                    yield _Short(supplies[0], far, tuple(way_to(came_by, node)))


def _blamed(electrical: Electrical, is_closed: IsClosed, ways: Sequence[IsClosed], short: _Short) -> _Blamed:
    """The wire without which the short is gone and most loads have feed and return; of several, the last on the way.

    Loads are counted with everything on and, where that decides nothing, over the states: `ways` says what conducts.
    """
    closed = conduction(electrical, is_closed)
    served_by = [conduction(electrical, each) for each in ways]
    loads = [each for each in electrical.elements if each.kind.does_work]
    ranked: list[tuple[tuple[bool, int, int, int], _Blamed]] = []
    node = short.supply.a
    for position, element in enumerate(short.way):
        node = element.b if element.a == node else element.a
        if element.wire is not None:
            parts_them = all(at != short.far.a for _, at in closed.reached(short.supply.a, without=element.name))
            served = [_served(each, loads, element.name) for each in served_by]
            is_needless = parts_them and served[0] == len(loads)
            blamed = _Blamed(element.wire, end_of(element.wire, node), is_needless)
            ranked.append(((parts_them, served[0], sum(served), position), blamed))
    return max(ranked, key=lambda each: each[0])[1]


def _served(closed: Conduction, loads: Sequence[Element], without: str) -> int:
    """How many loads and coils have a supply on one side and ground on the other when a wire is taken out."""
    fed: set[str] = set()
    returned: set[str] = set()
    for poles, reached in ((closed.supplies, fed), (closed.grounds, returned)):
        for pole in poles:
            if pole not in reached:
                reached.add(pole)
                reached.update(node for _, node in closed.reached(pole, without))
    return sum((load.a in fed and load.b in returned) or (load.b in fed and load.a in returned) for load in loads)


def _finding(network: Network, short: _Short, blamed: _Blamed, words: str, point: OperatingPoint) -> Finding:
    supply, far, wire = short.supply.name, short.far.name, blamed.wire
    by = ", ".join(element.name for element in short.way)
    numbers: tuple[Number, ...] = ()
    if far in network.design.supplies:
        message = f"{supply} and {far} are joined without a load between them {words}, by {by}."
    else:
        message = f"{supply} is joined to ground at {far} without a load between them {words}, by {by}."
        flows = point_derivation(network, point, supply, f"current of {supply} {words}, as long as nothing opens")
        numbers = (derived("flows", flows, f"out of {supply}, as long as nothing opens", 0),)
    mend = ""
    if blamed.is_needless:
        mend = f"take {wire.mark} out: without it the two are apart, and every load keeps its feed and its return"
    place = end_place(network.design, wire, blamed.end)
    # The wire that meets another at a device may be at the wrong terminal of it, whichever of the two is to blame.
    wires = [each.wire for each in short.way if each.wire is not None]
    landings = [(own, end) for own in wires for end in own.ends if end.kind is EndKind.LANDING]
    landed = [move for own, end in landings for move in moves(network, own, end)]
    # Terminal 85 is the end of a coil's winding and 86 its start (DIN 72552): the wire nearer to ground goes to 85.
    landed = [each for each in landed[::-1] if each.text.endswith("/85")] + landed
    wires.sort(key=lambda each: (each is not wire, each.circuit != wire.circuit))
    elsewhere = (*moves(network, wire, blamed.end), *landed, *free_splices(network, wires))
    proposals = tuple(dict.fromkeys(elsewhere))
    state = point.state if point.state in network.design.states else ""
    return Finding(RULE, Severity.ERROR, wire.mark, place, message, numbers, mend, proposals=proposals, state=state)
