"""Connector faces: mirrored halves, latch and key, no overlap from 1 to 60 ways, forms that read without colour."""

from math import cos, pi, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harnessgen.drawings.symbols.connector_face import Face, FaceCavity, FaceData, Filling, face
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Mark, TextMark
from tests.samples import examples
from tests.sheets.clearance import collisions

COLOURS = [("RD", "YE"), ("BU", "WH"), ("BK", ""), ("WH", ""), ("GN", "YE"), ("", "")]


def rows_of(count: int, columns: int) -> tuple[FaceCavity, ...]:
    """Cavities 1 to `count` in rows of `columns`, every filling and several colours among them."""
    return tuple(
        FaceCavity(str(n + 1), n % columns, n // columns, list(Filling)[n % 3], *COLOURS[n % len(COLOURS)])
        for n in range(count)
    )


def centres(made: Face) -> dict[str, tuple[float, float]]:
    """Centre of each cavity relative to the middle of all of them."""
    places = dict(made.centres)
    x = (min(p[0] for p in places.values()) + max(p[0] for p in places.values())) / 2
    return {name: (place[0] - x, place[1]) for name, place in places.items()}


halves = st.sampled_from(["pin", "socket", ""])
views = st.sampled_from(["wire side", "mating side"])
latches = st.sampled_from(["up", "down", "left", "right"])
shapes = st.sampled_from(["rectangular", "round"])


@settings(max_examples=examples(40), deadline=None)
@given(st.integers(1, 60), st.integers(1, 20), halves, views, shapes, latches, st.booleans())
def test_any_face_is_clear_and_in_its_box(
    count: int, columns: int, half: str, view: str, shape: str, latch: str, codes: bool
) -> None:
    """From 1 to 60 ways, no number, code, ring or housing meets another, and the face lies where it was put."""
    data = FaceData("C1", half, view, shape, rows_of(count, columns), latch)  # type: ignore[arg-type]
    made = face(data, 30, 20, codes=codes)
    assert [str(fault) for fault in collisions(made.marks, made.box)] == []
    assert (made.box.x0, made.box.y0) == pytest.approx((30, 20))
    assert [name for name, _ in made.centres] == [str(n + 1) for n in range(count)]


@settings(max_examples=examples(40), deadline=None)
@given(st.integers(1, 24), st.integers(1, 8), halves.filter(bool), views, latches)
def test_turning_to_the_other_side_or_the_other_half_mirrors(
    count: int, columns: int, half: str, view: str, latch: str
) -> None:
    """The other half from the same side, and the same half from the other side, are the mirror image: left and right
    exchanged, up and down kept; both turns together give the first picture again."""
    cavities = rows_of(count, columns)
    other_half = {"pin": "socket", "socket": "pin"}[half]
    other_view = {"wire side": "mating side", "mating side": "wire side"}[view]

    def seen(half: str, view: str) -> dict[str, tuple[float, float]]:
        return centres(face(FaceData("C1", half, view, "rectangular", cavities, latch), 0, 0))  # type: ignore[arg-type]

    first = seen(half, view)
    for mirrored in (seen(other_half, view), seen(half, other_view)):
        for name, (x, y) in first.items():
            assert mirrored[name] == pytest.approx((-x, y), abs=1e-6)
    both = seen(other_half, other_view)
    for name, place in first.items():
        assert both[name] == pytest.approx(place, abs=1e-6)


def test_the_socket_half_on_its_wire_side_is_the_layout_itself() -> None:
    """Column 0 is at the left of the socket half seen from its wire side, and at the right of the pin half."""
    cavities = rows_of(4, 4)
    socket = dict(face(FaceData("C10s", "socket", "wire side", "rectangular", cavities), 0, 0).centres)
    pin = dict(face(FaceData("C10p", "pin", "wire side", "rectangular", cavities), 0, 0).centres)
    assert socket["1"][0] < socket["2"][0] < socket["4"][0]
    assert pin["1"][0] > pin["2"][0] > pin["4"][0]


@pytest.mark.parametrize(
    ("half", "view", "latch", "seen"),
    [
        ("socket", "wire side", "left", "left"),
        ("pin", "wire side", "left", "right"),
        ("socket", "mating side", "right", "left"),
        ("pin", "mating side", "right", "right"),
        ("pin", "wire side", "up", "up"),
        ("pin", "wire side", "down", "down"),
    ],
)
def test_the_latch_is_drawn_and_named_on_the_side_where_it_is_seen(half: str, view: str, latch: str, seen: str) -> None:
    """Title and picture agree on the side of the latch, which is mirrored with the cavities."""
    data = FaceData("C10", half, view, "rectangular", rows_of(4, 2), latch)  # type: ignore[arg-type]
    assert data.title == f"C10, {half} half, {view}, latch {seen}"
    housing, lock = (mark.box for mark in face(data, 0, 0).marks if mark.kind is MarkKind.FACE)
    outside = {
        "up": lock.y0 < housing.y0,
        "down": lock.y1 > housing.y1,
        "left": lock.x0 < housing.x0,
        "right": lock.x1 > housing.x1,
    }
    assert [side for side, out in outside.items() if out] == [seen]


def test_a_round_housing_has_a_key_and_takes_cavities_in_a_circle() -> None:
    """Places in fractions of a column are spread until no two rings overlap."""
    ring = tuple(
        FaceCavity(sign, 0.9 * cos(n * pi / 4), 0.9 * sin(n * pi / 4), Filling.WIRED, "RD", "YE")
        for n, sign in enumerate("ABCDEFGH")
    )
    data = FaceData("C5", "pin", "mating side", "round", ring, "up", "to pump")
    assert data.title == "C5 to pump, pin half, mating side, key up"
    made = face(data, 10, 10)
    assert [str(fault) for fault in collisions(made.marks, made.box)] == []


def test_fillings_differ_in_form_not_only_in_colour() -> None:
    """With all ink made black, a wired, a plugged and an empty cavity are still three different pictures."""

    def form(filling: Filling, base: str) -> list[tuple[str, tuple[float, ...]]]:
        data = FaceData("C1", "", "wire side", "round", (FaceCavity("1", 0, 0, filling, base),))
        marks: list[Mark] = [m for m in face(data, 0, 0, codes=False).marks if m.kind is MarkKind.CAVITY]
        x0, y0 = min(m.box.x0 for m in marks), min(m.box.y0 for m in marks)
        return [(type(m).__name__, (round(m.box.x0 - x0, 3), round(m.box.y0 - y0, 3))) for m in marks]

    forms = [form(Filling.WIRED, "WH"), form(Filling.PLUGGED, ""), form(Filling.EMPTY, "")]
    assert all(one != other for index, one in enumerate(forms) for other in forms[:index])


def test_codes_stand_under_wired_cavities_only() -> None:
    """The colour code is printed for each wire and for nothing else; it can be left out."""
    data = FaceData("C1", "socket", "wire side", "rectangular", rows_of(6, 6))
    expected = [cavity.code for cavity in data.cavities if cavity.filling is Filling.WIRED]
    numbers = {cavity.name for cavity in data.cavities}

    def texts(codes: bool) -> list[str]:
        marks = face(data, 0, 0, codes=codes).marks
        return [m.text for m in marks if isinstance(m, TextMark) and m.text not in numbers and m.text != data.title]

    assert texts(True) == expected == ["RD/YE", "WH"]
    assert texts(False) == []


def test_a_face_of_nothing_or_of_two_cavities_on_one_place_is_refused() -> None:
    """A face view needs cavities, each on a place of its own."""
    with pytest.raises(ValueError, match="no cavity"):
        face(FaceData("C1", "", "wire side", "round", ()), 0, 0)
    twice = (FaceCavity("1", 0, 0), FaceCavity("2", 0, 0))
    with pytest.raises(ValueError, match="one place"):
        face(FaceData("C1", "", "wire side", "round", twice), 0, 0)
