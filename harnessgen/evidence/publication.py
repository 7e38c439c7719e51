"""Where a figure or a formula comes from."""

from enum import Enum

from harnessgen.measures.frozen import frozen


class Standing(Enum):
    """How far a figure's origin was followed."""

    PUBLISHED = "published"
    """Read in the publication itself or in a copy of it."""
    COMMON_PRACTICE = "common practice, no source"
    """A fact of the trade that nobody publishes."""
    FROM_MEMORY = "from memory"
    """Recalled, not looked up; a verdict that rests on it says so."""


@frozen
class Publication:
    """A document with its edition and the place in it, or the word that there is none.

    `document` holds title and edition, `place` the clause or table.
    """

    document: str
    place: str = ""
    standing: Standing = Standing.PUBLISHED

    def __str__(self) -> str:
        """One line for a document: title, place and, where it matters, the standing."""
        if self.standing is Standing.COMMON_PRACTICE:
            return f"{self.document}: {self.standing.value}" if self.document else self.standing.value
        named = f"{self.document}, {self.place}" if self.place else self.document
        return f"{named} ({self.standing.value})" if self.standing is Standing.FROM_MEMORY else named


def common_practice(what: str = "") -> Publication:
    """A publication record for a fact of the trade; `what` says what the figure is, if that helps."""
    return Publication(what, standing=Standing.COMMON_PRACTICE)
