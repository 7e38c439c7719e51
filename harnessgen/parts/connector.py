"""Connector families: cavities, what fits them, and how the face looks."""

from dataclasses import dataclass

from harnessgen.measures.quantity import LENGTH, TEMPERATURE, Quantity
from harnessgen.parts.part import Part
from harnessgen.source.container import ListOf
from harnessgen.source.key import key
from harnessgen.source.kind import Choice, Count, Measure, Name, Ref, Text


@dataclass(frozen=True, slots=True, kw_only=True)
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
