"""Sets of small numbers as the bits of a whole number: a step, a net or a stretch is a bit."""

from collections.abc import Iterator


def bits_of(number: int) -> Iterator[int]:
    """Places of the bits that are set, the lowest first."""
    while number:
        lowest = number & -number
        yield lowest.bit_length() - 1
        number ^= lowest
