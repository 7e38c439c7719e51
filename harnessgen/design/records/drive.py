"""How an output limits the current of a coil."""

from harnessgen.measures.quantity import CURRENT, Quantity
from harnessgen.source.key import Record, key, record
from harnessgen.source.measure_kind import Measure


@record
class PeakAndHold(Record):
    """The current that an output lets a coil come to, and the lower one that it then holds."""

    peak_a: Quantity = key("peak", Measure(CURRENT, above=0), "Current at which it goes over to holding.")
    hold_a: Quantity = key("hold", Measure(CURRENT, above=0), "Current that it holds.")

    noun = "a peak-and-hold drive"
