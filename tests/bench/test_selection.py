"""The least effort: against all choices tried, and every chosen step needed."""

from itertools import combinations

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


@pytest.mark.parametrize("name", DESIGNS)
def test_no_step_of_a_procedure_can_be_spared(name: str) -> None:
    """Without any one step of any procedure some fault is shown by none of the others."""
    for proof in proofs_of(text_of(name)).proofs:
        numbers = {step.number for step in proof.procedure.steps}
        needed = {next(iter(steps)) for steps in proof.detection.shown_by if len(steps) == 1}
        assert needed == numbers, (proof.need, proof.section)
