"""What sits across a coil and takes its current over when it is switched off."""

from harnessgen.measures.quantity import RESISTANCE, Quantity
from harnessgen.source.key import Record, key, record
from harnessgen.source.kind import Choice, Name
from harnessgen.source.measure_kind import Measure

SUPPRESSION_KINDS = ("diode", "resistor", "none")


RESISTOR_OHM = 680.0
"""Resistor across a coil where the design does not say (common practice, no source)."""


@record
class Suppression(Record):
    """A diode or a resistor across a coil, or the word that there is none. Its kind alone may stand for it."""

    kind: str = key("kind", Choice(SUPPRESSION_KINDS), "What sits across the coil.")
    cathode: str = key(
        "cathode",
        Name("terminal"),
        "Terminal of the coil that the diode's cathode (its band) sits at: the one that is fed.",
        default="",
        default_words="86 of a relay, 1 of a load",
    )
    resistance_ohm: Quantity | None = key(
        "resistance",
        Measure(RESISTANCE, above=0),
        "Resistance of the resistor.",
        default=None,
        default_words="680 ohm",
    )

    @property
    def resistor_ohm(self) -> float | None:
        """Resistance across the coil, in ohm; None where no resistor sits there."""
        if self.kind != "resistor":
            return None
        return self.resistance_ohm.value if self.resistance_ohm is not None else RESISTOR_OHM

    noun = "a suppression"
    shorthand = "kind"
    example = """\
relays:
  K1: {part: plug-in-make, at: fusebox, terminal: tab-6.3, suppression: {kind: diode, cathode: 86}}
  K2: {part: plug-in-make, at: fusebox, terminal: tab-6.3, suppression: {kind: resistor, resistance: 560 ohm}}
"""
