"""Loads and relay coils that get no current, each with the sentence that says why."""

from collections.abc import Mapping, Sequence

from harnessgen.design.checks.consistency import kind_of
from harnessgen.design.records.device import Device, Load
from harnessgen.evidence.finding import Proposal
from harnessgen.measures.frozen import frozen
from harnessgen.network.conduction import IsClosed, conduction, way_to
from harnessgen.network.electrical import LASTING, Electrical, Element, ElementKind, end_of
from harnessgen.network.network import Network
from harnessgen.network.wires import Wire, WireEnd
from harnessgen.physics.electrical.shorted import held_together
from harnessgen.rules.continuity.loops import in_loops
from harnessgen.rules.continuity.way_end import WayEnd, Ways
from harnessgen.rules.wording.places import end_place
from harnessgen.source.kind import names_in
from harnessgen.source.place import Place


@frozen
class DeadLoad:
    """A load or coil without current: the sentence that says why, where, and the relay that it waits for."""

    message: str
    place: Place
    see: tuple[tuple[Place, str], ...] = ()
    relay: str = ""
    proposals: tuple[Proposal, ...] = ()


def dead_loads(
    network: Network, electrical: Electrical, closed: Sequence[IsClosed], *, has_states: bool
) -> Mapping[str, DeadLoad]:
    """By designator what of `electrical` lies on no loop of current; `closed` says for each state what conducts."""
    elements = electrical.elements
    ways = Ways.of(network, electrical, closed)
    net_of = electrical.net_of
    # A sensor may make its voltage by itself, for the input that listens to it.
    sensors = {
        each.name
        for each in elements
        if isinstance(each.device, Load) and kind_of(each.device, network.parts) == "sensor"
    }
    fed = {
        name
        for is_closed in closed
        for name in in_loops(electrical, is_closed, sensors) - _between_grounds(electrical, is_closed)
    }
    dead: dict[str, DeadLoad] = {}
    for element in elements:
        device = element.device
        if device is None or not element.kind.does_work or device.name in dead:
            continue
        if net_of[element.a] == net_of[element.b]:
            dead[device.name] = _bridged(network, electrical, element, device)
        elif element.name not in fed:
            dead[device.name] = _explained(ways, element, device, has_states=has_states)
    return dead


def _grounded_end(ways: Ways, start: str) -> Place | None:
    """Where the file leads the way from a terminal to its ground point: the end of the wire there."""
    came_by = ways.ever.ways_from(start)
    ground = next(node for node in came_by if node in ways.ever.grounds)
    wires = [each.wire for each in way_to(came_by, ground) if each.wire is not None]
    return end_place(ways.network.design, wires[-1], _end_nearest(wires[-1], ground)) if wires else None


def _end_nearest(wire: Wire, ground: str) -> WireEnd:
    return wire.b if wire.b.node == ground else wire.a


def _between_grounds(electrical: Electrical, is_closed: IsClosed) -> set[str]:
    """What works between ground and ground: a loop passes it, and nothing but the drop of a wire drives it."""
    part_of = held_together(electrical, is_closed)
    grounded, supplied = (
        {part_of[each.a] for each in electrical.elements if each.kind is kind}
        for kind in (ElementKind.GROUND, ElementKind.SUPPLY)
    )
    return {
        each.name
        for each in electrical.elements
        if each.kind.does_work and {part_of[each.a], part_of[each.b]} <= grounded - supplied
    }


def _said(element: Element, device: Device) -> str:
    return f"the coil of {device.name}" if element.kind is ElementKind.COIL else device.name


def _bridged(network: Network, electrical: Electrical, element: Element, device: Device) -> DeadLoad:
    """A load or coil whose terminals wires join; to blame is the end by which one circuit meets another."""
    lasting = conduction(electrical, lambda each: each.kind in LASTING)
    node, before = element.a, ""
    place, where = device.place, "stand behind one cavity"
    for each in way_to(lasting.ways_from(element.a), element.b):
        if each.wire is not None:
            if before and each.wire.circuit != before:
                place, where = end_place(network.design, each.wire, end_of(each.wire, node)), f"are joined at {node}"
                break
            before = each.wire.circuit
            where = f"are joined by circuit {before}"
        node = each.b if each.a == node else each.a
    message = f"Both terminals of {_said(element, device)} {where}, so that no current flows through it."
    return DeadLoad(message, place, _see(device, place))


def _explained(ways: Ways, element: Element, device: Device, *, has_states: bool) -> DeadLoad:
    """A load or coil that no loop passes: which side leads somewhere, and where the other ends."""
    supplies = {node: ways.supplies(node) for node in (element.a, element.b)}
    grounds = {node: ways.grounds(node) for node in (element.a, element.b)}
    feed, back = element.a, element.b
    if not supplies[feed] and (supplies[back] or (grounds[feed] and not grounds[back])):
        feed, back = back, feed
    end = WayEnd("", device.place)
    if supplies[feed] and grounds[back]:
        switches = (*ways.switches(feed, supplies[feed][0]), *ways.switches(back, grounds[back][0]))
        together = names_in(dict.fromkeys(switches))
        end = WayEnd("", ways.network.design.devices[switches[-1]].place if switches else device.place)
        why = f"no state closes {together} together" if together else "its feed and its return are one way"
    elif supplies[feed] and supplies[back]:
        why = f"both its terminals lead to {supplies[feed][0]}"
    elif grounds[feed] and grounds[back]:
        why = f"both its terminals lead to ground at {grounds[back][0]}"
        place = _grounded_end(ways, element.a)
        supplies_here = ways.network.design.supplies if place else ()
        proposals = (
            Proposal(place or device.place, each, f"{each} in place of {grounds[feed][0]}") for each in supplies_here
        )
        end = WayEnd("", place or device.place, "", tuple(proposals))
    elif supplies[feed]:
        end = ways.end(back, toward_supply=False)
        why = f"{supplies[feed][0]} feeds it, and its return ends at {end.words}"
    else:
        end = ways.end(feed, toward_supply=True)
        returns = f"leads to {grounds[back][0]}" if grounds[back] else "ends at "
        returns += "" if grounds[back] else ways.end(back, toward_supply=False).words
        why = f"its feed ends at {end.words}, and its return {returns}"
    when = "gets current in no state" if has_states else "gets no current with everything on"
    said = _said(element, device)
    message = f"{said.replace('the coil', 'The coil', 1)} {when}: {why}."
    return DeadLoad(message, end.place, _see(device, end.place), end.relay, end.proposals)


def _see(device: Device, place: Place) -> tuple[tuple[Place, str], ...]:
    is_there = place._replace(pattern="") == device.place._replace(pattern="")
    return () if is_there else ((device.place, f"{device.name} stands here"),)
