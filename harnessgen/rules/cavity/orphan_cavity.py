"""A wire in a cavity behind which nothing stands, or a device's terminal behind a cavity without a wire."""

from collections.abc import Iterator
from dataclasses import replace

from harnessgen.evidence.finding import Finding, Severity
from harnessgen.network.network import Network
from harnessgen.network.wires import Wire, WireEnd
from harnessgen.rules.cavity.pins import Pin, empty_pins, is_behind_nothing, moves, pins_of
from harnessgen.rules.places import end_place

RULE = "orphan-cavity"


def check(network: Network) -> list[Finding]:
    """One finding for each such cavity; halves of disconnects are left out, what they lack is a matter of the mate."""
    wrong, empty = list(_wires_to_nothing(network)), list(empty_pins(network))
    meant: set[str] = set()
    for index, finding in enumerate(wrong):
        # One wire and one empty cavity of the same connector were meant for each other.
        fellows = [pin for pin in empty if _connector(pin.cavity) == _connector(finding.subject)]
        others = [each for each in wrong if _connector(each.subject) == _connector(finding.subject)]
        if finding.proposals and len(fellows) == len(others) == 1:
            pin = fellows[0]
            meant.add(pin.cavity)
            see = ((pin.place, f"{pin.words} stands behind {pin.cavity}, which has no wire"),)
            wrong[index] = replace(finding, see=see, subjects=(finding.subject, pin.cavity))
    return [*wrong, *(_empty(pin) for pin in empty if pin.cavity not in meant)]


def _connector(cavity: str) -> str:
    return cavity.partition("/")[0]


def _wires_to_nothing(network: Network) -> Iterator[Finding]:
    served = {pin.cavity.partition("/")[0] for pin in pins_of(network)}
    told: set[str] = set()
    for wire in network.wires:
        for end in wire.ends:
            if end.node not in told and is_behind_nothing(network, end):
                told.add(end.node)
                yield _to_nothing(network, wire, end, is_served=end.designator in served)


def _to_nothing(network: Network, wire: Wire, end: WireEnd, *, is_served: bool) -> Finding:
    if not is_served:
        # One cause for all of its wires: findings at one place are told together.
        place = network.design.connectors[end.designator].place
        message = f"A wire ends in {end.node}, and no device stands behind {end.designator}."
        mend = f"say what stands there: a device with connector: {end.designator}, or with the cavity under terminals"
        return Finding(RULE, Severity.ERROR, end.node, place, message, mend=mend)
    place = end_place(network.design, wire, end)
    message = f"Wire {wire.mark} ends in {end.node}, and nothing stands behind that cavity."
    return Finding(RULE, Severity.ERROR, end.node, place, message, proposals=moves(network, wire, end))


def _empty(pin: Pin) -> Finding:
    message = f"{pin.cavity} has no wire, and {pin.words} stands behind it."
    return Finding(RULE, Severity.ERROR, pin.cavity, pin.place, message)
