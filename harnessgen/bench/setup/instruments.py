"""The instruments of the procedure, with the reading errors that its ranges allow for."""

from dataclasses import dataclass

from harnessgen.evidence.publication import Publication, common_practice


@dataclass(frozen=True, slots=True)
class Instrument:
    """A measuring instrument: its error is a share of the reading and a fixed part in `unit`.

    `decimals` is how many places it shows.
    """

    name: str
    unit: str
    share: float
    fixed: float
    decimals: int
    source: Publication

    def allowance(self, value: float) -> float:
        """The most that a reading of `value` may be off, in `unit`."""
        return abs(value) * self.share + self.fixed


OHM_METER = Instrument(
    "hand meter, ohms", "ohm", 0.01, 0.3, 1, common_practice("hand meter showing 0.1 ohm: 1 % and 3 digits")
)
"""Leads zeroed (touched together, their reading taken off)."""

VOLT_METER = Instrument(
    "hand meter, volts DC", "V", 0.005, 0.02, 2, common_practice("hand meter showing 0.01 V: 0.5 % and 2 digits")
)
DROP_METER = Instrument(
    "hand meter, millivolts DC, beside the clips",
    "V",
    0.005,
    0.003,
    3,
    common_practice("hand meter showing 0.001 V: 0.5 % and 3 digits"),
)
CLAMP_METER = Instrument(
    "DC clamp meter", "A", 0.03, 0.1, 2, common_practice("DC clamp meter, zeroed beside the wire: 3 % and 0.1 A")
)

LAMP = Instrument("filament test lamp", "", 0.0, 0.0, 0, common_practice("judged by eye"))
"""It has no reading: `lamp` says when it is seen to burn."""

OPEN_OHM = 1e6
"""From here on a path counts as open (the table of faults: open is more than 1 Mohm)."""

LEAST_LIVE_V = 1.0
"""Below this a place counts as dead: what a meter shows on a wire that hangs free (common practice, no source)."""

FEED_SAG_V = 0.5
"""How far a feed may lie below the battery's own reading, which sinks when things are switched on (common practice,
no source). It tells on from off and a good joint from a very bad one; it proves no joint."""

UNSTATED_TOLERANCE = 0.10
"""Tolerance of a load that states none (common practice, no source)."""
