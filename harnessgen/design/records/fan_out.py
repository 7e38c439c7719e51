"""What a bank's own feed or return and one that banks share have in common: a trunk wire, and legs to the loads."""

from harnessgen.design.limits.table import Limits
from harnessgen.design.records.circuit import CUT, CUT_LENGTHS, EACH_WIRE, HAVE, HAVE_LENGTHS, THROUGH, GivenLength
from harnessgen.measures.colour_code import ColourCode
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.measures.quantity import LENGTH, Quantity
from harnessgen.source.container import ListOf, RecordOf
from harnessgen.source.key import Record, key, record
from harnessgen.source.kind import End, EndOf, Name, Ref
from harnessgen.source.measure_kind import Colour, Measure, Size


@record
class FanOut(Record):
    """A trunk wire that fans out to legs at one splice or several."""

    circuit: str = key("circuit", Name("circuit number"), "Number printed on its wires.")
    through: tuple[End, ...] = key(
        "through", ListOf(EndOf("disconnect cavity")), THROUGH + " Those of the trunk wire.", default=()
    )
    colour: ColourCode = key("color", Colour(), "Colour of its wires.")
    trunk_size: ConductorSize = key("trunk-size", Size(), "Size of the trunk wire.")
    leg_size: ConductorSize | None = key(
        "leg-size", Size(), "Size of each leg.", default=None, default_words="the trunk's"
    )
    wire: str = key("wire", Ref("wire family"), "Wire family.", default="", default_words="the title block's")
    slack_mm: Quantity = key(
        "slack",
        Measure(LENGTH, lowest=0),
        "Extra length of each leg on purpose.",
        default=Quantity(0.0),
        default_words="0",
    )
    cut: tuple[GivenLength, ...] = key(
        "cut", CUT_LENGTHS, "Of its trunk: " + CUT.lower() + EACH_WIRE.format("outer"), default=()
    )
    have: tuple[GivenLength, ...] = key(
        "have", HAVE_LENGTHS, "Of its trunk: " + HAVE.lower() + EACH_WIRE.format("outer"), default=()
    )
    limits: Limits | None = key("limits", RecordOf(Limits), "Limits of this circuit alone.", default=None)
