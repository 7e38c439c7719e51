"""Clearance: finds each kind of planted fault, names it, and is silent on what drawings do on purpose."""

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from harnessgen.sheets.box import Box
from harnessgen.sheets.mark_kind import TEXT_KINDS, MarkKind
from harnessgen.sheets.marks import Arc, Circle, Conductor, Hatch, Mark, Polygon, Polyline, Rectangle, TextMark
from tests.sheets.clearance import CONDUCTOR_GAP_MM, TEXT_GAP_MM, Reason, collisions
from tests.sheets.meeting import Meeting, meeting

AREA = Box(0, 0, 200, 100)
K = MarkKind


def red(*points: tuple[float, float], subject: str = "1A") -> Conductor:
    """A red conductor."""
    return Conductor(points, "RD", subject=subject)


def blue(*points: tuple[float, float], subject: str = "2A") -> Conductor:
    """A blue conductor of another circuit."""
    return Conductor(points, "BU", "WH", subject=subject)


def dot(x: float, y: float) -> Circle:
    """A splice dot."""
    return Circle(x, y, 1.0, 0, fill=(0, 0, 0), kind=K.SPLICE, subject="S1")


def bundle(*points: tuple[float, float], subject: str = "trunk") -> Polyline:
    """A stretch of bundle 4 mm thick."""
    return Polyline(points, 4.0, kind=K.BUNDLE, subject=subject)


def fuse(subject: str = "F1") -> Rectangle:
    """A symbol body from (98, 40) to (102, 60)."""
    return Rectangle(Box(98, 40, 102, 60), 0.4, fill=(255, 255, 255), kind=K.SYMBOL, subject=subject)


ARC = Arc(100, 50, 1.7, 180, 180, kind=K.CONNECTION_BREAK, subject="C1/1")
PANEL = Rectangle(Box(80, 40, 120, 60), 0.4, fill=(240, 240, 240), kind=K.PANEL, subject="controller")

