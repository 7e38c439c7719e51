"""Formulas: the printed text is what is computed, and nothing but arithmetic is."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harnessgen.evidence.formula import evaluate


@pytest.mark.parametrize(
    ("formula", "value"),
    [
        ("a + b * 2", 8.0),
        ("(a + b) * 2", 10.0),
        ("a - b - 1", -2.0),
        ("b / a", 1.5),
        ("-a ** 2", -4.0),
        ("2 ** b ** a", 512.0),
        ("sqrt(a * 8)", 4.0),
        ("exp(ln(b))", 3.0),
        ("log10(1000)", 3.0),
        ("min(a, b, 1)", 1.0),
        ("max(a, b)", 3.0),
        ("abs(a - b)", 1.0),
        ("sum(a, b, 0.5)", 5.5),
        ("hypot(3, 4)", 5.0),
        ("pi * a", 2 * math.pi),
        ("1e3", 1000.0),
    ],
)
def test_a_formula_is_worth_what_it_says(formula: str, value: float) -> None:
    """Signs bind as in mathematics, and the named functions are the usual ones."""
    assert evaluate(formula, {"a": 2.0, "b": 3.0}) == pytest.approx(value, rel=1e-15)


def test_a_formula_of_the_trade_is_worth_its_hand_calculation() -> None:
    """The rise of copper's resistance from 20 to 85 degC, 319.5 over 254.5, is 1.2554 by hand."""
    ratio = evaluate("(234.5 + t2) / (234.5 + t1)", {"t1": 20.0, "t2": 85.0})
    assert ratio == pytest.approx(1.2554, abs=5e-5)


@settings(deadline=None)
@given(st.floats(-1e6, 1e6), st.floats(-1e6, 1e6), st.floats(1e-3, 1e6))
def test_numbers_pass_through_unrounded(a: float, b: float, c: float) -> None:
    """A formula computes in the same arithmetic as the program."""
    assert evaluate("(a - b) * c / 7 + sqrt(c)", {"a": a, "b": b, "c": c}) == (a - b) * c / 7 + math.sqrt(c)


@pytest.mark.parametrize(
    ("formula", "sentence"),
    [
        ("a + z", "'z' has no value in 'a + z'"),
        ("a +", "no arithmetic expression: 'a +'"),
        ("", "no arithmetic expression: ''"),
        ("a if b else 1", "no arithmetic expression: 'a if b else 1'"),
        ("a.real", "no arithmetic expression: 'a.real'"),
        ("a[0]", "no arithmetic expression: 'a[0]'"),
        ("'text'", "no arithmetic expression: \"'text'\""),
        ("open(a)", "no arithmetic expression: 'open(a)'"),
        ("__import__('os')", "no arithmetic expression: \"__import__('os')\""),
        ("sum(*a)", "no arithmetic expression: 'sum(*a)'"),
        ("min(a, b, key=a)", "no arithmetic expression: 'min(a, b, key=a)'"),
        ("a % b", "no arithmetic expression: 'a % b'"),
        ("[a, b]", "no arithmetic expression: '[a, b]'"),
        ("lambda: a", "no arithmetic expression: 'lambda: a'"),
        ("1j", "no arithmetic expression: '1j'"),
    ],
)
def test_nothing_but_arithmetic_is_evaluated(formula: str, sentence: str) -> None:
    """A text that is no arithmetic, or names what is not there, is refused with the text itself."""
    with pytest.raises(ValueError, match=r"^.+$") as caught:
        evaluate(formula, {"a": 2.0, "b": 3.0})
    assert str(caught.value) == sentence
