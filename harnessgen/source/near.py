"""The nearest known name, for 'did you mean'."""

from collections.abc import Collection, Iterable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from difflib import get_close_matches
from itertools import islice

from harnessgen.measures.slips import likeliest

_MOST_COMPARED = 200_000
_left: ContextVar[int | None] = ContextVar("names that may still be compared", default=None)


@contextmanager
def bounded_search(most: int = _MOST_COMPARED) -> Iterator[None]:
    """Within it, near names are sought until `most` names were compared: some seconds, whatever a file holds.

    What is sought later has no near name. Only files with thousands of wrong names come so far.
    """
    former = _left.set(most)
    try:
        yield
    finally:
        _left.reset(former)


def may_search(count: int) -> bool:
    """Whether `count` more names may be compared; these are taken off."""
    left = _left.get()
    if left is None:
        return True
    _left.set(left - count)
    return left >= count


def nearest(name: str, known: Iterable[str]) -> str | None:
    """The known name that `name` most likely was meant to be, or None when nothing is near."""
    names = known if isinstance(known, Collection) else list(known)
    if not may_search(len(names)):
        return None
    slipped = likeliest(name, names)
    if slipped is not None:
        return slipped
    tails = [each for each in names if len(name) <= 2 and each.casefold().endswith(name.casefold()) and name]
    if len(tails) == 1:
        return tails[0]
    found = get_close_matches(name, names, n=1, cutoff=0.6)
    return found[0] if found else None


def did_you_mean(name: str, known: Iterable[str], listed: int = 12) -> str:
    """A mend line: the nearest known name, else the known names if they are few."""
    names = known if isinstance(known, Collection) else list(known)
    near = nearest(name, names)
    if near is not None:
        return f"did you mean {near}?"
    if not names:
        return ""
    more = f" and {len(names) - listed} more" if len(names) > listed else ""
    return "known: " + ", ".join(islice(names, listed)) + more
