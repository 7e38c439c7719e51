"""Uncertainty of a measured or stated length, resistance or voltage, by the GUM (JCGM 100:2008)."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from harnessgen.evidence.derivation import Evaluated, Input, evaluated
from harnessgen.evidence.publication import Publication

_GUM = "JCGM 100:2008, Guide to the expression of uncertainty in measurement"
RECTANGULAR_SOURCE = Publication(_GUM, "4.3.7 and 4.3.8")
COMBINATION_SOURCE = Publication(_GUM, "5.1.2")
EXPANDED_SOURCE = Publication(_GUM, "6.2.1")
FREEDOM_SOURCE = Publication(_GUM, "G.4.1")


@dataclass(frozen=True, slots=True)
class Bound:
    """A value known only to lie within limits: where its middle lies from the stated value, and half its width.

    Both are in the unit of the value. Every place between the limits is taken as equally likely.
    """

    shift: float
    half_width: float

    @property
    def standard(self) -> float:
        """Standard uncertainty, in the unit of the value."""
        return rectangular(self.half_width)


@dataclass(frozen=True, slots=True)
class Part:
    """One contribution: standard uncertainty, what one unit of it does to the result, and degrees of freedom."""

    meaning: str
    standard: float
    sensitivity: float = 1.0
    freedom: float = math.inf

    @property
    def share(self) -> float:
        """Standard uncertainty that this part alone gives the result."""
        return abs(self.sensitivity) * self.standard


def rectangular(half_width: float) -> float:
    """Standard uncertainty of a value that lies anywhere within plus or minus `half_width`, in the same unit.

    Raises:
        ValueError: the half width is below zero.
    """
    if not half_width >= 0.0:
        raise ValueError(f"a half width is not {half_width}")
    return half_width / math.sqrt(3.0)


def one_sided(plus: float, minus: float) -> Bound:
    """Bound of a tolerance `+plus/-minus`, both counted away from the stated value and not below zero.

    Raises:
        ValueError: a limit is below zero.
    """
    if not (plus >= 0.0 and minus >= 0.0):
        raise ValueError(f"limits of a tolerance are counted away from the value, not +{plus}/-{minus}")
    return Bound((plus - minus) / 2.0, (plus + minus) / 2.0)


def type_a(deviation: float, readings: int) -> Part:
    """Contribution of the mean of several readings with the given standard deviation.

    Raises:
        ValueError: there are fewer than two readings, or the deviation is below zero.
    """
    if readings < 2 or not deviation >= 0.0:
        raise ValueError(f"{readings} readings with deviation {deviation} tell no spread")
    return Part(f"mean of {readings} readings", deviation / math.sqrt(readings), freedom=readings - 1)


def combined(parts: Sequence[Part]) -> float:
    """Combined standard uncertainty of independent contributions, in the unit of the result."""
    return math.hypot(*(each.share for each in parts))


def expanded(standard: float, coverage: float = 2.0) -> float:
    """Expanded uncertainty; a coverage factor of 2 holds about 95 % of a normal distribution.

    Raises:
        ValueError: the coverage factor is not above zero.
    """
    if not coverage > 0.0:
        raise ValueError(f"a coverage factor is above zero, not {coverage}")
    return coverage * standard


def effective_freedom(parts: Sequence[Part]) -> float:
    """Effective degrees of freedom of the combined uncertainty, by Welch and Satterthwaite; `inf` if nothing limits it.

    Raises:
        ValueError: a part has no degrees of freedom.
    """
    for each in parts:
        if not each.freedom > 0.0:
            raise ValueError(f"{each.meaning!r} has {each.freedom} degrees of freedom")
    limiting = math.fsum(each.share**4 / each.freedom for each in parts)
    return combined(parts) ** 4 / limiting if limiting > 0.0 else math.inf


def expanded_derivation(title: str, parts: Sequence[Part], unit: str, coverage: float = 2.0) -> Evaluated:
    """Expanded uncertainty of independent contributions with its formula.

    Raises:
        ValueError: the coverage factor is not above zero.
    """
    expanded(0.0, coverage)
    inputs = [Input("k", "coverage factor", coverage, "1")]
    terms: list[str] = []
    for number, each in enumerate(parts, start=1):
        terms.append(f"(c{number} * u{number}) ** 2")
        inputs.append(Input(f"c{number}", f"sensitivity to {each.meaning}", each.sensitivity, "1"))
        inputs.append(Input(f"u{number}", f"standard uncertainty of {each.meaning}", each.standard, unit))
    formula = f"k * sqrt({' + '.join(terms) or '0'})"
    return evaluated(title, formula, tuple(inputs), unit, COMBINATION_SOURCE, EXPANDED_SOURCE)
