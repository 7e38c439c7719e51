"""A load or a relay's coil that gets current in no declared state."""

from collections.abc import Mapping
from dataclasses import dataclass

from harnessgen.design.device import Device
from harnessgen.evidence.finding import Finding, Proposal, Severity
from harnessgen.network.electrical import Element, ElementKind, end_of
from harnessgen.physics.physics import Physics
from harnessgen.rules.continuity.conduction import closed_at, conduction, in_loops, way_to
from harnessgen.rules.continuity.way_end import WayEnd, Ways
from harnessgen.rules.places import end_place
from harnessgen.source.kind import names_in
from harnessgen.source.place import Place

RULE = "open-circuit"
_LASTING = (ElementKind.WIRE, ElementKind.CONTACT, ElementKind.MATING)


@dataclass(frozen=True, slots=True)
class _Dead:
    """A load or coil without current: the sentence that says why, where, and the relay that it waits for."""

    device: Device
    message: str
    place: Place
    see: tuple[tuple[Place, str], ...] = ()
    relay: str = ""
    proposals: tuple[Proposal, ...] = ()


def check(physics: Physics) -> list[Finding]:
    """One finding for each load or coil; what a relay switches is listed with its coil where that gets no current."""
    elements = physics.network.electrical.elements
    ways = Ways.of(physics)
    live: set[str] = set()
    for point in physics.points.values():
        live |= in_loops(elements, closed_at(point))
    if not physics.points:
        live = in_loops(elements, lambda element: True)
    dead: dict[str, _Dead] = {}
    for element in elements:
        if element.kind.does_work and element.device is not None:
            if physics.network.net_of[element.a] == physics.network.net_of[element.b]:
                dead[element.device.name] = _bridged(physics, element, element.device)
            elif element.name not in live:
                dead[element.device.name] = _explained(ways, element, element.device, has_states=bool(physics.points))
    groups: dict[str, list[str]] = {}
    for name in dead:
        groups.setdefault(_cause(dead, name), []).append(name)
    return [_finding(dead[name], name, others) for name, others in groups.items()]


def _cause(dead: Mapping[str, _Dead], name: str) -> str:
    """The relay without current behind which `name` stands, through any number of relays; else `name` itself."""
    seen = {name}
    while (relay := dead[name].relay) in dead and relay not in seen:
        seen.add(relay)
        name = relay
    return name


def _finding(cause: _Dead, name: str, names: list[str]) -> Finding:
    subjects = tuple(dict.fromkeys((name, *names))) if len({name, *names}) > 1 else ()
    return Finding(
        RULE,
        Severity.ERROR,
        name,
        cause.place,
        cause.message,
        see=cause.see,
        subjects=subjects,
        proposals=cause.proposals,
    )


def _said(element: Element, device: Device) -> str:
    return f"the coil of {device.name}" if element.kind is ElementKind.COIL else device.name


def _bridged(physics: Physics, element: Element, device: Device) -> _Dead:
    """A load or coil whose terminals wires join; to blame is the end by which one circuit meets another."""
    network = physics.network
    closed = conduction(network.electrical.elements, lambda each: each.kind in _LASTING)
    node, before = element.a, ""
    place, where = device.place, "stand behind one cavity"
    for each in way_to(closed.ways_from(element.a), element.b):
        if each.wire is not None:
            if before and each.wire.circuit != before:
                place, where = end_place(network.design, each.wire, end_of(each.wire, node)), f"are joined at {node}"
                break
            before = each.wire.circuit
            where = f"are joined by circuit {before}"
        node = each.b if each.a == node else each.a
    message = f"Both terminals of {_said(element, device)} {where}, so that no current flows through it."
    return _Dead(device, message, place, _see(device, place))


def _explained(ways: Ways, element: Element, device: Device, *, has_states: bool) -> _Dead:
    supplies = {node: ways.supplies(node) for node in (element.a, element.b)}
    grounds = {node: ways.grounds(node) for node in (element.a, element.b)}
    feed, back = element.a, element.b
    if not supplies[feed] and (supplies[back] or (grounds[feed] and not grounds[back])):
        feed, back = back, feed
    end = WayEnd("", device.place)
    if supplies[feed] and grounds[back]:
        switches = dict.fromkeys((*ways.switches(feed, supplies[feed][0]), *ways.switches(back, grounds[back][0])))
        why = f"no state closes {names_in(switches)} together" if switches else "its feed and its return are one way"
    elif supplies[feed] and supplies[back]:
        why = f"both its terminals lead to {supplies[feed][0]}"
    elif grounds[feed] and grounds[back]:
        why = f"both its terminals lead to ground at {grounds[back][0]}"
    elif supplies[feed]:
        end = ways.end(back, toward_supply=False)
        why = f"{supplies[feed][0]} feeds it, and its return ends at {end.words}"
    else:
        end = ways.end(feed, toward_supply=True)
        why = f"its feed ends at {end.words}, and its return "
        why += (
            f"leads to {grounds[back][0]}" if grounds[back] else f"ends at {ways.end(back, toward_supply=False).words}"
        )
    when = "gets current in no state" if has_states else "gets no current with everything on"
    said = _said(element, device)
    message = f"{said[0].upper() + said[1:] if element.kind is ElementKind.COIL else said} {when}: {why}."
    return _Dead(device, message, end.place, _see(device, end.place), end.relay, end.proposals)


def _see(device: Device, place: Place) -> tuple[tuple[Place, str], ...]:
    is_there = place._replace(pattern="") == device.place._replace(pattern="")
    return () if is_there else ((device.place, f"{device.name} stands here"),)
