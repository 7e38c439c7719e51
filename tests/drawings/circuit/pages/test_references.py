"""References between the sheets of a circuit drawing: each joint once, each crossing answered."""

from pathlib import Path

import pytest

from harnessgen.drawings.circuit.elements.graph import CircuitGraph, SheetReference, Strand, circuit_graph
from harnessgen.drawings.circuit.pages.references import in_short, joint_ends, sheet_strands, trunk_of
from tests.drawings.generated import network_of

FLAT_SIX = (Path(__file__).parents[4] / "designs" / "flat-six.yaml").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def graph() -> CircuitGraph:
    return circuit_graph(network_of(FLAT_SIX))


def marks(strand: Strand) -> list[str]:
    return [piece.element.name for piece in strand.pieces]


def shared_without(graph: CircuitGraph, *names: str) -> list[tuple[int, ...]]:
    """The strands that hold one of the named elements on sheet 2, the others on sheet 1."""
    second = tuple(at for at, strand in enumerate(graph.strands) if set(names) & set(marks(strand)))
    return [tuple(at for at in range(len(graph.strands)) if at not in second), second]


def test_a_strand_that_leaves_its_joint_is_named_on_both_sheets(graph: CircuitGraph) -> None:
    """Sheet 1 has the wire with a flag to sheet 2, sheet 2 begins the same wire with a flag from sheet 1."""
    first, second = sheet_strands(graph, shared_without(graph, "F1", "INJ1", "INJ2", "INJ3", "Q1"))
    (feed,) = [strand for strand in second if "F1" in marks(strand)]
    assert feed.from_sheet == SheetReference("sheet 1", "S5")
    assert feed.to_sheet is None
    (stub,) = [strand for strand in first if strand.to_sheet is not None]
    assert marks(stub) == ["12B"]
    assert stub.to_sheet == SheetReference("sheet 2", "F1")
    (back,) = [strand for strand in second if "Q1" in marks(strand)]
    assert back.to_sheet == SheetReference("sheet 1", "C1/1")
    (pin,) = [strand for strand in first if strand.from_sheet is not None]
    assert pin.from_sheet == SheetReference("sheet 2", "Q1")
    assert pin.is_stub


def test_many_wires_to_one_sheet_share_a_flag(graph: CircuitGraph) -> None:
    """Three legs that leave a splice for the same sheet are one flag with their marks."""
    first, second = sheet_strands(graph, shared_without(graph, "INJ1", "INJ2", "INJ3"))
    flags = [strand for strand in first if strand.is_stub]
    assert [(flag.to_sheet, flag.from_sheet) for flag in flags] == [
        (SheetReference("sheet 2", "21C to 21E"), None),
        (None, SheetReference("sheet 2", "31C to 31E")),
    ]
    assert all(strand.from_sheet == SheetReference("sheet 1", "S1") for strand in second)


def test_the_trunk_of_a_joint_is_found(graph: CircuitGraph) -> None:
    """The only wire on one side of a splice, and the connector of a shared pin."""
    ends = joint_ends(graph)
    found = {name: trunk_of(graph, name, *sides) for name, sides in ends.items()}
    named = {
        name: marks(graph.strands[at])[0 if name.startswith("C") else -1]
        for name, at in found.items()
        if at is not None
    }
    assert named["S1"] == "21B"
    assert named["C1/1 mate"] == "C1/1"


@pytest.mark.parametrize(
    ("names", "short"),
    [
        (["12B", "12C", "12D", "13A"], "12B to 12D, 13A"),
        (["12B", "12D", "12E"], "12B, 12D, 12E"),
        (["12Z", "12AA", "12AB"], "12Z to 12AB"),
        (["Q3", "Q1", "Q2"], "Q1 to Q3"),
        (["7", "3", "4", "5"], "3 to 5, 7"),
        (["F9", "F10", "F11", "S1"], "F9 to F11, S1"),
        (["A", "B", "C"], "A, B, C"),
        ([], ""),
    ],
)
def test_names_are_listed_in_short(names: list[str], short: str) -> None:
    """More than two that follow one another are a range; a gap ends it."""
    assert in_short(names) == short
