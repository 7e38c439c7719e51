"""Designators and wire letters: their order, and how they count up."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harnessgen.measures.designator import natural_key, numbered_from, segment_letters


def test_designators_sort_by_their_numbers() -> None:
    """C9 stands before C21, and digits before letters."""
    names = ["C21", "C9", "C10/2", "C10/10", "C10", "7", "21A", "21AA", "21B", "G1"]
    assert sorted(names, key=natural_key) == ["7", "21A", "21AA", "21B", "C9", "C10", "C10/2", "C10/10", "C21", "G1"]


@settings(deadline=None)
@given(st.lists(st.text(max_size=8), max_size=8))
def test_any_names_can_be_sorted(names: list[str]) -> None:
    """Every text has a place in the order, and two different texts never share one."""
    assert sorted(set(names), key=natural_key) == sorted(sorted(set(names)), key=natural_key)
    assert len({natural_key(name) for name in names}) == len(set(names))


@pytest.mark.parametrize(
    ("index", "letters"), [(0, "A"), (1, "B"), (25, "Z"), (26, "AA"), (27, "AB"), (51, "AZ"), (52, "BA"), (702, "AAA")]
)
def test_wires_are_lettered_a_to_z_then_aa(index: int, letters: str) -> None:
    """The wires of a circuit are lettered A to Z, then AA, AB and so on."""
    assert segment_letters(index) == letters


def test_no_two_wires_share_their_letters() -> None:
    """Letters never repeat, and they grow longer, never shorter."""
    letters = [segment_letters(index) for index in range(1000)]
    assert len(set(letters)) == 1000
    assert letters == sorted(letters, key=lambda each: (len(each), each))


def test_a_negative_index_names_no_wire() -> None:
    """There is no wire before the first."""
    with pytest.raises(ValueError, match="no wire has the index -1"):
        segment_letters(-1)


@pytest.mark.parametrize(
    ("first", "count", "names"),
    [
        ("C21", 3, ["C21", "C22", "C23"]),
        ("C9", 2, ["C9", "C10"]),
        ("C09", 2, ["C09", "C10"]),
        ("X1-8", 3, ["X1-8", "X1-9", "X1-10"]),
        ("C1", 0, []),
    ],
)
def test_connectors_of_a_bank_count_up_from_the_first(first: str, count: int, names: list[str]) -> None:
    """Designators count up in their last number and keep its leading zeros."""
    assert numbered_from(first, count) == names


def test_a_name_without_a_number_cannot_count_up() -> None:
    """A designator that does not end in a number is refused by name."""
    with pytest.raises(ValueError, match="'left' does not end in a number"):
        numbered_from("left", 2)