FAULTS: dict[str, tuple[list[Mark], Reason]] = {
    "text on text": ([TextMark("INJ1", 20, 20, 2.5), TextMark("INJ2", 24, 21, 2.5)], Reason.MEET),
    "text on text of one subject": (
        [TextMark("INJ1", 20, 20, 2.5, subject="L"), TextMark("12 ohm", 22, 21, 2.5, subject="L")],
        Reason.MEET,
    ),
    "text on its own conductor": ([red((20, 10), (20, 40)), TextMark("1A", 20, 25, 2.5, subject="1A")], Reason.MEET),
    "text nearer than its air": ([TextMark("A", 20, 20, 2.5), TextMark("B", 20, 22.5 + 0.19, 2.5)], Reason.MEET),
    "text over the edge of a panel": ([PANEL, TextMark("low side", 76, 50, 2.5)], Reason.MEET),
    "text in a symbol body": ([fuse(), TextMark("7", 99.5, 50, 2.5, subject="F1")], Reason.MEET),
    "conductors along one another": ([red((10, 20), (60, 20)), blue((30, 20), (90, 20))], Reason.MEET),
    "conductors side by side too near": ([red((10, 20), (60, 20)), blue((10, 21.5), (60, 21.5))], Reason.MEET),
    "conductor crossing at a corner": ([red((10, 20), (60, 20), (60, 50)), blue((60, 5), (60, 19.5))], Reason.MEET),
    "conductor ending on the middle of another": ([red((10, 20), (60, 20)), blue((30, 20), (30, 50))], Reason.MEET),
    "slanting conductor crossing": ([red((10, 20), (60, 20)), blue((20, 5), (50, 40))], Reason.MEET),
    "joined without a splice": ([red((10, 20), (40, 20)), blue((40, 20), (40, 50))], Reason.NO_JOINT),
    "conductor ending on another a little before its end": (
        [red((10, 20), (60, 20)), blue((56, 20), (56, 50)), dot(60, 20)],
        Reason.MEET,
    ),
    "joined beside a splice": ([red((10, 20), (40, 20)), blue((40, 20), (40, 50)), dot(43, 20)], Reason.NO_JOINT),
    "conductor through a splice": ([red((10, 20), (60, 20)), dot(30, 20)], Reason.MEET),
    "two conductors leave a splice on one another": (
        [dot(30, 20), red((30, 20), (60, 20), (60, 40)), blue((30, 20), (80, 20), (80, 40))],
        Reason.MEET,
    ),
    "conductor through a symbol": ([fuse(), red((100, 20), (100, 80))], Reason.MEET),
    "conductor through a connector": ([ARC, red((100, 20), (100, 80))], Reason.MEET),
    "conductor across a panel": ([PANEL, red((60, 50), (140, 50))], Reason.MEET),
    "lead along a conductor": (
        [red((10, 20), (60, 20)), Polyline(((20, 20), (50, 20)), kind=K.LEAD, subject="L")],
        Reason.MEET,
    ),
    "symbol on a symbol": ([fuse(), fuse("F2")], Reason.MEET),
    "symbols without a name": ([fuse(""), fuse("")], Reason.MEET),
    "splice on a symbol": ([fuse(), dot(100, 50)], Reason.MEET),
    "leg of bundle across the trunk": (
        [bundle((10, 50), (90, 50)), bundle((50, 20), (50, 80), subject="leg")],
        Reason.MEET,
    ),
    "coverings that overlap": (
        [
            Hatch(Box(10, 10, 40, 20).corners, subject="braid"),
            Hatch(((30, 15), (60, 15), (60, 25)), subject="tape"),
        ],
        Reason.MEET,
    ),
    "bundle through a face": (
        [bundle((10, 50), (90, 50)), Rectangle(Box(40, 40, 60, 60), fill=(255, 255, 255), kind=K.FACE, subject="C1")],
        Reason.MEET,
    ),
    "dimension line on the bundle": (
        [bundle((10, 50), (90, 50)), Polyline(((10, 50), (90, 50)), 0.2, kind=K.DIMENSION)],
        Reason.MEET,
    ),
    "leader across a bundle": (
        [bundle((10, 50), (90, 50)), Polyline(((50, 20), (50, 80)), 0.2, kind=K.LEADER)],
        Reason.MEET,
    ),
    "table on a table": (
        [
            Rectangle(Box(10, 10, 60, 40), kind=K.TABLE_RULE, subject=name).shift(dx, 5)
            for name, dx in (("A", 0), ("B", 9))
        ],
        Reason.MEET,
    ),
    "drawing over the title block": (
        [Polyline(((150, 80), (200, 80)), kind=K.TITLE_RULE), red((160, 60), (160, 95))],
        Reason.MEET,
    ),
    "arrow head on text": (
        [
            Polygon(((20, 20), (24, 18.5), (24, 21.5)), fill=(0, 0, 0), kind=K.DIMENSION),
            TextMark("90", 22, 21, 2.5, kind=K.DIMENSION_TEXT),
        ],
        Reason.MEET,
    ),
    "mark outside": ([red((10, 20), (200.1, 20))], Reason.OUTSIDE),
    "text out at the left": ([TextMark("INJ1", 4, 20, 2.5, "end")], Reason.OUTSIDE),
    "text too small": ([TextMark("INJ1", 20, 20, 1.9)], Reason.TOO_SMALL),
    "grey text": ([TextMark("INJ1", 20, 20, 2.5, ink=(150, 150, 150))], Reason.TOO_FAINT),
    "black text on a dark ground": (
        [Rectangle(Box(10, 10, 60, 40), 0, fill=(60, 60, 60), kind=K.PANEL), TextMark("INJ1", 20, 20, 2.5)],
        Reason.TOO_FAINT,
    ),
    "text that claims to be a frame": ([TextMark("INJ1", 20, 20, 2.5, kind=K.FRAME)], Reason.NOT_TEXT_KIND),
}

ON_PURPOSE: dict[str, list[Mark]] = {
    "conductors crossing at right angles": [red((10, 20), (60, 20)), blue((30, 5), (30, 50))],
    "crossing twice": [red((10, 20), (60, 20), (60, 60), (10, 60)), blue((30, 5), (30, 90))],
    "conductors side by side": [red((10, 20), (60, 20)), blue((10, 20 + 1.3 + CONDUCTOR_GAP_MM), (60, 21.6))],
    "three conductors in a splice": [
        dot(30, 20),
        red((10, 20), (30, 20)),
        blue((30, 20), (60, 20), (60, 40)),
        red((30, 20), (30, 60), subject="1C"),
    ],
    "two pieces of one conductor": [red((10, 20), (40, 20)), red((40, 20), (60, 20))],
    "conductors end at a connector": [ARC, red((100, 20), (100, 48.3)), blue((100, 48.3), (100, 30), (120, 30))][:2],
    "conductor ends at a symbol": [fuse(), red((100, 10), (100, 40)), blue((100, 60), (100, 90))],
    "conductor ends at the edge of a panel": [PANEL, red((100, 10), (100, 40))],
    "conductors hang from a supply bar": [
        Polyline(((10, 10), (150, 10)), 0.9, kind=K.SUPPLY_BAR),
        red((40, 10), (40, 60)),
        blue((80, 10), (80, 60)),
    ],
    "text in a panel and in a ring": [
        PANEL,
        TextMark("controller", 85, 50, 2.5),
        Circle(30, 30, 3, kind=K.SYMBOL),
        TextMark("M", 30, 30.8, 2.5, "middle"),
    ],
    "text in the quarter of a bend": [red((10, 20), (60, 20), (60, 60)), TextMark("S1", 30, 40, 2.5)],
    "lines of text": [TextMark("INJ1", 20, 20, 2.5), TextMark("12 ohm", 20, 20 + 2.5 + TEXT_GAP_MM + 0.01, 2.5)],
    "splice and breakout on a covered bundle": [
        bundle((10, 50), (90, 50)),
        Hatch(Box(30, 46, 60, 54).corners, subject="braid"),
        dot(40, 50),
        Circle(90, 50, 2, fill=(255, 255, 255), kind=K.BREAKOUT),
        bundle((90, 50), (90, 90), subject="leg"),
    ],
    "dimension between extension lines": [
        Polyline(((20, 10), (80, 10)), 0.2, kind=K.DIMENSION, subject="90"),
        Polygon(((20, 10), (23, 9.5), (23, 10.5)), fill=(0, 0, 0), kind=K.DIMENSION, subject="90"),
        *(Polyline(((x, 5), (x, 45)), 0.2, kind=K.EXTENSION) for x in (20, 80)),
        bundle((20, 45), (80, 45)),
    ],
    "leader ends on a bundle": [bundle((10, 50), (90, 50)), Polyline(((50, 20), (60, 50)), 0.2, kind=K.LEADER)],
    "blank text": [red((10, 20), (60, 20)), TextMark("  ", 30, 20, 1.0, ink=(255, 255, 255))],
}


