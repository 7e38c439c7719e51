"""All that the physics of a network gives, each part computed when it is first asked for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.heat.ampacity import AllowedCurrent, allowed_current
from harnessgen.physics.states.solved import SolvedStates

# What only some questions need is loaded when they are asked: a check of a small design should not wait for it.
if TYPE_CHECKING:
    from harnessgen.physics.heat.harness import HarnessHeat
    from harnessgen.physics.states.driver_stress import DriverStress
    from harnessgen.physics.states.fuel_spread import FuelSpread
    from harnessgen.physics.states.relay_coil import PullIn, Unsuppressed
    from harnessgen.physics.states.voltage_drop import LoadDrop


@dataclass(frozen=True)
class Physics(SolvedStates):
    """The solved states of a network, and what follows from them: drops, fuel, stress of drivers, heat."""

    def drops_in(self, state: str, case: Case = Case.WEAK) -> tuple[LoadDrop, ...]:
        """Volts at every load that carries current in a declared state, feed and return apart.

        Raises:
            KeyError: no state has this name.
        """
        from harnessgen.physics.states.voltage_drop import drops_in

        return drops_in(self, state, case)

    @cached_property
    def fuel_spreads(self) -> Mapping[str, tuple[FuelSpread, ...]]:
        """Spread of fuel of each bank of injectors with dead times, by state."""
        from harnessgen.physics.states.fuel_spread import fuel_spreads

        return {state: fuel_spreads(self, state) for state in self.network.design.states}

    @cached_property
    def driver_stresses(self) -> Mapping[str, tuple[DriverStress, ...]]:
        """What each state asks of each driver that is on in it, by state."""
        from harnessgen.physics.states.driver_stress import driver_stresses

        return {state: driver_stresses(self, state) for state in self.network.design.states}

    @cached_property
    def pull_ins(self) -> Mapping[str, tuple[PullIn, ...]]:
        """Each relay that a state means to close, at its weakest, by state."""
        from harnessgen.physics.states.relay_coil import pull_ins

        return {state: pull_ins(self, state) for state in self.network.design.states}

    @cached_property
    def coil_faults(self) -> tuple[Unsuppressed, ...]:
        """Coils without suppression where one is needed, or with a diode the wrong way round."""
        from harnessgen.physics.states.relay_coil import coil_faults

        return coil_faults(self)

    @cached_property
    def allowed(self) -> Mapping[str, AllowedCurrent]:
        """Allowed current of each wire, by mark."""
        return {wire.mark: allowed_current(self.network, wire) for wire in self.network.wires}

    @cached_property
    def heat(self) -> HarnessHeat:
        """Temperatures of every wire in every stretch that it passes, by state."""
        from harnessgen.physics.heat.harness import HarnessHeat

        return HarnessHeat(self)
