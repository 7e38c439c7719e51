"""What lies round the harness: its height above the sea, and the pressure of the air there."""

from harnessgen.design.limits.declaration import AIR
from harnessgen.design.limits.table import chosen, limit
from harnessgen.design.records.design import Design
from harnessgen.physics.heat.air import pressure_pa


def is_in_vacuum(design: Design) -> bool:
    """Whether the design says that its harness lies in vacuum."""
    return chosen("surroundings", design.limits)[0] != AIR


def altitude_m(design: Design) -> float:
    """Greatest height above the sea at which the harness works."""
    return limit("altitude", design.limits).value.highest / 1000.0


def surrounding_pressure_pa(design: Design) -> float:
    """Least pressure of the air round the harness; 0 in vacuum."""
    return 0.0 if is_in_vacuum(design) else pressure_pa(altitude_m(design))
