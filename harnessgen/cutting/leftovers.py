"""Shift and exchange cuts between bars, so that one long end is left over rather than several short ones."""

from collections.abc import Iterator
from dataclasses import dataclass

from harnessgen.cutting.problem import Packing, Used

_MOST_PASSES = 12
_MOST_TRIES = 1_500_000
"""Shifts and exchanges that are looked at."""
_MOST_SPARE = 40
"""Untouched bars that are looked at."""


@dataclass(slots=True)
class _Bin:
    bar: int
    cuts: list[int]
    room: int


def with_longer_ends(packing: Packing) -> Packing:
    """The packing with its ends gathered as far as shifting or exchanging cuts by ones does it.

    It never counts more than before. Shorter stock that lies untouched is used up where that leaves longer stock whole.
    """
    return _Gatherer(packing).run()


class _Gatherer:
    def __init__(self, packing: Packing) -> None:
        self.packing = packing
        self.tail = packing.problem.tail_um
        self.tries = 0
        bars = packing.problem.bars
        self.bins = [_Bin(used.bar, list(used.cuts_um), packing.tail_um(used)) for used in packing.used]
        for index, bar in enumerate(bars):
            taken = sum(1 for used in packing.used if used.bar == index)
            if not bar.weight and bar.most is not None:
                self.bins += [_Bin(index, [], bar.length_um) for _ in range(min(bar.most - taken, _MOST_SPARE))]

    def run(self) -> Packing:
        for _ in range(_MOST_PASSES):
            if not self._pass() or self.tries > _MOST_TRIES:
                break
        used = tuple(Used(each.bar, tuple(sorted(each.cuts, reverse=True))) for each in self.bins if each.cuts)
        return Packing(self.packing.problem, used, self.packing.loose_um)

    def _pass(self) -> bool:
        """One look at every pair of bars; True when something was changed."""
        changed = False
        for one, other in self._pairs():
            while self.tries <= _MOST_TRIES and (self._shift(one, other) or self._exchange(one, other)):
                changed = True
        return changed

    def _pairs(self) -> Iterator[tuple[_Bin, _Bin]]:
        for one in self.bins:
            for other in self.bins:
                if one is not other and (one.cuts or other.cuts):
                    yield one, other

    def _worth(self, room: int) -> int:
        return room * room if room >= self.tail else 0

    def _gain(self, one: _Bin, other: _Bin, moved: int) -> int:
        """What the two ends are worth more once `moved` of length has gone from one bar to the other."""
        self.tries += 1
        after = self._worth(one.room + moved) + self._worth(other.room - moved)
        return after - self._worth(one.room) - self._worth(other.room)

    def _shift(self, one: _Bin, other: _Bin) -> bool:
        for cut in one.cuts:
            if cut <= other.room and self._gain(one, other, cut) > 0:
                self._move(one, other, cut)
                return True
        return False

    def _exchange(self, one: _Bin, other: _Bin) -> bool:
        """A longer cut of one bar against a shorter one of the other."""
        for longer in dict.fromkeys(one.cuts):
            for shorter in dict.fromkeys(other.cuts):
                more = longer - shorter
                if 0 < more <= other.room and self._gain(one, other, more) > 0:
                    self._move(one, other, longer)
                    self._move(other, one, shorter)
                    return True
        return False

    @staticmethod
    def _move(one: _Bin, other: _Bin, cut: int) -> None:
        one.cuts.remove(cut)
        one.room += cut
        other.cuts.append(cut)
        other.room -= cut
