"""How well a length is known: what a tape, several readings or coordinates leave in doubt, by the GUM."""

import math
from collections.abc import Iterable
from dataclasses import replace
from enum import Enum

from harnessgen.design.measured import path_factor, straight_mm
from harnessgen.design.records.design import Design
from harnessgen.design.records.route import Stretch
from harnessgen.lengths.uncertainty import Contribution, mean_of_readings, rectangular, root_sum_of_squares
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import Quantity

# JCGM 100:2008 (GUM): 4.2.3, mean of repeated readings; 4.3.3, stated coverage factor, and 4.3.7, bounds.


class Spread(Enum):
    """How the values that something in doubt may have are spread."""

    EVEN = "rectangular"
    """Anywhere between two bounds, each place as likely as the other."""
    NORMAL = "normal"
    STUDENT = "t"
    """By few readings: Student's distribution with the degrees of freedom that they leave."""


@frozen
class Doubt:
    """One thing that is not known exactly, with its standard uncertainty in its own unit.

    `source` names the thing: where one length depends on the same thing twice, the sensitivities add up. `sensitivity`
    is what one unit of it does to the length in mm.
    """

    source: str
    meaning: str
    uncertainty: float
    sensitivity: float = 1.0
    spread: Spread = Spread.EVEN
    freedom: float = math.inf
    unit: str = "mm"

    @property
    def share_mm(self) -> float:
        """Standard uncertainty that it alone gives the length."""
        return abs(self.sensitivity) * self.uncertainty

    @property
    def part(self) -> Contribution:
        """The same as a contribution to a combined uncertainty."""
        return Contribution(self.meaning, self.uncertainty, self.sensitivity, self.freedom, self.unit)


@frozen
class Known:
    """How far a length most likely lies beside the value that stands for it, in mm, and what leaves it in doubt."""

    shift_mm: float
    doubts: tuple[Doubt, ...]


def stated(source: str, meaning: str, quantity: Quantity, sensitivity: float = 1.0, unit: str = "mm") -> Known:
    """What the tolerance of one value leaves in doubt: bounds, or an expanded uncertainty with its coverage factor."""
    if not quantity.plus and not quantity.minus:
        return Known(0.0, ())
    if quantity.coverage is not None:
        uncertainty = quantity.plus / quantity.coverage
        return Known(0.0, (Doubt(source, meaning, uncertainty, sensitivity, Spread.NORMAL, unit=unit),))
    bound = rectangular(quantity.plus, quantity.minus)
    doubt = Doubt(source, meaning, bound.uncertainty, sensitivity, unit=unit)
    return Known(sensitivity * bound.shift, (doubt,))


def stretch_known(design: Design, start: str, end: str, stretch: Stretch, share: float = 1.0) -> Known:
    """What the measurement of a stretch leaves in doubt; `share` is the part of it that counts."""
    name = f"{start} to {end}"
    if stretch.is_from_points:
        return _from_points(design, start, end, stretch, share)
    if stretch.readings_mm:
        return _from_readings(name, stretch.readings_mm, share)
    return stated(name, f"measurement of {name}", stretch.length_mm, share)


def merged(knowns: Iterable[Known]) -> Known:
    """Several lengths in a row: what depends on one thing twice depends on it once, with both sensitivities."""
    shift_mm = 0.0
    doubts: dict[str, Doubt] = {}
    for known in knowns:
        shift_mm += known.shift_mm
        for doubt in known.doubts:
            first = doubts.get(doubt.source)
            if first is not None:
                doubt = replace(doubt, sensitivity=first.sensitivity + doubt.sensitivity)
            doubts[doubt.source] = doubt
    return Known(shift_mm, tuple(doubts.values()))


def combined_mm(doubts: Iterable[Doubt]) -> float:
    """Combined standard uncertainty of a length whose doubts are independent, in mm."""
    return root_sum_of_squares(each.share_mm for each in doubts)


def _from_readings(name: str, readings_mm: tuple[Quantity, ...], share: float) -> Known:
    """Scatter of the readings (type A), and the tolerance of the tape, which all of them share (type B)."""
    count = len(readings_mm)
    tape = max(readings_mm, key=lambda each: each.plus + each.minus)
    tape_known = stated(f"tape at {name}", f"tape at {name}", tape, share)
    if count < 2:
        return tape_known
    mean_mm = math.fsum(each.value for each in readings_mm) / count
    deviation_mm = math.sqrt(math.fsum((each.value - mean_mm) ** 2 for each in readings_mm) / (count - 1))
    scatter = mean_of_readings(deviation_mm, count)
    meaning = f"{scatter.meaning} of {name}"
    doubt = Doubt(f"readings of {name}", meaning, scatter.uncertainty, share, Spread.STUDENT, scatter.freedom)
    return Known(tape_known.shift_mm, (doubt, *tape_known.doubts) if deviation_mm else tape_known.doubts)


def _from_points(design: Design, start: str, end: str, stretch: Stretch, share: float) -> Known:
    """Each coordinate weighs by the direction of the stretch, the path factor by its straight length."""
    first, second = design.points[start], design.points[end]
    straight = straight_mm(first, second)
    factor = path_factor(design, stretch)
    name = f"{start} to {end}"
    knowns = [stated(f"path factor of {name}", f"path factor of {name}", factor, straight * share, "1")]
    axes = zip("xyz", first.axes_mm, second.axes_mm, strict=True)
    for axis, from_mm, to_mm in axes:
        along = factor.value * share * (to_mm.value - from_mm.value) / straight
        knowns.append(stated(f"{axis} of {start}", f"{axis} of {start}", from_mm, -along))
        knowns.append(stated(f"{axis} of {end}", f"{axis} of {end}", to_mm, along))
    return merged(knowns)
