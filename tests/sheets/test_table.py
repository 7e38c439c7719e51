"""Tables: columns as wide as their text, nothing meets, wrong shapes are refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from harnessgen.sheets.box import Box
from harnessgen.sheets.marks import TextMark
from harnessgen.sheets.table import table
from tests.sheets.clearance import collisions

cell = st.text(max_size=12)


@given(st.lists(st.lists(cell, min_size=3, max_size=3), max_size=6), st.floats(2.0, 4.0))
def test_a_table_of_any_texts_has_no_collision(rows: list[list[str]], size_mm: float) -> None:
    """Whatever stands in the rows, text keeps off the rules and the next column, and all lies in the stated box."""
    made = table(10, 10, ["cav", "wire", "colour"], rows, "C1", size_mm)
    assert [str(fault) for fault in collisions(made.marks, made.box)] == []


def test_every_text_stands_under_its_head() -> None:
    """Texts of a column begin at one place, and rows are as many as given."""
    made = table(10, 20, ["cav", "wire"], [["1", "21B"], ["2", "plug"]], "C10s")
    texts = {mark.text: mark for mark in made.marks if isinstance(mark, TextMark)}
    assert texts["cav"].bold
    assert not texts["21B"].bold
    assert texts["wire"].x == texts["21B"].x == texts["plug"].x > texts["1"].box.x1
    assert texts["cav"].y < texts["21B"].y < texts["plug"].y
    assert made.box.contains(Box(10, 20, 10, 20))


def test_a_table_that_does_not_fit_together_is_refused() -> None:
    """A short row, an empty head and a table without name are mistakes of the caller."""
    with pytest.raises(ValueError, match="does not have 2 texts"):
        table(0, 0, ["cav", "wire"], [["1"]], "C1")
    with pytest.raises(ValueError, match="column and a subject"):
        table(0, 0, [], [], "C1")
    with pytest.raises(ValueError, match="column and a subject"):
        table(0, 0, ["cav"], [], "")
