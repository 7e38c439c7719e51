"""Without power: what the pieces of a harness tell of every fault is what each harness, read by itself, tells."""

from dataclasses import replace
from math import inf
from random import Random
from types import SimpleNamespace
from typing import cast

import pytest

from harnessgen.bench.detection.separate_islands import Apart, bridges_of
from harnessgen.bench.detection.unpowered import OhmBlock
from harnessgen.bench.faults.changes import Changes
from harnessgen.bench.faults.fault import METAL, Change, Meets, Series, Spot, Swapped, Thinner
from harnessgen.bench.faults.universe import universe_of
from harnessgen.bench.setup.installed import Fitted
from harnessgen.bench.setup.path_resistance import Edge, ohms_of
from harnessgen.bench.setup.step import Block, Phase
from harnessgen.bench.simulation.unpowered import Rig
from harnessgen.bench.simulation.unpowered_faults import Joined, Moved
from harnessgen.bench.steps.procedure import procedure_of
from harnessgen.network.network import Network
from harnessgen.physics.physics import Physics
from tests.bench.proving import SOME, fitted_of, text_of
from tests.drawings.generated import design_text, network_of
from tests.samples import some

_CHANGES = 40
"""Changes of each design that are read one by one."""


def shown_one_by_one(inside: OhmBlock, change: Change) -> set[str]:
    """The steps that show a change, every one of them read with it, whether it touches them or not."""
    found = set()
    for step in inside.block.steps:
        if step.instrument is not None:
            placed = inside._placed(step)
            if inside.block.setup.phase is Phase.DROP:
                placed = replace(placed, good_ohm=inside.rigs[0].ohm(placed.a, placed.b))
            if inside._shows(placed, [rig.ohm(placed.a, placed.b, change) for rig in inside.rigs]):
                found.add(step.number)
    return found


