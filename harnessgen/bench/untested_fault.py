"""Rule untested-fault: no step of any procedure shows a fault."""

from collections.abc import Iterator

from harnessgen.bench.faults.fault import Consequence, FaultKind, HarnessFault
from harnessgen.bench.proof import Proofs
from harnessgen.evidence.finding import Finding, Severity
from harnessgen.network.network import Network
from harnessgen.network.wires import EndKind
from harnessgen.source.place import NOWHERE, Place

RULE = "untested-fault"


def check(proofs: Proofs) -> list[Finding]:
    """An error for each severe fault that nothing shows, a warning where something does not work, else a note.

    One finding a subject and gravity.
    """
    groups: dict[tuple[str, Severity], list[HarnessFault]] = {}
    for fault in proofs.untested:
        severity = _severity(fault.consequence)
        groups.setdefault((fault.subject, severity), []).append(fault)
    return [_finding(proofs.network, subject, severity, faults) for (subject, severity), faults in groups.items()]


def _severity(consequence: Consequence) -> Severity:
    if consequence.is_severe:
        return Severity.ERROR
    return Severity.NOTE if consequence is Consequence.HARMLESS else Severity.WARNING


def _finding(network: Network, subject: str, severity: Severity, faults: list[HarnessFault]) -> Finding:
    kinds = list(dict.fromkeys(fault.kind.value for fault in faults))
    worst = max((fault.consequence for fault in faults), key=list(type(faults[0].consequence)).index)
    message = f"No step of the test procedures shows {' or '.join(kinds)} of {subject} ({worst.value})."
    reason = " ".join(_reasons(network, subject, faults))
    return Finding(RULE, severity, subject, _place(network, subject), f"{message} {reason}".strip())


def _reasons(network: Network, subject: str, faults: list[HarnessFault]) -> Iterator[str]:
    wire = network.wire_of.get(subject)
    if wire is None:
        return
    free = [end for end in wire.ends if network.electrical.nodes[end.node].kind == "shield"]
    if free:
        yield f"Its end at {free[0]} hangs free, so that no current can be sent through it."
    elif {fault.kind for fault in faults} <= {FaultKind.POOR_JOINT, FaultKind.SIZE_WRONG}:
        yield "Its own resistance may vary by more: a thicker wire, or each joint proved before it is sealed."
    elif all(end.kind is EndKind.SPLICE for end in wire.ends):
        yield "Both its ends are sealed in splices, and another wire joins the same two."


def _place(network: Network, subject: str) -> Place:
    # Of two wires that touch, the first stands for both.
    wire = network.wire_of.get(subject.split(" and ")[0])
    if wire is not None:
        return wire.place
    device = network.design.devices.get(subject)
    return device.place if device is not None else NOWHERE
