"""Lengths to cut in inches, for a shop that works in them."""

import math
from fractions import Fraction

MM_PER_INCH = 25.4
SIXTEENTHS = 16


def inches_up(length_mm: float) -> str:
    """A length to cut as inches and sixteenths, rounded up so that the wire is never shorter: 565 mm is `22 1/4`."""
    # A hair above a sixteenth is rounding of the arithmetic, not length.
    whole = Fraction(math.ceil(length_mm / MM_PER_INCH * SIXTEENTHS - 1e-6), SIXTEENTHS)
    inches, part = divmod(whole, 1)
    if not part:
        return str(inches)
    return f"{inches} {part}" if inches else str(part)
