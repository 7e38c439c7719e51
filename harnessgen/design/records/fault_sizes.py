"""How large the faults are taken to be that the test procedure is held against."""

from harnessgen.measures.quantity import LENGTH, RESISTANCE, Quantity
from harnessgen.source.container import ListOf
from harnessgen.source.key import Record, key, record
from harnessgen.source.measure_kind import Measure

JOINTS_OHM = (0.2, 1.0, 5.0)
CHAFES_OHM = (0.0, 10.0)
REACH_MM = 500.0


@record
class FaultSizes(Record):
    """Magnitudes of the faults that the test procedure is held against, in place of the usual ones."""

    joints_ohm: tuple[Quantity, ...] = key(
        "joints",
        ListOf(Measure(RESISTANCE, above=0)),
        "What a poor joint has more than a good one (common practice, no source).",
        default=tuple(map(Quantity, JOINTS_OHM)),
        default_words="0.2, 1 and 5 ohm",
    )
    chafes_ohm: tuple[Quantity, ...] = key(
        "chafes",
        ListOf(Measure(RESISTANCE, lowest=0)),
        "Through what a chafed wire touches ground (common practice, no source).",
        default=tuple(map(Quantity, CHAFES_OHM)),
        default_words="0 and 10 ohm",
    )
    exchange_reach_mm: Quantity = key(
        "exchange-reach",
        Measure(LENGTH, lowest=0),
        "How far apart along the route two like connectors can be and still be plugged into each other's place"
        " (common practice, no source).",
        default=Quantity(REACH_MM),
        default_words="500 mm",
    )

    noun = "the sizes of faults"
    example = """\
fault-sizes: {joints: [100 mohm, 1 ohm], chafes: [0 ohm, 10 ohm], exchange-reach: 300 mm}
"""
