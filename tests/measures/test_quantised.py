"""Nine digits: noise goes, what differs stays."""

import json
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from harnessgen.documents.data.json_text import json_text
from harnessgen.measures.quantised import quantised, quantised_tree, settled_number
from harnessgen.measures.quantity import plain_number


@pytest.mark.parametrize(
    ("value", "wanted"),
    [
        (0.1 + 0.2, 0.3),
        (12.499999999999998, 12.5),
        (1e-17, 0.0),
        (13.590828459428206, 13.5908285),
        (1234567894.0, 1234567890.0),
    ],
)
def test_noise_goes(value: float, wanted: float) -> None:
    assert quantised(value) == wanted
    assert quantised(-value) == -wanted


def test_nought_has_no_sign_and_what_is_no_number_stays() -> None:
    assert math.copysign(1.0, quantised(-1e-20)) == math.copysign(1.0, settled_number(-1e-20)) == 1.0
    assert math.isinf(quantised(math.inf))
    assert math.isnan(quantised(math.nan))


@given(st.floats(1e-3, 1e6), st.integers(-3, 3))
def test_nine_digits_are_left(value: float, ulps: int) -> None:
    """The number is right to 5e-9 of itself, and once brought to nine digits it stays as it is."""
    assert quantised(value) == pytest.approx(value, rel=5.1e-9, abs=5e-13)
    assert quantised(quantised(value)) == quantised(value)
    told = float(f"{value:.6g}")
    assert quantised(told * (1.0 + ulps * 2.2e-16)) == told


def test_a_number_at_a_rounding_tie_is_printed_alike() -> None:
    """0.125 with noise to either side, to two decimals, and the edge of a whole number."""
    for value in (0.125, 2.5, 0.5, 63.8375):
        for decimals in (0, 1, 2, 3):
            texts = {plain_number(value * (1.0 + ulps * 2.2e-16), decimals) for ulps in range(-8, 9)}
            assert len(texts) == 1, (value, decimals)


def test_every_float_of_a_tree_is_brought_to_nine_digits() -> None:
    """In lists and objects at any depth; whole numbers, texts and truths stay."""
    tree = {"a": [0.1 + 0.2, {"b": (1 / 3,)}], "c": 12345678901, "d": True, "e": None, "f": "0.30000000000000004"}
    wanted = {"a": [0.3, {"b": [0.333333333]}], "c": 12345678901, "d": True, "e": None, "f": "0.30000000000000004"}
    assert quantised_tree(tree) == wanted
    assert json.loads(json_text(tree)) == wanted
    with pytest.raises(ValueError, match="JSON"):
        json_text({"a": math.inf})
