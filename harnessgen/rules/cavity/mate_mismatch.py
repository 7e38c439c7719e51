"""A cavity of a disconnect that has a wire in one half and none in the other, and two circuits that cross there."""

from collections.abc import Iterator

from harnessgen.evidence.finding import Finding, Proposal, Severity
from harnessgen.network.electrical import Element, ElementKind, end_of
from harnessgen.network.network import Network
from harnessgen.rules.wording.places import end_place, written_end
from harnessgen.source.place import Place

RULE = "mate-mismatch"

Lone = tuple[Element, str, str]
"""A mated contact, its half with a wire, and its half without."""


def check(network: Network) -> list[Finding]:
    """One finding for each such cavity, at the wire that finds no other.

    Where each half of a disconnect has one, the wires of the two were meant for each other: that is one finding.
    Two circuits that meet each other in one cavity, and each other again in a second, are crossed: one finding too.
    """
    by_disconnect: dict[str, list[Lone]] = {}
    for each in lone_halves(network):
        by_disconnect.setdefault(each[0].name.partition("/")[0], []).append(each)
    findings = [_crossed_finding(network, *each) for each in crossed(network)]
    for lone in by_disconnect.values():
        is_pair = len(lone) == 2 and _half(lone[0]) != _half(lone[1])
        findings.extend([_pair(network, *lone)] if is_pair else [_alone(network, each) for each in lone])
    return findings


def lone_halves(network: Network) -> Iterator[Lone]:
    """Each cavity of a disconnect with a wire in one half only: the mated contact, the wired half, the empty half."""
    for element in network.electrical.elements:
        if element.kind is ElementKind.MATING:
            wired = [half for half in (element.a, element.b) if half in network.wires_at]
            if len(wired) == 1:
                yield element, wired[0], element.b if wired[0] == element.a else element.a


def crossed(network: Network) -> Iterator[tuple[Element, Element]]:
    """Each two cavities of a disconnect at which two circuits meet each other, the other way round in the second."""
    waiting: dict[tuple[str, str, str], Element] = {}
    for element in network.electrical.elements:
        if element.kind is not ElementKind.MATING:
            continue
        sides = [{wire.circuit for wire in network.wires_at.get(half, ())} for half in (element.a, element.b)]
        if len(sides[0]) != 1 or len(sides[1]) != 1 or sides[0] == sides[1]:
            continue
        disconnect, (one,), (other,) = element.name.partition("/")[0], *sides
        first = waiting.pop((disconnect, other, one), None)
        if first is not None:
            yield first, element
        else:
            waiting[disconnect, one, other] = element


def _crossed_finding(network: Network, first: Element, second: Element) -> Finding:
    sockets, pins = network.wires_at[first.a][0], network.wires_at[first.b][0]
    message = (
        f"Circuits {sockets.circuit} and {pins.circuit} are crossed: {first.name} joins {sockets.mark} to {pins.mark},"
        f" and {second.name} joins {network.wires_at[second.a][0].mark} to {network.wires_at[second.b][0].mark}."
    )
    see = ((_place(network, second.b), f"{network.wires_at[second.b][0].mark} ends in {second.b} here"),)
    return Finding(
        RULE,
        Severity.ERROR,
        first.name,
        _place(network, first.b),
        message,
        see=see,
        subjects=(first.name, second.name),
        proposals=(*_swap(network, first.b, second.b), *_swap(network, first.a, second.a)),
    )


def _swap(network: Network, one: str, other: str) -> tuple[Proposal, ...]:
    """The wires in two cavities of one half change places, where the file names both ends by themselves."""
    places: list[Place] = []
    for node in (one, other):
        wire = network.wires_at[node][0]
        written = written_end(network.design, wire, end_of(wire, node))
        if written is None or str(written) != node:
            return ()
        places.append(written.place)
    marks = [network.wires_at[node][0].mark for node in (one, other)]
    words = f"change the two over: {other} for {marks[0]}, and {one} for {marks[1]}"
    return (Proposal(places[0], other, words, ((places[1], one),)),)


def _half(lone: Lone) -> str:
    return lone[1].partition("/")[0]


def _place(network: Network, node: str) -> Place:
    wire = network.wires_at[node][0]
    return end_place(network.design, wire, end_of(wire, node))


def _alone(network: Network, lone: Lone) -> Finding:
    mating, wired, empty = lone
    wire = network.wires_at[wired][0]
    message = f"Wire {wire.mark} ends in {wired}, and {empty}, which it meets, has no wire."
    return Finding(RULE, Severity.ERROR, mating.name, _place(network, wired), message)


def _pair(network: Network, one: Lone, other: Lone) -> Finding:
    wire, fellow = network.wires_at[one[1]][0], network.wires_at[other[1]][0]
    message = (
        f"Wire {wire.mark} ends in {one[1]}, and {one[2]}, which it meets, has no wire;"
        f" {fellow.mark} ends in {other[1]}, opposite an empty cavity too."
    )
    see = ((_place(network, other[1]), f"{fellow.mark} ends in {other[1]} here"),)
    proposals = (*_move(network, other[1], one[2]), *_move(network, one[1], other[2]))
    return Finding(
        RULE,
        Severity.ERROR,
        one[0].name,
        _place(network, one[1]),
        message,
        see=see,
        subjects=(one[0].name, other[0].name),
        proposals=proposals,
    )


def _move(network: Network, node: str, free: str) -> tuple[Proposal, ...]:
    """The end of the wire at `node` in the cavity `free` of the same half, where the file names the end by itself."""
    wire = network.wires_at[node][0]
    written = written_end(network.design, wire, end_of(wire, node))
    if written is None or str(written) != node:
        return ()
    return (Proposal(written.place, free, f"{free} in place of {node} for {wire.mark}"),)
