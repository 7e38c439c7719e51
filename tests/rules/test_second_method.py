"""Generated networks: what the graph rules find against networkx, and against the solver's own currents."""

import random
from collections.abc import Iterator
from functools import cache

import networkx
import pytest

from harnessgen.network.electrical import REFERENCE, Element, ElementKind
from harnessgen.physics.electrical.operating_point import OperatingPoint, conducting
from harnessgen.physics.physics import Physics
from harnessgen.rules.continuity import missing_ground, open_circuit, short_circuit
from harnessgen.rules.continuity.dead_load import dead_loads
from harnessgen.rules.continuity.loops import closures, in_loops
from harnessgen.rules.continuity.open_circuit import told_elsewhere
from tests.line import physics_of

SEEDS = range(40)


def generated(seed: int) -> str:
    """A design of devices at one point: loads with a way out and back, further wires at random, three random states."""
    chance = random.Random(seed)
    fuses = [f"F{number}" for number in range(chance.randint(1, 3))]
    switches = [f"SW{number}" for number in range(chance.randint(1, 3))]
    drivers = [f"Q{number}" for number in range(chance.randint(0, 2))]
    loads = [f"M{number}" for number in range(chance.randint(1, 4))]
    feeds = ["BAT", *(f"{name}/{end}" for name in (*fuses, *switches) for end in ("in", "out"))]
    returns = ["G1", *(f"{name}/out" for name in drivers)]
    works = [f"{name}/{end}" for name in loads for end in ("1", "2")]
    wires = [("BAT", "F0/in"), *((f"{name}/ground", "G1") for name in drivers)]
    wires += [(chance.choice(feeds), f"{name}/1") for name in loads]
    wires += [(f"{name}/2", chance.choice([*returns, chance.choice(works)])) for name in loads]
    wires += [(one, other) for one, other in (chance.sample(feeds, 2) for _ in range(chance.randint(1, 5)))]
    ends = feeds + returns + works
    wires += [(one, other) for one, other in (chance.sample(ends, 2) for _ in range(chance.randint(0, 2)))]
    circuits = "\n".join(
        f"  {number}: {{from: {one}, to: {other}, color: RD, size: 1, slack: {chance.randint(50, 900)}}}"
        for number, (one, other) in enumerate(wires, 1)
        if one.partition("/")[0] != other.partition("/")[0]
    )
    on = ([each for each in (*switches, *drivers) if chance.random() < 0.6] for _ in range(3))
    states = "\n".join(f"  s{number}: {{on: [{', '.join(names)}]}}" for number, names in enumerate(on))

    def listed(names: list[str], text: str) -> str:
        return "{" + ", ".join(f"{name}: {{{text.format(chance.uniform(1, 90))}, at: p}}" for name in names) + "}"

    return f"""\
format: 2
harness: {{title: Generated, number: G-{seed}, revision: A}}
route: {{p: {{q: 100}}}}
supplies: {{BAT: {{voltage: 13 V, resistance: 10 mohm, at: p}}}}
grounds: {{G1: {{at: p}}}}
fuses: {listed(fuses, "rating: 10 A")}
switches: {listed(switches, "title: number {:.0f}")}
drivers: {listed(drivers, "title: number {:.0f}")}
loads: {listed(loads, "resistance: {:.3f} ohm")}
circuits:
{circuits}
states:
{states}
"""


def multigraph(elements: list[Element]) -> "networkx.Graph[object]":
    """Elements as nodes of their own between their two ends, so that parallel ones stay apart."""
    graph: networkx.Graph[object] = networkx.Graph()
    for element in elements:
        graph.add_edge(element.a, ("element", element.name))
        graph.add_edge(("element", element.name), element.b)
    return graph


def cases(physics: Physics) -> Iterator[OperatingPoint]:
    """Every declared state, and each with one more driver."""
    for state in physics.network.design.states.values():
        for more in ((), *((driver,) for driver in physics.network.design.drivers)):
            yield physics.solve("", frozenset((*state.on, *more)))


def shorted(physics: Physics, point: OperatingPoint, without: set[str]) -> bool:
    """Whether networkx finds a way from the battery to ground among all that is no load."""
    conducts = [
        each
        for each in physics.network.electrical.elements
        if not each.kind.does_work
        and each.kind not in (ElementKind.SUPPLY, ElementKind.GROUND)
        and each.name not in without
        and conducting(each, point.on, point.pulled_in)
    ]
    graph = multigraph(conducts)
    return "BAT" in graph and "G1" in graph and networkx.has_path(graph, "BAT", "G1")


@cache
def solved(seed: int) -> Physics:
    """The physics of a generated design."""
    return physics_of(generated(seed))


def test_the_generated_networks_are_of_all_sorts() -> None:
    """Some are shorted and some are not, and of the loads in the latter some are dead and some live."""
    whole = [seed for seed in SEEDS if not short_circuit.check(solved(seed))]
    loads = sum(len(solved(seed).network.design.loads) for seed in whole)
    dead = sum(len(open_circuit.check(solved(seed)) + missing_ground.check(solved(seed).network)) for seed in whole)
    assert min(len(whole), len(SEEDS) - len(whole), dead, loads - dead) >= 8


@pytest.mark.parametrize("seed", SEEDS)
def test_shorts_are_those_that_networkx_finds(seed: int) -> None:
    """A short is told if and only if there is a way, and without the blamed wires there is none in any case."""
    physics = solved(seed)
    blamed = {each.subject for each in short_circuit.check(physics)}
    assert any(shorted(physics, point, set()) for point in cases(physics)) is bool(blamed)
    assert not any(shorted(physics, point, blamed) for point in cases(physics))


@pytest.mark.parametrize("seed", SEEDS)
def test_loops_are_the_blocks_that_networkx_finds(seed: int) -> None:
    """What can carry current lies in the block of the battery, and the solver sends current through just that."""
    physics = solved(seed)
    for point in physics.points.values():
        conducts = [each for each in physics.network.electrical.elements if conducting(each, point.on, point.pulled_in)]
        blocks = networkx.biconnected_components(multigraph(conducts))
        block = next(
            (nodes for nodes in blocks if ("element", "BAT") in nodes and REFERENCE in nodes and "BAT" in nodes), set()
        )
        expected = {node[1] for node in block if isinstance(node, tuple)} if len(block) > 3 else set()
        looped = in_loops(physics.network.electrical, lambda each, at=point: conducting(each, at.on, at.pulled_in))
        assert looped == expected
        flowing = {name for name, amperes in point.amperes.items() if abs(amperes) > 1e-9}
        assert flowing == looped


@pytest.mark.parametrize("seed", SEEDS)
def test_dead_loads_are_those_without_current(seed: int) -> None:
    """In a design without a short, the loads told are those through which the solver sends no current in any state."""
    physics = solved(seed)
    if short_circuit.check(physics):
        return
    net = physics.network.net_of
    dead = {
        each.name
        for each in physics.network.electrical.elements
        if each.kind is ElementKind.LOAD
        and (
            net[each.a] == net[each.b] or max(abs(point.amperes[each.name]) for point in physics.points.values()) < 1e-9
        )
    }
    electrical = physics.network.electrical
    found = dead_loads(physics.network, electrical, closures(physics, electrical), has_states=True)
    assert {name for name in found if name in physics.network.design.loads} == dead
    # Told once, by whatever rule tells the cause.
    told = {name for each in open_circuit.check(physics) for name in each.subjects or (each.subject,)}
    assert told == dead - told_elsewhere(physics.network, dead)
