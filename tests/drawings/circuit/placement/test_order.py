"""Layers and the order of columns: few crossings, and the order of the design where nothing speaks against it."""

import shutil
from dataclasses import replace
from itertools import permutations
from pathlib import Path
from random import Random

import pytest

from harnessgen.drawings.circuit.elements.blocks import Blocks
from harnessgen.drawings.circuit.elements.graph import JunctionKind, Strand, circuit_graph
from harnessgen.drawings.circuit.placement import order as order_module
from harnessgen.drawings.circuit.placement.columns import SupplyBar, column_places, least_width_mm, supply_bars
from harnessgen.drawings.circuit.placement.layers import Joint, Layers, StrandColumn, layered
from harnessgen.drawings.circuit.placement.order import PlacementUnavailable, box_count, column_order
from harnessgen.network.network import Network
from harnessgen.outside.program import forgive
from tests.drawings.generated import design_text, network_of
from tests.outside.fakes import fake_program

FLAT_SIX = (Path(__file__).parents[4] / "designs" / "flat-six.yaml").read_text(encoding="utf-8")


def layers_of(network: Network) -> Layers:
    graph, maker = circuit_graph(network), Blocks(network)
    return layered(graph, graph.strands, [maker.of(graph, strand, 2.5) for strand in graph.strands])


def crossings(layers: Layers, order: tuple[int, ...]) -> int:
    """Columns that the level runs of joints cross, supplies left out."""
    seat = {place: index for index, place in enumerate(order)}
    count = 0
    for joint in layers.joints.values():
        seats = [seat[place] for place in joint.strands]
        count += sum(
            min(seats) < seat[place] < max(seats)
            for place, column in enumerate(layers.columns)
            if place not in joint.strands and column.top <= joint.layer <= column.bottom and joint.layer
        )
    return count


@pytest.fixture(scope="module")
def flat_six() -> Layers:
    return layers_of(network_of(FLAT_SIX))


def names(layers: Layers, order: tuple[int, ...]) -> list[str]:
    return [piece.element.name for place in order for piece in layers.columns[place].strand.pieces]


def test_layers_run_from_supply_to_ground(flat_six: Layers) -> None:
    """The supply is layer 0, each joint is below those that feed it, shared returns are just above the grounds."""
    layer = {name: joint.layer for name, joint in flat_six.joints.items()}
    assert layer["BAT"] == 0
    assert layer["S5"] < layer["S1"] < layer["S2"] < layer["C1/1 mate"] == flat_six.last - 1
    for column in flat_six.columns:
        assert column.top < column.bottom
        assert list(column.gaps) == sorted(column.gaps)
        assert all(column.top <= gap < column.bottom for gap in column.gaps)


def test_loads_share_a_gap(flat_six: Layers) -> None:
    """Loads on short and on long strands stand between the same two layers, so that they can stand in one row."""
    gaps = {
        gap
        for column in flat_six.columns
        for block, gap in zip(column.blocks, column.gaps, strict=True)
        if "loads" in block.rows
    }
    assert len(gaps) == 1


def test_the_flat_six_has_no_crossing(flat_six: Layers) -> None:
    """A circuit that can be drawn without a crossing is."""
    assert crossings(flat_six, column_order(flat_six)) == 0


def test_banks_stand_in_the_order_of_the_design(flat_six: Layers) -> None:
    """Left bank before right bank, cylinder 1 before 2 before 3."""
    found = names(flat_six, column_order(flat_six))
    seats = [found.index(f"INJ{number}") for number in range(1, 7)]
    assert seats == sorted(seats)


@pytest.mark.parametrize("seed", range(10))
def test_crossings_are_few(seed: int) -> None:
    """Fewer than one joint in two crosses anything, in designs of any make."""
    layers = layers_of(network_of(design_text(seed, loads=8)))
    order = column_order(layers)
    assert sorted(order) == list(range(len(layers.columns)))
    assert crossings(layers, order) <= len(layers.joints) / 2


