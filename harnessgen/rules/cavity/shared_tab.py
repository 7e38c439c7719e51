"""Two terminals on one tab."""

from harnessgen.evidence.finding import Finding, Number, Severity
from harnessgen.network.network import Network
from harnessgen.network.wires import EndKind
from harnessgen.rules.wording.places import end_place
from harnessgen.source.kind import names_in

RULE = "shared-tab"


def check(network: Network) -> list[Finding]:
    """One finding for each terminal of a device on which more wires land than it has room for, at the first too many."""
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
        found.append(Finding(RULE, Severity.ERROR, node, place, message, numbers, mend=mend))
    return found
