"""Work in independent pieces, and how it is shared out: only the edge of the program can take more cores."""

from collections.abc import Callable, Sequence
from typing import Protocol, TypeVar

_T = TypeVar("_T")
_R = TypeVar("_R")


class Work(Protocol):
    """How a task is done for each of many items, the longest first: one after the other, or side by side."""

    def __call__(self, task: Callable[[_T], _R], items: Sequence[_T]) -> list[_R]:
        """What the task makes of each item, in their order."""


def one_by_one(task: Callable[[_T], _R], items: Sequence[_T]) -> list[_R]:
    """What a task makes of each item, one after the other."""
    return [task(each) for each in items]
