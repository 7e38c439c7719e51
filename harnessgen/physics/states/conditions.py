"""The conditions that a state is solved for: supplies by condition, temperatures, tolerances, paired in three cases."""

from collections.abc import Mapping

from harnessgen.design.limits.table import limit
from harnessgen.design.records.design import Design
from harnessgen.design.records.device import Load, Relay, Supply
from harnessgen.design.records.state import State
from harnessgen.evidence.derivation import Evaluated, Input, evaluated
from harnessgen.evidence.publication import Publication
from harnessgen.lengths.wire_length import WireLength
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import Quantity
from harnessgen.network.electrical import Element, ElementKind
from harnessgen.network.network import Network
from harnessgen.physics.electrical.characteristics import WithDiode
from harnessgen.physics.electrical.conditions import Case, Conditions
from harnessgen.physics.electrical.element_resistance import joint_ohm
from harnessgen.physics.electrical.resistance import TEMPERATURE_SOURCE, resistance_at
from harnessgen.physics.loads.model import case_degc, coil_diode, load_character, load_resistance
from harnessgen.physics.nodal.newton import Character


@frozen
class SupplyRange:
    """Voltage without load of a supply in a state, with its range, and where that comes from."""

    supply: str
    volts: Quantity
    source: Publication

    def in_case(self, case: Case) -> float:
        """The end of the range that a case takes, in V."""
        if case is Case.STATED:
            return self.volts.value
        return self.volts.highest if case is Case.STRONG else self.volts.lowest


def supply_range(design: Design, supply: Supply, state: State | None) -> SupplyRange:
    """Voltage of a supply: what the state gives it, else the range of the state's condition, else its own."""
    own = state.voltage_v.get(supply.name) if state is not None else None
    if state is not None and own is not None:
        return SupplyRange(supply.name, own, Publication(f"set in the design, {state.where('voltage_v')}"))
    if state is not None and state.supply:
        condition = limit(f"supply-{state.supply}", design.limits)
        return SupplyRange(supply.name, condition.value, condition.source)
    return SupplyRange(supply.name, supply.voltage_v, Publication(f"set in the design, {supply.where('voltage_v')}"))


def case_ohms(
    network: Network, stated: Mapping[str, float], lengths: Mapping[str, WireLength], case: Case
) -> Mapping[str, float]:
    """Resistance of every element in a case, before what a state changes; `stated` are those as stated."""
    if case is Case.STATED:
        return stated
    cold = limit("coldest", network.design.limits).value.value
    return {
        each.name: _case_ohm(network, each, stated[each.name], lengths, case, cold)
        for each in network.electrical.elements
    }


def _case_ohm(
    network: Network,
    element: Element,
    stated: float,
    lengths: Mapping[str, WireLength],
    case: Case,
    cold_degc: float,
) -> float:
    device, wire = element.device, element.wire
    if element.kind is ElementKind.SUPPRESSOR:
        return stated
    if isinstance(device, Load):
        return load_resistance(network, device, case).result_ohm
    if isinstance(device, Relay) and element.kind is ElementKind.COIL:
        coil = network.parts.relays[device.part].coil_ohm
        # A hot coil closes by its current, so its highest resistance brings nothing worse; a cold one draws most.
        ohm = coil.lowest if case is Case.STRONG else coil.value
        return resistance_at(ohm, case_degc(network, device, case))
    if element.given is not None and case is Case.STRONG:
        given = element.given
        return max(resistance_at(given.figures.resistance_ohm_per_m.value * given.length_mm / 1000.0, cold_degc), 1e-6)
    if wire is not None and case is Case.STRONG:
        per_m, joints = wire.figures.resistance_ohm_per_m.value, joint_ohm(network, wire.a) + joint_ohm(network, wire.b)
        length_m = max(lengths[wire.mark].needed_mm, 0.0) / 1000.0
        return max(resistance_at(per_m * length_m, cold_degc) + joints, 1e-6)
    return stated


def state_conditions(
    network: Network, case: Case, ohms: Mapping[str, float], name: str, on: frozenset[str], state: State | None
) -> Conditions:
    """Conditions of a state in a case; `ohms` are those of the case, `state` is None for what no state declares."""
    design = network.design
    supply_v = {each.name: supply_range(design, each, state).in_case(case) for each in design.supplies.values()}
    changed = {*state.stalled, *state.cold} if state is not None else set()
    used = dict(ohms)
    characters: dict[str, Character] = {}
    diodes: dict[str, WithDiode] = {}
    for element in network.electrical.elements:
        device = element.device
        if element.kind not in (ElementKind.LOAD, ElementKind.COIL) or device is None:
            continue
        if isinstance(device, Load):
            if device.name in changed:
                used[element.name] = load_resistance(network, device, case, state).result_ohm
            elif (law := load_character(network, device, used[element.name])) is not None:
                characters[element.name] = law
        diode = coil_diode(network, device, used[element.name])
        if diode is not None:
            diodes[element.name] = diode
    pull_in_v = {relay: pull_in(network, device, case).result for relay, device in design.relays.items()}
    return Conditions(name, case, on, supply_v, used, pull_in_v, characters, diodes)


def pull_in(network: Network, relay: Relay, case: Case) -> Evaluated:
    """Coil voltage that surely closes a relay in a case: it closes by its current, which a hot coil needs more for."""
    part = network.parts.relays[relay.part]
    inputs = (
        Input("U", "pull-in voltage at 20 degC", part.pull_in_v.value, "V", part.publication),
        Input("T", "temperature of the coil", case_degc(network, relay, case), "degC"),
    )
    title = f"voltage that closes {relay.name}, {case.value}"
    return evaluated(title, "U * (234.5 + T) / 254.5", inputs, "V", TEMPERATURE_SOURCE)
