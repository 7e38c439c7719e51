"""Charts of fuses against wires: clear of each other, complete, and true to the numbers that they show."""

import math
import re
from pathlib import Path

import pytest

from harnessgen.drawings.charts.fuse_chart import ABOVE_MM, BELOW_MM, LEFT_MM, RIGHT_MM, Scale, chart_marks, shown_wires
from harnessgen.drawings.charts.fuse_chart_sheets import protection_sheets, unjudged_fuses
from harnessgen.physics.physics import Physics
from harnessgen.rules.protection.guards import guards
from harnessgen.sheets.box import Box
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Circle, Polyline, TextMark
from harnessgen.sheets.sheet import STATIONERY
from tests import samples
from tests.drawings.generated import design_text, network_of
from tests.line import FLAT_SIX, edited, physics_of
from tests.samples import sample, some
from tests.sheets.clearance import collisions

DESIGNS = sorted((Path(__file__).parents[3] / "designs").glob("*.yaml"))
AREA = Box(0.0, 0.0, 136.0, 82.0)


def assert_clear(physics: Physics) -> int:
    sheets = protection_sheets(physics)
    for sheet in sheets:
        assert [str(each) for each in collisions(sheet.all_marks, sheet.paper.frame)] == [], sheet.title
    return len(sheets)


@pytest.mark.parametrize("path", some(DESIGNS, 3), ids=lambda each: each.stem)
def test_every_fuse_of_the_shipped_designs_has_a_clear_chart(path: Path) -> None:
    """Nothing overlaps; each fuse's name heads one chart; each chart names the wire with the least margin."""
    physics = physics_of(path.read_text(encoding="utf-8"))
    assert assert_clear(physics) == math.ceil(len(physics.network.design.fuses) / 4)
    assert unjudged_fuses(physics) == []
    texts = [mark.text for sheet in protection_sheets(physics) for mark in sheet.marks if isinstance(mark, TextMark)]
    for guard in guards(physics):
        assert sum(text.startswith(f"{guard.protects.fuse.name}, ") for text in texts) == 1
        least = shown_wires(guard)[0].wire
        assert any(f"{least.mark} (" in text for text in texts), guard.protects.fuse.name


@pytest.mark.parametrize("word", ["letter", "a3"])
def test_charts_take_the_paper_that_was_asked_for(word: str) -> None:
    """On letter and on A3 nothing overlaps either."""
    paper = STATIONERY[word].drawings[0]
    for sheet in protection_sheets(physics_of(FLAT_SIX), paper):
        assert sheet.paper is paper
        assert [str(each) for each in collisions(sheet.all_marks, paper.frame)] == []


def test_generated_designs_are_clear() -> None:
    """Charts of generated designs, 12 of them in the long run."""
    drawn = sum(assert_clear(Physics(network_of(design_text(seed)))) for seed in sample(range(12), 3))
    assert drawn > (6 if samples.is_long else 1)


def test_a_slow_fuse_is_clear_too() -> None:
    """Curves that cross, and a long title."""
    physics = physics_of(
        edited(("F1: {title: left bank, rating: 5 A,", f"F1: {{title: {'left bank ' * 12}, rating: 30 A, form: strip,"))
    )
    assert assert_clear(physics) == 1


def test_the_curve_lies_where_its_numbers_are() -> None:
    """The latest opening passes through 5 s at 200 % of 5 A, and the ring lies at the least margin."""
    guard = guards(physics_of(FLAT_SIX))[0]
    marks = chart_marks(guard, AREA)
    frame = Box(LEFT_MM, ABOVE_MM, AREA.x1 - RIGHT_MM, AREA.y1 - BELOW_MM)
    near = guard.currents.near.current_a
    scale = Scale(frame, 4.0, 1.3 * near, 1e-4, 1e4)
    thick = max((each for each in marks if isinstance(each, Polyline)), key=lambda each: each.width_mm)
    assert any(math.dist(scale.at(10.0, 5.0), place) < 1e-6 for place in thick.points)
    (ring,) = (each for each in marks if isinstance(each, Circle))
    assert (ring.cx, ring.cy) == pytest.approx(scale.at(near, guard.curve.longest_s(near)))
    upright = [each for each in marks if isinstance(each, Polyline) and len({x for x, _ in each.points}) == 1]
    assert any(each.points[0][0] == pytest.approx(scale.at(near, 1.0)[0]) for each in upright)
    captions = [each.text for each in marks if isinstance(each, TextMark) and each.kind is MarkKind.LABEL]
    assert any(re.search(r"least margin in time \d+ at 245 A", each) for each in captions)
