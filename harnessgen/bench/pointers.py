"""What a reading that does not come out points to, in a line for each class of fault."""

from collections.abc import Iterable, Iterator, Mapping, Sequence

import numpy as np

from harnessgen.bench.faults.bits import places_of
from harnessgen.bench.faults.fault import FaultKind, HarnessFault
from harnessgen.measures.designator import natural_key
from harnessgen.physics.nodal.elements import Ints

_MOST_SUBJECTS = 6
_MOST_CLASSES = 5
_OPENS = (FaultKind.WIRE_OPEN, FaultKind.TERMINAL_OPEN, FaultKind.SPLICE_LEG_OPEN)
_NAMES = {kind.value: "open" if kind in _OPENS else kind.value for kind in FaultKind}
"""An open wire, terminal and splice leg read alike, so they share a line."""


class Pointing:
    """What steps point to among these faults, by the places of the faults.

    Class and subject of a fault are one number, so that the suspects of a step are flags in a row: thousands of faults
    of a step, and thousands of steps, take no sorting.
    """

    def __init__(self, faults: Sequence[HarnessFault], rank: Mapping[str, int]) -> None:
        """Number the classes as they come, and in each the subjects in their natural order, which is that of `rank`."""
        subjects = list(rank)
        number: dict[str, int] = {}
        classes = [number.setdefault(_NAMES[fault.kind.value], len(number)) for fault in faults]
        self._class_at = np.array(classes, dtype=np.intp)
        self.classes = tuple(number)
        ranks = np.array([rank[fault.subject] for fault in faults], dtype=np.intp)
        codes, self._suspect_at = np.unique(self._class_at * len(subjects) + ranks, return_inverse=True)
        self.subjects = [subjects[each] for each in codes % max(1, len(subjects))]
        """The subject of each suspect."""
        self._starts = np.searchsorted(codes, np.arange(len(number) + 1) * len(subjects))
        """The first suspect of each class, and how many suspects there are."""

    def lines(self, shown: Mapping[int, Sequence[int]]) -> list[tuple[str, ...]]:
        """For each step, by its bit, what it points to; `shown` has the places of the faults by the steps' bits.

        One line for each class, the class with the fewest suspects first; a long list ends with how many more there
        are.
        """
        groups = [np.array(places, dtype=np.intp) for places in shown.values()]
        suspects = [self._suspect_at[places] for places in groups]
        first = self._first(groups)
        at, bits = places_of(list(shown))
        order = np.argsort(bits, kind="stable")
        flags = np.zeros(len(self.subjects), dtype=np.bool_)
        lines = []
        for part in np.split(at[order], np.cumsum(np.bincount(bits)))[:-1]:
            for group in part:
                flags[suspects[group]] = True
            found = np.flatnonzero(flags)
            flags[found] = False
            lines.append(self._lines(found, first[part].min(axis=0)))
        return lines

    def _first(self, groups: Sequence[Ints]) -> Ints:
        """The place of the first fault of each class, a row for each group; past the last where it has none."""
        first = np.full((len(groups), len(self.classes)), len(self._class_at), dtype=np.intp)
        places = np.concatenate(groups)
        rows = np.repeat(np.arange(len(groups)), [len(each) for each in groups])
        np.minimum.at(first, (rows, self._class_at[places]), places)
        return first

    def _lines(self, found: Ints, first: Ints) -> tuple[str, ...]:
        ends = np.searchsorted(found, self._starts)
        counts = np.diff(ends)
        # Among classes with as many suspects, the one that comes first in the list of faults.
        met = sorted(np.flatnonzero(counts).tolist(), key=lambda each: (counts[each], first[each]))
        lines = tuple(self._line(each, found[ends[each] : ends[each + 1]]) for each in met[:_MOST_CLASSES])
        rest = [self.classes[each] for each in met[_MOST_CLASSES:]]
        return (*lines, f"or {', '.join(rest)}") if rest else lines

    def _line(self, kind: int, suspects: Ints) -> str:
        more = len(suspects) - _MOST_SUBJECTS
        shown = ", ".join(self.subjects[each] for each in suspects[:_MOST_SUBJECTS])
        return f"{self.classes[kind]}: {shown}" + (f" and {more} more" if more > 0 else "")


def unseen_lines(faults: Iterable[HarnessFault]) -> Iterator[str]:
    """Faults that nothing shows, class by class, each with its gravest consequence."""
    groups: dict[tuple[FaultKind, str], dict[str, None]] = {}
    for fault in faults:
        groups.setdefault((fault.kind, fault.consequence.value), {})[fault.subject] = None
    for (kind, consequence), names in groups.items():
        ordered = sorted(names, key=natural_key)
        more = len(ordered) - 2 * _MOST_SUBJECTS
        shown = ", ".join(ordered[: 2 * _MOST_SUBJECTS]) + (f" and {more} more" if more > 0 else "")
        yield f"{kind.value} ({consequence}): {shown}"
