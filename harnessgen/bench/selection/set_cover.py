"""A set cover made smaller before it is solved, without losing its least cost.

What only one step shows forces that step; what holds all steps of another row is shown with it; a step that another one
replaces at no more cost is not needed. These are the classical reductions (R. S. Garfinkel, G. L. Nemhauser, Integer
Programming, Wiley 1972, chapter 8; J. E. Beasley, An algorithm for set covering problem, European Journal of
Operational Research 31, 1987; both from memory). With the fixed costs of setups: only a step of the same setup, or of
one that is paid for in any case, replaces another; and a row all of whose steps share a setup pays for that setup.
"""

from collections import deque
from collections.abc import Iterable, Mapping
from itertools import chain

from harnessgen.bench.faults.bits import bits_of, places_of
from harnessgen.measures.frozen import frozen


@frozen
class Candidate:
    """A step to choose from: the setup that it needs, and its seconds without that."""

    setup: int
    seconds: float


@frozen
class CoverPart:
    """A part of a cover that shares nothing with the others: rows of places in `steps`, and the steps themselves.

    `fees` are the seconds of the setups that are not paid for yet.
    """

    rows: tuple[tuple[int, ...], ...]
    steps: tuple[Candidate, ...]
    fees: tuple[tuple[int, float], ...]

    def effort(self, chosen: Iterable[int]) -> float:
        """Seconds of steps by their places, with the setups that are not paid for yet."""
        steps = [self.steps[place] for place in chosen]
        setups = {each.setup for each in steps}
        return sum(each.seconds for each in steps) + sum(fee for setup, fee in self.fees if setup in setups)


class Cover:
    """What is left of a cover: `rows` with the steps that show them, `shows` with the rows of each step.

    `forced` are the steps that every cheapest choice can have, `paid` the setups that it pays for or that cost nothing.
    """

    def __init__(
        self, candidates: Mapping[int, Candidate], rows: Iterable[int], setup_seconds: Mapping[int, float]
    ) -> None:
        """Make the cover of rows, each the bits of the candidates that show it, as small as it gets."""
        self.candidates = candidates
        self.setup_seconds = setup_seconds
        distinct = dict.fromkeys(rows)
        sole = 0
        for row in distinct:
            if not row & (row - 1):
                sole |= row
        self.forced = set(bits_of(sole))
        self.paid = {setup for setup, seconds in setup_seconds.items() if not seconds}
        self.paid |= {candidates[step].setup for step in self.forced}
        # Most rows fall here, as whole numbers, before any set is made of them.
        numbers, steps = places_of([each for each in distinct if not each & sole])
        self.rows: dict[int, set[int]] = {}
        self.shows: dict[int, set[int]] = {}
        for number, step in zip(numbers.tolist(), steps.tolist(), strict=True):
            self.rows.setdefault(number, set()).add(step)
            self.shows.setdefault(step, set()).add(number)
        self._shrink()

    @property
    def forced_seconds(self) -> float:
        """Effort of the forced steps with all setups that are paid for."""
        fees = sum(self.setup_seconds[setup] for setup in sorted(self.paid))
        return sum(self.candidates[step].seconds for step in sorted(self.forced)) + fees

    def _shrink(self) -> None:
        """Look at every row and step, and again at those that lost something, until none gives way."""
        self._rows_due, self._steps_due = deque(self.rows), deque(sorted(self.shows))
        self._is_due = {*((True, row) for row in self.rows), *((False, step) for step in self.shows)}
        while self._rows_due or self._steps_due:
            if self._rows_due:
                row = self._rows_due.popleft()
                self._is_due.remove((True, row))
                self._look_at_row(row)
            else:
                step = self._steps_due.popleft()
                self._is_due.remove((False, step))
                self._look_at_step(step)

    def _look_at_row(self, number: int) -> None:
        row = self.rows.get(number)
        if row is None:
            return
        setups = {self.candidates[step].setup for step in row}
        if len(setups) == 1:
            self._pay(*setups)
        if len(row) == 1:
            self._force(*row)
            return
        # All rows that hold this one are among those of any of its steps.
        rarest = min(row, key=lambda step: (len(self.shows[step]), step))
        for other in sorted(self.shows[rarest]):
            if other != number and row <= self.rows[other]:
                self._drop_row(other)

    def _look_at_step(self, step: int) -> None:
        shown = self.shows.get(step)
        if shown is None:
            return
        if not shown:
            del self.shows[step]
            return
        rarest = min(shown, key=lambda row: (len(self.rows[row]), row))
        if any(other != step and self._replaces(other, step) for other in self.rows[rarest]):
            self._drop_step(step)

    def _replaces(self, other: int, step: int) -> bool:
        """Whether a step shows all that another does at no more cost; of two that do so for each other, the first."""
        one, its = self.candidates[other], self.candidates[step]
        is_free = one.setup in self.paid
        if one.seconds > its.seconds or not (is_free or one.setup == its.setup):
            return False
        if not self.shows[step] <= self.shows[other]:
            return False
        is_mutual = (
            one.seconds == its.seconds
            and len(self.shows[step]) == len(self.shows[other])
            and (one.setup == its.setup or its.setup in self.paid)
        )
        return other < step or not is_mutual

    def _force(self, step: int) -> None:
        self.forced.add(step)
        for row in sorted(self.shows[step]):
            self._drop_row(row)
        del self.shows[step]

    def _pay(self, setup: int) -> None:
        if setup not in self.paid:
            self.paid.add(setup)
            for step in sorted(self.shows):
                self._call(False, step)

    def _drop_row(self, number: int) -> None:
        for step in sorted(self.rows.pop(number)):
            self.shows[step].discard(number)
            self._call(False, step)

    def _drop_step(self, step: int) -> None:
        for row in sorted(self.shows.pop(step)):
            self.rows[row].discard(step)
            self._call(True, row)

    def _call(self, is_row: bool, number: int) -> None:
        if (is_row, number) not in self._is_due:
            self._is_due.add((is_row, number))
            (self._rows_due if is_row else self._steps_due).append(number)

    def parts(self) -> list[tuple[tuple[int, ...], CoverPart]]:
        """The parts that share neither a row nor a step nor a setup to be paid, each after the steps that it is of."""
        found = []
        for numbers in self._joined():
            rows = [self.rows[number] for number in numbers]
            steps = sorted(set(chain.from_iterable(rows)))
            place = {step: at for at, step in enumerate(steps)}
            setups = sorted({self.candidates[step].setup for step in steps} - self.paid)
            part = CoverPart(
                tuple(sorted(tuple(sorted(place[step] for step in row)) for row in rows)),
                tuple(map(self.candidates.__getitem__, steps)),
                tuple((setup, self.setup_seconds[setup]) for setup in setups),
            )
            found.append((tuple(steps), part))
        return found

    def _joined(self) -> list[list[int]]:
        """Numbers of the rows that hang together, part by part."""
        by_setup: dict[int, list[int]] = {}
        for step in sorted(self.shows):
            by_setup.setdefault(self.candidates[step].setup, []).append(step)
        seen: set[int] = set()
        opened: set[int] = set()
        parts = []
        for first in sorted(self.rows):
            if first in seen:
                continue
            seen.add(first)
            part = [first]
            for number in part:
                for step in self.rows[number]:
                    setup = self.candidates[step].setup
                    is_to_pay = setup not in self.paid and setup not in opened
                    opened.add(setup)
                    for each in by_setup[setup] if is_to_pay else (step,):
                        new = self.shows[each] - seen
                        seen |= new
                        part += sorted(new)
            parts.append(sorted(part))
        return parts
