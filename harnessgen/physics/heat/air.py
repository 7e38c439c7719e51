"""Heat that a round horizontal wire or bundle gives to still air, and by radiation to what surrounds it."""

import math

from harnessgen.evidence.publication import Publication

STANDARD_PRESSURE_PA = 101325.0
"""Air pressure at sea level."""

ZERO_DEGC_K = 273.15

_STEFAN_BOLTZMANN = 5.670374419e-8
_GRAVITY_M_PER_S2 = 9.80665
_GAS_J_PER_KG_K = 8314.32 / 28.9644
_HEAT_CAPACITY_J_PER_KG_K = 3.5 * _GAS_J_PER_KG_K

CONVECTION_SOURCE = Publication(
    "Churchill and Chu, Correlating equations for laminar and turbulent free convection from a horizontal cylinder",
    "International Journal of Heat and Mass Transfer 18 (1975), 1049 to 1053",
)
AIR_SOURCE = Publication("U.S. Standard Atmosphere, 1976", "equations for density, viscosity and thermal conductivity")
RADIATION_SOURCE = Publication("CODATA recommended values of the fundamental physical constants, 2018")


def pressure_pa(altitude_m: float) -> float:
    """Air pressure at a geopotential altitude from 0 to 20 km.

    Raises:
        ValueError: the altitude lies outside.
    """
    if not 0.0 <= altitude_m <= 20000.0:
        raise ValueError(f"no pressure of air for {altitude_m} m")
    power = _GRAVITY_M_PER_S2 / (_GAS_J_PER_KG_K * 0.0065)
    tropopause = STANDARD_PRESSURE_PA * (1.0 - 0.0065 * min(altitude_m, 11000.0) / 288.15) ** power
    above_m = max(altitude_m - 11000.0, 0.0)
    return float(tropopause * math.exp(-_GRAVITY_M_PER_S2 * above_m / (_GAS_J_PER_KG_K * 216.65)))


def viscosity_pa_s(temperature_k: float) -> float:
    """Dynamic viscosity of air at an absolute temperature."""
    return 1.458e-6 * temperature_k * math.sqrt(temperature_k) / (temperature_k + 110.4)


def conductivity_w_per_m_k(temperature_k: float) -> float:
    """Thermal conductivity of air at an absolute temperature."""
    spread_k = 245.4 * math.pow(10.0, -12.0 / temperature_k)
    return 2.64638e-3 * temperature_k * math.sqrt(temperature_k) / (temperature_k + spread_k)


def density_kg_per_m3(temperature_k: float, pressure_pa: float) -> float:
    """Density of dry air."""
    return pressure_pa / (_GAS_J_PER_KG_K * temperature_k)


def prandtl(viscosity: float, conductivity: float) -> float:
    """Prandtl number of air by viscosity in Pa s and conductivity in W/(m K), its heat capacity a diatomic gas's."""
    return viscosity * _HEAT_CAPACITY_J_PER_KG_K / conductivity


def nusselt(rayleigh_number: float, prandtl_number: float) -> float:
    """Nusselt number of a horizontal cylinder of even temperature in still fluid.

    Recommended for Rayleigh numbers from 1e-5 to 1e12; a wire of a millimetre has about 1 to 20.
    """
    shape = (1.0 + (0.559 / prandtl_number) ** (9.0 / 16.0)) ** (8.0 / 27.0)
    return float((0.60 + 0.387 * rayleigh_number ** (1.0 / 6.0) / shape) ** 2)


def convection_w_per_m(surface_degc: float, air_degc: float, diameter_mm: float, pressure_pa: float) -> float:
    """Heat that one metre of horizontal cylinder gives to still air; none at 0 Pa, which stands for vacuum."""
    if pressure_pa == 0.0:
        return 0.0
    # Asked some ten thousand times in a check, so that each property of the film is worked out once.
    film_k = (surface_degc + air_degc) / 2.0 + ZERO_DEGC_K
    conductivity, viscosity = conductivity_w_per_m_k(film_k), viscosity_pa_s(film_k)
    number = prandtl(viscosity, conductivity)
    lift = _GRAVITY_M_PER_S2 * abs(surface_degc - air_degc) / film_k
    length = diameter_mm / 1000.0
    grashof = lift * length * length * length * (density_kg_per_m3(film_k, pressure_pa) / viscosity) ** 2
    return math.pi * conductivity * nusselt(grashof * number, number) * (surface_degc - air_degc)


def radiation_w_per_m(surface_degc: float, around_degc: float, diameter_mm: float, emissivity: float) -> float:
    """Heat that one metre of cylinder radiates to surroundings of one temperature."""
    surface_k, around_k = surface_degc + ZERO_DEGC_K, around_degc + ZERO_DEGC_K
    per_m2 = emissivity * _STEFAN_BOLTZMANN * (surface_k**4 - around_k**4)
    return math.pi * diameter_mm / 1000.0 * per_m2
