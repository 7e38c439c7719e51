"""What the cut list says of crimps and of what goes on first, and its form for the bench."""

from harnessgen.schedules.collection import schedules_of
from harnessgen.schedules.tables.table import Medium
from harnessgen.schedules.wires.cut_list import CutRow, cut_rows, cut_table
from harnessgen.schedules.wires.cut_sheet import cut_sheet_table
from harnessgen.schedules.wires.slide_on import sleeve_side
from tests.documents.small_designs import TWO_SUPPLIES
from tests.line import FLAT_SIX, edited, physics_of
from tests.schedules.reading import keyed, keys_of


def rows_of(text: str) -> dict[str, CutRow]:
    physics = physics_of(text)
    sections = physics.network.sections.sections
    return {row.mark: row for section in sections for row in cut_rows(physics.network, physics, section)}


def test_each_wire_has_its_pull_and_the_table_it_is_from() -> None:
    """0.75 mm2 is pulled with 85 N (IEC 60352-2, from memory), 12 AWG with 311.5 N (UL 486A); notes and CSV say so."""
    row = rows_of(FLAT_SIX)["21A"]
    assert row.pull is not None
    assert row.pull.force_n == 85
    gauge = rows_of(TWO_SUPPLIES)["10A"]
    assert gauge.pull is not None
    assert gauge.pull.force_n == 311.5
    physics = physics_of(FLAT_SIX)
    section = physics.network.sections.sections[0]
    table = cut_table(cut_rows(physics.network, physics, section), section, "mm")
    assert "IEC 60352-2" in str(keyed(table)[0]["pull_by"])
    assert any("from memory" in note for note in table.notes)


def test_an_end_in_a_splice_names_the_side_of_the_barrel() -> None:
    """Of S1 the trunk 21B lies on the side of b1, and the legs on that of lb1."""
    rows = rows_of(FLAT_SIX)
    words = [end.words for mark in ("21B", "21C") for end in (rows[mark].end_1, rows[mark].end_2) if end.side]
    assert words == ["splice S1, side of b1", "splice S1, side of lb1"]


def test_seals_and_the_sleeve_of_a_splice_go_on_first() -> None:
    """A sealed cavity wants its seal, and heat-shrink waits on the side of a splice that has the fewest wires."""
    rows = rows_of(FLAT_SIX)
    assert {end.slide_on for end in (rows["21C"].end_1, rows["21C"].end_2)} == {"", "seal-1.5"}
    ends = {part for end in (rows["21B"].end_1, rows["21B"].end_2) for part in end.slide_on.split("; ")}
    assert "fluoropolymer heat-shrink of S1" in ends
    network = physics_of(FLAT_SIX).network
    assert sleeve_side(network, "S1") == "b1"


def test_heat_shrink_of_the_route_goes_on_from_the_nearer_end() -> None:
    """Heat-shrink beside C21 is named at the end in C21 of the wires through it, and at no other end."""
    bare = physics_of(FLAT_SIX).network
    leg = next(each for each in bare.wire_of["21C"].way if each.end == "left-1" or each.start == "left-1")
    old = next(line.strip() for line in FLAT_SIX.splitlines() if line.strip().startswith("left-1:"))
    stretch = f"left-1: {{length: {leg.stretch.length_mm.value}, covering: shrink-6.4}}"
    rows = rows_of(edited((old, stretch)))
    words = {end.what: end.slide_on for end in (rows["21C"].end_1, rows["21C"].end_2)}
    assert words == {"splice S1": "", "connector C21 cavity 1": f"seal-1.5; shrink-6.4 of {leg.name}"}


def test_the_bench_form_says_the_same() -> None:
    """Two rows for each wire, a box for the cut and one for each end; lengths, terminals and labels as in the file."""
    physics = physics_of(FLAT_SIX)
    section = physics.network.sections.sections[1]
    rows = cut_rows(physics.network, physics, section)
    table = cut_sheet_table(rows, section, "mm")
    cells = keyed(table, Medium.PAPER)
    assert len(cells) == 2 * len(rows)
    ticks = [column.key for column in table.columns_on(Medium.PAPER) if column.is_tick]
    assert ticks == ["cut_done", "end_done"]
    for number, row in enumerate(rows):
        one, two = cells[2 * number : 2 * number + 2]
        assert (one["mark"], one["cut_mm"], one["label"]) == (row.mark, row.cut_mm, row.end_1.label)
        assert (two["mark"], two["terminal"], two["label"]) == (row.mark, row.end_2.terminal, row.end_2.label)
    assert "cut_in" in keys_of(cut_sheet_table(rows, section, "in"), Medium.PAPER)


def test_unused_cavities_side_by_side_share_a_row() -> None:
    """C1 of the flat six has wires in 1, 2, 14 and 15; its chart has six rows."""
    physics = physics_of(FLAT_SIX)
    cells = keyed(schedules_of(physics.network, physics).sections[0].cavities)
    own = [(row["cavity"], row["fill"]) for row in cells if row["connector"] == "C1"]
    assert [cavity for cavity, _ in own] == ["1", "2", "3 to 13", "14", "15", "16 to 26"]
    assert dict(own)["3 to 13"] == dict(own)["16 to 26"] == "cavity plug"
    assert [row["cavity"] for row in cells if row["connector"] == "C10s"][-1] == "5 and 6"


def test_every_kind_has_one_set_of_columns() -> None:
    """All schedules can be written to a file each, whatever the sections hold."""
    physics = physics_of(FLAT_SIX)
    kinds = schedules_of(physics.network, physics).by_kind
    for tables in kinds.values():
        assert len({table.columns for table in tables}) == 1
    assert "covering-list" in kinds