@pytest.mark.parametrize("name", FAULTS)
def test_a_planted_fault_is_found_and_named(name: str) -> None:
    """Each planted fault gives its own reason and no other, in whatever order the marks come."""
    marks, reason = FAULTS[name]
    for order in (marks, marks[::-1]):
        found = collisions(order, AREA)
        assert {fault.reason for fault in found} == {reason}
        assert all(reason.value in str(fault) for fault in found)


@pytest.mark.parametrize("name", ON_PURPOSE)
def test_what_drawings_do_on_purpose_is_left_alone(name: str) -> None:
    """No fault is reported where marks meet as the table of meetings allows."""
    for order in (ON_PURPOSE[name], ON_PURPOSE[name][::-1]):
        assert [str(fault) for fault in collisions(order, AREA)] == []


def test_the_ground_of_a_text_is_what_was_drawn_last() -> None:
    """A number in a white disc on a dark ring is legible; with the dark disc drawn over the white one it is not."""
    ring = Circle(30, 30, 4, fill=(20, 20, 20), kind=K.CAVITY, subject="C1/1")
    disc = Circle(30, 30, 3, fill=(255, 255, 255), kind=K.CAVITY, subject="C1/1")
    number = TextMark("1", 30, 30.8, 2.5, "middle", kind=K.FACE_TEXT)
    assert collisions([ring, disc, number], AREA) == []
    assert [fault.reason for fault in collisions([disc, ring, number], AREA)] == [Reason.TOO_FAINT]


def test_text_meets_nothing() -> None:
    """No pair of the table lets any kind of text meet any other kind."""
    for text, kind in product(TEXT_KINDS, MarkKind):
        assert meeting(text, kind) is Meeting.NEVER
        assert meeting(kind, text) is Meeting.NEVER


def test_the_table_reads_the_same_from_both_sides() -> None:
    """Exchanging two kinds exchanges only which of them has to end."""
    for one, other in product(MarkKind, MarkKind):
        if one is other:
            continue
        there, back = meeting(one, other), meeting(other, one)
        sided = Meeting.FIRST_ENDS | Meeting.SECOND_ENDS
        assert there & ~sided == back & ~sided
        assert (Meeting.FIRST_ENDS in there) == (Meeting.SECOND_ENDS in back)


@given(
    st.lists(
        st.tuples(st.integers(0, 60), st.integers(0, 40), st.integers(1, 30), st.integers(1, 20)),
        min_size=2,
        max_size=12,
    )
)
def test_the_raster_finds_what_comparing_all_pairs_finds(areas: list[tuple[int, int, int, int]]) -> None:
    """Symbols of different names collide exactly where their boxes overlap; no pair is lost between the cells."""
    bodies = [
        Rectangle(Box(x, y, x + wide, y + high), 0, fill=(0, 0, 0), kind=K.SYMBOL, subject=f"F{index}")
        for index, (x, y, wide, high) in enumerate(areas)
    ]
    expected = {
        frozenset({one.subject, other.subject})
        for index, one in enumerate(bodies)
        for other in bodies[:index]
        if one.box.intersects(other.box)
    }
    found = collisions(bodies, AREA)
    assert {frozenset({fault.first.subject, fault.second.subject}) for fault in found if fault.second} == expected
    assert len(found) == len(expected)
    for fault in found:
        assert fault.second is not None
        assert fault.first.box.contains_point(fault.at)
        assert fault.second.box.contains_point(fault.at)
