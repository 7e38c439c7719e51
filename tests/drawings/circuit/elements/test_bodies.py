"""Devices of three terminals stand once, each terminal brought to the column of its own wire."""

from itertools import pairwise
from pathlib import Path

import pytest

from harnessgen.drawings.circuit.drawing import circuit_sheets
from harnessgen.drawings.circuit.elements.body_symbol import BodyTerminals, body_marks
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Polyline, TextMark
from tests.drawings.circuit.reading import words
from tests.drawings.circuit.test_generated import faults
from tests.drawings.generated import network_of

SENSORS = (Path(__file__).parents[4] / "designs" / "ignition-sensors.yaml").read_text(encoding="utf-8")
HEAD = """\
format: 2
harness: {title: Contacts, number: S-2, revision: A}
route: {a: {b: 100 mm, c: 200 mm}}
supplies: {BAT: {voltage: 12 V, at: a}}
grounds: {G1: {at: c}}
relays: {K3: {part: plug-in-change-over, at: b}}
loads: {L3: {kind: lamp, resistance: 10 ohm, at: b}, L4: {kind: lamp, resistance: 10 ohm, at: b}}
"""
FED = """\
circuits:
  1: {from: BAT, to: K3/30, color: RD, size: 1 mm2}
  2: {from: K3/87, to: L3/1, color: BU, size: 1 mm2}
  3: {from: K3/87a, to: L4/1, color: BU, size: 1 mm2}
  4: {from: L3/2, to: G1, color: BK, size: 1 mm2}
  5: {from: L4/2, to: G1, color: BK, size: 1 mm2}
  6: {from: BAT, to: K3/86, color: RD, size: 1 mm2}
  7: {from: K3/85, to: G1, color: BK, size: 1 mm2}
"""
RETURN = """\
circuits:
  1: {from: BAT, to: L3/1, color: RD, size: 1 mm2}
  2: {from: BAT, to: L4/1, color: RD, size: 1 mm2}
  3: {from: L3/2, to: K3/87, color: BU, size: 1 mm2}
  4: {from: L4/2, to: K3/87a, color: BU, size: 1 mm2}
  5: {from: K3/30, to: G1, color: BK, size: 1 mm2}
  6: {from: BAT, to: K3/86, color: RD, size: 1 mm2}
  7: {from: K3/85, to: G1, color: BK, size: 1 mm2}
"""


def test_a_sensor_with_a_signal_is_one_symbol() -> None:
    """Each sensor is named once and its three terminals are named in its box."""
    network = network_of(SENSORS)
    sheets = circuit_sheets(network)
    printed = [words(sheet) for sheet in sheets if "index" not in sheet.block.title]
    for name in ("N2", "N3"):
        assert sum(each[name] for each in printed) == 1
        own = [mark for sheet in sheets[:-1] for mark in sheet.marks if mark.subject == name]
        assert sum(mark.kind is MarkKind.PANEL for mark in own) == 1
        assert {"1", "2", "signal"} <= {mark.text for mark in own if isinstance(mark, TextMark)}
    assert faults(network, sheets) == []


@pytest.mark.parametrize("circuits", [FED, RETURN])
def test_a_change_over_contact_is_one_symbol_at_rest(circuits: str) -> None:
    """Coil and contact are each named once; the lever reaches the contact of 87a and not that of 87."""
    network = network_of(HEAD + circuits)
    sheets = circuit_sheets(network)
    (sheet,) = sheets
    assert words(sheet)["K3"] == 2
    assert [words(sheet)[pin] for pin in ("30", "87", "87a")] == [1, 1, 1]
    assert faults(network, sheets) == []
    contact = [mark for mark in sheet.marks if mark.subject == "K3" and isinstance(mark, Polyline)]
    (lever,) = (mark for mark in contact if mark.kind is MarkKind.SYMBOL and len({x for x, _ in mark.points}) == 2)
    column = {mark.text: mark.x for mark in sheet.marks if isinstance(mark, TextMark) and mark.subject == "K3"}
    pivot, tip = (x for x, _ in lever.points)
    assert (tip > pivot) == (column["87a"] > pivot)
    assert (tip > pivot) != (column["87"] > pivot)


@pytest.mark.parametrize(
    "places",
    [(-20.0, 20.0), (10.0, 30.0), (-30.0, -10.0), (-30.0, 0.0), (0.5, 25.0), (10.0, 20.0, 30.0), (-9.0, 0.0, 40.0)],
)
@pytest.mark.parametrize("is_above", [False, True])
def test_leads_of_a_body_fan_out_without_crossing(places: tuple[float, ...], is_above: bool) -> None:
    """Against brute force: no stroke of one lead comes within 1 mm of a stroke of another."""
    pins = tuple((f"{number}", place) for number, place in enumerate(places))
    legs = BodyTerminals(pins, (("t", 0.0),)) if is_above else BodyTerminals((("t", 0.0),), pins)
    leads = [mark for mark in body_marks("N", legs, 0.0, 0.0, 2.5) if mark.kind is MarkKind.LEAD]
    assert len(leads) == len(places)
    strokes = [
        [(min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1])) for a, b in pairwise(lead.points)]
        for lead in leads
        if isinstance(lead, Polyline)
    ]
    for one in range(len(strokes)):
        for other in range(one):
            for a in strokes[one]:
                for b in strokes[other]:
                    away = max(a[0] - b[2], b[0] - a[2], a[1] - b[3], b[1] - a[3])
                    assert away > 1.0, (places, a, b)
