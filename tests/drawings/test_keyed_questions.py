"""Questions that a fabricator asks of the drawings, with keyed answers, answered from their strokes and texts alone.

The keys were written down from the design files by hand, not taken from the program.
"""

from functools import cache
from pathlib import Path

import pytest

from harnessgen.drawings.circuit.drawing import circuit_sheets
from harnessgen.drawings.layout.drawing import layout_sheets
from harnessgen.sheets.sheet import sheet_svg
from tests.drawings.generated import network_of
from tests.drawings.svg_reader import CircuitReader, LayoutReader

DESIGNS = Path(__file__).parents[2] / "designs"


@cache
def circuit(name: str) -> CircuitReader:
    """The first sheet of the circuit drawing of a design."""
    network = network_of((DESIGNS / f"{name}.yaml").read_text(encoding="utf-8"))
    return CircuitReader(sheet_svg(circuit_sheets(network)[0]))


@cache
def layout(name: str) -> tuple[LayoutReader, ...]:
    """All sheets of the layout drawing of a design."""
    network = network_of((DESIGNS / f"{name}.yaml").read_text(encoding="utf-8"))
    return tuple(LayoutReader(sheet_svg(sheet)) for sheet in layout_sheets(network))


@pytest.mark.parametrize(
    ("design", "thing", "through"),
    [
        ("flat-six", "INJ3", ["F1", "F10"]),
        ("flat-six", "INJ6", ["F2", "F10"]),
        ("flat-six", "ECU", ["SW1", "F3"]),
        ("v8-second-injectors", "INJ3", ["F1", "F10"]),
        ("v8-second-injectors", "INJ8", ["F2", "F10"]),
        ("v8-second-injectors", "Y1", ["F3", "F10"]),
        ("small-boat", "E2", ["SW3", "F2", "SW10", "F10"]),
    ],
)
def test_what_feeds_it(design: str, thing: str, through: list[str]) -> None:
    """The fuses and switches that the way up to the supply passes, the nearest first."""
    assert circuit(design).passed(thing, r"(F|SW)\d+") == through


@pytest.mark.parametrize(
    ("design", "opened", "dead"),
    [
        ("flat-six", "F2", {"INJ4", "INJ5", "INJ6"}),
        ("flat-six", "F3", {"K1", "ECU"}),
        ("v8-second-injectors", "F2", {"INJ2", "INJ4", "INJ6", "INJ8"}),
        ("v8-second-injectors", "F3", {"Y1"}),
        ("small-boat", "F10", {"E1", "E2", "E3"}),
        ("small-boat", "F1", {"M1"}),
    ],
)
def test_what_is_dead_if_it_opens(design: str, opened: str, dead: set[str]) -> None:
    """Of the things that have a resistance, those that no way leads up from any more; the others keep theirs."""
    drawn = circuit(design)
    found = {text.words for text in drawn.loads()}
    assert dead < found
    assert drawn.fed() == found
    assert found - drawn.fed(opened) == dead


@pytest.mark.parametrize(
    ("design", "wire", "cavities"),
    [
        ("flat-six", "31E", {("C23", "2")}),
        ("flat-six", "21A", {("C10s", "1")}),
        ("flat-six", "31A", {("C10s", "3"), ("C1", "14")}),
        ("v8-second-injectors", "22F", {("C28", "1")}),
    ],
)
def test_which_cavity_carries_it(design: str, wire: str, cavities: set[tuple[str, str]]) -> None:
    """Every chart that lists the wire, by the row, its head and the heading."""
    assert set().union(*(sheet.cavity_of(wire) for sheet in layout(design))) == cavities


@pytest.mark.parametrize(
    ("design", "connector", "length"),
    [
        ("flat-six", "C23", "178 +5/-0"),
        ("flat-six", "C24", "60 +5/-0"),
        ("flat-six", "C21", "60 +5/-0"),
        ("twin-fans", "C2", "790 +15/-0"),
        ("small-boat", "C4", "760 +20/-0"),
    ],
)
def test_how_long_is_the_leg(design: str, connector: str, length: str) -> None:
    """On the sheet of its section, the dimension nearest to the heading of a connector that ends its leg."""
    *_, sheet = (each for each in layout(design) if each.heading(f"{connector} to "))
    assert sheet.length_to(connector) == length


@pytest.mark.parametrize(
    ("design", "half", "contacts"),
    [("flat-six", "C10s", "socket half"), ("flat-six", "C10p", "pin half"), ("twin-fans", "C1", "socket half")],
)
def test_which_half_has_the_sockets(design: str, half: str, contacts: str) -> None:
    """Under the heading of the face stands which half it is, on every sheet that has it."""
    shown = [each for each in layout(design) if each.heading(f"{half} to ")]
    faces = [each.half_of(half) for each in shown]
    assert contacts in faces
    assert set(faces) <= {contacts} | {text for text in faces if text.startswith(("sheet", "see "))}
