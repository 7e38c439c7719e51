"""Peak, average and RMS current of an element: one figure while it is steady, three where it is pulsed."""

from collections.abc import Iterable

from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantised import quantised
from harnessgen.physics.electrical.conditions import Case


@frozen
class ElementCurrent:
    """Current of one element in one state, without sign, in A.

    Heat follows `rms_a`, a battery gives `mean_a`, a contact and a driver see `peak_a`; they are equal where nothing is
    pulsed. `case` is the one that the RMS comes from, `peak_case` the one of the peak.
    """

    peak_a: float
    mean_a: float
    rms_a: float
    case: Case = Case.STATED
    peak_case: Case = Case.STATED


def steady(current_a: float, case: Case) -> ElementCurrent:
    """A current that does not change."""
    size_a = abs(current_a)
    return ElementCurrent(size_a, size_a, size_a, case, case)


def worst(currents: Iterable[ElementCurrent]) -> ElementCurrent:
    """The highest of each figure over several cases; of equal ones the first.

    Raises:
        ValueError: there is no current.
    """
    listed = list(currents)
    if not listed:
        raise ValueError("of no currents none is the worst")
    hottest, highest = (
        max(listed, key=lambda each: quantised(each.rms_a)),
        max(listed, key=lambda each: quantised(each.peak_a)),
    )
    mean_a = max(each.mean_a for each in listed)
    return ElementCurrent(highest.peak_a, mean_a, hottest.rms_a, hottest.case, highest.peak_case)
