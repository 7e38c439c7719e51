"""Circuits: one electrical function each, with the number that is printed on its wires."""

from typing import NamedTuple

from harnessgen.design.limits.table import Limits
from harnessgen.measures.colour_code import ColourCode
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import LENGTH, Quantity
from harnessgen.source.container import ListOf, RecordOf, take
from harnessgen.source.key import Record, key, record
from harnessgen.source.kind import End, EndOf, Reading, Ref
from harnessgen.source.measure_kind import Colour, Measure, Size
from harnessgen.source.place import Place
from harnessgen.source.reader import Node, Scalar, Sequence

CUT = "Length that it has been cut to already, or that the design declares; checked against what the route needs."
THROUGH = "Cavities of the disconnects that it passes (`C10/1`), in any order."
HAVE = "Length that was measured on the wire, which is there already; it counts before `cut`."
EACH_WIRE = " Where it passes disconnects one length for each wire, in a list, from its {} end."
SLACK = "Extra length on purpose."
SLACK_LENGTH = Measure(LENGTH, lowest=0, highest=10e3)


class GivenLength(NamedTuple):
    """A length that the file gives a wire, in mm, and where."""

    mm: Quantity
    place: Place


@frozen
class GivenLengths(ListOf):
    """One length, or one for each wire of a run that passes disconnects, each with its place."""

    def read(self, node: Node, reading: Reading) -> tuple[GivenLength, ...]:
        """The lengths; those that cannot be read are left out and told."""
        items = node.items if isinstance(node, Sequence) else [node]
        if isinstance(node, Scalar) and not node.text and not node.quoted:
            return ()
        taken = ((take(self.value, item, reading, item.place), item.place) for item in items)
        return tuple(GivenLength(value, place) for (value, is_good), place in taken if is_good)


CUT_LENGTHS = GivenLengths(Measure(LENGTH, above=0))
HAVE_LENGTHS = GivenLengths(Measure(LENGTH, above=0, may_cover=True))


@record
class WireRun(Record):
    """One run of wire of a circuit that needs its wires written out; what it leaves out is its circuit's."""

    from_: End = key("from", EndOf(), "End that the run starts at.")
    to: End = key("to", EndOf(), "End that it goes to.")
    through: tuple[End, ...] = key("through", ListOf(EndOf("disconnect cavity")), THROUGH, default=())
    colour: ColourCode | None = key("color", Colour(), "Colour.", default=None, default_words="the circuit's")
    size: ConductorSize | None = key("size", Size(), "Size.", default=None, default_words="the circuit's")
    wire: str = key("wire", Ref("wire family"), "Wire family.", default="", default_words="the circuit's")
    slack_mm: Quantity | None = key("slack", SLACK_LENGTH, SLACK, default=None, default_words="the circuit's")
    cut: tuple[GivenLength, ...] = key("cut", CUT_LENGTHS, CUT + EACH_WIRE.format("`from`"), default=())
    have: tuple[GivenLength, ...] = key("have", HAVE_LENGTHS, HAVE + EACH_WIRE.format("`from`"), default=())

    noun = "a wire run"


@record
class WireOwnSize(Record):
    """The size of one wire, in place of what its circuit or its bank says."""

    size: ConductorSize = key("size", Size(), "Its size.")

    noun = "the size of a wire"
    shorthand = "size"


@record
class Circuit(Record):
    """A circuit, by its number: from one end to another; or from one end through a splice to several; or run by run.

    Each run is cut into wires where it passes a disconnect. They are marked with the circuit's number and a letter,
    in the order of the runs and, within a run, from its `from` end: 40A, 40B.
    """

    from_: End | None = key("from", EndOf(), "End that it starts at.", default=None)
    to: tuple[End, ...] = key("to", ListOf(EndOf()), "End that it goes to; several need a splice.", default=())
    splice: str = key("splice", Ref("splice"), "Splice where it branches to several ends.", default="")
    through: tuple[End, ...] = key("through", ListOf(EndOf("disconnect cavity")), THROUGH, default=())
    runs: tuple[WireRun, ...] = key(
        "runs", ListOf(RecordOf(WireRun)), "Its runs of wire one by one, in place of `from` and `to`.", default=()
    )
    colour: ColourCode = key("color", Colour(), "Colour of its wires.")
    size: ConductorSize = key("size", Size(), "Size of its wires.")
    wire: str = key("wire", Ref("wire family"), "Wire family.", default="", default_words="the title block's")
    slack_mm: Quantity = key("slack", SLACK_LENGTH, SLACK, default=Quantity(0.0), default_words="0")
    cut: tuple[GivenLength, ...] = key(
        "cut", CUT_LENGTHS, CUT + EACH_WIRE.format("`from`") + " Not where it branches.", default=()
    )
    have: tuple[GivenLength, ...] = key(
        "have", HAVE_LENGTHS, HAVE + EACH_WIRE.format("`from`") + " Not where it branches.", default=()
    )
    limits: Limits | None = key("limits", RecordOf(Limits), "Limits of this circuit alone.", default=None)

    noun = "a circuit"
    example = """\
circuits:
  20: {from: BAT, to: F1, color: RD, size: 2.5 mm2}
  40: {from: F1, to: [K1/30, K1/86], splice: S4, color: RD/WH, size: 1.5 mm2}
  60:
    color: GN
    size: 0.75 mm2
    runs:
      - {from: SW1/out, to: S5, through: C10/3}
      - {from: S5, to: M1/1, size: 0.5 mm2, cut: 320 mm}
      - {from: S5, to: M2/1, size: 0.5 mm2}
"""
