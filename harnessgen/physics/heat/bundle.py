"""Steady temperatures of wires that carry current side by side in one round bundle."""

import math
from collections.abc import Sequence

from harnessgen.measures.frozen import frozen
from harnessgen.physics.heat.air import STANDARD_PRESSURE_PA
from harnessgen.physics.heat.single_wire import (
    MELTING_DEGC,
    PLASTIC_EMISSIVITY,
    HeatedWire,
    crossing,
    crossing_above,
    lost_w_per_m,
    refuse_emissivity,
    refuse_surroundings,
)

BUNDLE_W_PER_M_K = 0.2
"""Conductivity of a bundle across wires and air: common practice, no source.

With it, equal loaded wires come within 8 % of the bundling curve of MIL-W-5088L.
"""

COPPER_ZERO_K = 234.5
"""Kelvin that 0 degC lies above the temperature at which copper's resistance, followed straight down, would vanish."""


@frozen
class BundleHeat:
    """Steady state of a bundle: conductor temperature and heat of each wire, surface temperature, heat in all.

    Temperatures are `inf` where no steady state exists below the melting point of copper.
    """

    conductors_degc: tuple[float, ...]
    heats_w_per_m: tuple[float, ...]
    surface_degc: float
    heat_w_per_m: float


def bundle_temperatures(
    wires: Sequence[HeatedWire],
    currents_a: Sequence[float],
    bundle_diameter_mm: float,
    ambient_degc: float,
    inside_w_per_m_k: float = BUNDLE_W_PER_M_K,
    emissivity: float = PLASTIC_EMISSIVITY,
    pressure_pa: float = STANDARD_PRESSURE_PA,
) -> BundleHeat:
    """Steady temperatures of wires in one round bundle, each with its current, each taken to lie in the middle.

    The heat of all wires leaves through the bundle's surface. `inside_w_per_m_k` is the conductivity of the bundle
    across its wires and the air between them: the heat of the other wires, spread evenly over the section, raises the
    middle by heat / (4 pi conductivity); a wire's own heat flows from its surface to that of the bundle.

    Raises:
        ValueError: there are not as many currents as wires or none, the bundle is thinner than a wire, a figure is not
            above zero, or the surroundings are impossible.
    """
    refuse_surroundings(ambient_degc, pressure_pa)
    refuse_emissivity(emissivity)
    if len(wires) != len(currents_a):
        raise ValueError(f"{len(currents_a)} currents for {len(wires)} wires")
    _refuse_bundle(wires, bundle_diameter_mm, inside_w_per_m_k)
    if ambient_degc >= MELTING_DEGC:
        raise ValueError(f"copper is molten at {ambient_degc} degC")
    inside = inside_of(wires, currents_a, bundle_diameter_mm, inside_w_per_m_k)

    def excess(surface_degc: float) -> float:
        return lost_w_per_m(surface_degc, ambient_degc, bundle_diameter_mm, emissivity, pressure_pa) - inside.made(
            surface_degc
        )

    surface_degc = crossing_above(excess, ambient_degc, MELTING_DEGC)
    return inside.molten() if surface_degc is None else inside.state(surface_degc)


def allowed_current_in_bundle_a(
    wire: HeatedWire,
    count: int,
    bundle_diameter_mm: float,
    conductor_degc: float,
    ambient_degc: float,
    inside_w_per_m_k: float = BUNDLE_W_PER_M_K,
    pressure_pa: float = STANDARD_PRESSURE_PA,
) -> float:
    """Steady current in each of `count` like wires of a bundle that brings a middle one to a conductor temperature.

    0 if the ambient is hotter.

    Raises:
        ValueError: as for `bundle_temperatures`.
    """
    _refuse_bundle([wire] * count, bundle_diameter_mm, inside_w_per_m_k)
    refuse_surroundings(ambient_degc, pressure_pa)
    if conductor_degc <= ambient_degc:
        return 0.0
    rise = own_rise(wire, bundle_diameter_mm, inside_w_per_m_k) + (count - 1) * even_rise(inside_w_per_m_k)

    def each(surface_degc: float) -> float:
        return lost_w_per_m(surface_degc, ambient_degc, bundle_diameter_mm, wire.emissivity, pressure_pa) / count

    def excess(surface_degc: float) -> float:
        return surface_degc + each(surface_degc) * rise - conductor_degc

    surface_degc = crossing(excess, ambient_degc, conductor_degc)
    return math.sqrt(each(surface_degc) / wire.heat_made_w_per_m(1.0, conductor_degc))


