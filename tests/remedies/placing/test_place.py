"""Places of splices and breakouts: equal to trying all on small trees, never worse, written with all else as it was."""

import itertools
from collections.abc import Mapping
from pathlib import Path

import pytest

from harnessgen import run
from harnessgen.remedies.placing.model import Aim, arrangements, cost_of, solve
from harnessgen.remedies.placing.place import Placing
from harnessgen.remedies.placing.problem import pose
from tests.line import FLAT_SIX, MAIN, edited, physics_of, text_of
from tests.remedies.placing.trees import best_by_trying, random_tree
from tests.samples import some

FOLDER = Path(__file__).parents[3] / "designs"
DESIGNS = sorted(path.stem for path in FOLDER.glob("*.yaml"))


def placed(text: str, aim: str = "copper") -> Placing:
    one = text_of({MAIN: text})
    found = run.better_places(run.check(MAIN, one), one, aim)
    assert found is not None
    return found


@pytest.mark.parametrize("seed", some(range(24), 6))
def test_splices_lie_where_trying_all_puts_them(seed: int) -> None:
    """Every allowed arrangement on a grid that holds the best, by distances of networkx: the same least copper."""
    tree = random_tree(seed, 2 + seed % 2)
    physics = physics_of(tree.text)
    posed = pose(physics.network, physics.lengths, {MAIN: tree.text})
    solution = solve(posed.problem, Aim.COPPER)
    assert solution.is_proved
    assert cost_of(posed.problem, solution.spots, "area_mm2") == pytest.approx(best_by_trying(tree), abs=1e-6)


@pytest.mark.parametrize("seed", some(range(8), 3))
def test_the_thinnest_bundle_is_that_of_trying_all(seed: int) -> None:
    """Largest sum of squared diameters in any segment that a splice can change, then space: counted one by one."""
    tree = random_tree(seed, 2)
    physics = physics_of(tree.text)
    problem = pose(physics.network, physics.lengths, {MAIN: tree.text}).problem

    def counted(spots: Mapping[str, object]) -> tuple[float, float]:
        loads: dict[str, float] = {}
        may = set()
        for run_ in problem.runs:
            ends = [spots.get(end, end) for end in run_.ends]
            names = [each if isinstance(each, str) else _name(each) for each in ends]
            for segment in problem.tree.path(names[0], names[1]):
                loads[segment.lower] = loads.get(segment.lower, problem.held.get(segment.lower, 0.0)) + run_.square_mm2
            may |= {segment.lower for segment in problem.tree.path(names[0], names[1])}
        return round(max(loads.values()), 6), round(cost_of(problem, spots, "square_mm2"), 4)  # type: ignore[arg-type]

    least = min(counted(spots) for spots in arrangements(problem))
    assert counted(solve(problem, Aim.DIAMETER).spots) == pytest.approx(least)


def _name(spot: object) -> str:
    from harnessgen.remedies.placing.tree import TreePlace, name_of

    assert isinstance(spot, TreePlace)
    return name_of(spot)


@pytest.mark.parametrize(("name", "aim"), some(itertools.product(DESIGNS, ["copper", "diameter", "reach"]), 3))
def test_a_design_gets_no_worse_and_raises_nothing_new(name: str, aim: str) -> None:
    """Each design, for each aim: the figure that is wanted is no larger, and a check of the copy finds nothing."""
    text = (FOLDER / f"{name}.yaml").read_text(encoding="utf-8")
    placing = placed(text, aim)
    assert placing.after.by(Aim(aim)) <= placing.before.by(Aim(aim))
    assert bool(placing.moves) is bool(placing.texts)
    if placing.moves:
        before = {(each.rule, each.subject) for each in run.examine_text(text).examination.findings}
        after = run.examine_text(placing.texts[MAIN]).examination
        assert {(each.rule, each.subject) for each in after.findings} <= before
        assert {each.rule for each in after.not_examined} <= {"untested-fault", "uneven-bank"}


def test_splices_stay_apart_and_clear() -> None:
    """In the flat six each moved splice is 40 mm from others and from every breakout (common practice, no source)."""
    placing = placed(FLAT_SIX)
    physics = physics_of(placing.texts[MAIN])
    splices, route = physics.network.design.splices.values(), physics.network.design.route
    places: dict[tuple[str, str], list[float]] = {}
    for each in splices:
        if each.toward in route.get(each.at, {}):
            places.setdefault((each.at, each.toward), []).append(each.offset_mm.value)
        else:
            whole = route[each.toward][each.at].length_mm.value
            places.setdefault((each.toward, each.at), []).append(whole - each.offset_mm.value)
    for (start, end), offsets in places.items():
        marks = [0.0, *sorted(offsets), route[start][end].length_mm.value]
        assert all(b - a >= 40.0 - 1e-6 for a, b in itertools.pairwise(marks))


