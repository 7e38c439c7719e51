"""The cutting plan as schedules: rows in the order of cutting, what to buy, bounds and gap of every kind of wire."""

from itertools import pairwise
from typing import Any

from harnessgen.schedules.tables.table import Cell, Table
from harnessgen.schedules.wires.cutting_plan import buying_table, cutting_table, proof_table
from tests.cutting.test_plan import planned
from tests.schedules.reading import keyed


def column(table: Table[Any], key: str) -> list[Cell]:
    return [cells[key] for cells in keyed(table)]


def test_spool_by_spool_and_the_longest_first() -> None:
    """A spool's rows follow each other, cuts get no longer, and what is left falls to what goes on the shelf."""
    table = cutting_table(planned(copies=5))
    spools = column(table, "spool")
    runs = [spools[0]] + [now for before, now in pairwise(spools) if now != before]
    named = [each for each in runs if each != "bought by the metre"]
    assert len(named) == len(set(named))
    at = [index for index, each in enumerate(spools) if each == "rest no. 1"]
    cuts = [column(table, "cut_mm")[index] for index in at]
    left = [column(table, "left_mm")[index] for index in at]
    assert cuts == sorted(cuts, key=float, reverse=True)
    assert left == [2000.0 - sum(map(float, cuts[: number + 1])) for number in range(len(cuts))]
    assert [column(table, "then")[index] for index in at][:-1] == [""] * (len(at) - 1)


def test_what_becomes_of_an_end_is_told() -> None:
    """Ends below the limit are scrap, longer ones go back."""
    table = cutting_table(planned(copies=5))
    fates = {(spool, then) for spool, then in zip(column(table, "spool"), column(table, "then"), strict=True) if then}
    assert ("off-1", "scrap") in fates
    assert ("black", "back to the shelf") in fates


def test_what_to_buy_is_told_in_spools_and_metres() -> None:
    """One new reel with its price; wire without stock by the metre."""
    table = buying_table(planned(copies=5))
    rows = {(row["size"], row["colour"]): row for row in keyed(table)}
    bought = rows["0.75 mm2", "RD/YE"]
    assert [bought[key] for key in ("what", "count", "length_m", "cost")] == ["spool as reel", 1, 100.0, 24.5]
    assert rows["0.5 mm2", "BU/WH"]["count"] is None
    assert ("1.5 mm2", "BK") not in rows
    assert "24.5" in table.notes[0]


def test_every_kind_has_its_bounds_and_gap() -> None:
    """A row for each kind of wire, its plan never below its bounds."""
    plan = planned(copies=5)
    table = proof_table(plan)
    assert len(table.rows) == len(plan.kinds)
    for value, material, shared, gap in zip(
        *(column(table, key) for key in ("value", "material", "shared", "gap")), strict=True
    ):
        assert isinstance(value, float)
        assert isinstance(gap, float)
        assert value >= max(float(str(material)), float(str(shared))) - 1e-9
        assert gap >= 0.0
