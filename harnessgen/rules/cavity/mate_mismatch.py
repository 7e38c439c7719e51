"""A cavity of a disconnect that has a wire in one half and none in the other."""

from collections.abc import Iterator

from harnessgen.evidence.finding import Finding, Proposal, Severity
from harnessgen.network.electrical import Element, ElementKind, end_of
from harnessgen.network.network import Network
from harnessgen.rules.places import end_place, written_end
from harnessgen.source.place import Place

RULE = "mate-mismatch"

Lone = tuple[Element, str, str]
"""A mated contact, its half with a wire, and its half without."""


def check(network: Network) -> list[Finding]:
    """One finding for each such cavity, at the wire that finds no other.

    Where each half of a disconnect has one, the wires of the two were meant for each other: that is one finding.
    """
    by_disconnect: dict[str, list[Lone]] = {}
    for each in lone_halves(network):
        by_disconnect.setdefault(each[0].name.partition("/")[0], []).append(each)
    findings: list[Finding] = []
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
