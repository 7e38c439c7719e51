"""The electrical graph that the Python interface hands out, and the solver's arrays in its order of edges."""

import re
from contextlib import redirect_stdout
from io import StringIO
from itertools import pairwise
from pathlib import Path

import networkx
import pytest

from harnessgen.network.electrical import LASTING, ElectricalNode, Element
from harnessgen.physics.electrical.conducting_network import live_network
from harnessgen.physics.electrical.operating_point import conducting
from harnessgen.physics.physics import Physics
from tests.drawings.generated import design_text
from tests.line import FLAT_SIX, physics_of

ROOT = Path(__file__).parents[2]
SEEDS = range(8)


def designs() -> list[str]:
    """The flat six and generated designs."""
    return [FLAT_SIX, *map(design_text, SEEDS)]


@pytest.mark.parametrize("text", designs(), ids=["flat-six", *map(str, SEEDS)])
def test_nodes_and_edges_carry_one_record_each(text: str) -> None:
    """Every element is one edge between its two nodes under its own name, and nothing else is in the graph."""
    network = physics_of(text).network
    graph = network.graph
    assert graph is network.graph
    assert list(graph) == list(network.electrical.nodes)
    assert all(
        list(data) == ["record"] and isinstance(data["record"], ElectricalNode) for _, data in graph.nodes.items()
    )
    edges = {name: (frozenset((a, b)), data) for a, b, name, data in graph.edges(keys=True, data=True)}
    assert len(edges) == graph.number_of_edges() == len(network.electrical.elements)
    for element in network.electrical.elements:
        assert edges[element.name] == (frozenset((element.a, element.b)), {"record": element})
        assert isinstance(element, Element)


@pytest.mark.parametrize("text", designs(), ids=["flat-six", *map(str, SEEDS)])
def test_the_solver_is_indexed_by_the_order_of_edges(text: str) -> None:
    """In every state each row of the solver is the edge whose place it says, rows ascend, and currents are its own."""
    physics = physics_of(text)
    network = physics.network
    elements, (a, b) = network.electrical.elements, network.electrical.ends
    names = list(network.graph)
    assert [(names[one], names[other]) for one, other in zip(a, b, strict=True)] == [(e.a, e.b) for e in elements]
    supply_v = {name: supply.voltage_v.value for name, supply in network.design.supplies.items()}
    for point in physics.points.values():
        assert list(point.amperes) == [each.name for each in elements]
        closed = [each for each in elements if conducting(each, point.on, point.pulled_in)]
        live = live_network(network, closed, physics.ohms, supply_v)
        assert tuple(elements[place] for place in live.edges) == live.resistive
        assert all(one < other for one, other in pairwise(live.edges.tolist()))
        assert (live.nodal.elements.a[: len(live.edges)] == a[live.edges]).all()
        assert sum(physics.ohms[each.name] > 0 for each in closed) == len(live.edges)


def lasting_nets(physics: Physics) -> set[frozenset[str]]:
    """Nets by taking out of the graph handed out every edge that does not join for good."""
    kept = networkx.MultiGraph(physics.network.graph)
    kept.remove_edges_from(
        [edge[:3] for edge in physics.network.graph.edges(keys=True, data="record") if edge[3].kind not in LASTING]
    )
    return {frozenset(part) for part in networkx.connected_components(kept)}


@pytest.mark.parametrize("seed", SEEDS)
def test_nets_are_parts_of_the_graph(seed: int) -> None:
    """Nodes have one number if and only if they hang together by wires and mated contacts."""
    physics = physics_of(design_text(seed))
    nets: dict[int, set[str]] = {}
    for node, number in physics.network.net_of.items():
        nets.setdefault(number, set()).add(node)
    assert {frozenset(net) for net in nets.values()} == lasting_nets(physics)


def test_the_example_of_the_developers_page_runs(monkeypatch: pytest.MonkeyPatch) -> None:
    """What it prints of the flat six: wires in section A, the way past the disconnect, what lies behind a fuse."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    (example,) = re.findall(r"```python\n(.*?)```", text, re.DOTALL)
    monkeypatch.chdir(ROOT)
    with redirect_stdout(StringIO()) as said:
        exec(compile(example, "DEVELOPERS.md", "exec"), {})
    lines = said.getvalue().splitlines()
    assert lines[0].endswith(" splice")
    wires = physics_of(FLAT_SIX).network.wires
    assert lines[1] == f"{sum(wire.section == 'A' for wire in wires)} wires in section A"
    assert lines[2] == "['F1/out', 'C10s/1', 'C10p/1', 'S1', 'C21/1']"
    assert {"C21/1 mate", "C22/1 mate", "C23/1 mate"} < set(eval(lines[3]))
    assert "F1/in" not in lines[3]
    assert "BAT" not in lines[3]
