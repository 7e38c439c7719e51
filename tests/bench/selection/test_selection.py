"""The least effort: against all choices tried, and every chosen step needed."""

from collections.abc import Iterable
from itertools import combinations, product
from random import Random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from harnessgen.bench.selection.selection import Chosen, choose
from harnessgen.bench.selection.set_cover import Candidate
from tests.bench.proving import SOME, proofs_of, shown_by, text_of
from tests.samples import examples

Shown = tuple[Candidate, frozenset[int]]
FEES = {0: 5.0, 1: 2.0}
SETS = st.lists(
    st.tuples(st.sampled_from([0, 1]), st.integers(1, 9), st.frozensets(st.integers(0, 6), min_size=1)),
    min_size=1,
    max_size=7,
)


def chosen_of(candidates: list[Shown], fees: dict[int, float]) -> Chosen:
    """The choice among steps that are given with what they show; the bit of each is its place."""
    rows: dict[int, int] = {}
    for place, (_, shows) in enumerate(candidates):
        for what in shows:
            rows[what] = rows.get(what, 0) | 1 << place
    return choose(dict(enumerate(each for each, _ in candidates)), rows.values(), fees)


def effort(chosen: Iterable[Candidate], fees: dict[int, float]) -> float:
    """Seconds of steps with those of their setups."""
    held = list(chosen)
    return sum(each.seconds for each in held) + sum(fees[setup] for setup in {each.setup for each in held})


def least(candidates: list[Shown]) -> float:
    """Effort of the cheapest cover, by trying all."""
    wanted = frozenset().union(*(shows for _, shows in candidates))
    return min(
        effort((each for each, _ in chosen), FEES)
        for count in range(1, len(candidates) + 1)
        for chosen in combinations(candidates, count)
        if frozenset().union(*(shows for _, shows in chosen)) == wanted
    )


@settings(max_examples=examples(60), deadline=None)
@given(SETS)
def test_the_choice_is_the_cheapest_of_all(sets: list[tuple[int, int, frozenset[int]]]) -> None:
    """All choices of up to seven candidates with two setups; what is said to be least is least."""
    candidates = [(Candidate(setup, float(cost)), shows) for setup, cost, shows in sets]
    chosen = chosen_of(candidates, FEES)
    assert chosen.seconds == pytest.approx(least(candidates))
    assert chosen.bound_seconds == pytest.approx(chosen.seconds)
    assert chosen.gap == 0.0


LARGER = st.lists(
    st.tuples(st.integers(0, 3), st.integers(1, 5), st.frozensets(st.integers(0, 24), min_size=1, max_size=6)),
    min_size=1,
    max_size=40,
)


@settings(max_examples=examples(120), deadline=None)
@given(LARGER, st.lists(st.integers(0, 12), min_size=4, max_size=4))
def test_a_smaller_cover_costs_what_the_whole_costs(
    sets: list[tuple[int, int, frozenset[int]]], seconds: list[int]
) -> None:
    """Up to 40 steps with four setups, some for nothing: the program of all rows and steps as they come, unreduced."""
    fees = {setup: float(fee) for setup, fee in enumerate(seconds)}
    candidates = [(Candidate(setup, float(cost)), shows) for setup, cost, shows in sets]
    wanted = sorted(frozenset().union(*(shows for _, shows in candidates)))
    count = len(candidates)
    costs = [*(each.seconds for each, _ in candidates), *fees.values()]
    covered = np.array(
        [[what in shows for _, shows in candidates] + [False] * len(fees) for what in wanted], dtype=float
    )
    opened = np.zeros((count, len(costs)))
    for place, (each, _) in enumerate(candidates):
        opened[place, [place, count + each.setup]] = -1.0, 1.0
    rules = [LinearConstraint(covered, 1.0, np.inf), LinearConstraint(opened, 0.0, np.inf)]
    result = milp(costs, integrality=np.ones(len(costs)), bounds=Bounds(0, 1), constraints=rules)
    chosen = chosen_of(candidates, fees)
    held = [each for place, each in enumerate(candidates) if chosen.steps >> place & 1]
    assert frozenset().union(*(shows for _, shows in held)) == frozenset(wanted)
    assert chosen.seconds == pytest.approx(effort((each for each, _ in held), fees))
    assert chosen.seconds == pytest.approx(result.fun)
    assert chosen.gap == 0.0


