"""Slips of the hand: how likely a text was meant to be another, where one single slip lies between them."""

from collections.abc import Iterable

_LOOK_ALIKE = str.maketrans("oil", "011")
"""Letters that are read as digits."""

_ROWS = ("qwertyuiop", "asdfghjkl", "zxcvbnm")
_BESIDE = {frozenset(row[at : at + 2]) for row in _ROWS for at in range(len(row) - 1)}
"""Letters that lie beside each other on a keyboard."""

LIKELY = 0.7
"""A slip up to here is one even between names of two characters."""


def slip(typed: str, meant: str) -> float | None:
    """How far apart two texts are that one slip parts, from 0 (other capitals) to 1.2; None where it takes more.

    Letters like digits come next, then lost or other separators, a plural, a letter twice, two exchanged, the key
    beside, one letter too many or too few, and another letter.
    """
    one, other = typed.casefold(), meant.casefold()
    if one == other:
        return 0.0
    if one.translate(_LOOK_ALIKE) == other.translate(_LOOK_ALIKE):
        return 0.2
    if _bare(one) == _bare(other):
        return 0.3
    if any(long == short + ending for ending in ("s", "es") for long, short in ((one, other), (other, one))):
        return 0.4 if len(one) > 1 else None
    return _single(one, other)


def _single(one: str, other: str) -> float | None:
    start = 0
    while start < min(len(one), len(other)) and one[start] == other[start]:
        start += 1
    end = 0
    while end < min(len(one), len(other)) - start and one[-1 - end] == other[-1 - end]:
        end += 1
    left, right = one[start : len(one) - end], other[start : len(other) - end]
    if len(left) + len(right) == 1:
        longer, single = (one, left) if left else (other, right)
        beside = longer[max(start - 1, 0) : start] + longer[start + 1 : start + 2]
        return 0.5 if single in beside else 1.0
    if len(left) == 2 and left == right[::-1]:
        return 0.5
    if len(left) == len(right) == 1:
        is_near = one.isalpha() and other.isalpha() and frozenset((left, right)) in _BESIDE
        return 0.6 if is_near else 1.2
    return None


def likeliest(typed: str, known: Iterable[str], most: float = LIKELY) -> str | None:
    """Of `known` the text that one slip of at most `most` makes `typed`; the likeliest, and the first of several."""
    found = [(each, distance) for each in known if (distance := slip(typed, each)) is not None and distance <= most]
    return min(found, key=lambda each: each[1])[0] if found else None


def _bare(text: str) -> str:
    return "".join(each for each in text if each.isalnum())
