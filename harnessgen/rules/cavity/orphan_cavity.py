"""A wire in a cavity behind which nothing stands, or a device's terminal behind a cavity without a wire."""

from collections.abc import Iterator
from dataclasses import replace

from harnessgen.design.records.device import Driver, Load
from harnessgen.evidence.finding import Finding, Proposal, Severity
from harnessgen.network.network import Network
from harnessgen.network.wires import Wire, WireEnd
from harnessgen.rules.cavity.lost_wire import lost_returns
from harnessgen.rules.cavity.pins import Pin, empty_pins, is_behind_nothing, moves, pins_of
from harnessgen.rules.wording.places import end_place
from harnessgen.source.kind import names_in

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
    by_cavity: dict[str, list[Pin]] = {}
    for pin in empty:
        if pin.cavity not in meant:
            by_cavity.setdefault(pin.cavity, []).append(pin)
    return [*wrong, *(_empty(network, pins) for pins in by_cavity.values())]


def _connector(cavity: str) -> str:
    return cavity.partition("/")[0]


def _wires_to_nothing(network: Network) -> Iterator[Finding]:
    if not network.design.devices:
        # A lead that joins two connectors and no more: `nothing-to-solve` says so once.
        return
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
    proposals = (*moves(network, wire, end), *_pins_that_share(network, end))
    return Finding(RULE, Severity.ERROR, end.node, place, message, proposals=proposals)


def _pins_that_share(network: Network, end: WireEnd) -> Iterator[Proposal]:
    """Driver outputs that share their cavity with another's, at the place where the file gives them that cavity."""
    outputs: dict[str, list[Pin]] = {}
    for pin in pins_of(network):
        if isinstance(pin.device, Driver) and pin.terminal == "out" and _connector(pin.cavity) == end.designator:
            outputs.setdefault(pin.cavity, []).append(pin)
    for sharing in outputs.values():
        for pin in sharing if len(sharing) > 1 else ():
            words = f"{end.node} in place of {pin.cavity} for {pin.words}: another output stands behind {pin.cavity}"
            yield Proposal(pin.place, end.node, words)


def _empty(network: Network, pins: list[Pin]) -> Finding:
    """One finding for a cavity without a wire, with all that stands behind it."""
    pin = pins[0]
    verb = "stands" if len(pins) == 1 else "stand"
    message = f"{pin.cavity} has no wire, and {names_in(each.words for each in pins)} {verb} behind it."
    like_others = tuple(_like_others(network, pin)) if len(pins) == 1 else ()
    proposals = (*like_others, *_lost_returns(network, pins))
    return Finding(RULE, Severity.ERROR, pin.cavity, pin.place, message, proposals=proposals)


def _lost_returns(network: Network, pins: list[Pin]) -> tuple[Proposal, ...]:
    # An output has its load there, and never a way to ground.
    if any(isinstance(pin.device, Driver) and pin.terminal == "out" for pin in pins):
        return ()
    pin = pins[0]
    is_named = len(pins) == 1 and isinstance(pin.device, Load) and pin.terminal
    end = f"{pin.device.name}/{pin.terminal}" if is_named else pin.cavity
    return lost_returns(network, end, [each.device for each in pins])


def _like_others(network: Network, pin: Pin) -> Iterator[Proposal]:
    """Cavities of the same connector at which the same terminal of other devices has its wire: a ground is shared."""
    told: set[str] = set()
    for other in pins_of(network):
        is_like = type(other.device) is type(pin.device) and other.terminal == pin.terminal == "ground"
        is_near = _connector(other.cavity) == _connector(pin.cavity) and other.cavity in network.wires_at
        if is_like and is_near and other.cavity not in told:
            told.add(other.cavity)
            words = f"{other.cavity} in place of {pin.cavity}, as {other.device.name} has it"
            yield Proposal(pin.place, other.cavity, words)
