"""Cuts of one wire and the stock that they can come from, and a plan of who comes from where.

Lengths are whole micrometres, so that sums are exact.
"""

from dataclasses import dataclass
from enum import Enum
from functools import cached_property

NOTHING = 1e-9
"""Counted values closer together than this are the same."""


class Goal(Enum):
    """What is kept as low as can be; stock that does not count is used up first."""

    TAKEN = "longest stock taken"
    """The shelf suffices: how many pieces of its longest stock are cut into. What is shorter is used first."""
    BOUGHT = "cost of new stock"
    """The shelf does not suffice, and new spools can be had: what they cost. The shelf is used first."""
    METRES = "length to buy"
    """The shelf does not suffice, and nothing says what can be had: metres to buy. The shelf is used first."""


@dataclass(frozen=True, slots=True)
class Bar:
    """Pieces of stock of one length. `most` is how many there are, None for as many as one likes; `weight` what one
    counts by the goal, 0 where it does not count.
    """

    length_um: int
    most: int | None
    weight: float = 0.0


@dataclass(frozen=True)
class CuttingProblem:
    """Cuts to be had from bars. `by_the_metre` says that a cut can be bought by itself, counting its length in um."""

    cuts_um: tuple[int, ...]
    bars: tuple[Bar, ...]
    by_the_metre: bool = False
    tail_um: int = 0
    """Shortest end that is worth keeping."""

    @cached_property
    def demand(self) -> dict[int, int]:
        """How many cuts of each length, the longest first."""
        counts: dict[int, int] = {}
        for cut in sorted(self.cuts_um, reverse=True):
            counts[cut] = counts.get(cut, 0) + 1
        return counts

    @property
    def longest_um(self) -> int:
        """Length of the longest bar; 0 where there is none."""
        return max((bar.length_um for bar in self.bars), default=0)

    @property
    def free_um(self) -> int:
        """Length of all bars that do not count."""
        return sum(bar.length_um * (bar.most or 0) for bar in self.bars if not bar.weight)


@dataclass(frozen=True, slots=True)
class Used:
    """One bar that is cut into: which kind of the problem's bars, and the cuts, the longest first."""

    bar: int
    cuts_um: tuple[int, ...]


@dataclass(frozen=True)
class Packing:
    """Bars with their cuts, and cuts that are bought by the metre."""

    problem: CuttingProblem
    used: tuple[Used, ...]
    loose_um: tuple[int, ...] = ()

    @cached_property
    def value(self) -> float:
        """What counts by the goal."""
        counted = sum(self.problem.bars[each.bar].weight for each in self.used)
        return counted + sum(self.loose_um)

    @cached_property
    def left_over(self) -> int:
        """Sum of the squares of all ends worth keeping, untouched stock on the shelf included: one long end is worth
        more than two short ones of the same length together.
        """
        problem = self.problem
        square = sum(self.tail_um(each) ** 2 for each in self.used if self.tail_um(each) >= problem.tail_um)
        untouched = {index: bar.most or 0 for index, bar in enumerate(problem.bars)}
        for each in self.used:
            untouched[each.bar] -= 1
        return square + sum(
            max(count, 0) * problem.bars[index].length_um ** 2
            for index, count in untouched.items()
            if problem.bars[index].most is not None
        )

    def tail_um(self, used: Used) -> int:
        """What is left of a bar after its cuts."""
        return self.problem.bars[used.bar].length_um - sum(used.cuts_um)

    @property
    def rank(self) -> tuple[float, int]:
        """Better packings have a lower rank: by what counts, then by what is left over."""
        return (round(self.value / NOTHING) * NOTHING, -self.left_over)
