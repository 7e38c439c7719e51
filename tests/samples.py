"""How many samples a test takes: a few of each kind by default, every one with `--long`, as `.ci/long` asks for.

What is checked is the same either way. A test of one kind that is dear as a whole is marked `long` itself.
"""

from collections.abc import Iterable, Sequence
from typing import Any, TypeVar

import pytest

_T = TypeVar("_T")

is_long = False
"""Whether everything is run; set by `conftest.py` before any test is read."""


def some(every: Iterable[Any], kept: int | Sequence[Any]) -> list[Any]:
    """Parameters of a test; those that are not kept are marked long.

    `kept` is how many are kept, spread from the first to the last, or which.
    """
    values = list(every)
    few = [values[place] for place in _spread(len(values), kept)] if isinstance(kept, int) else kept
    return [
        each if each in few else pytest.param(*(each if isinstance(each, tuple) else (each,)), marks=pytest.mark.long)
        for each in values
    ]


def sample(every: Sequence[_T], few: int) -> list[_T]:
    """Values of a loop within one test: `few` of them, spread from the first to the last, or every one."""
    return list(every) if is_long else [every[place] for place in _spread(len(every), few)]


def examples(every: int) -> int:
    """How many examples hypothesis tries: a quarter of them by default, and no fewer than ten."""
    return every if is_long else max(10, every // 4)


def _spread(count: int, few: int) -> list[int]:
    """So many places out of a number of them, evenly spread, the first and the last among them."""
    if few >= count:
        return list(range(count))
    return [0] if few == 1 else [round(place * (count - 1) / (few - 1)) for place in range(few)]
