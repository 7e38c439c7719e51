"""Between which times a fuse opens at a current: published limits, straight lines in logarithms between them."""

import math
from bisect import bisect_right

from harnessgen.design.records.device import Fuse
from harnessgen.evidence.publication import Publication
from harnessgen.measures.frozen import frozen
from harnessgen.parts.fuse import FuseForm


@frozen
class FuseCurve:
    """Opening time limits of one fuse: (current in A, time in s) by rising current, and where they come from.

    Below its first point the longest time has no bound: the fuse may hold for ever. Beyond the last published point
    both times keep that point's I2t. For the longest that is a bound: a larger current melts the link by no more I2t,
    since less heat escapes meanwhile; it is no published time.
    """

    rating_a: float
    longest: tuple[tuple[float, float], ...]
    shortest: tuple[tuple[float, float], ...]
    source: Publication

    @property
    def holds_up_to_a(self) -> float:
        """Largest current that no published limit bounds in time: the fuse may carry it for ever."""
        return self.longest[0][0]

    @property
    def published_up_to_a(self) -> float:
        """Current at which the published longest times end."""
        return self.longest[-1][0]

    def longest_s(self, current_a: float) -> float:
        """Time by which the fuse has opened at a current, `inf` where nothing bounds it."""
        if current_a < self.longest[0][0]:
            return math.inf
        return _at(self.longest, current_a)

    def shortest_s(self, current_a: float) -> float:
        """Time before which the fuse does not open at a current, `inf` below its first point."""
        if not self.shortest or current_a < self.shortest[0][0]:
            return math.inf
        return _at(self.shortest, current_a)


def fuse_curve(fuse: Fuse, form: FuseForm) -> FuseCurve | None:
    """The curve of a fuse; None where its form has no longest opening times."""
    if form.opening is None:
        return None
    rows = sorted((float(percent), limits) for percent, limits in form.opening.limits.items())
    rating_a = fuse.rating_a.value
    longest = tuple((rating_a * p / 100.0, each.longest_s.value) for p, each in rows if each.longest_s is not None)
    shortest = tuple((rating_a * p / 100.0, each.shortest_s.value) for p, each in rows if each.shortest_s is not None)
    return FuseCurve(rating_a, longest, shortest, form.origin(form.opening)) if longest else None


def _at(points: tuple[tuple[float, float], ...], current_a: float) -> float:
    last_a, last_s = points[-1]
    if current_a >= last_a:
        return last_s * (last_a / current_a) * (last_a / current_a)
    at = min(bisect_right(points, (current_a, math.inf)), len(points) - 1)
    (low_a, low_s), (high_a, high_s) = points[at - 1], points[at]
    share = math.log(current_a / low_a) / math.log(high_a / low_a)
    return low_s * math.exp(share * math.log(high_s / low_s))
