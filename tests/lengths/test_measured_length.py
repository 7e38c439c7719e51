"""What a tape, readings and coordinates leave in doubt, against published examples and drawn values."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from harnessgen.design.measured import with_measured_lengths
from harnessgen.design.records.design import Design
from harnessgen.design.records.route import Point, Stretch
from harnessgen.lengths.measured_length import Known, Spread, combined_mm, merged, stated, stretch_known
from harnessgen.measures.quantity import Quantity


def known_of(stretch: Stretch, share: float = 1.0) -> Known:
    """What is in doubt of a stretch from a to b."""
    return stretch_known(Design(format="2"), "a", "b", stretch, share)


def test_a_bound_is_rectangular() -> None:
    """JCGM 100:2008 4.3.7: a bound of 8 mm either way has the standard uncertainty 8 / sqrt(3)."""
    known = known_of(Stretch(length_mm=Quantity(410.0, 8.0, 8.0)))
    assert known.shift_mm == 0.0
    assert combined_mm(known.doubts) == pytest.approx(8 / math.sqrt(3))
    assert known.doubts[0].spread is Spread.EVEN


def test_a_one_sided_bound_moves_the_middle() -> None:
    """JCGM 100:2008 4.3.8: +10/-0 has its expectation 5 above, and half its width counts; half the stretch has half."""
    known = known_of(Stretch(length_mm=Quantity(410.0, 10.0, 0.0)), share=0.5)
    assert known.shift_mm == 2.5
    assert combined_mm(known.doubts) == pytest.approx(2.5 / math.sqrt(3))


def test_a_coverage_factor_divides() -> None:
    """JCGM 100:2008 4.3.3: an expanded uncertainty of 8 mm at k = 2 is a standard uncertainty of 4 mm, and normal."""
    known = known_of(Stretch(length_mm=Quantity(410.0, 8.0, 8.0, 2.0)))
    assert combined_mm(known.doubts) == pytest.approx(4.0)
    assert known.doubts[0].spread is Spread.NORMAL


def test_tape_measure_example_of_the_guide() -> None:
    """Measurement Good Practice Guide No. 11, tape example (from memory): 5.017 m, 6.4 mm combined, 5.027 m in the end.

    Ten readings with a deviation of 2.1 mm, tape 5 mm at k = 2, reading half a millimetre, string +20/-0. Unrounded the
    root of the sum of squares is 6.33 mm; the guide rounds its parts up and prints 6.4.
    """
    away = 2.1 * math.sqrt(9 / 10)
    readings = tuple(Quantity(5017.0 + sign * away, 5.0, 5.0, 2.0) for sign in (-1, 1) * 5)
    known = known_of(Stretch(readings_mm=readings))
    scatter, tape = known.doubts
    assert scatter.uncertainty == pytest.approx(0.66, abs=0.005)
    assert (scatter.freedom, scatter.spread) == (9, Spread.STUDENT)
    assert tape.uncertainty == 2.5
    whole = merged([known, stated("reading", "", Quantity(0, 0.5, 0.5)), stated("string", "", Quantity(0, 20, 0))])
    assert combined_mm(whole.doubts) == pytest.approx(6.33, abs=0.01)
    assert round(combined_mm(whole.doubts) + 0.05, 1) == 6.4
    assert 5017.0 + whole.shift_mm == 5027.0


def test_the_tape_is_not_averaged_away() -> None:
    """JCGM 100:2008 4.2.3: the scatter of the mean falls with the readings; what all readings share does not."""
    few = known_of(Stretch(readings_mm=(Quantity(408, 1, 1), Quantity(412, 1, 1))))
    many = known_of(Stretch(readings_mm=(Quantity(408, 1, 1), Quantity(412, 1, 1)) * 8))
    assert few.doubts[0].uncertainty == pytest.approx(math.sqrt(8) / math.sqrt(2))
    assert many.doubts[0].uncertainty == pytest.approx(math.sqrt(16 * 4 / 15) / 4)
    assert few.doubts[1].uncertainty == many.doubts[1].uncertainty == pytest.approx(1 / math.sqrt(3))


def test_one_reading_and_equal_readings_have_no_scatter() -> None:
    """A single reading, or readings that agree, leave the tape alone in doubt."""
    assert known_of(Stretch(readings_mm=(Quantity(408),))).doubts == ()
    assert len(known_of(Stretch(readings_mm=(Quantity(408, 1, 1),) * 3)).doubts) == 1


def spot(x: float, y: float, z: float, bound: float = 2.0) -> Point:
    """A point known to a bound in each coordinate."""
    return Point(x_mm=Quantity(x, bound, bound), y_mm=Quantity(y, bound, bound), z_mm=Quantity(z, bound, bound))


def by_points(a: Point, b: Point, c: Point, factor: Quantity) -> Design:
    """A way from a over b to c with its lengths from coordinates."""
    route = {"a": {"b": Stretch(path_factor=factor)}, "b": {"c": Stretch(path_factor=factor)}}
    design, faults = with_measured_lengths(Design(format="2", points={"a": a, "b": b, "c": c}, route=route))
    assert faults == ()
    return design


def way_of(design: Design) -> Known:
    """What is in doubt of the way from a to c."""
    stretches = [("a", "b"), ("b", "c")]
    return merged(stretch_known(design, start, end, design.route[start][end]) for start, end in stretches)


def test_a_point_between_two_stretches_in_line_does_not_count() -> None:
    """Where a straight way is divided is of no matter to its length: the middle point's own doubt cancels."""
    design = by_points(spot(0, 0, 0, 0), spot(100, 0, 0, 5), spot(300, 0, 0, 0), Quantity(1.0))
    assert combined_mm(way_of(design).doubts) == pytest.approx(0.0, abs=1e-12)


def test_coordinates_agree_with_drawn_values() -> None:
    """First-order sensitivities give the spread of the way that 200,000 drawn sets of coordinates have, to 1 %."""
    design = by_points(spot(0, 0, 0), spot(150, 80, -40), spot(200, 300, 60), Quantity(1.08, 0.03, 0.03))
    random = np.random.default_rng(7)
    draws = 200_000
    a, b, c = (
        np.array([each.value for each in design.points[name].axes_mm]) + random.uniform(-2, 2, (draws, 3))
        for name in "abc"
    )
    factors = random.uniform(1.05, 1.11, (draws, 2))
    ways = factors[:, 0] * np.linalg.norm(b - a, axis=1) + factors[:, 1] * np.linalg.norm(c - b, axis=1)
    nominal = design.route["a"]["b"].length_mm.value + design.route["b"]["c"].length_mm.value
    known = way_of(design)
    assert combined_mm(known.doubts) == pytest.approx(float(ways.std()), rel=0.01)
    assert nominal + known.shift_mm == pytest.approx(float(ways.mean()), abs=0.05)


LENGTHS = st.builds(Quantity, st.floats(1, 1e4), st.floats(0, 50), st.floats(0, 50), st.none()) | st.floats(
    0.1, 50
).map(lambda wide: Quantity(500.0, wide, wide, 2.0))


@given(length=LENGTHS, share=st.floats(0, 1))
def test_parts_of_one_stretch_share_its_one_measurement(length: Quantity, share: float) -> None:
    """However a stretch is divided by splices, its parts in a row are in doubt as the whole is."""
    stretch = Stretch(length_mm=length)
    whole, parts = known_of(stretch), merged([known_of(stretch, share), known_of(stretch, 1 - share)])
    assert combined_mm(parts.doubts) == pytest.approx(combined_mm(whole.doubts), abs=1e-9)
    assert parts.shift_mm == pytest.approx(whole.shift_mm, abs=1e-9)
