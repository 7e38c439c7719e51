"""Feeds and returns that banks share: one trunk, a tree of splices joined by links, and the legs of several banks."""

from collections.abc import Mapping

from harnessgen.design.records.circuit import CUT, CUT_LENGTHS, EACH_WIRE, HAVE, HAVE_LENGTHS, THROUGH, GivenLength
from harnessgen.design.records.fan_out import FanOut
from harnessgen.design.records.keyed import MapByName
from harnessgen.measures.colour_code import ColourCode
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.measures.quantity import LENGTH, Quantity
from harnessgen.source.container import ListOf, RecordOf
from harnessgen.source.key import Record, key, record
from harnessgen.source.kind import End, EndOf, Ref
from harnessgen.source.measure_kind import Colour, Measure, Size


@record
class SharedSplice(Record):
    """A splice of a shared feed or return, and the link wire that joins it to the splice before it, if any."""

    through: tuple[End, ...] = key(
        "through", ListOf(EndOf("disconnect cavity")), THROUGH + " Those of its link.", default=()
    )
    colour: ColourCode | None = key("color", Colour(), "Colour of its link.", default=None, default_words="the trunk's")
    size: ConductorSize | None = key("size", Size(), "Size of its link.", default=None, default_words="the trunk's")
    wire: str = key("wire", Ref("wire family"), "Wire family of its link.", default="", default_words="the trunk's")
    slack_mm: Quantity = key(
        "slack",
        Measure(LENGTH, lowest=0),
        "Extra length of its link on purpose.",
        default=Quantity(0.0),
        default_words="0",
    )
    cut: tuple[GivenLength, ...] = key(
        "cut", CUT_LENGTHS, "Of its link: " + CUT.lower() + EACH_WIRE.format("outer"), default=()
    )
    have: tuple[GivenLength, ...] = key(
        "have", HAVE_LENGTHS, "Of its link: " + HAVE.lower() + EACH_WIRE.format("outer"), default=()
    )

    noun = "a splice of a shared circuit"


@record
class FeedSplice(SharedSplice):
    """A splice of a shared feed. The trunk ends at the one that names no `from`; a link wire leads to each other."""

    from_: str = key(
        "from", Ref("splice"), "Splice that its link comes from.", default="", default_words="the trunk ends here"
    )

    noun = "a splice of a shared feed"
    shorthand = "from_"

    @property
    def before(self) -> str:
        """The splice one link nearer to the trunk; empty where the trunk ends."""
        return self.from_


@record
class ReturnSplice(SharedSplice):
    """A splice of a shared return. The trunk begins at the one that names no `to`; a link leads from each other."""

    to: str = key(
        "to", Ref("splice"), "Splice that its link goes to.", default="", default_words="the trunk begins here"
    )

    noun = "a splice of a shared return"
    shorthand = "to"

    @property
    def before(self) -> str:
        """The splice one link nearer to the trunk; empty where the trunk begins."""
        return self.to


@record
class SharedFeed(FanOut):
    """A feed that several banks share: one trunk wire to a splice, links to further splices, a leg to each load.

    Its wires are lettered trunk first, then the links in the order of the splices, then the legs bank by bank.
    """

    from_: End = key("from", EndOf(), "End that feeds it.")
    splices: Mapping[str, FeedSplice] = key(
        "splices",
        MapByName(RecordOf(FeedSplice), "splice"),
        "Its splices: a tree that begins at the end of the trunk.",
    )

    noun = "a shared feed"
    example = """\
feeds:
  rail:
    circuit: 21
    from: F1
    through: C10/1
    color: RD/YE
    trunk-size: 1.5 mm2
    leg-size: 0.5 mm2
    splices: {S1: {}, S2: {from: S1, size: 1 mm2}}
"""

    @property
    def outer(self) -> End:
        """The end of the trunk away from the splices."""
        return self.from_


@record
class SharedReturn(FanOut):
    """A return that several banks share: a leg from each load to a splice, links between splices, one trunk wire.

    It is lettered like a shared feed: the trunk first, then the links, then the legs bank by bank.
    """

    to: End = key("to", EndOf(), "End that takes it: a driver's cavity, or a ground point.")
    splices: Mapping[str, ReturnSplice] = key(
        "splices",
        MapByName(RecordOf(ReturnSplice), "splice"),
        "Its splices: a tree that ends where the trunk begins.",
    )

    noun = "a shared return"
    example = """\
returns:
  lamps:
    circuit: 95
    to: G2
    color: BK
    trunk-size: 1.5 mm2
    leg-size: 0.75 mm2
    splices: {S7: {}, S8: {to: S7}}
"""

    @property
    def outer(self) -> End:
        """The end of the trunk away from the splices."""
        return self.to


@record
class SharedLegs(Record):
    """How a bank takes part in a shared circuit: the splice that its legs meet, and what its legs have of their own."""

    splice: str = key(
        "splice",
        Ref("splice"),
        "Splice that its legs meet; needed where the shared circuit has several and a leg does not name its own.",
        default="",
        default_words="the only one",
    )
    colour: ColourCode | None = key("color", Colour(), "Colour of its legs.", default=None, default_words="the trunk's")
    leg_size: ConductorSize | None = key(
        "leg-size", Size(), "Size of its legs.", default=None, default_words="the shared circuit's"
    )
    wire: str = key(
        "wire", Ref("wire family"), "Wire family of its legs.", default="", default_words="the shared circuit's"
    )
    slack_mm: Quantity | None = key(
        "slack",
        Measure(LENGTH, lowest=0),
        "Extra length of each of its legs on purpose.",
        default=None,
        default_words="the shared circuit's",
    )

    noun = "a bank's legs of a shared circuit"
    shorthand = "shared"


@record
class SharedFeedLegs(SharedLegs):
    """How a bank is fed from a shared feed."""

    shared: str = key("shared", Ref("shared feed"), "Shared feed that feeds its loads.")

    noun = "a bank's legs of a shared feed"


@record
class SharedReturnLegs(SharedLegs):
    """How a bank returns through a shared return."""

    shared: str = key("shared", Ref("shared return"), "Shared return that its loads return through.")

    noun = "a bank's legs of a shared return"
