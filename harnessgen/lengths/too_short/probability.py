"""How sure it is that a length suffices: the probability that it turns out too short."""

import math
from collections.abc import Iterable, Sequence
from enum import Enum

from harnessgen.evidence.derivation import Evaluated, Input, evaluated
from harnessgen.evidence.publication import Publication
from harnessgen.lengths.measured_length import Doubt, Spread, combined_mm, stated
from harnessgen.lengths.wire_length import WireLength
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import Quantity

NORMAL_SOURCE = Publication("JCGM 100:2008 (GUM)", "G.2, sum of independent values taken as normal")
# JCGM 101:2008 (GUM, supplement 1): 5.9 and 7, propagation of distributions by drawing.
# JCGM 100:2008 (GUM): 4.3.7, no value lies outside its bounds.

DRAWS = 200_000
"""Draws of a simulation: a probability of one in a thousand is met within about 7 % of itself."""

SEED = 620
"""The same draws for every wire and every run, so that a verdict never changes by itself."""

_FAR_SIGMAS = 6.0
"""Beyond the bounds by so many standard deviations of the rest, less than one case in a thousand million is left."""


class Method(Enum):
    """How a probability was found."""

    BOUNDS = "by the bounds"
    NORMAL = "closed form"
    DRAWS = "simulation"


@frozen
class LengthVerdict:
    """How an available length compares with a needed one, in mm.

    `spare_mm` is the most likely margin (negative: short), `doubts` what leaves it uncertain. `probability` is that of
    being too short, `normal_probability` what the closed form for normal doubts gives.
    """

    spare_mm: float
    doubts: tuple[Doubt, ...]
    probability: float
    normal_probability: float
    method: Method

    @property
    def uncertainty_mm(self) -> float:
        """Combined standard uncertainty of the margin."""
        return combined_mm(self.doubts)

    @property
    def derivation(self) -> Evaluated:
        """The closed form, with its inputs."""
        inputs = (
            Input("m", "most likely margin", self.spare_mm, "mm"),
            Input("u", "combined standard uncertainty of the margin", self.uncertainty_mm, "mm"),
        )
        formula = "erfc(m / (u * sqrt(2))) / 2" if self.uncertainty_mm else "0 * m"
        return evaluated("probability of being too short", formula, inputs, "1", NORMAL_SOURCE)


def verdict_of(length: WireLength) -> LengthVerdict:
    """Compare the length that a wire has, with its own or the shop's tolerance, with the one that it needs."""
    return compare(length.needed_mm, length.doubts, length.available_mm, f"length of {length.mark}")


def compare(needed_mm: float, doubts: Sequence[Doubt], available: Quantity, what: str) -> LengthVerdict:
    """Compare an available length with a needed one of most likely value `needed_mm`; `what` names the available."""
    known = stated(what, what, available, -1.0)
    spare_mm = available.value - known.shift_mm - needed_mm
    whole = (*doubts, *known.doubts)
    normal = normal_probability(spare_mm, combined_mm(whole))
    probability, method = _probability(spare_mm, whole, normal)
    return LengthVerdict(spare_mm, whole, probability, normal, method)


def normal_probability(spare_mm: float, uncertainty_mm: float) -> float:
    """Probability that a normal margin of most likely value `spare_mm` turns out below zero."""
    if not uncertainty_mm:
        return 0.0 if spare_mm >= 0.0 else 1.0
    return math.erfc(spare_mm / (uncertainty_mm * math.sqrt(2.0))) / 2.0


def drawn_probability(spare_mm: float, doubts: Iterable[Doubt], draws: int = DRAWS, seed: int = SEED) -> float:
    """The same by drawing every doubt from its own distribution; equal arguments give equal results."""
    # Only a design with doubtful given lengths comes here.
    import numpy as np

    random = np.random.default_rng(seed)
    margins = np.full(draws, spare_mm)
    for doubt in doubts:
        if doubt.spread is Spread.NORMAL:
            drawn = random.standard_normal(draws)
        elif doubt.spread is Spread.STUDENT:
            drawn = random.standard_t(doubt.freedom, draws)
        else:
            drawn = random.uniform(-math.sqrt(3.0), math.sqrt(3.0), draws)
        margins -= doubt.sensitivity * doubt.uncertainty * drawn
    return float(np.count_nonzero(margins < 0.0)) / draws


def _probability(spare_mm: float, doubts: tuple[Doubt, ...], normal: float) -> tuple[float, Method]:
    even = [each for each in doubts if each.spread is Spread.EVEN]
    others = [each for each in doubts if each.spread is not Spread.EVEN]
    bounds_mm = math.fsum(each.share_mm * math.sqrt(3.0) for each in even)
    if not others and abs(spare_mm) >= bounds_mm:
        return (0.0 if spare_mm >= 0.0 else 1.0), Method.BOUNDS
    if not even and all(each.spread is Spread.NORMAL for each in others):
        return normal, Method.NORMAL
    is_far = abs(spare_mm) >= bounds_mm + _FAR_SIGMAS * combined_mm(others)
    if is_far and all(each.spread is Spread.NORMAL for each in others):
        return (0.0 if spare_mm >= 0.0 else 1.0), Method.BOUNDS
    return drawn_probability(spare_mm, doubts), Method.DRAWS
