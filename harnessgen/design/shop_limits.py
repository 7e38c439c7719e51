"""Limits on the work in the shop: what is bought or cut on top of the bare need."""

from harnessgen.design.default_limit import DefaultLimit
from harnessgen.evidence.publication import common_practice
from harnessgen.measures.quantity import LENGTH, RATIO, Quantity
from harnessgen.source.key import Record, key, record
from harnessgen.source.measure_kind import Measure

SHOP_LIMITS = {
    "wire-scrap": DefaultLimit(
        Quantity(0.05), "1", common_practice("share of wire and covering lost to ends of spools and cuts gone wrong")
    ),
    "part-scrap": DefaultLimit(
        Quantity(0.05), "1", common_practice("share of terminals and seals lost in the work, rounded up")
    ),
    "sample-crimps": DefaultLimit(
        Quantity(3.0), "1", common_practice("sample crimps of each terminal on each wire, before the first")
    ),
    "sample-wire": DefaultLimit(
        Quantity(150.0), "mm", common_practice("wire of one sample crimp, long enough to clamp and pull")
    ),
}


@record
class ShopLimits(Record):
    """The part of the limits that the lists of the shop rest on."""

    wire_scrap: Quantity | None = key(
        "wire-scrap",
        Measure(RATIO, lowest=0, highest=1),
        "Share of wire and covering that is bought on top for scrap.",
        default=None,
        default_words="5 %",
    )
    part_scrap: Quantity | None = key(
        "part-scrap",
        Measure(RATIO, lowest=0, highest=1),
        "Share of terminals and seals that is bought on top for scrap.",
        default=None,
        default_words="5 %",
    )
    sample_crimps: Quantity | None = key(
        "sample-crimps",
        Measure(RATIO, lowest=0),
        "Sample crimps of each terminal on each wire.",
        default=None,
        default_words="3",
    )
    sample_wire_mm: Quantity | None = key(
        "sample-wire",
        Measure(LENGTH, above=0),
        "Wire that one sample crimp takes.",
        default=None,
        default_words="150 mm",
    )

    noun = "limits of the shop"
