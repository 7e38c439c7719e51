"""Loads as they are: resistance by temperature and state, what they keep when their voltage changes, their coil."""

from harnessgen.design.checks import consistency as sense
from harnessgen.design.checks.consistency import kind_of
from harnessgen.design.limits.table import Limit, limit
from harnessgen.design.records.device import Device, Load, Relay
from harnessgen.design.records.state import State
from harnessgen.evidence.derivation import Evaluated, Input, evaluated
from harnessgen.evidence.publication import Publication, common_practice
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import Quantity
from harnessgen.network.network import Network
from harnessgen.parts.suppression import Suppression
from harnessgen.physics.electrical.characteristics import MADE_UP_SHARE, ConstantCurrent, ConstantPower, WithDiode
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.electrical.element_resistance import STATED_POWER_AT_V, ambient_degc, load_ohm
from harnessgen.physics.electrical.resistance import REFERENCE_DEGC, TEMPERATURE_SOURCE, resistance_at

DIODE_OHM = 0.02
"""Resistance of a suppression diode beyond its forward voltage (common practice, no source)."""

_STATED = common_practice("stated figures of the load")


@frozen
class LoadOhm:
    """Resistance of a load in a state and case: `ohm` at `from_degc`, brought to `at_degc` where it is copper.

    `why` says which of its figures it is, `share` what a stalled motor or a cold lamp has of it.
    """

    load: str
    ohm: float
    why: str
    source: Publication
    at_degc: float = REFERENCE_DEGC
    share: float = 1.0
    share_source: Publication | None = None

    @property
    def result_ohm(self) -> float:
        """The resistance, in ohm."""
        return resistance_at(self.ohm, self.at_degc) * self.share

    @property
    def derivation(self) -> Evaluated:
        """Where it comes from."""
        inputs = [Input("R", self.why, self.ohm, "ohm", self.source)]
        formula, sources = "R", [_STATED]
        if self.at_degc != REFERENCE_DEGC:
            inputs.append(Input("T", "temperature of the coil", self.at_degc, "degC"))
            formula, sources = "R * (234.5 + T) / 254.5", [TEMPERATURE_SOURCE]
        if self.share != 1.0:
            inputs.append(Input("k", "current at that moment over its running current", 1 / self.share, "1"))
            formula = f"{formula} / k"
            sources += [self.share_source] if self.share_source is not None else []
        return evaluated(f"resistance of {self.load}", formula, tuple(inputs), "ohm", *sources)


def device_degc(network: Network, device: Device) -> float:
    """Highest ambient temperature where a device sits: that of the hottest stretch which ends there."""
    points = {device.at} if device.at else set()
    for designator in (device.connector, *(end.designator for end in device.terminals.values())):
        connector = network.design.connectors.get(designator)
        if connector is not None:
            points.add(connector.at)
    nearby = [ambient_degc(network, leg) for point in points for leg in network.legs_at.get(point, ())]
    return max(nearby, default=limit("ambient", network.design.limits).value.value)


def coldest_degc(network: Network, device: Device) -> float:
    """Temperature of a device at its coldest: the limit, or its zone where that is never so warm."""
    return min(limit("coldest", network.design.limits).value.value, device_degc(network, device))


def case_degc(network: Network, device: Device, case: Case) -> float:
    """Temperature of a coil in a case; stated figures hold at 20 degC."""
    if case is Case.STATED:
        return REFERENCE_DEGC
    return coldest_degc(network, device) if case is Case.STRONG else device_degc(network, device)


def stated_resistance(network: Network, load: Load) -> Quantity:
    """Resistance of a load while it works, with the tolerance that its figures have, in ohm."""
    family = network.parts.loads.get(load.part)
    if load.resistance_ohm is not None:
        return load.resistance_ohm
    if load.power_w is None and load.current_a is None and family is not None:
        return family.resistance_ohm
    ohm, stated = load_ohm(network, load), load.power_w or load.current_a
    if stated is None:
        return Quantity(ohm)
    # The resistance is highest where power or current is lowest.
    highest = ohm * stated.value / stated.lowest if stated.lowest > 0.0 else ohm
    return Quantity(ohm, highest - ohm, ohm - ohm * stated.value / stated.highest)


