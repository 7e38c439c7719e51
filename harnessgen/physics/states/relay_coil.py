"""Relays at their weakest: whether a hot coil closes at the lowest supply, and what takes a coil's current over."""

from enum import Enum

from harnessgen.design.checks.consistency import kind_of
from harnessgen.design.records.device import Device, Load, Relay
from harnessgen.evidence.derivation import Evaluated
from harnessgen.measures.frozen import frozen
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.network.network import Network
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.loads.model import suppression_of
from harnessgen.physics.states.conditions import pull_in
from harnessgen.physics.states.solved import SolvedStates
from harnessgen.physics.states.voltage_drop import LoadDrop, drops_in

POWERED_SHARE = 0.5
"""Share of its pull-in voltage above which a coil is meant to close (common practice, no source)."""


@frozen
class PullIn:
    """A relay that a state means to close, with its coil as hot as its zone and the supplies at their lowest.

    `needs` is the coil voltage that surely closes it then, `gets_v` what it gets, `drop` where the rest of the supply's
    voltage goes.
    """

    relay: Relay
    state: str
    needs: Evaluated
    drop: LoadDrop

    @property
    def gets_v(self) -> float:
        """Volts across the coil."""
        return self.drop.across_v

    @property
    def margin_v(self) -> float:
        """Volts to spare; negative where it may stay open."""
        return self.gets_v - self.needs.result


def pull_ins(physics: SolvedStates, state: str) -> tuple[PullIn, ...]:
    """Every relay that a state means to close, in the order of the design.

    Raises:
        KeyError: no state has this name.
    """
    network = physics.network
    found: list[PullIn] = []
    for drop in drops_in(physics, state, Case.WEAK):
        relay = network.design.relays.get(drop.load.removesuffix(" coil"))
        if relay is None or not drop.load.endswith(" coil"):
            continue
        needs = pull_in(network, relay, Case.WEAK)
        if drop.across_v >= POWERED_SHARE * needs.result:
            found.append(PullIn(relay, state, needs, drop))
    return tuple(found)


class CoilFault(Enum):
    """What is wrong with what sits across a coil."""

    ABSENT = "nothing takes its current over"
    REVERSED = "its diode sits the wrong way round"


@frozen
class Unsuppressed:
    """A coil that is switched without what takes its current over, or with a diode that shorts it.

    `state` is the first that shows it, `volts` what lies across the coil there, `opened_by` the switch or driver that
    opens its circuit; empty for a reversed diode, which harms while it is on.
    """

    device: Device
    element: str
    fault: CoilFault
    state: str
    volts: float
    opened_by: str = ""


def coil_faults(physics: SolvedStates) -> tuple[Unsuppressed, ...]:
    """Coils of relays and loads whose design says that nothing sits across them, or a diode the wrong way round.

    Where nobody says what sits across a coil, nothing is concluded. A driver that states its clamp takes the current
    over by itself.
    """
    network = physics.network
    stated = [
        (each, each.device)
        for each in network.electrical.elements
        if each.device is not None and _is_coil(network, each) and suppression_of(network, each.device) is not None
    ]
    found: dict[str, Unsuppressed] = {}
    for state in network.design.states if stated else ():
        point = physics.point_in(state, Case.STATED)
        drops = {each.load: each for each in drops_in(physics, state, Case.STATED)}
        for element, device in stated:
            name, volts = element.name, point.across(element)
            if name in found:
                continue
            if name in point.forward:
                found[name] = Unsuppressed(device, name, CoilFault.REVERSED, state, volts)
            elif name in drops and (opened_by := _opened_by(network, drops[name], device)):
                found[name] = Unsuppressed(device, name, CoilFault.ABSENT, state, volts, opened_by)
    return tuple(found.values())


def _is_coil(network: Network, element: Element) -> bool:
    device = element.device
    if element.kind is ElementKind.COIL:
        return True
    return isinstance(device, Load) and kind_of(device, network.parts) == "coil"


def _opened_by(network: Network, drop: LoadDrop, device: Device) -> str:
    """What opens the circuit of a coil that has nothing across it; empty where its current is taken over."""
    suppression = suppression_of(network, device)
    if suppression is None or suppression.kind != "none":
        return ""
    drivers = [part.element for part in drop.return_ if part.kind is ElementKind.DRIVER]
    if any(network.design.drivers[each].clamp_v is not None for each in drivers):
        return ""
    opens = (ElementKind.SWITCH, ElementKind.MAKE, ElementKind.BREAK, ElementKind.DRIVER)
    nearest = [part.element for part in (*drop.return_, *reversed(drop.feed)) if part.kind in opens]
    return (drivers or nearest or [""])[0]
