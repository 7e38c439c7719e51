"""Symbols: upright, on the raster, joined at their terminals without a collision, and named."""

from collections.abc import Callable
from itertools import pairwise
from xml.etree import ElementTree

import pytest

from harnessgen.design.records.device import ACTS_ON
from harnessgen.drawings.symbols import circuit_symbols as symbols
from harnessgen.drawings.symbols.circuit_symbols import Symbol
from harnessgen.sheets.box import Box
from harnessgen.sheets.marks import Conductor, Mark, TextMark
from harnessgen.sheets.svg_writer import ALLOWED, svg_text
from tests.sheets.clearance import collisions

AREA = Box(0, 0, 400, 300)
LINES = ("12.0 Ω", "front")

TWO_TERMINALS: dict[str, Callable[[float, float], Symbol]] = {
    "fuse": lambda x, y: symbols.fuse(x, y, "F1", LINES),
    "resistor": lambda x, y: symbols.resistor(x, y, "R1", LINES),
    "sensor": lambda x, y: symbols.sensor(x, y, "N1", LINES),
    "coil": lambda x, y: symbols.coil(x, y, "INJ1", LINES),
    "motor": lambda x, y: symbols.motor(x, y, "M1", LINES),
    "lamp": lambda x, y: symbols.lamp(x, y, "H1", LINES),
    "diode": lambda x, y: symbols.diode(x, y, "D1", LINES),
    "diode upwards": lambda x, y: symbols.diode(x, y, "D1", LINES, upwards=True),
    "switch": lambda x, y: symbols.switch(x, y, "SW1", LINES),
    "position switch": lambda x, y: symbols.switch(x, y, "SW6", LINES, acts_on="position"),
    "thermal switch": lambda x, y: symbols.switch(x, y, "SW2", LINES, acts_on="temperature"),
    "pressure switch": lambda x, y: symbols.switch(x, y, "SW3", LINES, acts_on="pressure"),
    "float switch": lambda x, y: symbols.switch(x, y, "SW4", LINES, acts_on="level"),
    "output": lambda x, y: symbols.switch(x, y, "SW5", LINES, acts_on="signal"),
    "make contact": lambda x, y: symbols.make_contact(x, y, "K1", LINES),
    "make contact with pins": lambda x, y: symbols.make_contact(x, y, "K1", LINES, pins=("30", "87")),
    "relay coil": lambda x, y: symbols.relay_coil(x, y, "K1", LINES, pins=("86", "85")),
    "connector": lambda x, y: symbols.connection_break(x, y, "C10", "14"),
}
ONE_TERMINAL: dict[str, Callable[[float, float], Symbol]] = {
    "ground": lambda x, y: symbols.ground(x, y, "G1", ("engine block",)),
    "splice": lambda x, y: symbols.splice_dot(x, y, "S1"),
    "splice left": lambda x, y: symbols.splice_dot(x, y, "S1", side="left"),
    "splice lower": lambda x, y: symbols.splice_dot(x, y, "S1", lower=True),
}
ALL = TWO_TERMINALS | ONE_TERMINAL


def wire(start: tuple[float, float], end: tuple[float, float], subject: str) -> Conductor:
    """A conductor between two places."""
    return Conductor((start, end), "RD", "YE", subject=subject)


@pytest.mark.parametrize("name", ALL)
def test_a_symbol_is_clear_in_itself_and_complete(name: str) -> None:
    """Strokes and text of one symbol do not collide, and its box holds them all with the terminals."""
    made = ALL[name](100, 100)
    assert [str(fault) for fault in collisions(made.marks, AREA)] == []
    for mark in made.marks:
        assert made.box.contains(mark.box)
        assert isinstance(mark, TextMark) or made.body.contains(mark.box)
        assert mark.subject
    for _, place in made.terminals:
        assert made.box.contains_point(place)


@pytest.mark.parametrize("name", TWO_TERMINALS)
def test_current_flows_through_from_top_to_bottom(name: str) -> None:
    """Top terminal at the place asked, bottom below it; conductors arrive and leave there without a collision."""
    made = TWO_TERMINALS[name](100, 100)
    assert made.top == (100, 100)
    assert made.bottom[1] > made.top[1]
    below = made.bottom[0], made.bottom[1] + 20
    joined: list[Mark] = [wire((100, 80), made.top, "1A"), *made.marks, wire(made.bottom, below, "1B")]
    assert [str(fault) for fault in collisions(joined, AREA)] == []


@pytest.mark.parametrize("name", TWO_TERMINALS)
def test_a_conductor_past_the_terminal_is_found(name: str) -> None:
    """The forms are solid for the clearance test: a conductor drawn through from top to bottom is a collision."""
    made = TWO_TERMINALS[name](100, 100)
    through = wire((100, 80), (100, made.body.y1 + 20), "1A")
    assert collisions([*made.marks, through], AREA) != []


