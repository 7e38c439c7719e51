"""Generic loads: what the current does its work in."""

from dataclasses import dataclass

from harnessgen.measures.quantity import INDUCTANCE, RESISTANCE, TEMPERATURE, Quantity
from harnessgen.parts.part import Part
from harnessgen.source.key import key
from harnessgen.source.kind import Choice, Measure, Text

LOAD_KINDS = ("resistor", "coil", "motor", "lamp")


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadPart(Part):
    """A load family, between two terminals called 1 and 2."""

    title: str = key("title", Text(), "What it is, in words.")
    kind: str = key("kind", Choice(LOAD_KINDS), "How it is drawn and how it behaves.")
    resistance_ohm: Quantity = key(
        "resistance", Measure(RESISTANCE, above=0), "Resistance while it works, at 20 degC where it is a coil."
    )
    inductance_h: Quantity | None = key(
        "inductance", Measure(INDUCTANCE, above=0), "Inductance of a coil.", default=None
    )
    rating_degc: Quantity | None = key("rating", Measure(TEMPERATURE), "Highest temperature.", default=None)

    noun = "a load family"
    example = """\
parts:
  loads:
    solenoid-8: {title: purge solenoid, kind: coil, resistance: 8 ohm +/- 5 %, inductance: 20 mH}
"""
