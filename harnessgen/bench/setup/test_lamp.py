"""The filament test lamp: what it draws, when it is seen to burn, and when it is seen to flash with pulses.

Its current rises less than its voltage, since a hot filament has more resistance. Between dark and seen lies a band in
which nobody can say: what falls into it counts for nothing.
"""

import math
from enum import Enum
from typing import TYPE_CHECKING

from harnessgen.design.limits.table import limit
from harnessgen.evidence.derivation import Evaluated, Input, evaluated
from harnessgen.evidence.publication import Publication, Standing, common_practice
from harnessgen.measures.frozen import frozen

if TYPE_CHECKING:
    from harnessgen.design.limits.table import Limits

_EXPONENTS = Publication(
    "IES Lighting Handbook, filament lamps at other than their rated voltage",
    "light by the power 3.4 of the voltage, current by 0.55",
    Standing.FROM_MEMORY,
)
CURRENT_POWER = 0.55
LIGHT_POWER = 3.4
DARK_SHARE = 0.05
"""Up to this share of its voltage a filament stays below 798 K, at which a body begins to glow (Draper, 1847); with
2700 K at its own voltage and the temperature by the power 0.42 of it (from memory), 798 K lies at 5.5 %."""
SEEN_SHARE = 0.40
"""From this share on, with 4 % of its light, it is seen in a lit workshop (common practice, no source)."""
LOW_SHARE, HIGH_SHARE = 0.95, 1.20
"""A 12 V battery or bench supply gives from 11.4 to 14.4 V, as shares of the lamp's voltage (common practice)."""
FLASH_LIGHT = 0.10
"""A lamp is seen to flash where its light falls to a tenth between pulses (common practice, no source)."""
MOST_FLASHES_PER_S = 8.0
"""More flashes in a second melt into flicker (common practice, no source)."""


class Light(Enum):
    """What the eye tells of a lamp."""

    LIT = "lights"
    DARK = "stays dark"
    FLASHING = "flashes with the pulses"


@frozen
class Lamp:
    """A filament lamp of `watts` at `volts`; `inrush` is its cold over its running current, `lag_s` its warming up."""

    volts: float
    watts: float
    inrush: float
    lag_s: float

    @property
    def words(self) -> str:
        """The lamp in a sentence: a 12 V 5 W lamp."""
        return f"{self.volts:g} V {self.watts:g} W lamp"

    @property
    def rated_a(self) -> float:
        """Current at its own voltage, in A."""
        return self.watts / self.volts

    @property
    def cold_ohm(self) -> float:
        """Resistance of the cold filament, in ohm."""
        return self.volts / self.rated_a / self.inrush

    def ampere(self, volts: float) -> float:
        """Settled current at a voltage, in A; near nothing it is that of the cold filament."""
        share = abs(volts) / self.volts
        return min(self.rated_a * share**CURRENT_POWER, abs(volts) / self.cold_ohm) if share > 0.0 else 0.0

    def needed_v(self, share: float, ohm: float) -> float:
        """Volts that bring it to this share of its own voltage through `ohm` in series; infinite through an open."""
        at_v = share * self.volts
        return at_v + ohm * self.ampere(at_v) if math.isfinite(ohm) else math.inf

    def is_seen(self, open_v: float, ohm: float) -> bool:
        """Whether it is seen to burn on `open_v` behind `ohm`."""
        return abs(open_v) >= self.needed_v(SEEN_SHARE, ohm)

    def is_dark(self, open_v: float, ohm: float) -> bool:
        """Whether nobody sees it burn on `open_v` behind `ohm`."""
        return abs(open_v) <= self.needed_v(DARK_SHARE, ohm)

    @property
    def most_seen_through(self) -> Evaluated:
        """Resistance in series through which it is still seen to burn on a low battery, in ohm."""
        at_v = SEEN_SHARE * self.volts
        inputs = (
            Input("B", "volts of a low battery", LOW_SHARE * self.volts, "V", common_practice()),
            Input("V", "volts at which it is seen", at_v, "V", common_practice()),
            Input("I", "its current at that", self.ampere(at_v), "A", _EXPONENTS),
        )
        return evaluated("resistance through which a lamp is seen", "(B - V) / I", inputs, "ohm", _EXPONENTS)

    def flashes(self, share: float, on_s: float, period_s: float) -> bool:
        """Whether it is seen to flash when `share` of its voltage is on for `on_s` of every `period_s`."""
        peak, trough = self.swing(share, on_s, period_s)
        light = (trough / peak) ** LIGHT_POWER if peak > 0.0 else 1.0
        return peak >= SEEN_SHARE and light <= FLASH_LIGHT and 1.0 / period_s <= MOST_FLASHES_PER_S

    def swing(self, share: float, on_s: float, period_s: float) -> tuple[float, float]:
        """Steady shares of its voltage that are as bright as its brightest and its darkest moment between pulses.

        Its heat follows the square of the voltage with the lag of its warming up; that a cold filament takes more at
        first is left out, so that the peak is on the safe side.
        """
        rise = -math.expm1(-on_s / self.lag_s) / -math.expm1(-period_s / self.lag_s)
        peak = share * math.sqrt(rise)
        return peak, peak * math.exp(-(period_s - on_s) / (2.0 * self.lag_s))

    def least_on_s(self, share: float) -> float:
        """Shortest pulse after a pause in which it is seen to burn; infinite where it never is."""
        if share <= SEEN_SHARE:
            return math.inf
        return -self.lag_s * math.log1p(-((SEEN_SHARE / share) ** 2))


def lamp_of(limits: "Limits | None") -> Lamp:
    """The lamp that a design is tested with."""
    held = (
        limit(name, limits).value.value
        for name in ("test-lamp-voltage", "test-lamp-power", "lamp-inrush", "lamp-warm-up")
    )
    return Lamp(*held)
