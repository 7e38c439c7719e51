"""What every part of the library says of itself: where its figures come from."""

from harnessgen.evidence.publication import Publication, Standing
from harnessgen.measures.quantity import LENGTH
from harnessgen.source.key import Record, key, record
from harnessgen.source.kind import Choice, Text
from harnessgen.source.measure_kind import Measure

PART_LENGTH = Measure(LENGTH, above=0, highest=1000.0)
"""A length or diameter of a part: no part is a metre wide."""

_STANDINGS = {
    "published": Standing.PUBLISHED,
    "common practice": Standing.COMMON_PRACTICE,
    "from memory": Standing.FROM_MEMORY,
}


@record
class Part(Record):
    """A part, with the origin of its figures."""

    source: str = key("source", Text(), "Document, edition and table that the figures come from.", default="")
    standing: str = key(
        "standing",
        Choice(tuple(_STANDINGS)),
        "How far the origin was followed; a verdict that rests on a figure from memory says so.",
        default="published",
        default_words="published",
    )

    @property
    def publication(self) -> Publication:
        """Origin of the figures; a part without one stands in the design itself."""
        return Publication(self.source or f"the design ({self.name})", standing=_STANDINGS[self.standing])

    def origin(self, row: "Part") -> Publication:
        """Origin of one row of this family: the row's own, or else the family's."""
        return row.publication if row.source else self.publication
