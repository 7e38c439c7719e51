"""Twist and shield of a cable stand on each of its conductors; the drain says where it is grounded and where free."""

from pathlib import Path

from harnessgen.drawings.circuit.drawing import circuit_sheets
from harnessgen.sheets.marks import Conductor, Polyline, TextMark
from harnessgen.sheets.sheet import Sheet
from tests.drawings.circuit.test_generated import faults
from tests.drawings.generated import network_of

SENSORS = (Path(__file__).parents[4] / "designs" / "ignition-sensors.yaml").read_text(encoding="utf-8")


def drawn(text: str) -> tuple[Sheet, ...]:
    """The sheets of a design, which must be without fault."""
    network = network_of(text)
    sheets = circuit_sheets(network)
    assert faults(network, sheets) == []
    return sheets


def told(sheets: tuple[Sheet, ...], subject: str) -> set[str]:
    """Texts of a wire or a cable."""
    return {
        mark.text for sheet in sheets for mark in sheet.marks if isinstance(mark, TextMark) and mark.subject == subject
    }


def curves(sheets: tuple[Sheet, ...], subject: str, *, dashed: bool) -> int:
    """Curved lines of a wire or a cable: full ones of a twist, dashed ones of a shield."""
    return sum(
        isinstance(mark, Polyline) and mark.subject == subject and len(mark.points) > 8 and bool(mark.dash_mm) is dashed
        for sheet in sheets
        for mark in sheet.marks
    )


def test_a_shielded_pair_names_its_partner_and_its_shield() -> None:
    """Two waves that cross and one envelope on each conductor; the envelope of the drain says what it lies around."""
    sheets = drawn(SENSORS)
    for wire, other in (("50A", "51"), ("51A", "50")):
        assert {"W1", f"twisted with {other}", "shielded"} <= told(sheets, wire)
        assert curves(sheets, wire, dashed=False) == 2
        assert curves(sheets, wire, dashed=True) == 1
    assert {"shield of 50, 51", "grounded at G4 alone", "free at crank"} <= told(sheets, "W1")
    assert curves(sheets, "W1", dashed=True) == 1
    assert curves(sheets, "40A", dashed=True) == 0


def test_a_straight_cable_without_shield_has_neither() -> None:
    """Its conductors run on through the mark."""
    shield = "    shield: {circuit: 52, to: G4, free-at: crank, cut-back: 40, color: BK, size: 20 AWG}\n"
    assert shield in SENSORS
    sheets = drawn(SENSORS.replace(shield, "").replace("    lay: twisted\n", ""))
    assert {"W1", "beside 51"} <= told(sheets, "50A")
    assert curves(sheets, "50A", dashed=False) == curves(sheets, "50A", dashed=True) == 0
    pieces = [mark for sheet in sheets for mark in sheet.marks if isinstance(mark, Conductor) and mark.subject == "50A"]
    assert len(pieces) == 4


def test_a_cable_and_its_drain_stand_on_one_sheet() -> None:
    """The drain is joined to nothing that its pair is joined to, and is still found beside it."""
    sheets = drawn(SENSORS)
    holding = [{mark.subject for mark in sheet.marks if isinstance(mark, Conductor)} for sheet in sheets]
    assert sum({"50A", "51A", "52A"} <= held for held in holding) == 1
