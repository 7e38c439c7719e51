"""The least effort: against all choices tried, and every chosen step needed."""

from itertools import combinations, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harnessgen.bench.selection import Candidate, choose
from tests.bench.proving import DESIGNS, proofs_of, text_of

FEES = {0: 5.0, 1: 2.0}
SETS = st.lists(
    st.tuples(st.sampled_from([0, 1]), st.integers(1, 9), st.frozensets(st.integers(0, 6), min_size=1)),
    min_size=1,
    max_size=7,
)


def least(candidates: list[Candidate]) -> float:
    """Effort of the cheapest cover, by trying all."""
    wanted = frozenset().union(*(each.shows for each in candidates))
    return min(
        sum(each.seconds for each in chosen) + sum(FEES[setup] for setup in {each.setup for each in chosen})
        for count in range(1, len(candidates) + 1)
        for chosen in combinations(candidates, count)
        if frozenset().union(*(each.shows for each in chosen)) == wanted
    )


@settings(max_examples=60, deadline=None)
@given(SETS)
def test_the_choice_is_the_cheapest_of_all(sets: list[tuple[int, int, frozenset[int]]]) -> None:
    """All choices of up to seven candidates with two setups; what is said to be least is least."""
    candidates = [Candidate(str(at), setup, float(cost), shows) for at, (setup, cost, shows) in enumerate(sets)]
    chosen = choose(candidates, FEES)
    assert chosen.seconds == pytest.approx(least(candidates))
    assert chosen.bound_seconds == pytest.approx(chosen.seconds)
    assert chosen.gap == 0.0


def test_the_published_example_that_misleads_the_greedy_choice() -> None:
    """V. Chvatal, A greedy heuristic for the set-covering problem, Math. Oper. Res. 4 (1979) 233-235 (from memory).

    Sets {j} at cost 1/j beside one set of all n at cost 1 + e: greedy takes the n singles, H(n) in all; least is 1 + e.
    """
    count = 8
    singles = [Candidate(f"{j}", 0, 1.0 / j, frozenset({j})) for j in range(1, count + 1)]
    whole = Candidate("all", 0, 1.01, frozenset(range(1, count + 1)))
    chosen = choose([*singles, whole], {0: 0.0})
    assert chosen.numbers == {"all"}
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
        Candidate(str(at), 0, 1.0, frozenset(number for number, line in numbered if point in line))
        for at, point in enumerate(points)
    ]
    chosen = choose(candidates, {0: 0.0})
    assert len(chosen.numbers) == least_points
    assert chosen.gap == 0.0


@pytest.mark.parametrize("name", DESIGNS)
def test_no_step_of_a_procedure_can_be_spared(name: str) -> None:
    """Without any one step of any procedure some fault is shown by none of the others."""
    for proof in proofs_of(text_of(name)).proofs:
        numbers = {step.number for step in proof.procedure.steps}
        needed = {next(iter(steps)) for steps in proof.detection.shown_by if len(steps) == 1}
        assert needed == numbers, (proof.need, proof.section)
