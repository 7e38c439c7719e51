"""What a state of the circuit lets a meter read: the current in each conductor and the voltage across each load."""

from collections.abc import Mapping
from dataclasses import dataclass

from harnessgen.measures.quantised import quantised
from harnessgen.network.electrical import ElementKind
from harnessgen.network.network import Network
from harnessgen.physics.electrical.operating_point import OperatingPoint

_NOTHING_A = 1e-6
"""Below a microampere a conductor is called dead."""


@dataclass(frozen=True, slots=True)
class Readings:
    """Current of each element from its `a` to its `b` (A), and voltage across each load and relay coil (V), by name.

    `state` is the state that they are taken in, `title` what the design calls it, which may be empty.
    """

    state: str
    title: str
    amperes: Mapping[str, float]
    volts: Mapping[str, float]


def readings_of(network: Network, point: OperatingPoint) -> Readings:
    """The readings of a solved state."""
    volts: dict[str, float] = {}
    for element in network.electrical.elements:
        if element.device is not None and element.kind in (ElementKind.LOAD, ElementKind.COIL):
            # A sensor with a signal is two elements in series; what counts is the voltage from its 1 to its 2.
            volts[element.device.name] = volts.get(element.device.name, 0.0) + point.across(element)
    state = network.design.states.get(point.state)
    return Readings(point.state, state.title if state is not None else "", point.amperes, volts)


def ampere_words(ampere: float, is_down: bool) -> str:
    """A current in words; `is_down` says whether a positive one runs down the sheet. What runs up says so."""
    if abs(ampere) < _NOTHING_A:
        return "0 A"
    words = f"{_short(abs(ampere) * 1000)} mA" if abs(ampere) < 0.1 else f"{_short(abs(ampere))} A"
    return words if (ampere > 0) == is_down else f"{words} up"


def volt_words(readings: Readings | None, name: str) -> str:
    """The voltage across the load or relay coil of that name, in words; empty without readings or for other devices."""
    if readings is None or name not in readings.volts:
        return ""
    volt = abs(readings.volts[name])
    return f"{_short(volt)} V across" if volt >= 0.0005 else "0 V across"


def _short(value: float) -> str:
    """Three figures, without an exponent."""
    value = quantised(value)
    return f"{value:.0f}" if value >= 99.95 else f"{value:.3g}" if value >= 0.001 else f"{value:.3f}"
