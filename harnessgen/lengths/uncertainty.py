"""Uncertainty of a measured or stated length, resistance or voltage, by the GUM (JCGM 100:2008)."""

import math
from collections.abc import Iterable, Sequence

from harnessgen.evidence.derivation import Evaluated, Input, evaluated
from harnessgen.evidence.publication import Publication
from harnessgen.measures.frozen import frozen

_GUM = "JCGM 100:2008, Guide to the expression of uncertainty in measurement"
# The same, 4.3.7 and 4.3.8: rectangular distributions; G.4.1: effective degrees of freedom.
COMBINATION_SOURCE = Publication(_GUM, "5.1.2")
EXPANDED_SOURCE = Publication(_GUM, "6.2.1")


@frozen
class Bound:
    """A value known only to lie within limits: where their middle lies from the stated value, and half their distance.

    Both are in the unit of the value. Every place between the limits is taken as equally likely.
    """

    shift: float
    half_width: float

    @property
    def uncertainty(self) -> float:
        """Standard uncertainty, in the unit of the value."""
        return self.half_width / math.sqrt(3.0)


@frozen
class Contribution:
    """One contribution: its standard uncertainty, what one unit of it does to the result, its degrees of freedom.

    `unit` is that of the uncertainty; where it is empty, that of the result.
    """

    meaning: str
    uncertainty: float
    sensitivity: float = 1.0
    freedom: float = math.inf
    unit: str = ""

    @property
    def share(self) -> float:
        """Standard uncertainty that this part alone gives the result, in the result's unit."""
        return abs(self.sensitivity) * self.uncertainty


def rectangular(plus: float, minus: float) -> Bound:
    """Bound of a tolerance `+plus/-minus`, both counted away from the stated value, in its unit.

    Raises:
        ValueError: a limit is below zero.
    """
    if not (plus >= 0.0 and minus >= 0.0):
        raise ValueError(f"limits of a tolerance are counted away from the value, not +{plus}/-{minus}")
    return Bound((plus - minus) / 2.0, (plus + minus) / 2.0)


def mean_of_readings(deviation: float, readings: int) -> Contribution:
    """Contribution of the mean of several readings whose standard deviation is given, in their unit.

    Raises:
        ValueError: there are fewer than two readings, or the deviation is below zero.
    """
    if readings < 2 or not deviation >= 0.0:
        raise ValueError(f"{readings} readings with deviation {deviation} tell no spread")
    return Contribution(f"mean of {readings} readings", deviation / math.sqrt(readings), freedom=readings - 1)


def root_sum_of_squares(uncertainties: Iterable[float]) -> float:
    """Standard uncertainty of a sum of independent values, each with its own standard uncertainty, all in one unit."""
    return math.hypot(*uncertainties)


def combined(parts: Sequence[Contribution]) -> float:
    """Combined standard uncertainty of independent contributions, in the unit of the result."""
    return root_sum_of_squares(each.share for each in parts)


def expanded(uncertainty: float, coverage: float = 2.0) -> float:
    """Expanded uncertainty; a coverage factor of 2 holds about 95 % of a normal distribution.

    Raises:
        ValueError: the coverage factor is not above zero.
    """
    if not coverage > 0.0:
        raise ValueError(f"a coverage factor is above zero, not {coverage}")
    return coverage * uncertainty


def effective_freedom(parts: Sequence[Contribution]) -> float:
    """Effective degrees of freedom of the combined uncertainty, by Welch and Satterthwaite; `inf` if nothing limits it.

    Raises:
        ValueError: a part has no degrees of freedom.
    """
    for each in parts:
        if not each.freedom > 0.0:
            raise ValueError(f"{each.meaning!r} has {each.freedom} degrees of freedom")
    limiting = math.fsum(each.share**4 / each.freedom for each in parts)
    return combined(parts) ** 4 / limiting if limiting > 0.0 else math.inf


def expanded_derivation(title: str, parts: Sequence[Contribution], unit: str, coverage: float = 2.0) -> Evaluated:
    """Expanded uncertainty of independent contributions with its formula, in the unit of the result.

    Raises:
        ValueError: the coverage factor is not above zero.
    """
    expanded(0.0, coverage)
    inputs = [Input("k", "coverage factor", coverage, "1")]
    terms: list[str] = []
    for number, each in enumerate(parts, start=1):
        per = f"{unit} per {each.unit}" if each.unit and each.unit != unit else "1"
        terms.append(f"(c{number} * u{number}) ** 2")
        inputs.append(Input(f"c{number}", f"sensitivity to {each.meaning}", each.sensitivity, per))
        inputs.append(
            Input(f"u{number}", f"standard uncertainty of {each.meaning}", each.uncertainty, each.unit or unit)
        )
    formula = f"k * sqrt({' + '.join(terms) or '0'})"
    return evaluated(title, formula, tuple(inputs), unit, COMBINATION_SOURCE, EXPANDED_SOURCE)