def test_all_but_the_places_stays_as_written() -> None:
    """Comments, order and layout: only lines of the block of splices differ."""
    placing = placed(FLAT_SIX)
    old, new = FLAT_SIX.split("\n"), placing.texts[MAIN].split("\n")
    assert len(old) == len(new)
    differ = [line for line, other in zip(old, new, strict=True) if line != other]
    assert differ
    assert all(line.startswith("  S") and "{at:" in line for line in differ)


@pytest.mark.parametrize(
    "written",
    ["S1: b1", "S1: {at: b1}", "S1: {at: b1, part: barrel-hot}", "S1:\n    at: b1", "S1: {at: 'b1'}"],
)
def test_a_splice_is_written_in_the_form_that_stands_there(written: str) -> None:
    """A point alone, braces, and lines of their own take the offset; the copy says what was found."""
    text = edited(("S1: {at: b1, offset: 40, toward: lb1}", written))
    placing = placed(text)
    moved = {each.name: each.after for each in placing.moves}
    assert "S1" in moved
    splice = physics_of(placing.texts[MAIN]).network.design.splices["S1"]
    assert moved["S1"] == f"{splice.at}, {splice.offset_mm.value:g} mm towards {splice.toward}"


def test_the_design_says_where_a_splice_may_sit() -> None:
    """Within two points it stays between them; within one it stays."""
    old = "S1: {at: b1, offset: 40, toward: lb1}"
    ends = ("b1, 80 mm towards lb1", "lb1, 40 mm towards b1")
    between = placed(edited((old, old.replace("}", ", within: [b1, lb1]}"))))
    assert next(each.after for each in between.moves if each.name == "S1") in ends
    held = placed(edited((old, old.replace("}", ", within: [b1]}"))))
    assert "S1" not in {each.name for each in held.moves}
    assert "S1 stays: the design keeps it in place." in held.remarks


def test_a_breakout_moves_within_its_bounds() -> None:
    """With b1 100 mm onward at most: three of four wires behind it go one way, so it moves onward all the way.

    Two wires lead to it and six leave it over lb1 and rb1 at right angles; it pays to split late only if they go on
    straight. Here lb1 goes straight on (0 deg), so its four wires lose what the two before b1 win.
    """
    route = (
        ("b1: {length: 90 +/- 3,", "b1: {length: 90 +/- 3, moves: +60/-30 mm,"),
        ("lb1: {length: 160 +/- 4,", "lb1: {length: 160 +/- 4, leaves: 0 deg,"),
        ("rb1: {length: 175 +/- 4,", "rb1: {length: 175 +/- 4, leaves: 90 deg,"),
    )
    placing = placed(edited(*route))
    still = placed(FLAT_SIX)
    assert placing.after.copper_g <= still.after.copper_g + 1e-6
    moved = [each for each in placing.moves if each.name == "b1"]
    design = physics_of(placing.texts[MAIN]).network.design
    if moved:
        way = design.route["c10"]["b1"].length_mm.value - 90.0
        assert -30.0 <= way <= 60.0
        assert design.route["b1"]["lb1"].length_mm.value == pytest.approx(160.0 - way, abs=0.05)
        assert design.route["b1"]["rb1"].length_mm.value == pytest.approx((175.0**2 + way**2) ** 0.5, abs=0.05)
    assert moved


def test_a_breakout_without_angles_stays_and_says_so() -> None:
    """What moving it would do to the legs is not known."""
    placing = placed(edited(("b1: {length: 90 +/- 3,", "b1: {length: 90 +/- 3, moves: +60/-30 mm,")))
    assert "b1 stays: a stretch at it does not say at which angle it leaves." in placing.remarks


def test_a_short_leg_is_cured_by_moving_its_splice() -> None:
    """A leg cut 30 mm too short reaches once its splice sits nearer; no other leg falls short."""
    physics = physics_of(FLAT_SIX)
    wire = next(each for each in physics.network.wires_at["S6"] if each.b.designator == "C1")
    assert wire.circuit == "15"
    need = physics.lengths[wire.mark].longest_need_mm
    runs = (
        "15: {from: C2/2, to: [K1/86, C1/2], splice: S6, color: GN, size: 0.75 mm2}",
        "15:\n    color: GN\n    size: 0.75 mm2\n    runs:\n      - {from: C2/2, to: S6}\n"
        "      - {from: S6, to: K1/86}\n"
        f"      - {{from: S6, to: C1/2, cut: {need - 27:.0f} mm}}",
    )
    text = edited(runs)
    placing = placed(text, "reach")
    assert placing.before.short_mm == pytest.approx(30.0, abs=0.6)
    assert placing.after.short_mm == 0.0
    after = run.examine_text(placing.texts[MAIN]).examination.findings
    assert not [each for each in after if each.rule in ("leg-too-short", "leg-slack")]
