"""Splice schedule and cavity charts: every joint and every cavity with what is in it."""

from harnessgen.schedules.wires.cavity_chart import EMPTY, PLUG, cavity_rows, cavity_table
from harnessgen.schedules.wires.splice_schedule import splice_rows, splice_table
from tests.documents.small_designs import CHANGE_OVER
from tests.line import FLAT_SIX, edited, physics_of


def test_a_splice_names_its_place_and_its_wires() -> None:
    """S1 sits 40 mm from b1 towards lb1; the trunk leaves towards b1 and the three legs towards lb1."""
    network = physics_of(FLAT_SIX).network
    rows = [row for row in splice_rows(network, network.sections.sections[1]) if row.splice == "S1"]
    assert {row.place for row in rows} == {"b1, 40 mm towards lb1"}
    assert {row.mark: row.leaves_towards for row in rows} == {"21B": "b1", "21C": "lb1", "21D": "lb1", "21E": "lb1"}
    assert {row.mark: row.other_end for row in rows}["21D"] == "C22/1"
    assert {(row.part, row.strip_mm) for row in rows} == {("barrel-hot", 8.0)}


def test_every_splice_stands_in_its_own_section_once() -> None:
    """Each end of a wire in a splice has one row over all sections."""
    network = physics_of(FLAT_SIX).network
    rows = [row for section in network.sections.sections for row in splice_rows(network, section)]
    ends = sorted((row.splice, row.mark) for row in rows)
    expected = sorted((name, wire.mark) for name in network.design.splices for wire in network.wires_at[name])
    assert ends == expected
    assert {row.section for row in rows if row.splice == "S6"} == {"FS-210-A"}
    table = splice_table(splice_rows(network, network.sections.sections[0]), network.sections.sections[0])
    assert len(table.rows) == 6


def test_a_cavity_is_wired_plugged_or_empty() -> None:
    """The half C10p has four wires and two plugs; every cavity of every connector has a row."""
    network = physics_of(FLAT_SIX).network
    rows = [row for section in network.sections.sections for row in cavity_rows(network, section)]
    half = {row.cavity: row for row in rows if row.connector == "C10p"}
    assert list(half) == ["1", "2", "3", "4", "5", "6"]
    assert (half["1"].mark, half["1"].terminal, half["1"].fill, half["1"].other_end) == (
        "21B",
        "pin-1.5 pin",
        "seal-1.5",
        "S1",
    )
    assert (half["5"].mark, half["5"].terminal, half["5"].fill) == ("", "", PLUG)
    assert {row.contacts for row in half.values()} == {"pins"}
    assert {row.connector for row in rows} == {"C1", "C2", "C10s", "C10p", *(f"C{n}" for n in range(21, 27))}


def test_a_connector_without_seals_has_no_plugs() -> None:
    """An unused cavity of an unsealed family is empty."""
    part = (
        "parts:\n  connectors:\n    plain-3: {title: plain, ways: 3, contact: pin-1.5, rating: 100 degC,"
        " source: none, standing: common practice}\n"
    )
    text = edited(("{part: sealed-2, at: key,", "{part: plain-3, at: key,")) + part
    network = physics_of(text).network
    rows = {row.cavity: row for row in cavity_rows(network, network.sections.sections[0]) if row.connector == "C2"}
    assert (rows["3"].fill, rows["1"].fill) == (EMPTY, "")


def test_two_wires_in_one_cavity_have_a_row_each() -> None:
    """A cavity that is filled twice shows both wires."""
    text = CHANGE_OVER.replace(
        "16: {from: SW1, to: K1/86", "17: {from: C1/2, to: G1, color: GY, size: 0.5 mm2}\n  16: {from: SW1, to: K1/86"
    )
    network = physics_of(text).network
    section = network.sections.sections[0]
    rows = [row for row in cavity_rows(network, section) if (row.connector, row.cavity) == ("C1", "2")]
    assert [row.mark for row in rows] == ["17A", "90A"]
    assert (
        "C1: sealed 2-way connector for an injector or valve, sockets"
        in cavity_table(network, tuple(rows), section).notes[0]
    )
