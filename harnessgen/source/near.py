"""The nearest known name, for 'did you mean'."""

from collections.abc import Iterable
from difflib import get_close_matches

_LOOK_ALIKE = str.maketrans("oil", "011")
"""Letters that are read as digits."""


def nearest(name: str, known: Iterable[str]) -> str | None:
    """The known name that `name` most likely was meant to be, or None when nothing is near."""
    names = list(known)
    for each in names:
        if each.casefold() == name.casefold():
            return each
    for each in names:
        if each.casefold().translate(_LOOK_ALIKE) == name.casefold().translate(_LOOK_ALIKE):
            return each
    found = get_close_matches(name, names, n=1, cutoff=0.6)
    return found[0] if found else None


def did_you_mean(name: str, known: Iterable[str], listed: int = 12) -> str:
    """A mend line: the nearest known name, else the known names if they are few."""
    names = list(known)
    near = nearest(name, names)
    if near is not None:
        return f"did you mean {near}?"
    if not names:
        return ""
    more = f" and {len(names) - listed} more" if len(names) > listed else ""
    return "known: " + ", ".join(names[:listed]) + more
