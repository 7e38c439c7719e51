"""The circuit drawing of 200 random designs: nothing meets, nothing is missing, references lead both ways."""

import re
from collections import Counter
from functools import cache

import pytest

from harnessgen.drawings.circuit.drawing import circuit_sheets
from harnessgen.drawings.circuit.elements.blocks import wire_words
from harnessgen.network.network import Network
from harnessgen.sheets.sheet import STATIONERY, Sheet
from tests.drawings.circuit.reading import unjoined, words
from tests.drawings.generated import design_text, network_of
from tests.samples import sample, some
from tests.sheets.clearance import collisions

SEEDS = 200
BATCH = 10


def faults(network: Network, sheets: tuple[Sheet, ...]) -> list[str]:
    """All that is wrong with a drawing, in words."""
    found = [str(fault) for sheet in sheets for fault in collisions(sheet.all_marks, sheet.paper.frame)]
    printed = sum((words(sheet) for sheet in sheets), Counter())
    found += [f"{wire.mark} is missing" for wire in network.wires if not printed[wire_words(wire)]]
    # A disconnect that no wire passes, or a connector without wire and device, is no part of the circuit.
    halves = {f"{name}{half}": name for name in network.design.disconnects for half in "sp"}
    held = (node.designator for node in network.electrical.nodes.values() if node.designator)
    named = dict.fromkeys([*network.design.devices, *(halves.get(name, name) for name in held)])
    found += [f"{name} is missing" for name in named if not printed[name]]
    found += unjoined(network, sheets)
    found += one_way(sheets)
    return found


def one_way(sheets: tuple[Sheet, ...]) -> list[str]:
    """References to a sheet that has none back."""
    leads: dict[int, set[tuple[str, int]]] = {}
    for number, sheet in enumerate(sheets, 1):
        found = (re.fullmatch(r"(to|from) sheet (\d+)", text) for text in words(sheet))
        leads[number] = {(match[1], int(match[2])) for match in found if match}
    back = {"to": "from", "from": "to"}
    return [
        f"{way} {other} on sheet {number}"
        for number, held in leads.items()
        for way, other in sorted(held)
        if (back[way], number) not in leads.get(other, set())
    ]


@pytest.mark.parametrize("first", some(range(0, SEEDS, BATCH), 3))
def test_generated_designs_are_drawn_without_fault(first: int) -> None:
    """Zero collisions, every wire and designator printed, every end joined, every reference answered."""
    for seed in range(first, first + BATCH):
        network = network_of(design_text(seed))
        assert (seed, faults(network, circuit_sheets(network))) == (seed, [])


@pytest.mark.parametrize("word", ["letter", "a3"])
def test_other_paper_is_without_fault(word: str) -> None:
    """Each sheet, the index too, is of the paper that was asked for, and nothing on it is wrong."""
    asked = STATIONERY[word]
    allowed = {asked.procedure, *asked.drawings}
    for text in (*map(design_text, sample(range(8), 3)), design_text(0, loads=40, disconnects=2)):
        network = network_of(text)
        sheets = circuit_sheets(network, stationery=asked)
        assert {sheet.paper for sheet in sheets} <= allowed
        assert faults(network, sheets) == []
    assert len(sheets) > 1


@cache
def sixty(seed: int, disconnects: int) -> tuple[Network, tuple[Sheet, ...]]:
    """A network of 60 loads and its drawing."""
    network = network_of(design_text(seed, loads=60, disconnects=disconnects))
    return network, circuit_sheets(network)


@pytest.mark.parametrize(("seed", "disconnects"), some([(0, 3), (1, 0), (2, 2)], 1))
def test_sixty_loads_are_shared_out_over_sheets(seed: int, disconnects: int) -> None:
    """A design far too large for one sheet is drawn on several, each numbered."""
    network, sheets = sixty(seed, disconnects)
    assert len(network.design.loads) == 60
    assert faults(network, sheets) == []
    assert 3 <= sum("index" not in sheet.block.title for sheet in sheets) <= 12
    assert [(sheet.block.sheet, sheet.block.sheets) for sheet in sheets] == [
        (number, len(sheets)) for number in range(1, len(sheets) + 1)
    ]
    assert {sheet.paper.name for sheet in sheets} == {"A3 landscape", "A4 landscape"}
    assert all(sheet.paper.name == "A4 landscape" for sheet in sheets if "index" in sheet.block.title)


def test_a_bank_stays_on_one_sheet() -> None:
    """When a design is shared out, the loads of a bank that fits a sheet are not torn apart."""
    network, sheets = sixty(0, 3)
    sheets = tuple(sheet for sheet in sheets if "index" not in sheet.block.title)
    assert network.design.banks
    for bank in network.design.banks.values():
        on = {number for number, sheet in enumerate(sheets) if any(words(sheet)[name] for name in bank.loads)}
        assert len(on) == 1


def test_the_generator_repeats_itself() -> None:
    """The same seed gives the same design."""
    assert design_text(7) == design_text(7)
    assert design_text(7) != design_text(8)
