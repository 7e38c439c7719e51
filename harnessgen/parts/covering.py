"""Coverings of a stretch of the route, the tape on it, and the splices inside it."""

from harnessgen.measures.quantity import AREA, DENSITY, LENGTH, RATIO, RESISTANCE, TEMPERATURE, Quantity
from harnessgen.parts.part import PART_LENGTH, Part
from harnessgen.source.key import key, record
from harnessgen.source.kind import Choice, Text
from harnessgen.source.measure_kind import Measure


@record
class CoveringPart(Part):
    """A sleeve, conduit, braid or heat-shrink."""

    title: str = key("title", Text(), "What it is, in words.")
    inside_mm: Quantity = key("inside", PART_LENGTH, "Inside diameter; of heat-shrink, as supplied.")
    recovered_mm: Quantity | None = key(
        "recovered",
        PART_LENGTH,
        "Inside diameter of heat-shrink, shrunk down free.",
        default=None,
    )
    wall_mm: Quantity = key("wall", PART_LENGTH, "Wall thickness; of heat-shrink, shrunk down free.")
    rating_degc: Quantity = key("rating", Measure(TEMPERATURE), "Highest temperature.")
    closed: str = key(
        "closed",
        Choice(("yes", "no")),
        "Whether it is a closed tube that goes on over an end, or opens along its length.",
        default="yes",
        default_words="yes",
    )
    sheath: str = key(
        "sheath",
        Choice(("yes", "no")),
        "Whether it encloses the wires all round: a tube or hose that is not slit, a closed duct or a box. "
        "Slit conduit, tape and open braid do not.",
        default="no",
        default_words="no",
    )
    density_g_per_cm3: Quantity = key(
        "density",
        Measure(DENSITY, above=0),
        "Density of its wall.",
        default=Quantity(1.2),
        default_words="1.2 g/cm3, common practice, no source",
    )
    shortening: Quantity = key(
        "shortening",
        Measure(RATIO, lowest=0, highest=0.9),
        "Share of the cut piece's length that is lost as it goes on: a braid that opens, heat-shrink that recovers.",
        default=Quantity(0.0),
        default_words="0",
    )

    noun = "a covering family"
    example = """\
parts:
  coverings:
    shrink-6: {title: heat-shrink 6 mm, inside: 6 mm, recovered: 3 mm, wall: 0.6 mm, rating: 135 degC,
               shortening: 10 %}
"""


@record
class TapePart(Part):
    """A tape that is wound on the bundle, in turns that lie over one another."""

    title: str = key("title", Text(), "What it is, in words.")
    width_mm: Quantity = key("width", PART_LENGTH, "Width.")
    wall_mm: Quantity = key("wall", PART_LENGTH, "Thickness of one layer.")
    rating_degc: Quantity = key("rating", Measure(TEMPERATURE), "Highest temperature.")

    noun = "a tape family"
    example = """\
parts:
  tapes:
    felt-25: {title: felt tape 25 mm, width: 25 mm, wall: 0.6 mm, rating: 105 degC}
"""


@record
class SplicePart(Part):
    """A splice: a crimped barrel that joins wires at a point of the route."""

    title: str = key("title", Text(), "What it is, in words.")
    from_mm2: Quantity = key("from", Measure(AREA, above=0), "Smallest sum of copper areas; see `range-of`.")
    to_mm2: Quantity = key("to", Measure(AREA, above=0), "Largest sum of copper areas; see `range-of`.")
    range_of: str = key(
        "range-of",
        Choice(("each-side", "all-wires")),
        "Whose sum that is: the wires that enter the barrel on one side, or all wires that lie in it.",
        default="each-side",
        default_words="each-side",
    )
    overlap_mm: Quantity = key(
        "overlap",
        Measure(LENGTH, lowest=0, highest=1000.0),
        "Length that each branch needs beyond the splice's place, for the barrel.",
    )
    strip_mm: Quantity = key("strip", PART_LENGTH, "Length of insulation to strip.")
    across_mm: Quantity | None = key(
        "across",
        PART_LENGTH,
        "Largest size across it when finished, its heat-shrink included.",
        default=None,
    )
    resistance_ohm: Quantity = key("resistance", Measure(RESISTANCE, above=0), "Resistance of one branch's crimp.")
    sleeve: str = key(
        "sleeve",
        Text(),
        "Closed sleeve that is slid over it once it is crimped, in words; it waits on one of the wires.",
        default="",
    )
    rating_degc: Quantity = key("rating", Measure(TEMPERATURE), "Highest temperature.")

    noun = "a splice family"
