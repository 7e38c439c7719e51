"""What lies round a bundle: nothing, or a covering with the air between, through which all its heat has to leave.

The covering is a tube with the bundle in its middle. Through the gap heat goes by conduction of still air and by
radiation; a real bundle touches its tube somewhere and loses more, so this errs to the hot side.
"""

import math

from harnessgen.evidence.publication import common_practice
from harnessgen.measures.frozen import frozen
from harnessgen.parts.covering import CoveringPart
from harnessgen.physics.heat.air import STANDARD_PRESSURE_PA, ZERO_DEGC_K, conductivity_w_per_m_k, radiation_w_per_m
from harnessgen.physics.heat.single_wire import PLASTIC_EMISSIVITY, lost_w_per_m

WALL_W_PER_M_K = 0.2
"""Conductivity of a covering's wall: common practice, no source (0.2 to 0.3 for plastics)."""

SHELL_SOURCE = common_practice("covering as a tube of 0.2 W/(m K) round the bundle, still air between, emissivity 0.9")


@frozen
class Shell:
    """A bundle's outside and what covers it, in mm; all three diameters are one where it lies bare.

    `pressure_pa` is that of the air in and around it; 0 stands for vacuum.
    """

    bundle_mm: float
    inside_mm: float
    outside_mm: float
    emissivity: float = PLASTIC_EMISSIVITY
    pressure_pa: float = STANDARD_PRESSURE_PA

    def lost_w_per_m(self, outer_degc: float, ambient_degc: float) -> float:
        """Heat that leaves one metre whose outermost surface has a temperature."""
        return lost_w_per_m(outer_degc, ambient_degc, self.outside_mm, self.emissivity, self.pressure_pa)

    def wall_k_m_per_w(self) -> float:
        """Temperature fall through the wall of the covering for one watt per metre."""
        return math.log(self.outside_mm / self.inside_mm) / (2.0 * math.pi * WALL_W_PER_M_K)

    def gap_k_m_per_w(self, inner_degc: float) -> float:
        """Temperature fall through the air in the covering for one watt per metre, its inner face at a temperature."""
        if self.inside_mm <= self.bundle_mm:
            return 0.0
        shared = 1.0 / self.emissivity + self.bundle_mm / self.inside_mm * (1.0 / self.emissivity - 1.0)
        # The slope of radiation at the colder face is below that between the two faces, so the bundle comes out hotter.
        conductance = (
            radiation_w_per_m(inner_degc + 0.01, inner_degc - 0.01, self.bundle_mm, 1.0 / shared) / 0.02
            if inner_degc > 0.01 - ZERO_DEGC_K
            else 0.0
        )
        if self.pressure_pa > 0.0:
            air = conductivity_w_per_m_k(inner_degc + ZERO_DEGC_K)
            conductance += 2.0 * math.pi * air / math.log(self.inside_mm / self.bundle_mm)
        return 1.0 / conductance if conductance > 0.0 else math.inf

    def inner_degc(self, outer_degc: float, heat_w_per_m: float) -> float:
        """Temperature of the covering's inner face."""
        return outer_degc + heat_w_per_m * self.wall_k_m_per_w()

    def surface_degc(self, outer_degc: float, heat_w_per_m: float) -> float:
        """Temperature of the bundle's surface."""
        if self.outside_mm <= self.bundle_mm:
            return outer_degc
        inner = self.inner_degc(outer_degc, heat_w_per_m)
        return inner + heat_w_per_m * self.gap_k_m_per_w(inner)


def shell(bundle_mm: float, covering: CoveringPart | None, pressure_pa: float = STANDARD_PRESSURE_PA) -> Shell:
    """The shell of a bundle in a covering; heat-shrink lies on it, and a covering too small for it is taken to."""
    if covering is None:
        return Shell(bundle_mm, bundle_mm, bundle_mm, pressure_pa=pressure_pa)
    least = covering.recovered_mm.value if covering.recovered_mm is not None else covering.inside_mm.value
    inside = max(bundle_mm, least)
    return Shell(bundle_mm, inside, inside + 2.0 * covering.wall_mm.value, pressure_pa=pressure_pa)
