"""Work on as many cores as there are."""

import os
from collections.abc import Callable, Sequence
from typing import Any, TypeVar

from harnessgen.measures.work import one_by_one

_T = TypeVar("_T")
_R = TypeVar("_R")

_MOST_CORES = 4
"""Each takes its own memory."""

_work: list[tuple[Callable[[Any], Any], Sequence[Any]]] = []
"""What is being worked on: the copies find it here, so that nothing has to be packed up for them."""


def on_cores(task: Callable[[_T], _R], items: Sequence[_T]) -> list[_R]:
    """What a task makes of each item, in their order, as many at a time as there are cores.

    The items are begun in their order, so the longest should come first. A task works on a copy of the program as it
    is now: what it changes is lost, only its result comes back. Where a program cannot be copied, it does all itself.
    """
    import multiprocessing
    from concurrent.futures import ProcessPoolExecutor

    count = min(len(items), _cores(), _MOST_CORES)
    if count < 2 or "fork" not in multiprocessing.get_all_start_methods():
        return one_by_one(task, items)
    _work.append((task, items))
    try:
        with ProcessPoolExecutor(count, multiprocessing.get_context("fork")) as pool:
            return list(pool.map(_one, range(len(items))))
    finally:
        _work.pop()


def _cores() -> int:
    """Cores that this program may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def _one(place: int) -> Any:
    task, items = _work[-1]
    return task(items[place])
