"""Steady current and temperature of a horizontal insulated wire, alone in still air.

Heat made in the copper passes the insulation by conduction and leaves the surface by natural convection and radiation.
"""

import math
from collections.abc import Callable

from harnessgen.measures.frozen import frozen
from harnessgen.physics.heat.air import STANDARD_PRESSURE_PA, ZERO_DEGC_K, convection_w_per_m, radiation_w_per_m

PLASTIC_EMISSIVITY = 0.9
"""Emissivity of plastic insulation of any colour: common practice, no source."""

MELTING_DEGC = 1083.0
"""Melting point of copper; a balance above it is no balance."""

_FIRST_K = 10.0


@frozen
class HeatedWire:
    """A round insulated wire as its heat sees it.

    `ohm_per_m` is the conductor's resistance at 20 degC. A bare wire has equal diameters.
    """

    ohm_per_m: float
    conductor_diameter_mm: float
    outside_diameter_mm: float
    insulation_w_per_m_k: float
    emissivity: float = PLASTIC_EMISSIVITY

    def __post_init__(self) -> None:
        """Refuse a wire that no balance exists for.

        Raises:
            ValueError: a figure is not above zero, the insulation is thinner than nothing, or emissivity exceeds one.
        """
        positive = (self.ohm_per_m, self.conductor_diameter_mm, self.insulation_w_per_m_k)
        if not all(0.0 < each < math.inf for each in positive):
            raise ValueError(f"resistance, diameter and conductivity of a wire lie above zero: {positive}")
        if not self.conductor_diameter_mm <= self.outside_diameter_mm < math.inf:
            raise ValueError(
                f"a wire of {self.outside_diameter_mm} mm holds no {self.conductor_diameter_mm} mm conductor"
            )
        refuse_emissivity(self.emissivity)

    @property
    def insulation_k_m_per_w(self) -> float:
        """Temperature fall through the insulation for one watt per metre."""
        ratio = self.outside_diameter_mm / self.conductor_diameter_mm
        return math.log(ratio) / (2.0 * math.pi * self.insulation_w_per_m_k)

    def heat_made_w_per_m(self, current_a: float, conductor_degc: float) -> float:
        """Heat made in one metre of conductor."""
        return current_a**2 * self.ohm_per_m * (234.5 + conductor_degc) / 254.5


def heat_lost_w_per_m(
    surface_degc: float,
    ambient_degc: float,
    diameter_mm: float,
    emissivity: float = PLASTIC_EMISSIVITY,
    pressure_pa: float = STANDARD_PRESSURE_PA,
) -> float:
    """Heat that one metre of horizontal cylinder loses to still air and surroundings of one ambient temperature.

    A pressure of 0 Pa stands for vacuum: radiation alone.

    Raises:
        ValueError: a temperature lies below absolute zero, the diameter is not above zero, the pressure is below zero,
            or the emissivity is not between zero and one.
    """
    refuse_surroundings(ambient_degc, pressure_pa)
    refuse_emissivity(emissivity)
    if not (surface_degc > -ZERO_DEGC_K and diameter_mm > 0.0):
        raise ValueError(f"no heat balance for a surface at {surface_degc} degC on a diameter of {diameter_mm} mm")
    return lost_w_per_m(surface_degc, ambient_degc, diameter_mm, emissivity, pressure_pa)


def surface_temperature_degc(
    wire: HeatedWire, conductor_degc: float, ambient_degc: float, pressure_pa: float = STANDARD_PRESSURE_PA
) -> float:
    """Surface temperature of a wire alone in still air whose conductor is held at a temperature.

    Raises:
        ValueError: the conductor is colder than the ambient, or the surroundings are impossible.
    """
    refuse_surroundings(ambient_degc, pressure_pa)
    if not ambient_degc <= conductor_degc < math.inf:
        raise ValueError(f"a conductor at {conductor_degc} degC gives no heat to {ambient_degc} degC")

    def excess(surface_degc: float) -> float:
        lost = lost_w_per_m(surface_degc, ambient_degc, wire.outside_diameter_mm, wire.emissivity, pressure_pa)
        return surface_degc + lost * wire.insulation_k_m_per_w - conductor_degc

    return crossing(excess, ambient_degc, conductor_degc)


def allowed_current_a(
    wire: HeatedWire, conductor_degc: float, ambient_degc: float, pressure_pa: float = STANDARD_PRESSURE_PA
) -> float:
    """Steady current that brings a wire alone in still air to a conductor temperature; 0 if the ambient is hotter.

    Raises:
        ValueError: the surroundings are impossible.
    """
    refuse_surroundings(ambient_degc, pressure_pa)
    if conductor_degc <= ambient_degc:
        return 0.0
    surface_degc = surface_temperature_degc(wire, conductor_degc, ambient_degc, pressure_pa)
    lost = lost_w_per_m(surface_degc, ambient_degc, wire.outside_diameter_mm, wire.emissivity, pressure_pa)
    return math.sqrt(lost / wire.heat_made_w_per_m(1.0, conductor_degc))


