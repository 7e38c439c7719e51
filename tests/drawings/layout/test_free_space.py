"""Room beside a spine: how far things give way."""

from hypothesis import given
from hypothesis import strategies as st

from harnessgen.drawings.layout.free_space import GAP_MM, Claim, Rect, SpineRoom, moved

places = st.integers(min_value=-60, max_value=60).map(float)
sizes = st.integers(min_value=1, max_value=30).map(float)
rects = st.builds(lambda a, w, c, d: (a, a + w, abs(c), abs(c) + d), places, sizes, places, sizes)


def are_clear(first: Rect, second: Rect) -> bool:
    air = GAP_MM - 1e-6
    along = first[0] >= second[1] + air or second[0] >= first[1] + air
    away = first[2] >= second[3] + air or second[2] >= first[3] + air
    return along or away


def test_free_room_asks_for_no_shift() -> None:
    """A claim beside what is taken stays where it is."""
    room = SpineRoom()
    room.take(1, [(0.0, 10.0, 0.0, 20.0)])
    assert room.shift_mm([(-1, [(0.0, 10.0, 0.0, 20.0)])]) == 0.0
    assert room.shift_mm([(1, [(10.0 + GAP_MM, 30.0, 0.0, 20.0)])]) == 0.0


def test_a_claim_moves_past_what_is_in_its_way() -> None:
    """It comes to stand with the usual air behind it."""
    room = SpineRoom()
    room.take(1, [(0.0, 10.0, 0.0, 20.0)])
    assert room.shift_mm([(1, [(4.0, 30.0, 0.0, 20.0)])]) == 6.0 + GAP_MM


@given(st.lists(rects, max_size=8), st.lists(rects, min_size=1, max_size=4))
def test_shifted_claims_are_clear(taken: list[Rect], claimed: list[Rect]) -> None:
    """Whatever is taken, and all claims move together."""
    room = SpineRoom()
    room.take(1, taken)
    claims: list[Claim] = [(1, claimed)]
    after = moved(claimed, room.shift_mm(claims))
    assert all(are_clear(one, other) for one in after for other in taken)


@given(st.lists(rects, max_size=8), st.lists(rects, min_size=1, max_size=4))
def test_deepened_claims_are_clear(taken: list[Rect], claimed: list[Rect]) -> None:
    """The same away from the spine."""
    room = SpineRoom()
    room.take(-1, taken)
    after = moved(claimed, 0.0, room.deepening_mm(-1, claimed))
    assert all(are_clear(one, other) for one in after for other in taken)
