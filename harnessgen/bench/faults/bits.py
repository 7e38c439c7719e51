"""Sets of small numbers as the bits of a whole number: a step, a net or a stretch is a bit."""

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from harnessgen.physics.nodal.elements import Ints

_AT_ONCE_BYTES = 1 << 24
"""Bytes of bits that are laid out at once."""


def bits_of(number: int) -> Iterator[int]:
    """Places of the bits that are set, the lowest first."""
    while number:
        lowest = number & -number
        yield lowest.bit_length() - 1
        number ^= lowest


def places_of(numbers: Sequence[int]) -> tuple[Ints, Ints]:
    """Every set bit of many numbers: the place of its number, ascending, and its own place in that, ascending."""
    size = _size(numbers)
    found = []
    for start, held in _laid_out(numbers, size):
        rows, at = np.nonzero(held)
        # Most bytes are empty.
        which, bits = np.nonzero(np.unpackbits(held[rows, at][:, None], axis=1, bitorder="little"))
        found.append((rows[which] + start, at[which] * 8 + bits))
    if not found:
        return np.zeros(0, dtype=np.intp), np.zeros(0, dtype=np.intp)
    return np.concatenate([rows for rows, _ in found]), np.concatenate([bits for _, bits in found])


def taken(numbers: Sequence[int], bits: Sequence[int]) -> list[int]:
    """Of each number these bits alone, moved together: the first of `bits` becomes bit 0, and so on."""
    wanted = np.array(bits, dtype=np.intp)
    found = []
    for _, held in _laid_out(numbers, max(_size(numbers), 1 + max(bits, default=0) // 8)):
        picked = held[:, wanted >> 3] >> (wanted & 7).astype(np.uint8) & 1
        packed = np.packbits(picked, axis=1, bitorder="little")
        found += [int.from_bytes(row.tobytes(), "little") for row in packed]
    return found


def _size(numbers: Sequence[int]) -> int:
    return (max((each.bit_length() for each in numbers), default=0) + 7) // 8


def _laid_out(numbers: Sequence[int], size: int) -> Iterator[tuple[int, NDArray[np.uint8]]]:
    """The numbers as rows of so many bytes, the lowest first, some at a time; before them the place of the first."""
    step = max(1, _AT_ONCE_BYTES // max(1, size))
    for start in range(0, len(numbers), step):
        part = numbers[start : start + step]
        held = np.frombuffer(b"".join(each.to_bytes(size, "little") for each in part), dtype=np.uint8)
        yield start, held.reshape(len(part), size)
