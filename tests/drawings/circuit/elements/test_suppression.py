"""What sits across a coil is drawn across it, the right way round as the design has it; forms of IEC 60617."""

import pytest

from harnessgen.drawings.circuit.drawing import circuit_sheets
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Mark, Polygon, Polyline, Rectangle
from harnessgen.sheets.sheet import Sheet
from tests.drawings.circuit.reading import words
from tests.drawings.generated import network_of
from tests.sheets.clearance import collisions

HEAD = """\
format: 2
harness: {title: Coils, number: S-1, revision: A}
route: {a: {b: 100 mm, c: 200 mm}}
supplies: {BAT: {voltage: 12 V, at: a}}
grounds: {G1: {at: c}}
"""


def drawn(body: str) -> Sheet:
    """The one sheet of a small design, without a fault of clearance."""
    (sheet,) = circuit_sheets(network_of(HEAD + body))
    assert collisions(sheet.all_marks, sheet.paper.frame) == []
    return sheet


def relay(suppression: str, upper: str = "86") -> str:
    """A relay whose terminal `upper` is fed."""
    lower = {"86": "85", "85": "86"}[upper]
    return f"""\
relays: {{K1: {{part: plug-in-make, at: b, suppression: {suppression}}}}}
circuits:
  1: {{from: BAT, to: K1/{upper}, color: RD, size: 1 mm2}}
  2: {{from: K1/{lower}, to: G1, color: BK, size: 1 mm2}}
"""


def of(sheet: Sheet, subject: str, kind: type[Mark]) -> list[Mark]:
    """Marks of a symbol of one shape."""
    return [
        mark for mark in sheet.marks if mark.subject == subject and mark.kind is MarkKind.SYMBOL and type(mark) is kind
    ]


def points_up(sheet: Sheet, subject: str) -> bool:
    """Whether the only diode of a thing conducts up the sheet; its bar is at the tip."""
    (body,) = of(sheet, subject, Polygon)
    assert isinstance(body, Polygon)
    tip = next(point for point in body.points if sum(abs(point[1] - each[1]) < 0.01 for each in body.points) == 1)
    bars = [
        mark
        for mark in of(sheet, subject, Polyline)
        if isinstance(mark, Polyline)
        and abs(mark.points[0][1] - tip[1]) < 0.01
        and abs(mark.points[-1][1] - tip[1]) < 0.01
        and min(mark.points[0][0], mark.points[-1][0]) < tip[0] < max(mark.points[0][0], mark.points[-1][0])
    ]
    assert len(bars) == 1
    return tip[1] < max(point[1] for point in body.points) - 0.01


@pytest.mark.parametrize(
    ("cathode", "fed", "is_up"), [("86", "86", True), ("85", "86", False), ("86", "85", False), ("85", "85", True)]
)
def test_the_cathode_is_at_the_terminal_that_the_design_names(cathode: str, fed: str, is_up: bool) -> None:
    """The diode blocks the feed, so it points at the supply, where the cathode is at the fed end; else it shorts."""
    assert points_up(drawn(relay(f"{{kind: diode, cathode: {cathode}}}", fed)), "K1") is is_up


def test_a_resistor_carries_its_figure() -> None:
    """Two blocks: the coil and, left of it, the resistor; 680 ohm where the design does not say."""
    sheet = drawn(relay("{kind: resistor, resistance: 560 ohm}"))
    left, right = sorted(of(sheet, "K1", Rectangle), key=lambda mark: mark.box.x0)
    assert left.box.x1 < right.box.x0
    assert words(sheet)["560 ohm"] == 1
    assert words(drawn(relay("resistor")))["680 ohm"] == 1


def test_nothing_across_the_coil_is_nothing_drawn() -> None:
    """Neither a diode nor a second block."""
    sheet = drawn(relay("none"))
    assert len(of(sheet, "K1", Rectangle)) == 1
    assert of(sheet, "K1", Polygon) == []


def test_a_driver_shows_the_clamp_that_it_names() -> None:
    """A breakdown diode from output to ground inside the panel, its cathode at the output, and its volts."""
    body = """\
loads: {L1: {kind: coil, resistance: 12 ohm, at: b}}
drivers: {Q1: {clamp: 55 V, at: c}, Q2: {at: c}}
circuits:
  1: {from: BAT, to: L1/1, color: RD, size: 1 mm2}
  2: {from: L1/2, to: Q1/out, color: BU, size: 1 mm2}
  3: {from: Q1/ground, to: G1, color: BK, size: 1 mm2}
  4: {from: BAT, to: Q2/out, color: BU, size: 1 mm2}
  5: {from: Q2/ground, to: G1, color: BK, size: 1 mm2}
"""
    sheet = drawn(body)
    assert points_up(sheet, "Q1")
    assert words(sheet)["clamp 55 V"] == 1
    assert of(sheet, "Q2", Polygon) == []
