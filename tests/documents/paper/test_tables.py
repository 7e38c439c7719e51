"""Schedules on paper: columns fit the page, letters stay readable, an item keeps its rows together."""

from operator import itemgetter

import pytest

from harnessgen.documents.paper.tables import PAD_MM, paper_table
from harnessgen.schedules.collection import schedules_of
from harnessgen.schedules.tables.table import Column, Medium, Table, number_column, tick_column
from harnessgen.sheets.lettering import text_width_mm
from tests.documents.small_designs import TWO_SUPPLIES
from tests.line import FLAT_SIX, physics_of

WIDTH_MM = 277.0


@pytest.mark.parametrize("text", [FLAT_SIX, TWO_SUPPLIES])
def test_every_schedule_fits_the_page(text: str) -> None:
    """No column stands beyond the page, no line beyond its column, and letters are never under 2 mm."""
    physics = physics_of(text)
    for table in schedules_of(physics.network, physics).for_page(on_bench=True):
        shown = paper_table(table, WIDTH_MM)
        assert sum(shown.widths_mm) <= WIDTH_MM + 1e-6
        assert 2.0 <= shown.size_mm <= 3.0
        for row in shown.rows:
            if len(row) != len(shown.widths_mm):
                continue
            for cell, width_mm in zip(row, shown.widths_mm, strict=True):
                for line in cell.lines:
                    assert text_width_mm(line, shown.size_mm) <= width_mm - 2 * PAD_MM + 1e-6, line


def test_forty_columns_of_words_are_squeezed_to_the_page() -> None:
    """Where not even the longest words have room, the columns share the page and words are broken."""
    columns = tuple(Column(f"c{number}", "heading", str) for number in range(40))
    shown = paper_table(Table("t", "T", columns, ("incomprehensible",)), WIDTH_MM)
    assert sum(shown.widths_mm) == pytest.approx(WIDTH_MM)
    assert shown.size_mm == 2.0
    assert {"".join(cell.lines) for cell in shown.rows[0]} == {"incomprehensible"}


def test_an_empty_column_is_left_out_and_a_tick_stays() -> None:
    """A column without a text takes no room; a column said in the title neither; boxes stay."""
    columns = (
        Column("s", "section", str, on=Medium.CSV),
        Column("a", "a", str),
        number_column("b", "b", "mm", lambda _: None),
        tick_column(),
    )
    shown = paper_table(Table("t", "T", columns, ("A",)), WIDTH_MM)
    assert [heading[0] for heading in shown.headings] == ["a", "done"]
    assert [cell.tick for cell in shown.rows[0]] == [False, True]


def test_a_wire_has_one_cell_and_each_end_its_own() -> None:
    """Of two rows of a wire the first holds what is of the wire, over both; an empty cell of an end is not merged."""
    columns = (
        Column("w", "wire", lambda _: "1A", is_of_item=True),
        Column("e", "end", itemgetter(0)),
        Column("s", "seal", itemgetter(1)),
    )
    table = Table("t", "T", columns, (("C1", "seal-1"), ("S1", "")), item_rows=2)
    first, second = paper_table(table, WIDTH_MM).rows
    assert [cell.span for cell in first] == [2, 1, 1]
    assert [(cell.lines, cell.span) for cell in second] == [(("S1",), 1), (("",), 1)]