def assert_same(fitted: Fitted, blocks: tuple[Block, ...], seed: int) -> None:
    """Some changes of every class, by a seed, shown by the same steps either way."""
    by_class: dict[str, list[Change]] = {}
    for fault in universe_of(fitted).faults:
        if fault.change is not None:
            by_class.setdefault(fault.kind.value, []).append(fault.change)
    rng = Random(seed)
    share = max(3, _CHANGES // len(by_class))
    changes = [each for held in by_class.values() for each in rng.sample(held, min(share, len(held)))]
    for block in blocks:
        if block.setup.phase is Phase.LOOK or block.setup.phase.is_powered:
            continue
        inside = OhmBlock(fitted, block)
        bits = {step.number: 1 << place for place, step in enumerate(block.steps)}
        for change, mask in zip(changes, inside.shown(Changes(changes), bits), strict=True):
            expected = shown_one_by_one(inside, change)
            assert {number for number, bit in bits.items() if mask & bit} == expected, (block.number, change)


@pytest.mark.parametrize("seed", some(range(10), [0, 3, 5]))
def test_generated_designs_are_shown_as_one_by_one(seed: int) -> None:
    """Random harnesses with 3 to 21 loads and up to two disconnects."""
    network = network_of(design_text(seed, loads=3 + 2 * seed, disconnects=seed % 3))
    fitted = Fitted(network, Physics(network))
    assert_same(fitted, procedure_of(network, fitted.physics).blocks, seed)


@pytest.mark.parametrize("name", SOME)
def test_shipped_designs_are_shown_as_one_by_one(name: str) -> None:
    """The shipped designs, among them connectors that can be exchanged."""
    fitted = fitted_of(text_of(name))
    assert_same(fitted, procedure_of(fitted.network, fitted.physics).blocks, 3)


def test_a_step_that_a_good_harness_fails_is_shown_by_what_touches_it() -> None:
    """By hand: with a band that no reading meets, every change of a wire of that net fails the step, none elsewhere."""
    fitted = fitted_of(text_of("flat-six"))
    blocks = procedure_of(fitted.network, fitted.physics).blocks
    block = next(each for each in blocks if each.setup.phase is Phase.CONTINUITY)
    step = block.steps[0]
    wrong = replace(step, expected=replace(step.expected, low=50.0, high=60.0))
    inside = OhmBlock(fitted, replace(block, steps=(wrong,)))
    elsewhere = next(mark for each in block.steps for mark in each.covers if mark not in step.covers)
    changes = [Series(Spot(step.covers[0]), 0.0), Series(Spot(elsewhere), inf), Meets(Spot(step.covers[0]), METAL, 0.0)]
    assert inside.shown(Changes(changes), {wrong.number: 1}) == [1, 0, 1]


def random_rig(rng: Random, load_ohm: float) -> Rig:
    """Wires between a few points: trees, loops, wires side by side, a wire back to its own end, islands, metal."""
    points = [f"P{number}" for number in range(rng.randint(4, 14))]
    edges = []
    for number in range(rng.randint(4, 18)):
        a, b = rng.choice(points), rng.choice(points)
        ohm = load_ohm if rng.random() < 0.2 else 10 ** rng.uniform(-3, 1)
        edges.append(Edge(f"W{number}", a, b, ohm))
    used = sorted({point for edge in edges for point in (edge.a, edge.b)})
    metal = frozenset(rng.sample(used, rng.choice((0, 2, 3))))
    ends = {
        each.name: SimpleNamespace(ends=[SimpleNamespace(node=each.a), SimpleNamespace(node=each.b)]) for each in edges
    }
    return Rig(cast(Network, SimpleNamespace(wire_of=ends)), tuple(edges), True, metal)


def random_change(rng: Random, rig: Rig) -> Change:
    """A change of one wire or of two, at any of their ends."""
    one, other = (Spot(edge.name, rng.randint(0, 1)) for edge in rng.sample(rig.edges, 2))
    ohm = rng.choice((0.0, 0.2, 5.0, 1e4))
    return rng.choice(
        (
            Series(one, rng.choice((ohm, inf))),
            Thinner(one.mark, rng.choice((0.5, 1.6))),
            Meets(one, rng.choice((other, METAL)), ohm),
            Swapped(one, other),
        )
    )


@pytest.mark.parametrize("seed", some(range(80), 20))
def test_readings_within_an_island_are_those_of_the_changed_rig(seed: int) -> None:
    """Random networks with loops, two of them that differ in their loads: the changed network solved by itself."""
    rigs = [random_rig(Random(seed), ohm) for ohm in (30.0, 2000.0)]
    rng, index = Random(seed), rigs[0].pieces.index
    pairs = [(a, b) for a in index for b in index if a < b and rigs[0].islands[a] == rigs[0].islands[b]]
    pairs = rng.sample(pairs, min(8, len(pairs)))
    joined = Joined(rigs, [(index[a], index[b]) for a, b in pairs])
    for _ in range(12):
        change = random_change(rng, rigs[0])
        read = list(zip(*joined.good_ohms, strict=True)) if pairs else [(), ()]
        found = [list(each) for each in read]
        if isinstance(change, Swapped) and rigs[0].is_moved_within(change):
            for rig, ohms in zip(rigs, found, strict=True):
                moved = Moved(rig, change)
                for place in {each for piece in moved.held for each in joined.at.get(piece, ())}:
                    part, more = moved.between(*joined.pairs[place])
                    ohms[place] = ohms_of([part])[0] + more
        else:
            for place, changed in joined.read(change):
                for ohms, ohm in zip(found, changed, strict=True):
                    ohms[place] = ohm
        for rig, ohms in zip(rigs, found, strict=True):
            expected = [rig.ohm([a], [b], change) for a, b in pairs]
            assert ohms == pytest.approx(expected, rel=1e-7, abs=1e-9), change


@pytest.mark.parametrize("seed", some(range(80), 20))
def test_bridges_between_islands_show_where_the_changed_rig_reads_low(seed: int) -> None:
    """Random networks, each island against all later ones and metal on a clip, for a limit that parts the readings."""
    rig, rng = random_rig(Random(seed), 30.0), Random(seed)
    firsts = list({number: point for point, number in sorted(rig.islands.items())}.values())
    rng.shuffle(firsts)
    if len(firsts) < 2:
        return
    apart = Apart(rig, [rig.pieces.index[point] for point in firsts[:-1]], [firsts[n:] for n in range(1, len(firsts))])
    changes = [random_change(rng, rig) for _ in range(20)]
    bridges = bridges_of(rig, Changes(changes))
    limit = rng.choice((0.3, 1.0, 5.0, 1e6))
    shown = apart.shown(bridges, lambda place, ohm: ohm < limit)
    found = {(row, place) for place, which in shown for row in bridges.rows[which].tolist()}
    for row, change in enumerate(changes):
        touched = sorted(rig.touched(change))
        if isinstance(change, Swapped) and len(touched) == 2:
            for place, clip in apart.between(*touched):
                part, more = Moved(rig, change).between(apart.near[place], clip)
                if ohms_of([part])[0] + more + apart.lead_ohm(place, clip) < limit:
                    found.add((row, place))
    expected = {
        (row, place)
        for row, change in enumerate(changes)
        for place, (near, far) in enumerate(zip(firsts[:-1], apart.far, strict=True))
        if rig.ohm([near], far, change) < limit
    }
    assert found == expected
