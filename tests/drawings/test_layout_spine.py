"""Trunks and legs of a route, and its parting over several sheets."""

import pytest

from harnessgen.drawings.layout_spine import parted, spine_of
from harnessgen.drawings.layout_tree import Board, Spine, section_board, whole_board
from harnessgen.network.network import Network
from tests.drawings.generated import design_text, network_of
from tests.drawings.layout_routes import route_text
from tests.line import FLAT_SIX


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


def test_a_leg_goes_on_along_its_longest_way() -> None:
    """The short branch leaves the leg, not the other way round."""
    text = (
        "format: 1\nharness: {title: T, number: N, revision: A}\n"
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
