"""What loads and relay coils state of their volts, and what they get in a state: across them, current, polarity."""

import math
from collections.abc import Mapping

from harnessgen.design.checks.consistency import kind_of
from harnessgen.design.limits.table import limit
from harnessgen.design.records.device import Device, Load, Relay
from harnessgen.evidence.derivation import Evaluated, Input, evaluated
from harnessgen.evidence.publication import Publication, Standing, common_practice
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import Quantity
from harnessgen.network.electrical import Element
from harnessgen.network.network import Network
from harnessgen.parts.load import LoadPart
from harnessgen.parts.relay import RelayPart
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.electrical.element_resistance import STATED_POWER_AT_V
from harnessgen.physics.electrical.kirchhoff import VOLTAGE_LAW
from harnessgen.physics.loads.model import load_resistance
from harnessgen.physics.states.solved import SolvedStates

HIGHEST_OVER_RATED = 1.5
"""Highest voltage that equipment stands over its rated one, where it does not say: 18 V at 12 V, 36 V at 24 V."""
HIGHEST_SOURCE = Publication(
    "ISO 16750-2:2012", "4.3.1 overvoltage for an hour, 18 V at 12 V and 36 V at 24 V", Standing.FROM_MEMORY
)
NOMINAL = common_practice("a load is made for the nominal voltage of the system that feeds it")
_NOMINAL_SYSTEMS = ((9.0, 16.0, 12.0), (18.0, 32.0, 24.0))
"""Lowest and highest stated voltage of a supply, and the nominal voltage of such a system, in V."""


@frozen
class StatedVolts:
    """A voltage that a thing is made for, stands or works from, in V, and where that comes from."""

    volts: float
    source: Publication


@frozen
class VoltFigures:
    """What a load or coil states of its volts; None or empty where nobody says. `positive` is a terminal's name."""

    positive: str
    rated: StatedVolts | None
    highest: StatedVolts | None
    works_from: StatedVolts | None


def volt_figures(network: Network, device: Load | Relay) -> VoltFigures:
    """The figures of a load or of a relay's coil: its own, else its family's."""
    family: LoadPart | RelayPart | None
    works_from: StatedVolts | None = None
    if isinstance(device, Load):
        family = network.parts.loads.get(device.part)
        works_from = _own(device, "works_from_v", device.works_from_v)
        if works_from is None and isinstance(family, LoadPart):
            works_from = _of(family, family.works_from_v)
    else:
        family = network.parts.relays.get(device.part)
    rated, highest = _own(device, "rated_v", device.rated_v), _own(device, "highest_v", device.highest_v)
    if highest is None and rated is None and family is not None:
        highest = _of(family, family.highest_v)
    if rated is None and family is not None:
        rated = _of(family, family.rated_v)
    if highest is None and rated is not None:
        highest = StatedVolts(HIGHEST_OVER_RATED * rated.volts, HIGHEST_SOURCE)
    positive = device.positive or (family.positive if family is not None else "")
    return VoltFigures(positive, rated, highest, works_from)


def _own(device: Device, field: str, volts: Quantity | None) -> StatedVolts | None:
    """What a device of the design states itself."""
    if volts is None:
        return None
    return StatedVolts(volts.value, Publication(f"set in the design, {device.where(field)}"))


def _of(family: LoadPart | RelayPart, volts: Quantity | None) -> StatedVolts | None:
    """What a family states."""
    return StatedVolts(volts.value, family.publication) if volts is not None else None


def rated_volts(network: Network, load: Load) -> StatedVolts | None:
    """Voltage that a load is made for; None where a family does not say, or the load is a sensor.

    A load with figures of its own is taken to be made for the voltage at which they hold, else for the nominal voltage
    of what can feed it.
    """
    if kind_of(load, network.parts) == "sensor":
        return None
    rated = volt_figures(network, load).rated
    if rated is not None or load.part:
        return rated
    if load.at_voltage_v is not None:
        return StatedVolts(load.at_voltage_v.value, Publication(f"set in the design, {load.where('at_voltage_v')}"))
    volts = max((each.voltage_v.value for each in network.design.supplies.values()), default=0.0)
    nominal = next((system for low, high, system in _NOMINAL_SYSTEMS if low <= volts <= high), volts)
    return StatedVolts(nominal, NOMINAL) if nominal > 0.0 else None


def least_current(network: Network, load: Load, state: str, case: Case) -> Evaluated | None:
    """Current from which a load counts as working in a case, in A; None where its rated voltage is not known.

    The rated current of a coil is that of a coil as warm as in the case: its heat is no fault of the wiring.
    """
    rated = rated_volts(network, load)
    if rated is None:
        return None
    share = limit("works-share", network.design.limits)
    ohm = load_resistance(network, load, case, network.design.states[state])
    family = network.parts.loads.get(load.part)
    keeps = load.keeps or (family.keeps if family is not None else "resistance")
    volts = load.at_voltage_v.value if load.at_voltage_v is not None else STATED_POWER_AT_V
    inputs = (
        Input("s", f"limit {share.name}", share.value.value, "1", share.source),
        Input("R", ohm.why, ohm.result_ohm, "ohm", ohm.source),
        Input("U", f"rated voltage of {load.name}", rated.volts, "V", rated.source),
        Input("Us", "voltage at which its power or current is stated", volts, "V"),
    )
    formula = {"resistance": "s * U / R", "power": "s * Us**2 / R / U", "current": "s * Us / R"}[keeps]
    used = tuple(each for each in inputs if each.symbol != ("Us" if keeps == "resistance" else ""))
    used = tuple(each for each in used if not (keeps == "current" and each.symbol == "U"))
    return evaluated(f"current from which {load.name} counts as working", formula, used, "A", share.source)


def load_elements(network: Network) -> Mapping[str, tuple[Element, ...]]:
    """The elements of each load and each relay's coil, by designator, from its first terminal to its last."""
    found: dict[str, list[Element]] = {}
    for each in network.electrical.elements:
        if each.kind.does_work and each.device is not None:
            found.setdefault(each.device.name, []).append(each)
    return {name: tuple(each) for name, each in found.items()}


def volts_across(physics: SolvedStates, elements: tuple[Element, ...], state: str, case: Case) -> float:
    """Volts from the first terminal of a load (1, or 86 of a coil) to its last, in a state and case."""
    point = physics.point_in(state, case)
    return sum(point.across(each) for each in elements)


def volts_derivation(physics: SolvedStates, elements: tuple[Element, ...], state: str, case: Case) -> Evaluated:
    """Where the volts across a load or coil come from, either way round: those across each of its elements, in V."""
    point = physics.point_in(state, case)
    inputs = tuple(
        Input(f"U{place}", f"volts across {each.name} in {state}, {case.value}", point.across(each), "V", VOLTAGE_LAW)
        for place, each in enumerate(elements, start=1)
    )
    total = " + ".join(each.symbol for each in inputs)
    formula = total if math.fsum(each.value for each in inputs) >= 0.0 else f"-({total})"
    name = elements[0].device.name if elements[0].device is not None else elements[0].name
    return evaluated(f"volts across {name} in {state}, either way round", formula, inputs, "V", VOLTAGE_LAW)
