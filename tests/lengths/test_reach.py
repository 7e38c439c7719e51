"""How far a connector comes towards its breakout when it is turned: against coordinates, and its properties."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from harnessgen.design.records.reach import Reach
from harnessgen.lengths.reach import Turn, least_turn_deg, turn_of, used_mm
from harnessgen.measures.quantity import Quantity


def reach(turn: float, radius: float, bearing: float = 90.0, turned: float = 0.0) -> Reach:
    return Reach(
        turn_deg=Quantity(turn), radius_mm=Quantity(radius), bearing_deg=Quantity(bearing), turned_deg=Quantity(turned)
    )


@pytest.mark.parametrize("bearing", [40.0, 90.0, 135.0, 180.0])
@pytest.mark.parametrize("turned", [10.0, 35.0, 60.0])
def test_the_gain_is_that_of_coordinates(bearing: float, turned: float) -> None:
    """The axis at the origin, the breakout on the x axis, the face on its circle before and after."""
    breakout = (200.0, 0.0)

    def leg(angle: float) -> float:
        return math.dist(breakout, (30 * math.cos(math.radians(angle)), 30 * math.sin(math.radians(angle))))

    turn = Turn(leg(bearing), 30.0, bearing)
    assert turn.axis_mm == pytest.approx(200.0)
    assert turn.gain_mm(turned) == pytest.approx(leg(bearing) - leg(max(bearing - turned, 0.0)))


def test_a_far_breakout_sees_the_face_come_by_the_sine() -> None:
    """Square to a very long leg, a turn of 30 deg at 40 mm wins 40 * sin(30 deg) = 20 mm, and half a turn round 80."""
    assert Turn(1e6, 40.0, 90.0).gain_mm(30.0) == pytest.approx(20.0, abs=0.01)
    assert Turn(1e6, 40.0, 180.0).gain_mm(180.0) == pytest.approx(80.0, abs=0.01)


def test_what_cannot_be_is_no_gain() -> None:
    """A leg too short to reach the face from its bearing wins nothing, and so does a connector that faces it."""
    assert Turn(20.0, 40.0, 90.0).gain_mm(30.0) == 0.0
    assert Turn(200.0, 40.0, 0.0).gain_mm(90.0) == 0.0


@given(
    leg=st.floats(50, 2000),
    radius=st.floats(1, 45),
    bearing=st.floats(0, 180),
    turned=st.floats(0, 180),
    more=st.floats(0, 60),
)
def test_a_turn_wins_at_most_its_chord(leg: float, radius: float, bearing: float, turned: float, more: float) -> None:
    """No point moves further than the chord of its turn, and turning further towards the breakout never loses."""
    turn = Turn(leg, radius, bearing)
    chord = 2 * radius * math.sin(math.radians(turned) / 2)
    assert -1e-9 <= turn.gain_mm(turned) <= chord + 1e-9
    assert turn.gain_mm(turned + more) >= turn.gain_mm(turned) - 1e-9


@given(turn=st.floats(1, 180), radius=st.floats(5, 60), wanted=st.floats(0.5, 60))
def test_the_least_turn_is_the_least(turn: float, radius: float, wanted: float) -> None:
    """It wins what is wanted, a degree less would not, within the freedom; None only where all is not enough."""
    free = reach(turn, radius, 120.0)
    angle = least_turn_deg(free, 300.0, wanted)
    gain = turn_of(free, 300.0).gain_mm
    if angle is None:
        assert gain(turn) < wanted
    else:
        assert angle <= turn
        assert gain(angle) >= wanted > gain(math.ceil(angle) - 1)


def test_what_is_used_already_is_not_won_twice() -> None:
    """A connector that is turned by half its freedom has only the rest to give."""
    half = reach(60.0, 40.0, turned=30.0)
    gain = turn_of(half, 300.0).gain_mm
    assert used_mm(half, 300.0) == gain(30.0)
    rest = gain(60.0) - gain(30.0)
    assert least_turn_deg(half, 300.0, rest - 0.1) == 60.0
    assert least_turn_deg(half, 300.0, rest + 0.1) is None