def test_terminals_lie_on_the_raster_and_symbols_stack() -> None:
    """Every two-terminal load is 6 modules high, so that a row of different loads shares one line above and below."""
    for name, make in TWO_TERMINALS.items():
        made = make(100, 100)
        expected = 100 + (0.6 if name == "connector" else 6) * symbols.MODULE_MM
        assert made.bottom[1] == pytest.approx(expected), name


def test_a_string_of_symbols_down_to_ground_is_clear() -> None:
    """Fuse, connector, load, connector, output and ground in one line collide nowhere."""
    parts = [
        symbols.fuse(100, 40, "F1", ("7.5 A",)),
        symbols.connection_break(100, 75, "C10", "1"),
        symbols.coil(100, 100, "INJ1", LINES),
        symbols.connection_break(100, 130, "C10", "3"),
        symbols.switch(100, 155, "Q1", LINES, acts_on="signal"),
        symbols.ground(100, 190, "G1", ("engine block",)),
    ]
    marks: list[Mark] = []
    ends = [((100.0, 20.0), parts[0].top), *((one.bottom, other.top) for one, other in pairwise(parts))]
    marks += [wire(*pair, f"2{index}") for index, pair in enumerate(ends)]
    marks += [mark for part in parts for mark in part.marks]
    assert [str(fault) for fault in collisions(marks, AREA)] == []


@pytest.mark.parametrize("name", ["splice", "splice left", "splice lower"])
def test_the_name_of_a_splice_keeps_off_its_conductors(name: str) -> None:
    """Four conductors leave a splice level and upright; its designator touches none of them."""
    made = ONE_TERMINAL[name](100, 100)
    arms = [((70, 100), (100, 100)), ((100, 100), (130, 100)), ((100, 70), (100, 100)), ((100, 100), (100, 130))]
    wires = [wire(*arm, f"2{index}") for index, arm in enumerate(arms)]
    assert [str(fault) for fault in collisions([*made.marks, *wires], AREA)] == []


def test_a_larger_module_draws_the_same_form_larger() -> None:
    """Body and text grow with the module; the top terminal stays."""
    small, large = symbols.coil(100, 100, "INJ1", LINES, 2.5), symbols.coil(100, 100, "INJ1", LINES, 5.0)
    assert large.top == small.top
    assert large.body.height_mm == pytest.approx(2 * small.body.height_mm)
    assert large.box.width_mm == pytest.approx(2 * small.box.width_mm)


def test_a_suppression_diode_is_the_other_way_up() -> None:
    """The bar of the diode is below the triangle for current downwards and above it for current upwards."""

    def bar_and_middle(made: Symbol) -> tuple[float, float]:
        (bar,) = [m.box for m in made.marks if not isinstance(m, TextMark) and m.box.height_mm < 1 < m.box.width_mm]
        return bar.centre[1], (made.top[1] + made.bottom[1]) / 2

    bar, middle = bar_and_middle(symbols.diode(100, 100, "D1"))
    assert bar > middle
    bar, middle = bar_and_middle(symbols.diode(100, 100, "D1", upwards=True))
    assert bar < middle


def test_designator_and_cavity_stand_beside_a_connector() -> None:
    """A connector shows its designator in bold and its cavity after it, and is found as designator/cavity."""
    made = symbols.connection_break(100, 100, "C10", "14")
    designator, cavity = (mark for mark in made.marks if isinstance(mark, TextMark))
    assert (designator.text, designator.bold, cavity.text, cavity.bold) == ("C10", True, "14", False)
    assert designator.box.x0 > made.body.x1
    assert cavity.box.x0 > designator.box.x1
    assert {mark.subject for mark in made.marks} == {"C10/14"}


def test_a_terminal_that_is_not_there_is_refused() -> None:
    """A contact has a terminal above and one below, and no other."""
    made = symbols.make_contact(100, 100, "K1")
    assert made.top[1] < made.bottom[1]
    with pytest.raises(KeyError):
        made.terminal("coil")


def test_symbols_use_only_allowed_elements() -> None:
    """All symbols on one sheet, written as SVG, keep to the list of elements and attributes."""
    marks = [mark for make in ALL.values() for mark in make(100, 100).marks]
    for element in ElementTree.fromstring(svg_text(marks, 400, 300, "all")).iter():
        name = element.tag.rpartition("}")[2]
        assert name in ALLOWED
        assert set(element.attrib) <= ALLOWED[name]


def test_each_way_of_working_a_switch_has_its_own_form() -> None:
    """Hand, position, temperature, pressure, level and signal can be told apart by their strokes and letters alone."""
    forms = {
        repr([(mark.outlines, mark.text if isinstance(mark, TextMark) else "") for mark in made.marks])
        for made in (symbols.switch(0, 0, "SW1", (), acts_on=each) for each in ACTS_ON)
    }
    assert len(forms) == len(ACTS_ON)
