"""Wire on the shelf: spools and offcuts, and what more of them costs."""

from fractions import Fraction

from harnessgen.measures.colour_code import ColourCode
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.measures.quantity import LENGTH, Dimension, Quantity
from harnessgen.source.key import Record, key, record
from harnessgen.source.kind import Count, Ref
from harnessgen.source.measure_kind import Colour, Measure, Size

PRICE = Dimension("price", "1", {"1": Fraction(1)}, "24.50", lowest=0.0, highest=1e9, finest=0.0001)
"""An amount of any money: prices are only added up and compared."""


@record
class StockPiece(Record):
    """Wire of one length on the shelf, under the label that stands on it: a spool, several alike, or an offcut.

    A price says that more of the same can be bought; `count: 0` with a price is a spool that is only for sale.
    """

    wire: str = key("wire", Ref("wire family"), "Wire family.", default="", default_words="the title block's")
    size: ConductorSize = key("size", Size(), "Size.")
    colour: ColourCode = key("color", Colour(), "Colour.")
    length_mm: Quantity = key("length", Measure(LENGTH, above=0, highest=10e6), "Length of wire on it.")
    count: int = key("count", Count(0, 10000), "How many such pieces lie on the shelf.", default=1, default_words="1")
    price: Quantity | None = key(
        "price",
        Measure(PRICE, above=0),
        "What a new one costs, in any money.",
        default=None,
        default_words="no more can be bought",
    )

    noun = "a piece of stock"
    example = """\
stock:
  reel-red: {wire: thin-wall-125, size: 0.75 mm2, color: RD, length: 100 m, count: 2, price: 24.50}
  shelf-17: {wire: thin-wall-125, size: 0.75 mm2, color: RD, length: 1.9 m}
"""
