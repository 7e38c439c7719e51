"""The cutting plan of a harness: every wire of every copy once, from stock of its own kind."""

import pytest

from harnessgen.cutting.plan import CutPlan, KindPlan, cut_plan
from harnessgen.cutting.problem import Goal
from tests.line import FLAT_SIX, physics_of

STOCK = """
stock:
  reel: {size: 0.75 mm2, color: RD/YE, length: 100 m, count: 0, price: 24.50}
  off-1: {size: 0.75 mm2, color: RD/YE, length: 1.32 m}
  rest: {wire: thin-wall-175, size: 0.5 mm2, color: RD/YE, length: 2 m, count: 3}
  other-family: {wire: thin-wall-125, size: 0.5 mm2, color: BU/WH, length: 9 m}
  black: {size: 1.5 mm2, color: BK, length: 50 m}
"""


def planned(text: str = FLAT_SIX + STOCK, copies: int = 1) -> CutPlan:
    physics = physics_of(text)
    return cut_plan(physics.network, physics, copies)


def of_kind(plan: CutPlan, size: str, colour: str) -> KindPlan:
    (found,) = (each for each in plan.kinds if (each.kind.size, each.kind.colour) == (size, colour))
    return found


@pytest.mark.parametrize("copies", [1, 5])
def test_every_wire_of_every_copy_is_cut_once_to_its_length(copies: int) -> None:
    """Marks and lengths of all cuts together are those of the harness, as often as there are copies."""
    physics = physics_of(FLAT_SIX + STOCK)
    plan = cut_plan(physics.network, physics, copies)
    cuts = [cut for kind in plan.kinds for spool in kind.spools for cut in spool.cuts]
    cuts += [cut for kind in plan.kinds for cut in kind.loose]
    wanted = [(mark, copy) for mark in physics.lengths for copy in range(1, copies + 1)]
    assert sorted((cut.mark, cut.copy) for cut in cuts) == sorted(wanted)
    assert all(cut.length_mm == physics.lengths[cut.mark].cut_mm for cut in cuts)


def test_cuts_come_from_their_own_wire_and_no_spool_is_overdrawn() -> None:
    """Wire and spool are of one kind; what is left is the spool less its cuts; the longest comes first."""
    physics = physics_of(FLAT_SIX + STOCK)
    plan = cut_plan(physics.network, physics, 5)
    labels: list[str] = []
    for kind in plan.kinds:
        for spool in kind.spools:
            labels.append(spool.label)
            lengths = [cut.length_mm for cut in spool.cuts]
            assert lengths == sorted(lengths, reverse=True)
            assert spool.left_mm == pytest.approx(spool.length_mm - sum(lengths))
            assert spool.left_mm >= 0.0
            for cut in spool.cuts:
                wire = physics.network.wire_of[cut.mark]
                assert (wire.family.name, str(wire.size), str(wire.colour)) == (
                    kind.kind.family,
                    kind.kind.size,
                    kind.kind.colour,
                )
    assert len(labels) == len(set(labels))
    assert "other-family" not in labels


def test_the_offcut_is_used_and_the_rest_bought() -> None:
    """The offcut of 1.32 m takes 1100 and 170 mm; four copies more need one new reel, and no second."""
    kind = of_kind(planned(copies=5), "0.75 mm2", "RD/YE")
    assert [spool.label for spool in kind.spools] == ["off-1", "new reel no. 1"]
    assert [cut.length_mm for cut in kind.spools[0].cuts] == [1100.0, 170.0]
    (purchase,) = kind.purchases
    assert (purchase.label, purchase.count, purchase.cost) == ("reel", 1, 24.5)
    assert (kind.solved.goal, kind.solved.gap) == (Goal.BOUGHT, 0.0)


def test_stock_alike_is_numbered() -> None:
    """Three ends of 2 m under one label are told apart by numbers."""
    kind = of_kind(planned(copies=5), "0.5 mm2", "RD/YE")
    assert [spool.label for spool in kind.spools] == ["rest no. 1", "rest no. 2", "rest no. 3"]
    assert (kind.solved.goal, kind.solved.packing.value) == (Goal.TAKEN, 3.0)


def test_without_stock_of_its_own_a_wire_is_bought_by_the_metre() -> None:
    """Stock of another family does not serve; the metres to buy are the sum of the cuts."""
    kind = of_kind(planned(), "0.5 mm2", "BU/WH")
    assert kind.spools == ()
    assert kind.metres_mm == kind.needed_mm == sum(cut.length_mm for cut in kind.loose) > 0


def test_a_cut_longer_than_any_stock_is_bought_by_the_metre_and_told() -> None:
    """With reels of 1 m for sale, the cut of 1100 mm is too long; the short one still comes from a reel."""
    kind = of_kind(planned(FLAT_SIX + "stock: {r: {size: 0.75, color: RD/YE, length: 1 m, count: 0, price: 2}}\n"),
                   "0.75 mm2", "RD/YE")  # fmt: skip
    assert [cut.length_mm for cut in kind.too_long] == [1100.0]
    assert kind.loose == kind.too_long
    assert [cut.length_mm for spool in kind.spools for cut in spool.cuts] == [170.0]


def test_a_wire_that_is_there_is_not_cut() -> None:
    """What was measured on the wire itself (`have`) is in no cut; what was declared as cut is."""
    text = (FLAT_SIX + STOCK).replace("INJ2: {at: left-2,", "INJ2: {at: left-2, feed: {have: 340}, return: {cut: 300},")
    plan = planned(text)
    marks = {cut.mark: cut for kind in plan.kinds for spool in kind.spools for cut in spool.cuts}
    marks |= {cut.mark: cut for kind in plan.kinds for cut in kind.loose}
    assert plan.in_hand == ("21D",)
    assert "21D" not in marks
    assert marks["31D"].length_mm == 300.0


def test_the_usable_tail_is_a_limit() -> None:
    """The design may set it; a shorter end counts as scrap."""
    plan = planned(FLAT_SIX + STOCK + "limits: {usable-tail: 2 m}\n")
    kind = of_kind(plan, "0.5 mm2", "RD/YE")
    assert plan.tail.value.value == 2000.0
    (spool,) = kind.spools
    assert kind.scrap_mm(2000.0) == spool.left_mm > 0.0


def test_there_is_one_copy_at_least() -> None:
    """No copy is no plan."""
    with pytest.raises(ValueError, match="0 copies"):
        planned(copies=0)
