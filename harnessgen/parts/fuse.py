"""Fuse families by form, with the ratings they come in."""

from collections.abc import Mapping
from itertools import pairwise

from harnessgen.measures.quantity import CURRENT, RATIO, RESISTANCE, TIME, Quantity, plain_number
from harnessgen.parts.part import Part
from harnessgen.source.container import MapOf, RecordOf
from harnessgen.source.key import Record, key, record
from harnessgen.source.kind import Ref, Text
from harnessgen.source.measure_kind import Measure

_NUMBER = r"[0-9]{1,6}(\.[0-9]{1,6})?"


@record
class FuseRating(Part):
    """One rating of a fuse family."""

    resistance_ohm: Quantity = key("resistance", Measure(RESISTANCE, above=0), "Cold resistance.")
    colour: str = key("body", Text(), "Colour of the body.", default="")

    noun = "a fuse rating"


@record
class OpeningLimit(Record):
    """Between which times a fuse opens at one current."""

    shortest_s: Quantity | None = key(
        "shortest", Measure(TIME, above=0), "No fuse of the form opens sooner.", default=None
    )
    longest_s: Quantity | None = key(
        "longest", Measure(TIME, above=0), "Every fuse of the form has opened by then.", default=None
    )

    noun = "an opening limit"


@record
class Opening(Part):
    """Opening time limits of a fuse form."""

    limits: Mapping[str, OpeningLimit] = key(
        "limits",
        MapOf(RecordOf(OpeningLimit), "current in % of the rating", _NUMBER),
        "Limits by current.",
    )

    noun = "opening times"


@record
class Breaking(Part):
    """The largest current that a fuse of a form opens safely."""

    capacity_a: Quantity = key("capacity", Measure(CURRENT, above=0), "Largest current that it opens safely.")

    noun = "a breaking capacity"


@record
class Rerating(Part):
    """What a fuse may carry in warm surroundings."""

    shares: Mapping[str, Quantity] = key(
        "shares",
        MapOf(Measure(RATIO, above=0), "ambient in degC", r"-?" + _NUMBER),
        "Share of its rating that it may carry, by ambient temperature.",
    )

    noun = "a rerating"

    def share_at(self, ambient_degc: float) -> float:
        """Share on straight lines between entries; beyond the last on the last line, never below zero."""
        points = sorted((float(degc), share.value) for degc, share in self.shares.items())
        if len(points) == 1 or ambient_degc <= points[0][0]:
            return points[0][1]
        pair = next((each for each in pairwise(points) if ambient_degc <= each[1][0]), (points[-2], points[-1]))
        (low, at_low), (high, at_high) = pair
        return max(at_low + (at_high - at_low) * (ambient_degc - low) / (high - low), 0.0)


@record
class FuseForm(Part):
    """A family of fuses of one form."""

    title: str = key("title", Text(), "What it is, in words.")
    contact: str = key("terminal", Ref("contact"), "Terminal that fits it.", default="")
    ratings: Mapping[str, FuseRating] = key(
        "ratings",
        MapOf(RecordOf(FuseRating), "rating in A", _NUMBER),
        "Figures of each rating, by its amperes.",
    )
    opening: Opening | None = key(
        "opening", RecordOf(Opening), "How long it takes to open.", default=None, default_words="not known"
    )
    breaking: Breaking | None = key(
        "breaking", RecordOf(Breaking), "What it opens safely.", default=None, default_words="not known"
    )
    rerating: Rerating | None = key(
        "rerating", RecordOf(Rerating), "What it carries where it is warm.", default=None, default_words="not known"
    )

    noun = "a fuse form"

    def rating(self, current_a: Quantity) -> FuseRating | None:
        """Figures of a rating, or None when the form does not come in it."""
        return self.ratings.get(plain_number(current_a.value))
