"""Banks: like loads that share one feed and one switched return; one leg pattern, expanded per load."""

from collections.abc import Mapping

from harnessgen.design.records.circuit import (
    CUT,
    CUT_LENGTHS,
    EACH_WIRE,
    HAVE,
    HAVE_LENGTHS,
    SLACK,
    SLACK_LENGTH,
    GivenLength,
)
from harnessgen.design.records.connector import LOOPS
from harnessgen.design.records.fan_out import FanOut
from harnessgen.design.records.reach import Reach, ServiceLoops
from harnessgen.design.records.shared import SharedFeedLegs, SharedReturnLegs
from harnessgen.measures.colour_code import ColourCode
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.measures.quantity import RESISTANCE, Quantity
from harnessgen.source.container import EitherRecord, ListOf, MapOf, RecordOf
from harnessgen.source.key import Record, key, record
from harnessgen.source.kind import Choice, End, EndOf, Name, Ref, Text
from harnessgen.source.measure_kind import Colour, Measure, Size


@record
class LegOverride(Record):
    """What one leg of a bank has of its own."""

    through: tuple[End, ...] = key(
        "through",
        ListOf(EndOf("disconnect cavity")),
        "Cavities of the disconnects that this leg passes by itself.",
        default=(),
    )
    splice: str = key(
        "splice",
        Ref("splice"),
        "Splice of the shared feed or return that this leg meets.",
        default="",
        default_words="the bank's",
    )
    colour: ColourCode | None = key("color", Colour(), "Colour.", default=None, default_words="the bank's")
    size: ConductorSize | None = key("size", Size(), "Size.", default=None, default_words="the bank's")
    wire: str = key("wire", Ref("wire family"), "Wire family.", default="", default_words="the bank's")
    slack_mm: Quantity | None = key("slack", SLACK_LENGTH, SLACK, default=None, default_words="the bank's")
    cut: tuple[GivenLength, ...] = key("cut", CUT_LENGTHS, CUT + EACH_WIRE.format("splice"), default=())
    have: tuple[GivenLength, ...] = key("have", HAVE_LENGTHS, HAVE + EACH_WIRE.format("splice"), default=())
    cavity: str = key(
        "cavity", Name("cavity"), "Cavity of the load's connector.", default="", default_words="the bank's"
    )

    noun = "a leg"


@record
class BankLoad(Record):
    """One load of a bank, by its designator."""

    at: str = key("at", Ref("point"), "Point of the route where its connector sits.")
    connector: str = key(
        "connector",
        Name("connector"),
        "Designator of its connector.",
        default="",
        default_words="counted up from the first",
    )
    title: str = key("title", Text(), "What it is or where, in words.", default="")
    resistance_ohm: Quantity | None = key(
        "resistance", Measure(RESISTANCE, above=0), "Its own resistance.", default=None, default_words="the family's"
    )
    reach: Reach | None = key(
        "reach",
        RecordOf(Reach),
        "How far its connector can come towards its breakout.",
        default=None,
        default_words="the bank's",
    )
    feed: LegOverride | None = key("feed", RecordOf(LegOverride), "What its feed leg has of its own.", default=None)
    return_: LegOverride | None = key(
        "return", RecordOf(LegOverride), "What its return leg has of its own.", default=None
    )

    noun = "a load of a bank"
    shorthand = "at"


@record
class BankConnector(Record):
    """The connector that every load of a bank has; they are numbered up from the first, in the order of the loads."""

    part: str = key("part", Ref("connector family"), "Connector family.")
    first: str = key("first", Name("connector"), "Designator of the first load's connector: C21, then C22, C23 ...")
    half: str = key(
        "half",
        Choice(("sockets", "pins")),
        "Contacts that the harness side holds.",
        default="sockets",
        default_words="sockets",
    )
    feed: str = key("feed", Name("cavity"), "Cavity of the feed.", default="1", default_words="1")
    return_: str = key("return", Name("cavity"), "Cavity of the return.", default="2", default_words="2")
    contact: str = key("terminal", Ref("contact"), "Contact in its cavities.", default="", default_words="the family's")
    seal: str = key("seal", Ref("seal"), "Seal in its cavities.", default="", default_words="the family's")
    service_loops: ServiceLoops | None = key(
        "service-loops", RecordOf(ServiceLoops), LOOPS, default=None, default_words="the limit `service-loops`"
    )
    reach: Reach | None = key("reach", RecordOf(Reach), "How far each can come towards its breakout.", default=None)

    noun = "a bank's connector"


@record
class BankSide(FanOut):
    """What the feed and the return of a bank have in common: one splice, of trunk and legs."""

    splice: str = key("splice", Ref("splice"), "Splice of trunk and legs; needed for two loads or more.", default="")


@record
class BankFeed(BankSide):
    """The feed of a bank: one trunk wire to a splice, and from there a leg to each load.

    The wires are lettered trunk first, from the outer end inwards, then the legs in the order of the loads.
    """

    from_: End = key("from", EndOf(), "End that feeds it.")

    noun = "a bank's feed"


@record
class BankReturn(BankSide):
    """The return of a bank: a leg from each load to a splice, and one trunk wire to what takes it.

    It is lettered like the feed: the trunk first, from its outer end to the splice, then the legs.
    """

    to: End = key("to", EndOf(), "End that takes it: a driver's cavity, or a ground point.")

    noun = "a bank's return"


@record
class Bank(Record):
    """Like loads that work together. Each load gets a connector, a feed leg and a return leg.

    Feed and return are the bank's own, or shared with other banks: then the name of the shared one stands here.
    """

    loads: Mapping[str, BankLoad] = key("loads", MapOf(RecordOf(BankLoad), "load"), "Its loads, by designator.")
    load: str = key("load", Ref("load family"), "Family of the loads.")
    connector: BankConnector = key("connector", RecordOf(BankConnector), "The connector of each load.")
    feed: BankFeed | SharedFeedLegs = key(
        "feed", EitherRecord(RecordOf(SharedFeedLegs), RecordOf(BankFeed)), "Its own feed, or the shared one."
    )
    return_: BankReturn | SharedReturnLegs = key(
        "return", EitherRecord(RecordOf(SharedReturnLegs), RecordOf(BankReturn)), "Its own return, or the shared one."
    )

    noun = "a bank"
    example = """\
banks:
  left:
    load: injector-saturated
    connector: {part: sealed-2, first: C21}
    loads:
      INJ1: left-1
      INJ3: left-2
      INJ5: {at: left-3, feed: {size: 0.75 mm2}, return: {cut: 310 mm}}
    feed:   {circuit: 21, from: F1, through: C10/1, splice: S1, color: RD/YE, trunk-size: 0.75 mm2, leg-size: 0.5 mm2}
    return: {circuit: 31, to: C1/14, through: C10/3, splice: S2, color: BU/WH, trunk-size: 0.75 mm2, leg-size: 0.5 mm2}
  front:
    load: injector-saturated
    connector: {part: sealed-2, first: C31}
    loads: {INJ2: front-1, INJ4: {at: front-2, feed: {splice: S6}}}
    feed:   {shared: rail, splice: S5}
    return: {circuit: 33, to: C1/15, splice: S7, color: BU/YE, trunk-size: 0.75 mm2, leg-size: 0.5 mm2}
"""
