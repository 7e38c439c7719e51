"""Where a steady temperature or an allowed current comes from: the balances that the solution meets."""

import math
from collections.abc import Sequence

from harnessgen.evidence.derivation import Balance, Solved
from harnessgen.evidence.publication import Publication, common_practice
from harnessgen.physics.electrical.resistance import TEMPERATURE_SOURCE
from harnessgen.physics.heat.air import (
    AIR_SOURCE,
    CONVECTION_SOURCE,
    RADIATION_SOURCE,
    STANDARD_PRESSURE_PA,
    convection_w_per_m,
    radiation_w_per_m,
)
from harnessgen.physics.heat.bundle import BundleHeat
from harnessgen.physics.heat.single_wire import (
    PLASTIC_EMISSIVITY,
    HeatedWire,
    allowed_current_a,
    surface_temperature_degc,
)

HEAT_EQUATIONS = (
    "I^2 R(Tc) = convection(Ts) + radiation(Ts);  Tc - Ts = I^2 R(Tc) ln(D / d) / (2 pi k);  "
    "R(Tc) = R20 (234.5 + Tc) / 254.5;  convection by Nu = (0.60 + 0.387 Ra^(1/6) / "
    "(1 + (0.559 / Pr)^(9/16))^(8/27))^2;  radiation = pi D e s (Ts^4 - Ta^4)"
)
BUNDLE_EQUATIONS = (
    "sum of I^2 R(T) = convection(Ts) + radiation(Ts);  "
    "T - Ts = own heat (ln(d_out / d) / (2 pi k) + ln(D / d_out) / (2 pi K)) + other heat / (4 pi K)"
)
HEAT_SOURCES: tuple[Publication, ...] = (
    CONVECTION_SOURCE,
    AIR_SOURCE,
    RADIATION_SOURCE,
    TEMPERATURE_SOURCE,
    common_practice(f"emissivity of plastic insulation {PLASTIC_EMISSIVITY}"),
)


def allowed_current_derivation(
    title: str, wire: HeatedWire, conductor_degc: float, ambient_degc: float, pressure_pa: float = STANDARD_PRESSURE_PA
) -> Solved:
    """Steady current that brings a wire alone in still air to a conductor temperature, with its balances.

    Raises:
        ValueError: the ambient is not below the conductor temperature, or the surroundings are impossible.
    """
    if not conductor_degc > ambient_degc:
        raise ValueError(f"no current is allowed at {ambient_degc} degC for a conductor of {conductor_degc} degC")
    current_a = allowed_current_a(wire, conductor_degc, ambient_degc, pressure_pa)
    balances = wire_balances(wire, current_a, conductor_degc, ambient_degc, pressure_pa)
    return Solved(title, HEAT_EQUATIONS, balances, current_a, "A", HEAT_SOURCES)


def wire_balances(
    wire: HeatedWire, current_a: float, conductor_degc: float, ambient_degc: float, pressure_pa: float
) -> tuple[Balance, ...]:
    """Heat made against heat lost, and conductor against surface, for a wire alone in still air.

    Raises:
        ValueError: the conductor is colder than the ambient, or the surroundings are impossible.
    """
    surface_degc = surface_temperature_degc(wire, conductor_degc, ambient_degc, pressure_pa)
    made = wire.heat_made_w_per_m(current_a, conductor_degc)
    heat = Balance(
        "heat made and lost by one metre",
        (
            ("made in the copper", made),
            *_losses(surface_degc, ambient_degc, wire.outside_diameter_mm, wire.emissivity, pressure_pa),
        ),
        "W/m",
    )
    fall = Balance(
        "temperature from conductor to surface",
        (
            ("conductor", conductor_degc),
            ("surface", -surface_degc),
            ("fall through the insulation", -made * wire.insulation_k_m_per_w),
        ),
        "K",
    )
    return heat, fall


def bundle_derivation(
    title: str,
    state: BundleHeat,
    which: int,
    wires: Sequence[HeatedWire],
    bundle_diameter_mm: float,
    ambient_degc: float,
    inside_w_per_m_k: float,
    emissivity: float = PLASTIC_EMISSIVITY,
    pressure_pa: float = STANDARD_PRESSURE_PA,
) -> Solved:
    """Conductor temperature of one wire (by index) in a bundle solved before, with the balances of the bundle.

    Raises:
        ValueError: the bundle has no steady state.
    """
    if math.isinf(state.surface_degc):
        raise ValueError("the bundle comes to no steady temperature")
    wire, heat = wires[which], state.heats_w_per_m[which]
    around = math.log(bundle_diameter_mm / wire.outside_diameter_mm) / (2.0 * math.pi * inside_w_per_m_k)
    total = Balance(
        "heat made and lost by one metre of bundle",
        (
            ("made in all wires", math.fsum(state.heats_w_per_m)),
            *_losses(state.surface_degc, ambient_degc, bundle_diameter_mm, emissivity, pressure_pa),
        ),
        "W/m",
    )
    fall = Balance(
        "temperature from conductor to surface of the bundle",
        (
            ("conductor", state.conductors_degc[which]),
            ("surface", -state.surface_degc),
            ("fall through the insulation", -heat * wire.insulation_k_m_per_w),
            ("fall of its own heat across the bundle", -heat * around),
            ("rise by the other wires", -(state.heat_w_per_m - heat) / (4.0 * math.pi * inside_w_per_m_k)),
        ),
        "K",
    )
    return Solved(title, BUNDLE_EQUATIONS, (total, fall), state.conductors_degc[which], "degC", HEAT_SOURCES)


def _losses(
    surface_degc: float, ambient_degc: float, diameter_mm: float, emissivity: float, pressure_pa: float
) -> tuple[tuple[str, float], ...]:
    carried = convection_w_per_m(surface_degc, ambient_degc, diameter_mm, pressure_pa)
    radiated = radiation_w_per_m(surface_degc, ambient_degc, diameter_mm, emissivity)
    return ("carried off by air", -carried), ("radiated", -radiated)