def tangled(seed: int) -> Layers:
    """Seven columns between any of six joints on three levels, the top and the bottom of the sheet, no two alike."""
    layer, last = {f"S{number}": 1 + number // 2 for number in range(6)}, 4
    pairs = [("", ""), *(("", name) for name in layer), *((name, "") for name in layer)]
    pairs += [(upper, lower) for upper in layer for lower in layer if layer[upper] < layer[lower]]
    ends = Random(seed).sample(pairs, 7)
    columns = tuple(
        StrandColumn(Strand(upper, lower, ()), (), layer.get(upper, 0), layer.get(lower, last), (), upper, lower)
        for upper, lower in ends
    )
    joints: dict[str, Joint] = {}
    for name, level in layer.items():
        above, below = (tuple(place for place, pair in enumerate(ends) if pair[side] == name) for side in (1, 0))
        if above or below:
            joints[name] = Joint(name, JunctionKind.SPLICE, level, above, below)
    return Layers(columns, joints, last)


def test_no_order_of_a_small_sheet_has_fewer_crossings() -> None:
    """All 5,040 orders of seven columns tried: none is better than the one that is taken."""
    counts = []
    for seed in (*range(12), 47):
        layers = tangled(seed)
        every = [crossings(layers, order) for order in permutations(range(7))]
        assert crossings(layers, column_order(layers)) == min(every), seed
        counts.append((min(every), max(every)))
    # The last cannot be drawn without a crossing, and a poor order has many.
    assert max(counts)[0] > 0
    assert all(most > 1 for _, most in counts)


def test_boxes_are_counted_before_graphviz_gets_them(flat_six: Layers) -> None:
    """Joints, and each column once for each gap that it runs through."""
    assert box_count(flat_six) == len(flat_six.joints) + sum(each.bottom - each.top for each in flat_six.columns)


TRUE_DOT = shutil.which("dot")
REAL = f"import subprocess; made = subprocess.run([{TRUE_DOT!r}, '-Tplain'], stdin=0, stdout=-1).stdout.decode()"
MALFORMED = {
    "nothing": "",
    "rubbish": "print('no layout for you')",
    "no text at all": "sys.stdout.buffer.write(bytes(range(256)) * 40)",
    "not UTF-8": f"{REAL}; sys.stdout.buffer.write(made.replace(' c0g0 ', ' c\\xe4 ').encode('latin-1'))",
    "half of it": f"{REAL}; sys.stdout.write(made[:len(made) // 2])",
    "without its last line": f"{REAL}; sys.stdout.write(made.replace('stop', ''))",
    "a short line": f"{REAL}; sys.stdout.write(made.replace(' solid box', '', 1))",
    "a place that is none": f"{REAL}; import re; sys.stdout.write(re.sub(r'node (c0g0) \\S+', r'node \\1 nan', made))",
    "a place without end": f"{REAL}; import re; sys.stdout.write(re.sub(r'node (c0g0) \\S+', r'node \\1 inf', made))",
    "a place in words": f"{REAL}; import re; sys.stdout.write(re.sub(r'node (c0g0) \\S+', r'node \\1 left', made))",
    "a box twice": f"{REAL}; sys.stdout.write(made.replace('node c1g0', 'node c0g0'))",
    "a box less": f"{REAL}; import re; sys.stdout.write(re.sub('node c1g0 .*\\n', '', made))",
    "a box more": f"{REAL}; sys.stdout.write(made.replace('stop', 'node x9 1 1 1 1 x9 a b c d\\nstop'))",
    "a graph more": f"{REAL}; sys.stdout.write(made + made)",
}


@pytest.mark.parametrize("how", MALFORMED)
def test_a_malformed_answer_of_graphviz_is_a_failure(
    flat_six: Layers, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, how: str
) -> None:
    """Whatever is amiss in it, the caller gets our exception in one line."""
    fake_program(tmp_path / "bin", monkeypatch, "dot", MALFORMED[how])
    with pytest.raises(PlacementUnavailable, match=r"^no circuit drawing: the program dot .* is malformed") as told:
        column_order(flat_six)
    assert len(str(told.value).splitlines()) == 1
    assert "apt install graphviz" in str(told.value)


def test_the_answer_of_graphviz_as_it_is_is_none(
    flat_six: Layers, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What the malformed answers are made from is taken as that of Graphviz itself."""
    order = column_order(flat_six)
    fake_program(tmp_path / "bin", monkeypatch, "dot", f"{REAL}; sys.stdout.write(made)")
    assert column_order(flat_six) == order


@pytest.mark.parametrize(
    ("body", "words"),
    [
        ("sys.exit(1)", r"failed \(exit status 1\)"),
        ("while True: sys.stdout.write('stop ' * 1000)", "its answer does not end"),
        ("time.sleep(60)", "gave no answer within 1 s and was ended"),
    ],
)
def test_a_failure_of_graphviz_is_told_in_one_line(
    flat_six: Layers, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, body: str, words: str
) -> None:
    """It fails, writes without end or hangs: it is ended, and the caller gets our exception."""
    fake_program(tmp_path / "bin", monkeypatch, "dot", body)
    if "sleep" in body:
        monkeypatch.setattr(order_module, "PLACER", replace(order_module.PLACER, limit_s=1.0))
    try:
        with pytest.raises(PlacementUnavailable, match=words):
            column_order(flat_six)
    finally:
        forgive()


def test_columns_keep_their_order_and_their_distance(flat_six: Layers) -> None:
    """In each gap the texts of neighbours are apart, and the drawing is no narrower than its fullest gap needs."""
    order = column_order(flat_six)
    bars = supply_bars(flat_six, order, lambda name, is_first: 30.0)
    places = column_places(flat_six, order, bars, {}, 2.5)
    for gap in range(flat_six.last):
        right = float("-inf")
        for place in order:
            column = flat_six.columns[place]
            held = [block.box for block, at in zip(column.blocks, column.gaps, strict=True) if at == gap]
            if held:
                assert places[place] + min(box.x0 for box in held) > right
                right = places[place] + max(box.x1 for box in held)
    assert max(places) - min(places) < least_width_mm(flat_six) * 1.2


def test_supplies_have_bars_that_do_not_meet() -> None:
    """Two supplies each have a bar of their own, and a supply whose wires stand apart has two."""
    text = """\
format: 2
harness: {title: Part, number: P-1, revision: A}
route: {a: {b: 100 mm, c: 200 mm}}
supplies: {BAT: {voltage: 12 V, at: a}, AUX: {voltage: 12 V, at: b}}
grounds: {G1: {at: c}}
loads: {E1: {kind: lamp, power: 5 W, at: c}, E2: {kind: lamp, power: 5 W, at: c}, E3: {kind: lamp, power: 5 W, at: c}}
circuits:
  1: {from: BAT, to: E1/1, color: RD, size: 1 mm2}
  2: {from: AUX, to: E2/1, color: RD, size: 1 mm2}
  3: {from: BAT, to: E3/1, color: RD, size: 1 mm2}
  4: {from: E1/2, to: G1, color: BK, size: 1 mm2}
  5: {from: E2/2, to: G1, color: BK, size: 1 mm2}
  6: {from: E3/2, to: G1, color: BK, size: 1 mm2}
"""
    layers = layers_of(network_of(text))
    assert sorted(bar.name for bar in supply_bars(layers, column_order(layers), lambda name, first: 30.0)) == [
        "AUX",
        "BAT",
    ]
    apart = supply_bars(layers, (0, 2, 1), lambda name, is_first: 30.0 if is_first else 10.0)
    assert apart == (
        SupplyBar("BAT", (0,), 30.0),
        SupplyBar("AUX", (2,), 30.0),
        SupplyBar("BAT", (1,), 10.0),
    )
