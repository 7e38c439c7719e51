"""Fuse families by form, with the ratings they come in."""

from collections.abc import Mapping

from harnessgen.measures.quantity import RESISTANCE, Quantity, plain_number
from harnessgen.parts.part import Part
from harnessgen.source.container import MapOf, RecordOf
from harnessgen.source.key import key, record
from harnessgen.source.kind import Ref, Text
from harnessgen.source.measure_kind import Measure


@record
class FuseRating(Part):
    """One rating of a fuse family."""

    resistance_ohm: Quantity = key("resistance", Measure(RESISTANCE, above=0), "Cold resistance.")
    colour: str = key("body", Text(), "Colour of the body.", default="")

    noun = "a fuse rating"


@record
class FuseForm(Part):
    """A family of fuses of one form."""

    title: str = key("title", Text(), "What it is, in words.")
    contact: str = key("terminal", Ref("contact"), "Terminal that fits it.", default="")
    ratings: Mapping[str, FuseRating] = key(
        "ratings",
        MapOf(RecordOf(FuseRating), "rating in A", r"[0-9]+(\.[0-9]+)?"),
        "Figures of each rating, by its amperes.",
    )

    noun = "a fuse form"

    def rating(self, current_a: Quantity) -> FuseRating | None:
        """Figures of a rating, or None when the form does not come in it."""
        return self.ratings.get(plain_number(current_a.value))