def conductor_temperature_degc(
    wire: HeatedWire, current_a: float, ambient_degc: float, pressure_pa: float = STANDARD_PRESSURE_PA
) -> float:
    """Steady conductor temperature of a wire alone in still air.

    `inf` if no steady state exists below the melting point of copper: either the heat runs away, since hotter copper
    makes more heat than its insulation lets through, or the wire melts.

    Raises:
        ValueError: the surroundings are impossible, or hotter than the melting point of copper.
    """
    refuse_surroundings(ambient_degc, pressure_pa)
    if ambient_degc >= MELTING_DEGC:
        raise ValueError(f"copper is molten at {ambient_degc} degC")
    hottest = surface_temperature_degc(wire, MELTING_DEGC, ambient_degc, pressure_pa)

    def lost(surface_degc: float) -> float:
        return lost_w_per_m(surface_degc, ambient_degc, wire.outside_diameter_mm, wire.emissivity, pressure_pa)

    def excess(surface_degc: float) -> float:
        given = lost(surface_degc)
        return given - wire.heat_made_w_per_m(current_a, surface_degc + given * wire.insulation_k_m_per_w)

    if lost(hottest) < wire.heat_made_w_per_m(current_a, MELTING_DEGC):
        return math.inf
    surface_degc = crossing(excess, ambient_degc, hottest)
    return surface_degc + lost(surface_degc) * wire.insulation_k_m_per_w


def lost_w_per_m(
    surface_degc: float, ambient_degc: float, diameter_mm: float, emissivity: float, pressure_pa: float
) -> float:
    """Heat lost by one metre, as `heat_lost_w_per_m`, for figures that were checked before."""
    carried = convection_w_per_m(surface_degc, ambient_degc, diameter_mm, pressure_pa)
    return carried + radiation_w_per_m(surface_degc, ambient_degc, diameter_mm, emissivity)


def crossing(excess: Callable[[float], float], low: float, high: float) -> float:
    """Where a rising function crosses zero between `low`, where it is not above zero, and `high`, not below it.

    False position; an end that stays counts less by as much as the other end gained (Anderson and Björck, BIT 13
    (1973), 253 to 264, from memory), so that both ends close in.
    """
    return _between(excess, low, high, excess(low), excess(high))


def crossing_above(excess: Callable[[float], float], low: float, highest: float) -> float | None:
    """The same with no upper end known but `highest`, and near `low` as a rule; None where it lies above `highest`."""
    start, high = low, min(low + _FIRST_K, highest)
    at_low, at_high = excess(low), excess(high)
    while at_high < 0.0:
        if high == highest:
            return None
        low, at_low, high = high, at_high, min(start + 8.0 * (high - start), highest)
        at_high = excess(high)
    return _between(excess, low, high, at_low, at_high)


def _between(excess: Callable[[float], float], low: float, high: float, at_low: float, at_high: float) -> float:
    if at_low >= 0.0:
        return low
    if at_high <= 0.0:
        return high
    middle, side = low, 0
    for _ in range(200):
        before, middle = middle, min(max(high - at_high * (high - low) / (at_high - at_low), low), high)
        value = excess(middle)
        if value == 0.0 or abs(middle - before) <= 1e-14 * (abs(middle) + 1.0):
            break
        if value < 0.0:
            if side < 0:
                at_high *= _counts(value / at_low)
            low, at_low, side = middle, value, -1
        else:
            if side > 0:
                at_low *= _counts(value / at_high)
            high, at_high, side = middle, value, 1
    return middle


def _counts(left: float) -> float:
    """What the end that stays counts for where the other end keeps this share of its excess."""
    return 1.0 - left if left < 1.0 else 0.5


def refuse_surroundings(ambient_degc: float, pressure_pa: float) -> None:
    """Refuse surroundings that no heat balance exists for.

    Raises:
        ValueError: the ambient lies below absolute zero, or the pressure below zero.
    """
    if not (-ZERO_DEGC_K < ambient_degc < math.inf and 0.0 <= pressure_pa < math.inf):
        raise ValueError(f"no surroundings at {ambient_degc} degC and {pressure_pa} Pa")


def refuse_emissivity(emissivity: float) -> None:
    """Refuse what is no emissivity.

    Raises:
        ValueError: the emissivity is not between zero and one.
    """
    if not 0.0 <= emissivity <= 1.0:
        raise ValueError(f"an emissivity lies between 0 and 1, not at {emissivity}")
