"""How long a stretch is drawn, and how much room it takes beside it."""

from dataclasses import replace

import pytest

from harnessgen.drawings.layout.corridor import Corridor, Setting, corridor, half_width_mm, splice_texts
from harnessgen.drawings.layout.fixings import Station
from harnessgen.drawings.layout.tree import DrawnRun, Piece

NO_LIMIT_MM = 10_000.0


def run(*lengths_mm: float, text: str = "", covering: str = "", zone: str = "", datum_first: bool = True) -> DrawnRun:
    splices = tuple(Station(f"S{number}") for number in range(1, len(lengths_mm)))
    pieces = tuple(Piece(mm, 4.0) for mm in lengths_mm)
    words = text or f"{sum(lengths_mm):g}"
    return DrawnRun("a to b", "a", "b", pieces, splices, datum_first, words, covering, 12.0 if covering else 0.0, zone)


def drawn(what: DrawnRun, scale: float, longest_mm: float = NO_LIMIT_MM, *, is_level: bool = True) -> Corridor:
    return corridor(what, Setting(scale, longest_mm), (2.0, 2.0), (0.0, 1.0), is_level=is_level)


def test_a_stretch_with_room_is_true() -> None:
    """400 mm at 1:4 are 100 mm on paper."""
    whole = drawn(run(400.0), 0.25)
    assert whole.is_true
    assert whole.length_mm == pytest.approx(100.0)


def test_a_stretch_too_short_for_its_dimension_is_broken() -> None:
    """It is drawn as long as its text needs, and not as true."""
    short = drawn(run(40.0, text="40 +10/-0"), 0.1)
    assert not short.is_true
    assert short.length_mm > 15.0


def test_an_upright_stretch_may_have_a_level_dimension() -> None:
    """Where the text is longer than the stretch it lies beside it, which takes room sideways instead."""
    upright = drawn(run(60.0, text="60 +10/-0"), 0.25, is_level=False)
    assert upright.is_true
    assert upright.level_words_mm > 0
    assert upright.depth_mm > drawn(run(60.0, text="60"), 0.25, is_level=False).depth_mm


def test_a_stretch_longer_than_the_bound_is_broken() -> None:
    """5 m at 1:4 on a sheet that allows 90 mm."""
    long = drawn(run(5000.0), 0.25, 90.0)
    assert not long.is_true
    assert long.length_mm == pytest.approx(90.0)


def test_only_the_piece_without_room_is_broken() -> None:
    """A splice near its datum pushes the drawing out there; the rest of the stretch stays true."""
    spliced = drawn(run(5.0, 395.0), 0.25)
    assert spliced.true == (False, True)
    assert spliced.pieces_mm[1] == pytest.approx(395.0 / 4)


def test_covering_and_zone_take_a_second_line_where_one_is_too_long() -> None:
    """Otherwise they share a line."""
    assert drawn(run(900.0, covering="conduit-13", zone="engine-bay"), 0.25).note == ("conduit-13, engine-bay",)
    tight = drawn(run(120.0, covering="conduit-13", zone="engine-bay"), 0.25)
    assert tight.note == ("conduit-13", "engine-bay")


def test_each_splice_adds_a_level() -> None:
    """Its place is dimensioned from the datum, on a line of its own."""
    levels = [len(drawn(run(*[100.0] * count), 1.0).levels_mm) for count in (1, 2, 3)]
    assert levels == [1, 2, 3]


def test_splices_are_measured_from_their_datum() -> None:
    """From whichever end the design measures them."""
    assert splice_texts(run(40.0, 60.5, 60.0)) == ("40", "100.5")
    assert splice_texts(run(40.0, 60.5, 60.0, datum_first=False)) == ("120.5", "60")


def test_a_covering_is_wider_than_its_bundle() -> None:
    """So that its hatching shows on both sides."""
    bare = run(300.0)
    assert half_width_mm(replace(bare, covering="glass-10", covering_mm=11.6), 0.25) > half_width_mm(bare, 0.25)


def test_lengthening_breaks_one_piece() -> None:
    """What is already broken takes more before anything true does."""
    spliced = drawn(run(5.0, 395.0), 0.25)
    longer = spliced.lengthened(10.0)
    assert longer.true == (False, True)
    assert longer.length_mm == pytest.approx(spliced.length_mm + 10.0)
    assert spliced.lengthened(0.0) is spliced
