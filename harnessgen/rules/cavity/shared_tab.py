"""Two terminals on one tab."""

from collections.abc import Iterator

from harnessgen.evidence.finding import Finding, Number, Proposal, Severity, at_most
from harnessgen.network.network import Network
from harnessgen.network.wires import EndKind, Wire, WireEnd
from harnessgen.rules.cavity.pins import moves
from harnessgen.rules.wording.places import end_place, written_end
from harnessgen.source.kind import names_in

RULE = "shared-tab"


def check(network: Network) -> list[Finding]:
    """One finding for each terminal of a device on which too many wires land, at the first that has no room."""
    found = []
    for node, wires in network.wires_at.items():
        ends = [wire.a if wire.a.node == node else wire.b for wire in wires]
        contact = network.contact_at(ends[0]) if ends[0].kind is EndKind.LANDING else None
        if contact is None or contact.stack is None or len(wires) <= contact.stack:
            continue
        extra = wires[contact.stack]
        message = f"{names_in(wire.mark for wire in wires)} end in one terminal each at {node}, which has room for {contact.stack}."  # noqa: E501
        numbers = (
            Number("terminals", len(wires), "", f"{contact.title} at {node}", 0),
            Number("at most", contact.stack, "", f"{contact.name}; {contact.publication}", 0),
        )
        mend = "join the wires in a splice and lead one wire from it to the tab"
        place = end_place(network.design, extra, ends[contact.stack])
        both = zip(wires, ends, strict=True)
        pairs = [*both][::-1]
        proposals = (
            *(move for wire, end in pairs[::-1] for move in moves(network, wire, end)),
            *(move for wire, end in pairs for move in _to_like(network, wire, end)),
        )
        deciding = at_most(*numbers)
        found.append(
            Finding(
                RULE,
                Severity.ERROR,
                node,
                place,
                message,
                numbers,
                mend=mend,
                proposals=proposals,
                deciding=deciding,
            )
        )
    return found


def _to_like(network: Network, wire: Wire, end: WireEnd) -> Iterator[Proposal]:
    """The same terminal of devices of the same kind, where no wire reaches it."""
    device, written = network.design.devices[end.designator], written_end(network.design, wire, end)
    for other in network.design.devices.values() if written is not None else ():
        node = f"{other.name}/{end.terminal}"
        is_free = node not in network.wires_at and end.terminal not in other.direct
        if type(other) is type(device) and other.name != device.name and is_free:
            text = node if written.terminal else other.name  # type: ignore[union-attr]
            words = f"{text} in place of {written} for {wire.mark}: no wire is there yet"
            yield Proposal(written.place, text, words)  # type: ignore[union-attr]
