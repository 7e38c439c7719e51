"""The cut list: every wire once, in the order of cutting, each end with what belongs on it."""

from itertools import groupby

import pytest

from harnessgen.physics.physics import Physics
from harnessgen.schedules.tables.length_text import inches_up
from harnessgen.schedules.wires.cut_list import CutRow, cut_rows, cut_table
from tests.documents.small_designs import TWO_SUPPLIES
from tests.line import FLAT_SIX, edited, physics_of
from tests.schedules.reading import keyed, keys_of


def rows_of(physics: Physics) -> dict[str, tuple[CutRow, ...]]:
    return {
        section.letter: cut_rows(physics.network, physics, section) for section in physics.network.sections.sections
    }


def test_every_wire_is_cut_once() -> None:
    """The rows of all sections are the wires of the harness, each under its own section's number."""
    physics = physics_of(FLAT_SIX)
    rows = rows_of(physics)
    marks = sorted(row.mark for section in rows.values() for row in section)
    assert marks == sorted(wire.mark for wire in physics.network.wires)
    assert {row.section for row in rows["A"]} == {"FS-210-A"}
    assert {row.section for row in rows["B"]} == {"FS-210-B"}


def test_one_spool_at_a_time_and_the_longest_first() -> None:
    """Wires of one family, size and colour stand together; within them lengths fall."""
    for rows in rows_of(physics_of(FLAT_SIX)).values():
        spools = [spool for spool, _ in groupby(rows, key=lambda row: (row.family, row.size, row.colour))]
        assert len(spools) == len(set(spools))
        for _, spool in groupby(rows, key=lambda row: (row.family, row.size, row.colour)):
            lengths = [row.cut_mm for row in spool]
            assert lengths == sorted(lengths, reverse=True)


def test_the_ends_of_a_leg() -> None:
    """Wire 21C goes from splice S1 to cavity 1 of C21: barrel and contact, strip lengths, seal and labels."""
    rows = {row.mark: row for section in rows_of(physics_of(FLAT_SIX)).values() for row in section}
    row = rows["21C"]
    assert (row.circuit, row.colour, row.colour_words) == ("21", "RD/YE", "red with yellow stripe")
    assert (row.size, row.family) == ("0.5 mm2", "thin-wall-175")
    one, two = row.end_1, row.end_2
    assert (one.what, one.terminal, one.strip_mm, one.seal, one.label) == ("splice S1", "barrel-hot", 8.0, "", "21C S1")
    assert (two.what, two.terminal, two.strip_mm, two.seal) == (
        "connector C21 cavity 1",
        "pin-1.5 socket",
        4.5,
        "seal-1.5",
    )
    assert two.label == "21C C21/1"
    assert rows["21A"].end_1.what == "F1 terminal out"
    assert rows["21A"].end_2.what == "half C10s cavity 1"
    assert rows["10A"].end_1.what == "BAT"


def test_lengths_are_those_of_the_physics() -> None:
    """Cut and needed length come from one place; the cut is a whole number of the bench's steps and reaches."""
    physics = physics_of(FLAT_SIX)
    for section in rows_of(physics).values():
        for row in section:
            length = physics.lengths[row.mark]
            assert (row.cut_mm, row.needed_mm) == (length.cut_mm, length.needed_mm)
            assert row.cut_mm % 5.0 == 0.0
            assert row.cut_mm > row.needed_mm


def test_a_given_cut_is_told() -> None:
    """Where the design gives the cut length, the note names the wire."""
    text = edited(("INJ1: {at: left-1, title: cylinder 1}", "INJ1: {at: left-1, title: one, feed: {cut: 300 mm}}"))
    physics = physics_of(text)
    section = physics.network.sections.sections[1]
    rows = cut_rows(physics.network, physics, section)
    assert [row.mark for row in rows if row.is_given] == ["21C"]
    table = cut_table(rows, section, "mm")
    assert "The design itself gives the cut length of 21C." in table.notes
    assert next(row.cut_mm for row in rows if row.mark == "21C") == 300.0


@pytest.mark.parametrize(
    ("length_mm", "inches"),
    [(25.4, "1"), (565.0, "22 1/4"), (564.9, "22 1/4"), (565.2, "22 5/16"), (1.0, "1/16"), (571.5, "22 1/2")],
)
def test_inches_never_cut_short(length_mm: float, inches: str) -> None:
    """Inches are rounded up to a sixteenth, and a length that is a whole sixteenth stays."""
    assert inches_up(length_mm) == inches


def test_millimetres_stay_beside_inches() -> None:
    """A design in inches has a column in inches; the millimetre column stands in every design."""
    metric, imperial = physics_of(FLAT_SIX), physics_of(TWO_SUPPLIES)
    for physics, expected in ((metric, ["cut_mm", "needed_mm"]), (imperial, ["cut_mm", "cut_in", "needed_mm"])):
        section = physics.network.sections.sections[0]
        rows = cut_rows(physics.network, physics, section)
        table = cut_table(rows, section, physics.network.design.units.length)
        assert [key for key in keys_of(table) if key.startswith(("cut", "needed"))] == expected
        cell = keyed(table)[0]
        assert cell["cut_mm"] == rows[0].cut_mm
        assert cell.get("cut_in") in (None, inches_up(rows[0].cut_mm))


def test_a_wire_without_a_way_is_not_cut_by_the_list() -> None:
    """Where two things share a point of the route nothing says how long a wire is there, and the list says so."""
    near = edited(
        ("F10: {title: main feed, rating: 15 A, at: main-fuses", "F10: {title: main feed, rating: 15 A, at: battery")
    )
    said = "Do not cut 10A by this list: both ends lie at one point of the route"
    assert [note for note in _notes_of(near) if note.startswith(said)]
    assert not [note for note in _notes_of(FLAT_SIX) if "Do not cut" in note]
    slack = edited(("to: F10, color: RD, size: 2.5 mm2", "to: F10, color: RD, size: 2.5 mm2, slack: 90 mm"), text=near)
    assert not [note for note in _notes_of(slack) if "Do not cut" in note]


def _notes_of(text: str) -> list[str]:
    physics = physics_of(text)
    sections = {each.letter: each for each in physics.network.sections.sections}
    return [note for key, rows in rows_of(physics).items() for note in cut_table(rows, sections[key], "mm").notes]
