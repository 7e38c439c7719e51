"""The circuit annotated with a state: what a meter would read, by hand and by Kirchhoff, with nothing in the way."""

from pathlib import Path

import pytest

from harnessgen.drawings.circuit.drawing import circuit_sheets
from harnessgen.drawings.circuit.elements.blocks import wire_words
from harnessgen.drawings.circuit.elements.readings import ampere_words, readings_of
from harnessgen.interface import check
from harnessgen.run import examine_text
from harnessgen.sheets.marks import TextMark
from harnessgen.sheets.sheet import Sheet
from tests.drawings.circuit.reading import unjoined, words
from tests.samples import some
from tests.sheets.clearance import collisions

DESIGNS = sorted((Path(__file__).parents[4] / "designs").glob("*.yaml"))
SERIES = """\
format: 2
harness: {title: Two in series, number: A-1, revision: A}
route: {a: {b: 10 mm, c: 20 mm}}
supplies: {BAT: {voltage: 12 V, at: a}}
grounds: {G1: {at: c}}
switches: {SW1: {at: a}}
loads:
  R1: {kind: resistor, resistance: 100 ohm, at: b}
  R2: {kind: resistor, resistance: 200 ohm, at: b}
circuits:
  1: {from: BAT, to: SW1/in, color: RD, size: 1 mm2}
  2: {from: SW1/out, to: R1/1, color: RD, size: 1 mm2}
  3: {from: R1/2, to: R2/1, color: BU, size: 1 mm2}
  4: {from: R2/2, to: G1, color: BK, size: 1 mm2}
states:
  lit: {on: SW1}
  dark: {off: [R1, R2]}
"""


def annotated(text: str, state: str) -> Sheet:
    """The one sheet of a small design in a state."""
    checked = examine_text(text)
    assert checked.network is not None
    assert checked.physics is not None
    (sheet,) = circuit_sheets(checked.network, readings=readings_of(checked.network, checked.physics.points[state]))
    return sheet


def read_off(sheets: tuple[Sheet, ...]) -> dict[str, float]:
    """Amperes on each wire as they are printed, by the mark of the wire; what runs up the sheet is negative."""
    factor = {"A": 1.0, "mA": 0.001}
    found: dict[str, float] = {}
    for sheet in sheets:
        for mark in sheet.marks:
            if isinstance(mark, TextMark) and mark.bold and mark.text.removesuffix(" up").endswith("A"):
                figure, _, unit = mark.text.removesuffix(" up").partition(" ")
                if unit in factor:
                    sign = -1.0 if mark.text.endswith(" up") else 1.0
                    found[mark.subject] = sign * float(figure) * factor[unit]
    return found


def test_two_loads_in_series_by_hand() -> None:
    """12 V over 300 ohm is 40 mA, 4 V across the one and 8 V across the other; wires and contact add under 1 %."""
    sheet = annotated(SERIES, "lit")
    printed = words(sheet)
    assert all(abs(ampere - 0.04) < 0.0004 for ampere in read_off((sheet,)).values())
    assert len(read_off((sheet,))) == 4
    assert printed["4 V across"] == 1
    assert printed["8 V across"] == 1
    assert "lit" in sheet.block.title


def test_a_state_that_is_off_is_dead() -> None:
    """No current and no volts with the switch open, and both are printed."""
    printed = words(annotated(SERIES, "dark"))
    assert printed["0 A"] == 4
    assert printed["0 V across"] == 2


@pytest.mark.parametrize(
    ("ampere", "is_down", "said"),
    [(3.171, True, "3.17 A"), (-3.171, True, "3.17 A up"), (-0.0456, False, "45.6 mA"), (123.4, True, "123 A"),
     (2e-7, True, "0 A"), (99.97, True, "100 A"), (0.00000212, True, "0.00212 mA")],
)  # fmt: skip
def test_currents_in_words(ampere: float, is_down: bool, said: str) -> None:
    """Three figures, milliamperes where they are few, and the way where it is against the sheet."""
    assert ampere_words(ampere, is_down=is_down) == said


@pytest.mark.parametrize("path", some(DESIGNS, 2), ids=lambda path: path.stem)
def test_annotated_drawings_are_complete_and_clear(path: Path) -> None:
    """In every state: nothing meets, each wire carries a reading, and what is printed adds up at splices."""
    checked = check(path)
    network, physics = checked.network, checked.physics
    assert network is not None
    assert physics is not None
    for state, point in physics.points.items():
        sheets = circuit_sheets(network, readings=readings_of(network, point))
        assert [str(fault) for sheet in sheets for fault in collisions(sheet.all_marks, sheet.paper.frame)] == []
        assert unjoined(network, sheets) == []
        amperes = read_off(sheets)
        assert set(amperes) == {wire.mark for wire in network.wires}, state
        assert all(any(words(sheet)[wire_words(wire)] for sheet in sheets) for wire in network.wires)
        for splice in network.design.splices:
            branches = [abs(amperes[wire.mark]) for wire in network.wires_at.get(splice, ())]
            # One branch carries what the others share, or two pairs balance: the largest is no more than the rest.
            if len(branches) > 1:
                assert 2 * max(branches) <= sum(branches) * 1.02 + 1e-6, (state, splice, branches)
