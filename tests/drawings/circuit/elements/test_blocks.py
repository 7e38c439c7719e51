"""What stands on the columns of the circuit drawing: texts, figures, and stacks that keep clear of themselves."""

import pytest

from harnessgen.drawings.circuit.elements.blocks import Blocks, wire_label, wire_words
from harnessgen.drawings.circuit.elements.element_symbols import figure_text, wrapped
from harnessgen.drawings.circuit.elements.graph import circuit_graph
from harnessgen.sheets.box import Box
from harnessgen.sheets.lettering import text_width_mm
from harnessgen.sheets.marks import TextMark
from tests.drawings.generated import design_text, network_of
from tests.sheets.clearance import collisions

TEXT = """\
format: 2
harness: {title: Part, number: P-1, revision: A, wire: [thin-wall-125, cross-linked-125]}
route: {a: {b: 100 mm, c: 200 mm}}
supplies: {BAT: {voltage: 12 V, at: a}}
grounds: {G1: {at: c}}
connectors: {C1: {part: sealed-4, at: b}}
relays: {K1: {part: plug-in-make, at: b}}
drivers: {Q1: {title: output, terminals: {out: C1/1, ground: C1/2}}}
fuses: {F1: {rating: 7.5 A, at: b}}
loads:
  E1: {kind: lamp, power: 5 W, at: c}
  E2: {part: injector-saturated, at: c}
  E3: {kind: resistor, resistance: 2.2 kohm, at: c}
circuits:
  1: {from: BAT, to: F1, color: RD, size: 18 AWG}
  2: {from: F1, to: E1/1, color: BU/WH, size: 0.75 mm2}
"""


def test_a_conductor_says_mark_colour_and_size() -> None:
    """Metric sizes stand without their unit, gauges with it."""
    wires = network_of(TEXT).wire_of
    assert wire_words(wires["1A"]) == "1A RD 18 AWG"
    assert wire_words(wires["2A"]) == "2A BU/WH 0.75"


def test_main_figures_are_the_devices_own() -> None:
    """Watts where a power is stated, ohms of the family or its own, large ones in kohm; none without a limit."""
    network = network_of(TEXT)
    found = {each.name: figure_text(network, each) for each in network.electrical.elements if each.device}
    assert found["F1"] == "7.5 A"
    assert found["E1"] == "5 W"
    assert found["E2"] == "12 ohm"
    assert found["E3"] == "2.2 kohm"
    assert found["K1 coil"] == "90 ohm"
    assert found["Q1"] == ""


@pytest.mark.parametrize("module_mm", [2.5, 2.2])
def test_a_label_is_legible_and_fills_its_gap(module_mm: float) -> None:
    """The text on a conductor is 2 mm or larger, and the conductor is interrupted by no more than it needs."""
    label = wire_label(network_of(TEXT).wire_of["2A"], module_mm)
    (text,) = label.marks
    assert isinstance(text, TextMark)
    assert text.size_mm >= 2.0
    assert label.box.y0 > 0
    assert label.box.y1 < label.length_mm < label.box.height_mm + 1.2


def test_titles_are_wrapped_to_two_lines() -> None:
    """A short title takes one narrow line, a long one two wide ones, and only an endless one loses its end."""
    assert wrapped("rear", 2.5) == ("rear",)
    long = wrapped("left headlamp main beam with washer", 2.5)
    assert len(long) == 2
    assert " ".join(long) == "left headlamp main beam with washer"
    endless = wrapped("word " * 60, 2.5)
    assert len(endless) == 2
    assert endless[1].endswith("…")
    assert max(text_width_mm(line, 2.5) for line in endless) <= 18 * 2.5


@pytest.mark.parametrize("seed", range(8))
def test_no_block_meets_itself(seed: int) -> None:
    """Device, connectors, pins and texts of one stack keep clear of one another in both modules."""
    network = network_of(design_text(seed))
    graph, maker = circuit_graph(network), Blocks(network)
    for strand in graph.strands:
        for module_mm in (2.5, 2.2):
            for block in maker.of(graph, strand, module_mm):
                moved = [mark.shift(200, 100) for mark in block.marks]
                assert [str(fault) for fault in collisions(moved, Box(0, 0, 400, 300))] == []