def load_resistance(network: Network, load: Load, case: Case, state: State | None = None) -> LoadOhm:
    """Resistance of a load in a case, and in a state that may hold a motor or find a lamp cold."""
    family = network.parts.loads.get(load.part)
    origin = family.publication if family is not None and load.resistance_ohm is None else _STATED
    if state is not None and load.name in state.stalled:
        own = load.stall_ohm or (family.stall_ohm if family is not None else None)
        return _at_once(network, load, case, own, limit("motor-stall", network.design.limits), "of the held motor")
    if state is not None and load.name in state.cold:
        own = load.cold_ohm or (family.cold_ohm if family is not None else None)
        return _at_once(network, load, case, own, limit("lamp-inrush", network.design.limits), "of the cold filament")
    stated = stated_resistance(network, load)
    ohm = stated.value if case is Case.STATED else stated.lowest
    why = "while it works" if case is Case.STATED else "while it works, at its lowest"
    is_copper = kind_of(load, network.parts) == "coil"
    degc = case_degc(network, load, case) if is_copper else REFERENCE_DEGC
    return LoadOhm(load.name, ohm, f"{why}, at 20 degC" if is_copper else why, origin, degc)


def _at_once(network: Network, load: Load, case: Case, own: Quantity | None, times: Limit, words: str) -> LoadOhm:
    """Resistance at standstill or when cold: the stated one, else the running one over the usual rise of current."""
    family = network.parts.loads.get(load.part)
    if own is not None:
        origin = family.publication if family is not None else _STATED
        return LoadOhm(load.name, own.value if case is Case.STATED else own.lowest, words, origin)
    running = stated_resistance(network, load)
    ohm = running.value if case is Case.STATED else running.lowest
    return LoadOhm(load.name, ohm, "while it works", _STATED, share=1.0 / times.value.value, share_source=times.source)


def load_character(network: Network, load: Load, ohm: float) -> ConstantPower | ConstantCurrent | None:
    """The law of a load that keeps its power or its current, from the resistance it has at its stated voltage."""
    family = network.parts.loads.get(load.part)
    keeps = load.keeps or (family.keeps if family is not None else "resistance")
    if keeps == "resistance":
        return None
    volts = load.at_voltage_v.value if load.at_voltage_v is not None else STATED_POWER_AT_V
    stated = load.lowest_v or (family.lowest_v if family is not None else None)
    lowest_v = stated.value if stated is not None else MADE_UP_SHARE * volts
    if keeps == "power":
        return ConstantPower(volts * volts / ohm, lowest_v, stated is not None)
    return ConstantCurrent(volts / ohm, lowest_v, stated is not None)


def inductance_h(network: Network, device: Device) -> float | None:
    """Inductance of a load's coil, in H; None where it is not known."""
    if not isinstance(device, Load):
        return None
    family = network.parts.loads.get(device.part)
    own = device.inductance_h or (family.inductance_h if family is not None else None)
    return own.value if own is not None else None


def suppression_of(network: Network, device: Device) -> Suppression | None:
    """What sits across the coil of a relay or load; None where nobody says."""
    return sense.suppression_of(device, network.parts)


def cathode_is_at_a(device: Device, suppression: Suppression) -> bool:
    """Whether the diode's cathode sits at the end `a` of the coil: 86 of a relay, 1 of a load."""
    first = "86" if isinstance(device, Relay) else "1"
    return suppression.cathode in ("", first)


def coil_diode(network: Network, device: Device, ohm: float) -> WithDiode | None:
    """The diode across a coil of `ohm`, as the network sees it; None where there is none."""
    suppression = suppression_of(network, device)
    if suppression is None or suppression.kind != "diode":
        return None
    forward_v = limit("diode-drop", network.design.limits).value.value
    return WithDiode(ohm, forward_v, DIODE_OHM, -1.0 if cathode_is_at_a(device, suppression) else 1.0)
