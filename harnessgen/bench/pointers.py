"""What a reading that does not come out points to, in a line for each class of fault."""

from collections.abc import Iterable, Iterator, Mapping, Sequence

import numpy as np

from harnessgen.bench.bits import places_of
from harnessgen.bench.fault import Fault, FaultKind
from harnessgen.measures.designator import natural_key
from harnessgen.physics.nodal_elements import Ints

_MOST_SUBJECTS = 6
_MOST_CLASSES = 5
_OPENS = dict.fromkeys((FaultKind.WIRE_OPEN, FaultKind.TERMINAL_OPEN, FaultKind.SPLICE_LEG_OPEN), "open")
"""An open wire, terminal and splice leg read alike, so they share a line."""


class Pointing:
    """What steps point to among these faults, by the places of the faults.

    The class and the subject of a fault are one number, so that what thousands of faults point to is sorted at once.
    """

    def __init__(self, faults: Sequence[Fault]) -> None:
        """Number the classes as they come, and the subjects in their natural order."""
        self.subjects = sorted({fault.subject for fault in faults}, key=natural_key)
        rank = {subject: place for place, subject in enumerate(self.subjects)}
        number: dict[str, int] = {}
        classes = [number.setdefault(_OPENS.get(fault.kind, fault.kind.value), len(number)) for fault in faults]
        self.classes = tuple(number)
        ranks = np.array([rank[fault.subject] for fault in faults], dtype=np.intp)
        self._codes = np.array(classes, dtype=np.intp) * len(self.subjects) + ranks

    def lines(self, shown: Mapping[int, Sequence[int]]) -> list[tuple[str, ...]]:
        """For each step, by its bit, what it points to; `shown` has the places of the faults by the steps' bits.

        One line for each class, the class with the fewest suspects first; a long list ends with how many more there
        are.
        """
        groups = [self._suspects(np.array(sorted(places), dtype=np.intp)) for places in shown.values()]
        at, bits = places_of(list(shown))
        order = np.argsort(bits, kind="stable")
        ends = np.cumsum(np.bincount(bits))
        return [self._lines([groups[each] for each in part]) for part in np.split(at[order], ends)[:-1]]

    def _suspects(self, places: Ints) -> tuple[Ints, Ints]:
        """Numbers of class and subject, each once, with the place of the first fault that has it."""
        codes, first = np.unique(self._codes[places], return_index=True)
        return codes, places[first]

    def _lines(self, groups: Sequence[tuple[Ints, Ints]]) -> tuple[str, ...]:
        together = np.concatenate([codes for codes, _ in groups])
        # Among classes with as many suspects, the one that comes first in the list of faults.
        first = np.full(len(self.classes), len(self._codes), dtype=np.intp)
        np.minimum.at(first, together // len(self.subjects), np.concatenate([places for _, places in groups]))
        found, ranks = np.divmod(np.unique(together), len(self.subjects))
        counts = np.bincount(found, minlength=len(self.classes))
        starts = np.cumsum(counts) - counts
        met = sorted(np.flatnonzero(counts), key=lambda each: (counts[each], first[each]))
        lines = tuple(
            self._line(int(each), ranks[starts[each] : starts[each] + counts[each]]) for each in met[:_MOST_CLASSES]
        )
        rest = [self.classes[each] for each in met[_MOST_CLASSES:]]
        return (*lines, f"or {', '.join(rest)}") if rest else lines

    def _line(self, kind: int, ranks: Ints) -> str:
        more = len(ranks) - _MOST_SUBJECTS
        shown = ", ".join(self.subjects[rank] for rank in ranks[:_MOST_SUBJECTS])
        return f"{self.classes[kind]}: {shown}" + (f" and {more} more" if more > 0 else "")


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
