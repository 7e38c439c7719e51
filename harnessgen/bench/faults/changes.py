"""Many changes in a row, and those that bring two places together as arrays: by far the most are of that kind."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import overload

import numpy as np

from harnessgen.bench.faults.fault import TOUCH_OHM, Alteration, Change, Meets, Spot
from harnessgen.measures.frozen import frozen
from harnessgen.physics.nodal.elements import Floats, Ints


@frozen
class Meetings:
    """Where two places touch: the row of each change, its two places by their numbers in `spots`, and the ohms."""

    row: Ints
    one: Ints
    other: Ints
    ohm: Floats
    spots: Sequence[Spot]

    def ends(self, number_of: Sequence[int]) -> tuple[Ints, Ints]:
        """Both places of each, by a number for each of `spots`."""
        numbers = np.array(number_of, dtype=np.intp)
        return numbers[self.one], numbers[self.other]


@dataclass(frozen=True, eq=False)
class Changes(Sequence[Change]):
    """Changes, each told by its row."""

    each: Sequence[Change]

    def __len__(self) -> int:
        """Number of changes."""
        return len(self.each)

    @overload
    def __getitem__(self, row: int) -> Change: ...

    @overload
    def __getitem__(self, row: slice) -> Sequence[Change]: ...

    def __getitem__(self, row: int | slice) -> Change | Sequence[Change]:
        """The change of a row, or those of some."""
        return self.each[row]

    @cached_property
    def meetings(self) -> Meetings:
        """The changes that bring two places together."""
        number: dict[tuple[str, int], int] = {}
        rows: list[int] = []
        ends: tuple[list[int], list[int]] = [], []
        ohms: list[float] = []
        for row, change in enumerate(self.each):
            if isinstance(change, Meets):
                rows.append(row)
                ohms.append(change.ohm)
                for own, spot in zip(ends, (change.one, change.other), strict=True):
                    own.append(number.setdefault((spot.mark, spot.end), len(number)))
        spots = [Spot(*each) for each in number]
        ohm = np.maximum(np.array(ohms, dtype=np.float64), TOUCH_OHM)
        integers = [np.array(each, dtype=np.intp) for each in (rows, *ends)]
        return Meetings(integers[0], integers[1], integers[2], ohm, spots)

    @cached_property
    def others(self) -> Mapping[int, Alteration]:
        """All other changes, by row."""
        return {row: change for row, change in enumerate(self.each) if not isinstance(change, Meets)}
