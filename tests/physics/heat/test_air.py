"""Air and the heat that a cylinder gives to it, against handbooks."""

import pytest

from harnessgen.physics.heat.air import (
    STANDARD_PRESSURE_PA,
    conductivity_w_per_m_k,
    convection_w_per_m,
    density_kg_per_m3,
    nusselt,
    prandtl,
    radiation_w_per_m,
    viscosity_pa_s,
)

# Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, table A.4, air at atmospheric pressure (from memory):
# K, kg/m3, Pa s, W/(m K), Prandtl number.
AIR_TABLE = [
    (300.0, 1.1614, 184.6e-7, 26.3e-3, 0.707),
    (350.0, 0.9950, 208.2e-7, 30.0e-3, 0.700),
    (400.0, 0.8711, 230.1e-7, 33.8e-3, 0.690),
    (450.0, 0.7740, 250.7e-7, 37.3e-3, 0.686),
]


@pytest.mark.parametrize(("kelvin", "density", "viscosity", "conductivity", "number"), AIR_TABLE)
def test_air_is_that_of_the_handbook(
    kelvin: float, density: float, viscosity: float, conductivity: float, number: float
) -> None:
    """The equations of the U.S. Standard Atmosphere, 1976, agree with the handbook's table to 2 %."""
    assert density_kg_per_m3(kelvin, STANDARD_PRESSURE_PA) == pytest.approx(density, rel=0.02)
    assert viscosity_pa_s(kelvin) == pytest.approx(viscosity, rel=0.02)
    assert conductivity_w_per_m_k(kelvin) == pytest.approx(conductivity, rel=0.02)
    assert prandtl(viscosity_pa_s(kelvin), conductivity_w_per_m_k(kelvin)) == pytest.approx(number, rel=0.025)


def test_sea_level_air_is_that_of_the_standard_atmosphere() -> None:
    """U.S. Standard Atmosphere, 1976, sea level (from memory): 1.2250 kg/m3, 1.7894e-5 Pa s, 0.025326 W/(m K)."""
    assert density_kg_per_m3(288.15, STANDARD_PRESSURE_PA) == pytest.approx(1.2250, abs=5e-5)
    assert viscosity_pa_s(288.15) == pytest.approx(1.7894e-5, abs=5e-10)
    assert conductivity_w_per_m_k(288.15) == pytest.approx(0.025326, abs=5e-7)


def test_nusselt_number_of_the_textbook_example() -> None:
    """Incropera and DeWitt, Introduction to Heat Transfer, 6th ed., example 9.2: Pr 0.69, Gr 2.63e9 gives 139."""
    assert nusselt(0.69 * 2.63e9, 0.69) == pytest.approx(139.0, abs=0.5)


def test_still_air_takes_a_pure_conduction_share_at_vanishing_rise() -> None:
    """The correlation's own floor: Nu = 0.60 squared where nothing lifts the air."""
    assert nusselt(0.0, 0.7) == pytest.approx(0.36)


def test_cold_cylinder_takes_what_a_hot_one_gives() -> None:
    """Convection and radiation change sign with the difference of temperature."""
    assert convection_w_per_m(20.0, 60.0, 3.0, 1e5) == pytest.approx(-convection_w_per_m(60.0, 20.0, 3.0, 1e5))
    assert radiation_w_per_m(20.0, 60.0, 3.0, 0.9) == pytest.approx(-radiation_w_per_m(60.0, 20.0, 3.0, 0.9))


def test_vacuum_carries_nothing() -> None:
    """A pressure of 0 Pa leaves radiation alone."""
    assert convection_w_per_m(150.0, 70.0, 0.8, 0.0) == 0.0
