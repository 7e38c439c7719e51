"""The least effort that shows every fault which any step can show: a set cover with a fixed cost for each setup.

What the reductions leave (see `cover`) falls into parts. A part of moderate size is solved as a whole-number program by
HiGHS (in scipy); for a larger one, and where the search does not come to an end in its nodes, the greedy cover stands
(Chvatal, A greedy heuristic for the set-covering problem, Mathematics of Operations Research 4, 1979), and the gap to
the proved bound is stated.
"""

from collections.abc import Iterable, Mapping

from harnessgen.bench.selection.set_cover import Candidate, Cover, CoverPart
from harnessgen.bench.selection.set_cover_solution import solved
from harnessgen.measures.frozen import frozen

_HAIR = 1e-6


@frozen
class Chosen:
    """The bits of the steps chosen, their effort with that of their setups, and the least effort proved possible."""

    steps: int
    seconds: float
    bound_seconds: float

    @property
    def gap(self) -> float:
        """How far the effort may lie above the least, as a share."""
        return 0.0 if self.seconds <= self.bound_seconds + _HAIR else self.seconds / self.bound_seconds - 1.0


def choose(candidates: Mapping[int, Candidate], rows: Iterable[int], setup_seconds: Mapping[int, float]) -> Chosen:
    """The cheapest candidates, by their bits, that together show every row; a row is the bits of those that show it.

    A row without any bit cannot be shown, and is left out.
    """
    rows = [row for row in dict.fromkeys(rows) if row]
    cover = Cover(candidates, rows, setup_seconds)
    chosen, bound = set(cover.forced), cover.forced_seconds if rows else 0.0
    # Banks that are alike leave parts that are alike.
    answers: dict[CoverPart, tuple[list[int], float]] = {}
    for steps, part in cover.parts():
        if part not in answers:
            answers[part] = solved(part)
        places, least = answers[part]
        chosen |= {steps[place] for place in places}
        bound += least
    setups = {candidates[step].setup for step in chosen}
    seconds = sum(candidates[step].seconds for step in sorted(chosen))
    seconds += sum(setup_seconds[setup] for setup in sorted(setups))
    return Chosen(sum(1 << step for step in chosen), seconds, min(bound, seconds))
