"""More than one wire in one cavity."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from harnessgen.evidence.finding import Finding, Proposal, Severity
from harnessgen.measures.designator import natural_key
from harnessgen.network.network import Network
from harnessgen.network.wires import EndKind, Wire, WireEnd
from harnessgen.rules.cavity.pins import free_passages, moves, moves_to_like
from harnessgen.rules.wording.places import end_place
from harnessgen.source.kind import names_in
from harnessgen.source.place import Place

RULE = "double-filled-cavity"

_Held = list[tuple[Wire, WireEnd]]


def check(network: Network) -> list[Finding]:
    """One finding for each cavity that more than one wire ends in, at the second wire.

    Where two circuits pass a disconnect through one cavity, both halves hold two wires: that is one finding.
    """
    doubled = list(_doubled(network))
    groups: dict[tuple[Place, ...], list[_Held]] = {}
    for held in doubled:
        places = (end_place(network.design, *each)._replace(pattern="") for each in held[:2])
        groups.setdefault((*places,), []).append(held)
    return [*(_finding(network, group) for group in groups.values()), *_in_occupied(network)]


def _in_occupied(network: Network) -> Iterator[Finding]:
    """Wires of ours in cavities of the vehicle's connectors that hold a wire of the vehicle."""
    for wire in network.wires:
        for end in wire.ends:
            if end.node in network.occupied:
                yield _occupied(network, wire, end)


def _occupied(network: Network, wire: Wire, end: WireEnd) -> Finding:
    name, place = end.designator, end_place(network.design, wire, end)
    given = network.given_at.get(end.node)
    connector = network.design.vehicle.connectors.get(name)
    said = f"the vehicle's {names_in(each.mark for each in given)}" if given else "a wire of the vehicle"
    at = given[0].circuit.place if given else connector.where("occupied") if connector is not None else place
    return Finding(
        RULE,
        Severity.ERROR,
        end.node,
        place,
        f"{end.node} holds {said} already, and {wire.mark} ends there too; a cavity takes one.",
        mend=f"tap the vehicle's wire, or lead {wire.mark} to a cavity of {name} that is free",
        see=((at, f"the vehicle's wire in {end.node} is said here"),),
        proposals=tuple(_to_pins(network, (wire, end))),
    )


def _doubled(network: Network) -> Iterator[_Held]:
    ends: dict[str, _Held] = {}
    for wire in network.wires:
        for end in wire.ends:
            if end.kind is EndKind.CAVITY:
                ends.setdefault(end.node, []).append((wire, end))
    return (held for held in ends.values() if len(held) > 1)


def _finding(network: Network, group: Sequence[_Held]) -> Finding:
    held = group[0]
    first, second = held[0], held[1]
    nodes = [each[0][1].node for each in group]
    wires = (f"{node} holds {len(each)} wires, {_marks(each)}" for node, each in zip(nodes, group, strict=True))
    message = f"{', and '.join(wires)}; a cavity takes one."
    see = (end_place(network.design, *first), f"{first[0].mark} ends in {nodes[0]} here")
    return Finding(
        RULE,
        Severity.ERROR,
        nodes[0],
        end_place(network.design, *second),
        message,
        mend="join them in a splice and lead one wire to the cavity, or give the second a cavity of its own",
        see=(see,),
        subjects=tuple(nodes) if len(nodes) > 1 else (),
        proposals=(
            *_to_pins(network, second, first),
            *free_passages(network, *second),
            # Which of two circuits was meant for the cavity, only the builder knows.
            *(replace(each, is_other_way=True) for each in free_passages(network, *first)),
        ),
    )


def _to_pins(network: Network, *held: tuple[Wire, WireEnd]) -> Iterator[Proposal]:
    """Cavities that lack their wire, for either wire; its mark is said, since either may be the one to move.

    A circuit is written in the direction of its current: it runs to a switch at `in`, and from it at `out`. What would
    run the other way comes last.
    """
    against: list[Proposal] = []
    for wire, end in held:
        wrong = "terminal out of" if end is wire.b else "terminal in of"
        for each in (*moves(network, wire, end), *moves_to_like(network, wire, end)):
            told = replace(each, words=f"{wire.mark} to {each.words}")
            if wrong in each.words and any(name in each.words for name in network.design.switches):
                against.append(told)
            else:
                yield told
    yield from against


def _marks(held: _Held) -> str:
    return names_in(sorted((wire.mark for wire, _ in held), key=natural_key))
