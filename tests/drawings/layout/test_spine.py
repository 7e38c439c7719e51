"""Trunks and legs of a route, and its parting over several sheets."""

import pytest

from harnessgen.drawings.layout import fit as layout_fit
from harnessgen.drawings.layout.block import Stock
from harnessgen.drawings.layout.content import Where
from harnessgen.drawings.layout.spine import other_spines, parted, spine_of
from harnessgen.drawings.layout.tree import Board, Spine, section_board, whole_board
from harnessgen.network.network import Network
from harnessgen.sheets.sheet import STATIONERY
from tests.drawings.generated import design_text, network_of
from tests.drawings.layout.routes import route_text
from tests.line import FLAT_SIX
from tests.samples import some


def names(spine: Spine) -> list[str]:
    return sorted(run.name for run in spine.runs)


def boards() -> list[Board]:
    networks: list[Network] = [network_of(route_text(seed)) for seed in range(20)]
    networks.append(network_of(design_text(153)))
    return [whole_board(network) for network in networks]


def test_trunk_is_the_longest_way() -> None:
    """The plenum section of the flat six: from one rear injector to the other."""
    spine = spine_of(section_board(network_of(FLAT_SIX), "B"))
    assert {spine.start.node, spine.steps[-1].spot.node} == {"left-3", "right-3"}
    legs = {step.spot.node: [leg.steps[-1].spot.node for leg in step.legs] for step in spine.steps if step.legs}
    assert legs == {"lb2": ["left-2"], "lb1": ["left-1"], "b1": ["c10~b1"], "rb1": ["right-1"], "rb2": ["right-2"]}


def test_every_run_is_on_the_spine_once() -> None:
    """No stretch is lost, none is laid twice."""
    for board in boards():
        assert names(spine_of(board)) == sorted(run.name for run in board.runs)


def test_other_trunks_hold_every_run_once() -> None:
    """Whichever two ends the trunk joins, no stretch is lost or laid twice; too many ends are left alone."""
    for board in boards():
        spines = list(other_spines(board, 6))
        assert len(spines) <= 15
        for spine in spines:
            assert names(spine) == sorted(run.name for run in board.runs)
        ends = sum(len(runs) == 1 for runs in board.neighbours.values())
        assert len(list(other_spines(board, ends))) == ends * (ends - 1) // 2


@pytest.mark.parametrize("seed", some(range(4), 1))
def test_another_trunk_never_makes_a_sheet_worse(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """With other trunks tried, broken stretches and larger paper cost no more than with the longest way alone."""
    network = network_of(design_text(seed, loads=6))
    stock, papers, wheres = Stock(network), STATIONERY["a4"].drawings, (Where.NEAR, Where.BELOW, Where.APART)
    for section in network.sections.sections:
        board = section_board(network, section.letter)
        with monkeypatch.context() as patched:
            patched.setattr(layout_fit, "_MOST_TURNED", 0)
            straight = layout_fit.fitted(stock, board, wheres, papers)
        found = layout_fit.fitted(stock, board, wheres, papers)
        if straight is not None:
            assert found is not None
            assert found.cost <= straight.cost + 1e-9


def test_the_whole_of_the_flat_six_is_less_wide_and_truer(monkeypatch: pytest.MonkeyPatch) -> None:
    """With the right bank as a leg it stands there at a larger scale than with its longest way alone as the trunk."""
    network = network_of(FLAT_SIX)
    stock, board, papers = Stock(network), whole_board(network), STATIONERY["a4"].drawings
    with monkeypatch.context() as patched:
        patched.setattr(layout_fit, "_MOST_TURNED", 0)
        straight = layout_fit.fitted(stock, board, (Where.ELSEWHERE,), papers)
    found = layout_fit.fitted(stock, board, (Where.ELSEWHERE,), papers)
    assert straight is not None
    assert found is not None
    assert found.denominator < straight.denominator
    longest = spine_of(whole_board(network))
    assert found.trunk.steps[-1].spot.node != longest.steps[-1].spot.node


def test_a_leg_goes_on_along_its_longest_way() -> None:
    """The short branch leaves the leg, not the other way round."""
    text = (
        "format: 2\nharness: {title: T, number: N, revision: A}\n"
        "route: {a: {b: 900}, b: {c: 800, d: 100}, d: {e: 20, f: 300}}\n"
        "supplies: {BAT: {voltage: 12 V, at: a}}\n"
    )
    spine = spine_of(section_board(network_of(text), "A"))
    (leg,) = spine.steps[0].legs
    assert [step.spot.node for step in leg.steps] == ["d", "f"]
    assert [each.steps[0].spot.node for each in leg.steps[0].legs] == ["e"]


def test_turning_a_run_keeps_its_splices_in_place() -> None:
    """Distances run from the other end, the datum stays where it was."""
    board = section_board(network_of(FLAT_SIX), "B")
    run = next(each for each in board.runs if each.name == "b1 to lb1")
    turned = run.turned()
    whole_mm = run.length_mm
    assert turned.splices == run.splices[::-1]
    assert turned.splice_distances_mm == tuple(whole_mm - mm for mm in run.splice_distances_mm[::-1])
    assert (run.datum_first, turned.datum_first) == (True, False)
    assert turned.turned() == run


def test_parts_of_a_route_share_one_spot_and_no_run() -> None:
    """Both say that the route goes on there; what sits there stays on one of them."""
    for board in boards():
        halves = parted(board)
        if len(board.runs) == 1:
            assert halves is None
            continue
        assert halves is not None
        one, other = halves
        assert sorted(run.name for run in (*one.runs, *other.runs)) == sorted(run.name for run in board.runs)
        (shared,) = set(one.spots) & set(other.spots)
        assert one.spots[shared].goes_on
        assert other.spots[shared].goes_on
        left = other.spots[shared]
        assert left.connectors == left.devices == left.splices == ()


def test_no_trunk_without_a_run() -> None:
    """A board of nothing is refused."""
    with pytest.raises(ValueError, match="no trunk"):
        spine_of(Board({}, ()))
