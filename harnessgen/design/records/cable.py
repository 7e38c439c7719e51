"""Cables: circuits that run together as one piece, twisted or not, with a shield or without."""

from harnessgen.design.records.circuit import SLACK, SLACK_LENGTH, THROUGH
from harnessgen.design.records.device import Shield
from harnessgen.measures.colour_code import ColourCode
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.measures.quantity import LENGTH, Quantity
from harnessgen.source.container import ListOf, RecordOf
from harnessgen.source.key import Record, key, record
from harnessgen.source.kind import Choice, End, EndOf, Name, Ref, Text
from harnessgen.source.measure_kind import Colour, Measure, Size


@record
class CableShield(Record):
    """The shield of a cable with its drain wire, grounded at one end alone.

    The drain is a wire of the cable from the grounded end to the point where the shield hangs free; there it ends in
    nothing. It is cut and marked like any other wire.
    """

    circuit: str = key("circuit", Name("circuit number"), "Number printed on the drain.")
    to: End = key("to", EndOf(), "End where it is grounded.")
    free_at: str = key("free-at", Ref("point"), "Point of the route at the cable's other end, where it hangs free.")
    cut_back_mm: Quantity = key(
        "cut-back",
        Measure(LENGTH, lowest=0),
        "How far before that point it ends.",
        default=Quantity(0.0),
        default_words="0",
    )
    through: tuple[End, ...] = key("through", ListOf(EndOf("disconnect cavity")), THROUGH, default=())
    colour: ColourCode = key("color", Colour(), "Colour of the drain, or of the sleeve over it.")
    size: ConductorSize = key("size", Size(), "Size of the drain.")
    wire: str = key("wire", Ref("wire family"), "Wire family.", default="", default_words="the title block's")
    slack_mm: Quantity = key("slack", SLACK_LENGTH, SLACK, default=Quantity(0.0), default_words="0")

    noun = "a shield"


@record
class Cable(Record):
    """A cable: circuits of one wire each (cut where they pass a disconnect) that share their way from end to end."""

    circuits: tuple[str, ...] = key("circuits", ListOf(Ref("circuit number")), "Circuits that run in it.")
    lay: str = key(
        "lay",
        Choice(("straight", "twisted")),
        "How its wires lie beside each other.",
        default="straight",
        default_words="straight",
    )
    lay_length_mm: Quantity | None = key(
        "lay-length",
        Measure(LENGTH, above=0),
        "Length of one full turn of a twisted one.",
        default=None,
        default_words="its diameter times the limit `lay-ratio`",
    )
    shield: CableShield | None = key("shield", RecordOf(CableShield), "Its shield.", default=None)
    title: str = key("title", Text(), "What it is, in words.", default="")

    noun = "a cable"
    example = """\
cables:
  W1:
    circuits: [70, 71]
    lay: twisted
    shield: {circuit: 72, to: C1/12, free-at: crank, cut-back: 30 mm, color: BK, size: 0.5 mm2}
"""

    @property
    def free_end(self) -> Shield | None:
        """The end of its shield that hangs free, under the cable's own designator; None without a shield."""
        shield = self.shield
        if shield is None:
            return None
        return Shield(
            name=self.name,
            place=shield.place,
            places={"at": shield.where("free_at"), "wire_end_mm": shield.where("cut_back_mm")},
            title=self.title,
            at=shield.free_at,
            wire_end_mm=Quantity(-shield.cut_back_mm.value if shield.cut_back_mm.value else 0.0),
        )
