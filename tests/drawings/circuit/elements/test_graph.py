"""Strands and junctions: chains without a branch, each running from the supply's side to the ground's side."""

from pathlib import Path

import pytest

from harnessgen.drawings.circuit.elements.graph import CircuitGraph, JunctionKind, circuit_graph
from tests.drawings.generated import design_text, network_of

FLAT_SIX = (Path(__file__).parents[4] / "designs" / "flat-six.yaml").read_text(encoding="utf-8")
HEAD = """\
format: 2
harness: {title: Part, number: P-1, revision: A}
route: {a: {b: 100 mm, c: 200 mm}}
supplies: {BAT: {voltage: 12 V, at: a}}
grounds: {G1: {at: c}}
"""


def chains(graph: CircuitGraph) -> list[tuple[str, str, list[str]]]:
    return [(strand.upper, strand.lower, [piece.element.name for piece in strand.pieces]) for strand in graph.strands]


def test_the_flat_six_is_fifteen_strands() -> None:
    """Everything between two branches is one strand, written from the supply down."""
    graph = circuit_graph(network_of(FLAT_SIX))
    found = chains(graph)
    assert len(found) == 15
    assert ("BAT", "S5", ["10A", "F10", "11A", "K1 30-87", "12A"]) in found
    assert ("S5", "S1", ["12B", "F1", "21A", "C10/1", "21B"]) in found
    assert ("S1", "S2", ["21C", "C21/1", "INJ1", "C21/2", "31C"]) in found
    assert ("S2", "C1/1 mate", ["31B", "C10/3", "31A", "C1/14", "Q1"]) in found
    assert ("S6", "G1", ["15B", "K1 coil", "91A"]) in found
    assert ("C1/1 mate", "G1", ["C1/1", "90A"]) in found


def test_junctions_are_of_their_kind() -> None:
    """A battery is a supply, a joint of wires a splice, a pin of several outputs a pin."""
    junctions = circuit_graph(network_of(FLAT_SIX)).junctions
    kinds = {name: junctions[name].kind for name in ("BAT", "G1", "S1", "C1/1 mate")}
    assert kinds == {
        "BAT": JunctionKind.SUPPLY,
        "G1": JunctionKind.GROUND,
        "S1": JunctionKind.SPLICE,
        "C1/1 mate": JunctionKind.PIN,
    }
    assert junctions["BAT"].device == "BAT"


@pytest.mark.parametrize("seed", range(12))
def test_every_element_lies_in_one_strand(seed: int) -> None:
    """No wire, contact or device is lost or drawn twice; a body is a joint; a contact without wire is left out."""
    network = network_of(design_text(seed))
    graph = circuit_graph(network)
    held = [piece.element.name for strand in graph.strands for piece in strand.pieces]
    assert len(held) == len(set(held))
    poles = {*network.design.supplies, *network.design.grounds}
    missing = {each.name for each in network.electrical.elements} - set(held) - poles
    bodies = {each.name for each in graph.junctions.values() if each.kind is JunctionKind.BODY}
    whole = {f"{name.removesuffix(' contact')} 30-87{rest}" for name in bodies for rest in ("", "a")}
    assert whole <= missing
    assert all(name.endswith("30-87a") for name in missing - whole)


@pytest.mark.parametrize("seed", range(12))
def test_strands_never_lead_in_a_ring(seed: int) -> None:
    """Downwards is one direction for all strands, so a drawing from top to bottom exists."""
    graph = circuit_graph(network_of(design_text(seed)))
    above: dict[str, set[str]] = {}
    for strand in graph.strands:
        above.setdefault(strand.lower, set()).add(strand.upper)
    done: set[str] = set()
    left = set(graph.junctions)
    while ready := {name for name in left if above.get(name, set()) <= done}:
        done |= ready
        left -= ready
    assert left == set()


def test_a_resting_contact_without_wire_is_left_out() -> None:
    """A change-over relay used as a make relay has one contact in the drawing; one used whole is one body."""
    body = """\
relays: {K1: {part: plug-in-change-over, at: b}}
loads: {E1: {kind: lamp, power: 5 W, at: c}}
circuits:
  1: {from: BAT, to: K1/30, color: RD, size: 1 mm2}
  2: {from: K1/87, to: E1/1, color: RD, size: 1 mm2}
  3: {from: E1/2, to: G1, color: BK, size: 1 mm2}
"""
    more = "  4: {from: K1/87a, to: G1, color: BK, size: 1 mm2}\n"
    plain, whole = (circuit_graph(network_of(HEAD + text)) for text in (body, body + more))
    names = {piece.element.name for strand in plain.strands for piece in strand.pieces}
    assert "K1 30-87" in names
    assert "K1 30-87a" not in names
    (contact,) = (each for each in whole.junctions.values() if each.kind is JunctionKind.BODY)
    assert dict(contact.terminals) == {"1A": "30", "2A": "87", "4A": "87a"}


def test_a_ring_of_wires_is_cut_in_two() -> None:
    """A ring has no upper and lower end until one of its splices becomes a junction."""
    body = """\
splices: {S1: a, S2: b, S3: c}
circuits:
  1: {from: BAT, to: S1, color: RD, size: 1 mm2}
  2: {from: S1, to: S2, color: BU, size: 1 mm2}
  3: {from: S2, to: S3, color: GN, size: 1 mm2}
  4: {from: S3, to: S1, color: GN, size: 1 mm2}
"""
    found = chains(circuit_graph(network_of(HEAD + body)))
    assert sorted(len(pieces) for _, _, pieces in found if pieces) == [1, 1, 2]
    assert all(upper != lower for upper, lower, pieces in found if pieces)


def test_feeds_and_returns_know_their_side() -> None:
    """The splice of a feed lies on the supply's side, that of a return and the ground on the other."""
    feed_side = circuit_graph(network_of(FLAT_SIX)).feed_side
    assert feed_side["S1"]
    assert feed_side["S6"]
    assert not feed_side["S2"]
    assert not feed_side["G1"]
