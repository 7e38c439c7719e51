"""Contacts and terminals (what is crimped to a wire's end) and the seals behind them."""

from harnessgen.measures.quantity import AREA, CURRENT, RESISTANCE, TEMPERATURE, Quantity
from harnessgen.parts.part import PART_LENGTH, Part
from harnessgen.source.key import key, record
from harnessgen.source.kind import Count, Text
from harnessgen.source.measure_kind import Measure


@record
class Contact(Part):
    """A crimped contact or terminal with what it takes and carries."""

    title: str = key("title", Text(), "What it is, in words.")
    from_mm2: Quantity = key("from", Measure(AREA, above=0), "Smallest copper area that its barrel holds.")
    to_mm2: Quantity = key("to", Measure(AREA, above=0), "Largest copper area that its barrel holds.")
    current_a: Quantity = key("current", Measure(CURRENT, above=0), "Highest continuous current.")
    rating_degc: Quantity = key("rating", Measure(TEMPERATURE), "Highest temperature.")
    resistance_ohm: Quantity = key(
        "resistance", Measure(RESISTANCE, above=0), "Resistance of the mated contact or fixed terminal, crimp included."
    )
    strip_mm: Quantity = key("strip", PART_LENGTH, "Length of insulation to strip.")
    stack: int | None = key(
        "stack",
        Count(1, 20),
        "How many of them one terminal of a device has room for: one on a tab, several on a stud.",
        default=None,
        default_words="not known; any number passes",
    )
    across_mm: Quantity | None = key(
        "across",
        PART_LENGTH,
        "Largest size across it when crimped: what a sleeve has to pass.",
        default=None,
    )

    noun = "a contact"
    example = """\
parts:
  contacts:
    tab-6.3: {title: 6.3 mm tab receptacle, from: 0.5 mm2, to: 2.5 mm2, current: 20 A, rating: 105 degC,
              resistance: 3 mohm, strip: 6 mm}
"""


@record
class Seal(Part):
    """A single-wire seal, chosen by the diameter over the insulation."""

    title: str = key("title", Text(), "What it is, in words.")
    from_mm: Quantity = key("from", PART_LENGTH, "Smallest insulation diameter that it seals.")
    to_mm: Quantity = key("to", PART_LENGTH, "Largest insulation diameter that it seals.")
    across_mm: Quantity | None = key("across", PART_LENGTH, "Its outside diameter.", default=None)
    rating_degc: Quantity = key("rating", Measure(TEMPERATURE), "Highest temperature.")

    noun = "a seal"
