"""What a reading that does not come out points to, in a line for each class of fault."""

from collections.abc import Iterable, Iterator

from harnessgen.bench.fault import Fault, FaultKind
from harnessgen.measures.designator import natural_key

_MOST_SUBJECTS = 6
_MOST_CLASSES = 5


def pointers(faults: Iterable[Fault]) -> tuple[str, ...]:
    """One line for each class, the class with the fewest suspects first; a long list ends with how many more there are.

    An open wire, terminal and splice leg read alike, so they share a line.
    """
    suspects: dict[str, dict[str, None]] = {}
    for fault in faults:
        suspects.setdefault(_OPENS.get(fault.kind, fault.kind.value), {})[fault.subject] = None
    ordered = sorted(suspects.items(), key=lambda item: len(item[1]))
    lines = tuple(_line(kind, tuple(sorted(names, key=natural_key))) for kind, names in ordered[:_MOST_CLASSES])
    rest = [kind for kind, _ in ordered[_MOST_CLASSES:]]
    return (*lines, f"or {', '.join(rest)}") if rest else lines


_OPENS = dict.fromkeys((FaultKind.WIRE_OPEN, FaultKind.TERMINAL_OPEN, FaultKind.SPLICE_LEG_OPEN), "open")


def _line(kind: str, names: tuple[str, ...]) -> str:
    more = len(names) - _MOST_SUBJECTS
    shown = names[:_MOST_SUBJECTS]
    return f"{kind}: {', '.join(shown)}" + (f" and {more} more" if more > 0 else "")


def unseen_lines(faults: Iterable[Fault]) -> Iterator[str]:
    """Faults that nothing shows, class by class, each with its gravest consequence."""
    groups: dict[tuple[FaultKind, str], dict[str, None]] = {}
    for fault in faults:
        groups.setdefault((fault.kind, fault.consequence.value), {})[fault.subject] = None
    for (kind, consequence), names in groups.items():
        ordered = sorted(names, key=natural_key)
        more = len(ordered) - 2 * _MOST_SUBJECTS
        shown = ", ".join(ordered[: 2 * _MOST_SUBJECTS]) + (f" and {more} more" if more > 0 else "")
        yield f"{kind.value} ({consequence}): {shown}"