@pytest.mark.parametrize(("steps", "rows", "each"), [(200, 500, 9), (1000, 2000, 26)])
def test_a_cover_too_large_to_search_states_its_gap(steps: int, rows: int, each: int) -> None:
    """Too large for the search, and too large for the relaxation as well: a cover, its effort, and a bound below it.

    The bound is held against a cover that is known by making: ten steps that share out the rows, at 10 s each.
    """
    rng = Random(5)
    held = [{row % 10, *rng.sample(range(10, steps), each)} for row in range(rows)]
    candidates = {
        step: Candidate(step % 3, 10.0 if step < 10 else float(rng.choice((11, 12, 20)))) for step in range(steps)
    }
    masks = [sum(1 << step for step in row) for row in held]
    fees = {0: 0.0, 1: 100.0, 2: 50.0}
    chosen = choose(candidates, masks, fees)
    kept = [step for step in candidates if chosen.steps >> step & 1]
    assert all(row & chosen.steps for row in masks)
    assert chosen.seconds == pytest.approx(effort((candidates[step] for step in kept), fees))
    assert 0.0 < chosen.bound_seconds <= min(chosen.seconds, 10 * 10.0 + 150.0)
    assert chosen.gap == pytest.approx(chosen.seconds / chosen.bound_seconds - 1.0)
    for step in kept:
        assert any(row & chosen.steps == 1 << step for row in masks), step
    assert chosen == choose(candidates, masks, fees)


def test_of_equals_the_first_is_chosen() -> None:
    """By hand: two steps that show the same at the same cost; the first stands, whatever the order of the rows."""
    twins = {0: Candidate(0, 5.0), 1: Candidate(0, 5.0), 2: Candidate(0, 5.0)}
    assert choose(twins, [0b111, 0b110], {0: 1.0}).steps == 0b010
    assert choose(twins, [0b110, 0b111], {0: 1.0}).steps == 0b010


def test_nothing_to_show_takes_no_time() -> None:
    """A row that no step shows asks for no step."""
    assert choose({0: Candidate(0, 5.0)}, [0], {0: 1.0}) == Chosen(0, 0.0, 0.0)


def test_the_published_example_that_misleads_the_greedy_choice() -> None:
    """V. Chvatal, A greedy heuristic for the set-covering problem, Math. Oper. Res. 4 (1979) 233-235 (from memory).

    Sets {j} at cost 1/j beside one set of all n at cost 1 + e: greedy takes the n singles, H(n) in all; least is 1 + e.
    """
    count = 8
    singles = [(Candidate(0, 1.0 / j), frozenset({j})) for j in range(1, count + 1)]
    whole = (Candidate(0, 1.01), frozenset(range(1, count + 1)))
    chosen = chosen_of([*singles, whole], {0: 0.0})
    assert chosen.steps == 1 << count
    assert chosen.seconds == pytest.approx(1.01)


@pytest.mark.parametrize(("dimensions", "triples", "least_points"), [(2, 12, 5), (3, 117, 18)])
def test_the_published_triple_systems_that_are_hard_to_cover(dimensions: int, triples: int, least_points: int) -> None:
    """D. R. Fulkerson, G. L. Nemhauser, L. E. Trotter, Two computationally difficult set covering problems that arise
    in computing the 1-width of incidence matrices of Steiner triple systems, Math. Programming Study 2 (1974) 72-81:
    A9 has 12 triples and is covered by 5 points, A27 has 117 and needs 18 (from memory).

    The triples are the lines of the affine space over three elements; 9 - 4 and 27 - 9 are left by the largest sets of
    points without a line (G. Pellegrino, Matematiche 25, 1971: 4 and 9).
    """
    points = list(product(range(3), repeat=dimensions))
    lines = {
        frozenset({a, b, tuple((-p - q) % 3 for p, q in zip(a, b, strict=True))}) for a, b in combinations(points, 2)
    }
    assert len(lines) == triples
    numbered = list(enumerate(sorted(map(sorted, lines))))
    candidates = [
        (Candidate(0, 1.0), frozenset(number for number, line in numbered if point in line)) for point in points
    ]
    chosen = chosen_of(candidates, {0: 0.0})
    assert chosen.steps.bit_count() == least_points
    assert chosen.gap == 0.0


@pytest.mark.parametrize("name", SOME)
def test_no_step_of_a_procedure_can_be_spared(name: str) -> None:
    """Without any one step of any procedure some fault is shown by none of the others."""
    for proof in proofs_of(text_of(name)).proofs:
        numbers = {step.number for step in proof.procedure.steps}
        needed = {next(iter(steps)) for steps in shown_by(proof.detection) if len(steps) == 1}
        assert needed == numbers, (proof.need, proof.section)
