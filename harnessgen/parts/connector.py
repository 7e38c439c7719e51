"""Connector families: cavities, what fits them, and how the face looks."""

from collections.abc import Mapping

from harnessgen.measures.colour_code import ColourCode
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.measures.quantity import LENGTH, TEMPERATURE, Quantity
from harnessgen.parts.part import PART_LENGTH, Part
from harnessgen.source.container import ListOf, MapOf, RecordOf
from harnessgen.source.key import key, record
from harnessgen.source.kind import Choice, Count, Name, Ref, Text
from harnessgen.source.measure_kind import Colour, Measure, Size


@record
class PinAssignment(Part):
    """What the standard of a connector puts in one cavity."""

    function: str = key("function", Text(), "What it is for.")
    mark: str = key("mark", Text(), "Terminal mark (DIN 72552).", default="")
    colour: ColourCode | None = key("color", Colour(), "Colour of its wire.", default=None)
    size: ConductorSize | None = key("size", Size(), "Smallest size of its wire.", default=None)
    return_: str = key("return", Name("cavity"), "Cavity through which its current comes back.", default="")

    noun = "a pin assignment"
    shorthand = "function"


@record
class ConnectorPart(Part):
    """A connector family: one housing and its mate."""

    title: str = key("title", Text(), "What it is, in words.")
    ways: int = key("ways", Count(1, 200), "Number of cavities.")
    cavity_names: tuple[str, ...] = key(
        "cavities",
        ListOf(Name("cavity")),
        "Names of the cavities.",
        default=(),
        default_words="1 to the number of ways",
    )
    rows: int = key("rows", Count(1, 8), "Rows of cavities on the face.", default=1, default_words="1")
    shape: str = key(
        "shape",
        Choice(("rectangular", "round")),
        "Outline of the face.",
        default="rectangular",
        default_words="rectangular",
    )
    contact: str = key("contact", Ref("contact"), "Contact that fits its cavities.")
    seal: str = key("seal", Ref("seal"), "Seal behind each contact of a sealed connector.", default="")
    rating_degc: Quantity = key("rating", Measure(TEMPERATURE), "Highest temperature.")
    wire_end_mm: Quantity = key(
        "wire-end",
        Measure(LENGTH),
        "How far the wire's end lies inside it from the rear face (negative: before the face).",
        default=Quantity(0.0),
        default_words="0 mm",
    )

    across_mm: Quantity | None = key(
        "across",
        PART_LENGTH,
        "Diameter of the smallest round hole that its housing passes: what a sleeve has to pass.",
        default=None,
        default_words="not known; no sleeve passes it",
    )

    pins: Mapping[str, PinAssignment] = key(
        "pins",
        MapOf(RecordOf(PinAssignment), "cavity"),
        "What its standard puts in each cavity, where there is one.",
        factory=dict,
    )

    noun = "a connector family"
    example = """\
parts:
  connectors:
    valve-2: {title: sealed 2-way for a valve, ways: 2, contact: pin-1.5, seal: seal-1.5, rating: 150 degC,
              wire-end: 12 mm}
"""

    @property
    def cavities(self) -> tuple[str, ...]:
        """Names of the cavities in the order of the face: left to right, row by row, seen on the wire side."""
        return self.cavity_names or tuple(str(number) for number in range(1, self.ways + 1))
