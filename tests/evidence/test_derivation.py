"""Derivations: a printed number can be evaluated again from what is printed beside it."""

import pytest

from harnessgen.evidence.derivation import Balance, Input, Solved, evaluated
from harnessgen.evidence.publication import Publication, Standing, common_practice

_OHM = Publication("A handbook of wire, 2nd edition", "table 3")


def test_a_derivation_evaluates_again_to_its_own_number() -> None:
    """Formula and inputs give the printed result, since the result was computed from them."""
    inputs = (Input("i", "current", 9.6, "A"), Input("r", "resistance", 0.0371, "ohm", _OHM))
    drop = evaluated("drop along 21A", "i * r", inputs, "V", _OHM)
    assert drop.again() == drop.result == 9.6 * 0.0371
    assert (drop.title, drop.unit, drop.sources) == ("drop along 21A", "V", (_OHM,))


def test_a_formula_without_its_input_is_refused() -> None:
    """A derivation cannot be made from a formula that names what is not among its inputs."""
    with pytest.raises(ValueError, match="'r' has no value in 'i \\* r'"):
        evaluated("drop", "i * r", (Input("i", "current", 9.6, "A"),), "V")


def test_a_balance_knows_what_is_left_over() -> None:
    """The residual of a balance is the sum of its terms."""
    balance = Balance("currents at S1", (("21A", 4.8), ("21B", -1.6), ("21C", -1.6), ("21D", -1.6)), "A")
    assert balance.residual == pytest.approx(0.0, abs=1e-15)
    solved = Solved("current of 21A", "currents at every joint sum to zero", (balance,), 4.8, "A", ())
    assert solved.balances[0].terms[0] == ("21A", 4.8)


@pytest.mark.parametrize(
    ("publication", "line"),
    [
        (Publication("Wire standard:2011", "table 4"), "Wire standard:2011, table 4"),
        (Publication("Wire standard:2011"), "Wire standard:2011"),
        (Publication("Wire standard:2011", "table 4", Standing.FROM_MEMORY),
         "Wire standard:2011, table 4 (from memory)"),
        (common_practice(), "common practice, no source"),
        (common_practice("smallest conductor on an engine"),
         "smallest conductor on an engine: common practice, no source"),
    ],
)  # fmt: skip
def test_a_source_says_how_far_it_was_followed(publication: Publication, line: str) -> None:
    """A document prints title and place of a source, and says when the figure was recalled or is only practice."""
    assert str(publication) == line
