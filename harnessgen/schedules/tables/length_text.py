"""Lengths as a shop reads them: millimetres, or inches where the design is written in inches or feet."""

import math
from fractions import Fraction

from harnessgen.measures.quantity import Quantity, plain_number, tolerance_text

MM_PER_INCH = 25.4
SIXTEENTHS = 16
_FINEST = 64
_EXACT_IN = 1e-4
"""A length this close to a sixty-fourth of an inch was written as one."""


def in_inches(unit: str) -> bool:
    """Whether documents of a design whose lengths are in `unit` say inches beside the millimetres."""
    return unit in ("in", "ft")


def inches_up(length_mm: float) -> str:
    """A length to cut as inches and sixteenths, rounded up so that the wire is never shorter: 565 mm is `22 1/4`."""
    # A hair above a sixteenth is rounding of the arithmetic, not length.
    whole = Fraction(math.ceil(length_mm / MM_PER_INCH * SIXTEENTHS - 1e-6), SIXTEENTHS)
    inches, part = divmod(whole, 1)
    if not part:
        return str(inches)
    return f"{inches} {part}" if inches else str(part)


def inches_text(length_mm: float) -> str:
    """A length in inches: a fraction where it is a whole number of sixty-fourths (`4 1/4`), else two decimals."""
    if not _is_fraction(length_mm):
        return plain_number(length_mm / MM_PER_INCH, 2)
    whole, part = divmod(Fraction(round(length_mm / MM_PER_INCH * _FINEST), _FINEST), 1)
    return (f"{whole} {part}" if whole else str(part)) if part else str(whole)


def _is_fraction(length_mm: float) -> bool:
    inches = length_mm / MM_PER_INCH
    return abs(inches - round(inches * _FINEST) / _FINEST) <= _EXACT_IN


def _in_mm(length_mm: float) -> str:
    """The millimetres of a length that no rule in inches has a mark for."""
    return "" if _is_fraction(length_mm) else f"[{plain_number(length_mm, 1)}]"


def length_words(length_mm: float, unit: str) -> str:
    """A length as a drawing or a table says it: `108`, or in a design in inches or feet `4 1/4`, `4.41 [112]`."""
    if not in_inches(unit):
        return plain_number(length_mm, 1)
    return f"{inches_text(length_mm)} {_in_mm(length_mm)}".strip()


def length_with_unit(length_mm: float, unit: str) -> str:
    """The same with its unit, for a text: `108 mm`, `4 1/4 in`, `4.41 in [112 mm]`."""
    plain = f"{plain_number(length_mm, 1)} mm"
    if not in_inches(unit):
        return plain
    return f"{inches_text(length_mm)} in" + ("" if _is_fraction(length_mm) else f" [{plain}]")


def dimension_words(length_mm: float, build: Quantity | None, unit: str) -> str:
    """A length with the tolerance to build it to: `108 +10/-0`, `4 1/4 +1/4/-0`, `4.41 +0.12/-0 [112]`."""
    own = build or Quantity(0.0)
    if not in_inches(unit):
        return f"{plain_number(length_mm, 1)} {tolerance_text(own)}".strip()
    plus, minus = inches_text(own.plus), inches_text(own.minus)
    tolerance = f"+/- {plus}" if own.plus == own.minus else f"+{plus}/-{minus}"
    words = (inches_text(length_mm), tolerance if own.plus or own.minus else "", _in_mm(length_mm))
    return " ".join(word for word in words if word)