@frozen
class Inside:
    """The inside of a bundle: every conductor temperature is linear in the heats, and every heat in its temperature.

    `own` is the rise of each conductor over the bundle's surface by its own heat and `even` the rise by that of the
    others, in K m/W. `gains` are the heats of the wires for each kelvin of the middle above copper's zero, in W/(m K);
    below zero if a wire runs away by itself.
    """

    own: tuple[float, ...]
    even: float
    gains: tuple[float, ...]
    gain: float

    def made(self, surface_degc: float) -> float:
        """Heat of all wires for a surface temperature, in W/m; `inf` if it runs away."""
        left = 1.0 - self.gain * self.even
        if left <= 0.0 or min(self.gains) < 0.0:
            return math.inf
        return self.gain * (COPPER_ZERO_K + surface_degc) / left

    def state(self, surface_degc: float) -> BundleHeat:
        """All temperatures and heats for a surface temperature."""
        total = self.made(surface_degc)
        warm = COPPER_ZERO_K + surface_degc + total * self.even
        heats = tuple(gain * warm for gain in self.gains)
        conductors = tuple(
            surface_degc + heat * resistance + (total - heat) * self.even
            for heat, resistance in zip(heats, self.own, strict=True)
        )
        if max(conductors) > MELTING_DEGC:
            return self.molten()
        return BundleHeat(conductors, heats, surface_degc, total)

    def molten(self) -> BundleHeat:
        """What is reported where no steady state exists."""
        endless = (math.inf,) * len(self.own)
        return BundleHeat(endless, endless, math.inf, math.inf)


def inside_of(
    wires: Sequence[HeatedWire],
    currents_a: Sequence[float],
    bundle_diameter_mm: float,
    inside_w_per_m_k: float = BUNDLE_W_PER_M_K,
) -> Inside:
    """The inside of a bundle of these wires with these currents."""
    even = even_rise(inside_w_per_m_k)
    own = tuple(own_rise(wire, bundle_diameter_mm, inside_w_per_m_k) for wire in wires)
    gains = tuple(
        gain_w_per_m_k(wire, current_a, rise - even)
        for wire, current_a, rise in zip(wires, currents_a, own, strict=True)
    )
    return Inside(own, even, gains, math.fsum(gains))


def gain_w_per_m_k(wire: HeatedWire, current_a: float, rise_k_m_per_w: float) -> float:
    """Heat of a wire for each kelvin above copper's zero that it starts from and rises over; -1 if it runs away."""
    slope = current_a**2 * wire.ohm_per_m / 254.5
    left = 1.0 - slope * rise_k_m_per_w
    return slope / left if left > 0.0 else -1.0


def even_rise(inside_w_per_m_k: float = BUNDLE_W_PER_M_K) -> float:
    """Rise of the middle over the surface for one watt per metre spread evenly over the section, in K m/W."""
    return 1.0 / (4.0 * math.pi * inside_w_per_m_k)


def own_rise(wire: HeatedWire, bundle_diameter_mm: float, inside_w_per_m_k: float = BUNDLE_W_PER_M_K) -> float:
    """Rise of a conductor over the bundle's surface for one watt per metre of its own, in K m/W."""
    around = math.log(bundle_diameter_mm / wire.outside_diameter_mm) / (2.0 * math.pi * inside_w_per_m_k)
    return wire.insulation_k_m_per_w + around


def _refuse_bundle(wires: Sequence[HeatedWire], bundle_diameter_mm: float, inside_w_per_m_k: float) -> None:
    if not wires:
        raise ValueError("a bundle holds at least one wire")
    if not max(each.outside_diameter_mm for each in wires) <= bundle_diameter_mm < math.inf:
        raise ValueError(f"a bundle of {bundle_diameter_mm} mm is thinner than a wire in it")
    if not inside_w_per_m_k > 0.0:
        raise ValueError(f"a bundle's conductivity lies above zero, not at {inside_w_per_m_k}")
