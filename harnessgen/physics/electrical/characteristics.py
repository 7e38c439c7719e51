"""Laws of elements whose current does not follow their voltage in a straight line."""

import math

from harnessgen.measures.frozen import frozen

MADE_UP_SHARE = 0.1
"""Share of its stated voltage below which a load's law is made up: a straight line down to 0 V, no part of the load."""


@frozen
class ConstantPower:
    """The same power at any voltage, as a converter takes it: `power_w` down to `lowest_v`, a resistance below.

    `is_stated` says that the load really falls back to a resistance there, by its own figures.
    """

    power_w: float
    lowest_v: float
    is_stated: bool = False

    def current_a(self, volts: float) -> float:
        """Current at a voltage, in A."""
        return self.power_w * volts / max(volts * volts, self.lowest_v**2)

    def siemens(self, volts: float) -> float:
        """Slope of the current over the voltage; negative where the power holds."""
        if abs(volts) > self.lowest_v:
            return -self.power_w / (volts * volts)
        return self.power_w / self.lowest_v**2

    @property
    def least_v(self) -> float:
        """Voltage below which the law is made up; 0 where the load states what it does there."""
        return 0.0 if self.is_stated else self.lowest_v


@frozen
class ConstantCurrent:
    """The same current at any voltage: `steady_a` down to `lowest_v`, a resistance below."""

    steady_a: float
    lowest_v: float
    is_stated: bool = False

    def current_a(self, volts: float) -> float:
        """Current at a voltage, in A."""
        return self.steady_a * volts / max(abs(volts), self.lowest_v)

    def siemens(self, volts: float) -> float:
        """Slope of the current over the voltage; 0 where the current holds."""
        return 0.0 if abs(volts) > self.lowest_v else self.steady_a / self.lowest_v

    @property
    def least_v(self) -> float:
        """Voltage below which the law is made up; 0 where the load states what it does there."""
        return 0.0 if self.is_stated else self.lowest_v


@frozen
class WithDiode:
    """A resistance with a diode beside it that conducts once its end `b` (or `a`) lies `forward_v` above the other.

    `sign` is -1 where the cathode sits at the end `a`, which is right for a coil that is fed there, +1 the other way.
    """

    ohm: float
    forward_v: float
    diode_ohm: float
    sign: float

    def current_a(self, volts: float) -> float:
        """Current of both, in A."""
        beyond = max(self.sign * volts - self.forward_v, 0.0)
        return volts / self.ohm + self.sign * beyond / self.diode_ohm

    def siemens(self, volts: float) -> float:
        """Slope of the current over the voltage."""
        is_open = self.sign * volts <= self.forward_v
        return 1.0 / self.ohm + (0.0 if is_open else 1.0 / self.diode_ohm)

    @property
    def least_v(self) -> float:
        """The law holds everywhere."""
        return 0.0

    def conducts(self, volts: float) -> bool:
        """Whether the diode carries current at this voltage."""
        return not math.isnan(volts) and self.sign * volts > self.forward_v
