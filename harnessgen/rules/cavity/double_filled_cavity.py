"""More than one wire in one cavity."""

from collections.abc import Iterator

from harnessgen.evidence.finding import Finding, Severity
from harnessgen.network.network import Network
from harnessgen.network.wires import EndKind, Wire, WireEnd
from harnessgen.rules.places import end_place
from harnessgen.source.kind import names_in

RULE = "double-filled-cavity"


def check(network: Network) -> list[Finding]:
    """One finding for each cavity that more than one wire ends in, at the second wire."""
    return list(_doubled(network))


def _doubled(network: Network) -> Iterator[Finding]:
    ends: dict[str, list[tuple[Wire, WireEnd]]] = {}
    for wire in network.wires:
        for end in wire.ends:
            if end.kind is EndKind.CAVITY:
                ends.setdefault(end.node, []).append((wire, end))
    for node, held in ends.items():
        if len(held) < 2:
            continue
        first, second = held[0], held[1]
        place = end_place(network.design, *second)
        message = f"{node} holds {len(held)} wires, {names_in(wire.mark for wire, _ in held)}; a cavity takes one."
        see = (end_place(network.design, *first), f"{first[0].mark} ends in {node} here")
        mend = "join them in a splice and lead one wire to the cavity, or give the second a cavity of its own"
        yield Finding(RULE, Severity.ERROR, node, place, message, mend=mend, see=(see,))
