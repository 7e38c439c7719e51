"""Faces, charts and end marks of connectors and devices."""

from functools import cache

from harnessgen.drawings.layout.block import Stock, listed, words_panel
from harnessgen.drawings.layout.faces import chart_rows, face_data, half_of, landing_rows, served_by
from harnessgen.drawings.symbols.connector_face import Filling
from harnessgen.network.network import Network
from tests.drawings.generated import network_of
from tests.line import FLAT_SIX


@cache
def flat_six() -> Network:
    return network_of(FLAT_SIX)


def test_face_shows_what_is_in_each_cavity() -> None:
    """Wired cavities in their colours, plugs in the unused ones of a sealed connector."""
    data = face_data(flat_six(), "C10p")
    assert (data.half, data.view) == ("pin", "wire side")
    assert [cavity.filling for cavity in data.cavities] == [Filling.WIRED] * 4 + [Filling.PLUGGED] * 2
    assert [cavity.code for cavity in data.cavities[:4]] == ["RD/YE", "RD/BU", "BU/WH", "BU/RD"]
    assert [(cavity.column, cavity.row) for cavity in data.cavities[2:4]] == [(2, 0), (0, 1)]


def test_chart_has_a_row_for_each_wire() -> None:
    """With mark, colour and size, cavities in the order of the face."""
    assert chart_rows(flat_six(), "C21") == (("1", "21C", "RD/YE", "0.5 mm2"), ("2", "31C", "BU/WH", "0.5 mm2"))


def test_runs_of_unused_cavities_share_a_row() -> None:
    """The 26-way controller connector has four wires; their neighbours are plugged, and counted."""
    rows = chart_rows(flat_six(), "C1")
    assert [row[:2] for row in rows if "plugs" in row[1]] == [("3 to 13", "11 plugs"), ("16 to 26", "11 plugs")]
    assert len(rows) == 6


def test_unsealed_unused_cavities_are_empty() -> None:
    """No plug where there is no seal."""
    text = (
        "format: 2\nharness: {title: T, number: N, revision: A}\nroute: {a: {b: 100}}\n"
        "parts: {connectors: {open-2: {title: o, ways: 2, contact: pin-2.8, rating: 120 degC}}}\n"
        "connectors: {C1: {part: open-2, at: b}}\nsupplies: {BAT: {voltage: 12 V, at: a}}\n"
    )
    assert chart_rows(network_of(text), "C1") == (("1", "empty", "", ""), ("2", "empty", "", ""))


def test_halves_and_mates_are_named() -> None:
    """A connector by its load, a half by the other half."""
    assert served_by(flat_six(), "C21").startswith("to INJ1")
    assert served_by(flat_six(), "C10s") == "to C10p"
    assert (half_of(flat_six(), "C10s"), half_of(flat_six(), "C10p")) == ("socket", "pin")


def test_landings_name_device_terminal_and_wire() -> None:
    """The wires that land on the fuses, device by device."""
    rows = landing_rows(flat_six(), ("F1", "F2", "F3"), "fuses")
    assert [row[0] for row in rows] == sorted(row[0] for row in rows)
    assert ("F1/in", "12B") in [row[:2] for row in rows]
    assert ("F1/out", "21A") in [row[:2] for row in rows]


def test_a_long_row_of_cavities_is_folded() -> None:
    """The face view stays on the sheet, and its title says that it is folded."""
    text = (
        "format: 2\nharness: {title: T, number: N, revision: A}\nroute: {a: {b: 100}}\n"
        "parts: {connectors: {big: {title: b, ways: 120, contact: pin-2.8, rating: 120 degC}}}\n"
        "connectors: {C1: {part: big, at: b}}\nsupplies: {BAT: {voltage: 12 V, at: a}}\n"
    )
    block = Stock(network_of(text)).face("C1")
    assert block.width_mm <= 380.0
    assert any("folded" in getattr(mark, "text", "") for mark in block.panels[0].at(0.0, 0.0))


def test_size_of_a_block_is_that_of_its_marks() -> None:
    """From above and from below: the placing relies on it."""
    block = Stock(flat_six()).connector("C10p", 14)
    for from_below in (False, True):
        marks = block.marks(10.0, 20.0, from_below=from_below)
        assert min(mark.box.x0 for mark in marks) >= 10.0 - 1e-6
        assert max(mark.box.x1 for mark in marks) <= 10.0 + block.width_mm + 1e-6
        assert abs(min(mark.box.y0 for mark in marks) - 20.0) < 1e-6
        assert abs(max(mark.box.y1 for mark in marks) - 20.0 - block.height_mm) < 1e-6


def test_endless_words_are_cut() -> None:
    """A text that no sheet could hold ends in an ellipsis; a long list says how many more there are."""
    panel = words_panel(["word " * 500], "x", 40.0)
    assert panel.height_mm < 50.0
    assert panel.width_mm <= 40.5
    assert listed([f"F{number}" for number in range(50)]).endswith("and 10 more")
