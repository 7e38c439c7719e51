"""Bundle diameters against published packings, geometry and what must hold for any bundle."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harnessgen.lengths.bundles.diameter import MIXED_ERROR, RULE_ERROR, PackingMethod, bundle_diameter
from tests.samples import examples

# Published table of the smallest circles around equal circles (diameter in diameters of one), as printed to 3 decimals;
# closed forms: 1 + 2/sqrt(3) for 3, 1 + sqrt(2) for 4, 1 + sqrt(2 (1 + 1/sqrt(5))) for 5, 3 for 6 and 7.
PUBLISHED = {
    1: 1.000, 2: 2.000, 3: 2.155, 4: 2.414, 5: 2.701, 6: 3.000, 7: 3.000, 8: 3.305, 9: 3.613, 10: 3.813,
    11: 3.924, 12: 4.030, 13: 4.236, 14: 4.328, 15: 4.521, 16: 4.615, 17: 4.792, 18: 4.864, 19: 4.864, 20: 5.122,
}  # fmt: skip
# Best packings of larger numbers, from the same table (from memory).
LARGER = {37: 6.7588, 61: 8.6613, 91: 10.5668}

wire_mm = st.floats(min_value=0.8, max_value=12.0).map(lambda value: round(value, 2))
wires_mm = st.lists(wire_mm, min_size=1, max_size=30)


@pytest.mark.parametrize(("count", "ratio"), PUBLISHED.items())
def test_equal_wires_fill_the_published_circle(count: int, ratio: float) -> None:
    """Equal circles packed in a circle, published table of smallest enclosing circles, n = 1 to 20."""
    assert bundle_diameter([1.0] * count).diameter_mm == pytest.approx(ratio, abs=5e-4)
    assert bundle_diameter([2.4] * count).diameter_mm == pytest.approx(2.4 * ratio, abs=2.4 * 5e-4)


def test_small_packings_have_their_closed_forms() -> None:
    """Three, four and five equal circles in a circle: elementary geometry."""
    closed = {3: 1 + 2 / math.sqrt(3), 4: 1 + math.sqrt(2), 5: 1 + math.sqrt(2 * (1 + 1 / math.sqrt(5))), 7: 3.0}
    for count, ratio in closed.items():
        assert bundle_diameter([1.0] * count).diameter_mm == pytest.approx(ratio, abs=1e-6)


def test_two_unlike_wires_lie_side_by_side() -> None:
    """The circle around two circles is as wide as both together: elementary geometry."""
    two = bundle_diameter([3.0, 1.9])
    assert two.diameter_mm == pytest.approx(4.9)
    assert two.method is PackingMethod.EXACT


def test_rule_keeps_within_its_stated_error() -> None:
    """1.2 sqrt(sum d2) against the published packings of 3 to 20, 37, 61 and 91 equal wires, both ends reached."""
    shares = [1.2 * math.sqrt(count) / ratio - 1 for count, ratio in {**PUBLISHED, **LARGER}.items() if count >= 3]
    assert RULE_ERROR[0] <= min(shares) < RULE_ERROR[0] + 0.001
    assert RULE_ERROR[1] - 0.001 < max(shares) <= RULE_ERROR[1]


def test_unlike_wires_follow_the_rule() -> None:
    """Common practice, no source: 1.2 times the root of the sum of squared diameters; here 1.2 sqrt(36)."""
    unlike = bundle_diameter([4.0, 2.0, 2.0, 2.0, 2.0, 2.0])
    assert unlike.diameter_mm == pytest.approx(1.2 * 6)
    assert unlike.method is PackingMethod.RULE
    assert unlike.error == MIXED_ERROR


def test_one_thick_wire_rules_a_thin_companion() -> None:
    """Elementary geometry: the two thickest have to lie side by side, which the rule alone would deny."""
    assert bundle_diameter([10.0, 9.0, 0.8]).diameter_mm == pytest.approx(19.0)


def test_many_equal_wires_follow_the_rule() -> None:
    """Beyond the table: 37 equal wires by 1.2 sqrt(37), 8 % above the best packing of 6.759 (from memory)."""
    many = bundle_diameter([1.0] * 37)
    assert many.diameter_mm == pytest.approx(1.2 * math.sqrt(37))
    assert many.diameter_mm / LARGER[37] - 1 == pytest.approx(0.080, abs=5e-4)


@given(wires_mm, wire_mm)
@settings(max_examples=examples(200), deadline=None)
def test_a_wire_more_never_makes_a_bundle_thinner(diameters_mm: list[float], more_mm: float) -> None:
    """Whatever the bundle and the wire."""
    assert bundle_diameter([*diameters_mm, more_mm]).diameter_mm >= bundle_diameter(diameters_mm).diameter_mm - 1e-9


@given(st.integers(min_value=1, max_value=40), st.integers(min_value=1, max_value=40), wire_mm, wire_mm)
@settings(max_examples=examples(100), deadline=None)
def test_groups_of_wires_never_shrink_it_either(few: int, many: int, one_mm: float, other_mm: float) -> None:
    """Bundles of two kinds of wire, where packing and rule take turns."""
    smaller = bundle_diameter([one_mm] * few)
    larger = bundle_diameter([one_mm] * few + [other_mm] * many)
    assert larger.diameter_mm >= smaller.diameter_mm - 1e-9


@given(wire_mm)
@settings(max_examples=examples(30), deadline=None)
def test_one_wire_is_as_thick_as_itself(diameter_mm: float) -> None:
    """No rule adds anything to a single wire."""
    assert bundle_diameter([diameter_mm]).diameter_mm == diameter_mm


@given(wires_mm)
@settings(max_examples=examples(100), deadline=None)
def test_copper_and_insulation_fit_inside(diameters_mm: list[float]) -> None:
    """The circle has at least the area of its wires, and room for the two thickest side by side."""
    bundle_mm = bundle_diameter(diameters_mm).diameter_mm
    assert bundle_mm**2 >= math.fsum(each**2 for each in diameters_mm) * (1 - 1e-12)
    assert bundle_mm >= math.fsum(sorted(diameters_mm)[-2:]) * (1 - 1e-12)


@given(wires_mm)
@settings(max_examples=examples(100), deadline=None)
def test_derivation_gives_the_diameter_again(diameters_mm: list[float]) -> None:
    """The printed formula, evaluated from the printed inputs."""
    bundle = bundle_diameter(diameters_mm)
    derivation = bundle.derivation
    assert derivation.again() == pytest.approx(bundle.diameter_mm, rel=1e-12)
    assert derivation.unit == "mm"
    assert derivation.sources


def test_order_of_wires_does_not_matter() -> None:
    """The same wires, the same bundle."""
    assert bundle_diameter([1.0, 3.0, 2.0]) == bundle_diameter([3.0, 2.0, 1.0])


@pytest.mark.parametrize("diameters_mm", [[], [0.0], [1.0, -2.0], [math.nan], [math.inf], [1.0, math.nan, 2.0]])
def test_no_bundle_of_nothing(diameters_mm: list[float]) -> None:
    """No wire, or a wire without thickness, is refused."""
    with pytest.raises(ValueError, match=r"bundle"):
        bundle_diameter(diameters_mm)


def _around_three(a: float, b: float, c: float) -> float:
    """Diameter of the circle around three circles that touch each other (Descartes), or around the two thickest."""
    bends = [2.0 / each for each in (a, b, c)]
    outer = sum(bends) - 2.0 * math.sqrt(bends[0] * bends[1] + bends[1] * bends[2] + bends[2] * bends[0])
    side_by_side = sum(sorted((a, b, c))[1:])
    # The third lies in the gap beside the two where it is no wider than the circle that touches all three.
    gap = 2.0 / (2.0 / a + 2.0 / b - 2.0 / (a + b))
    return side_by_side if c <= gap else max(-2.0 / outer, side_by_side)


def test_mixed_wires_keep_within_their_stated_error() -> None:
    """Descartes' theorem on four touching circles, for all mixes of three from 1 : 1 : 1 to 6 : 6 : 1."""
    shares = []
    for first in range(10, 61):
        for second in range(10, first + 1):
            three = (first / 10.0, second / 10.0, 1.0)
            if len(set(three)) > 1:
                shares.append(bundle_diameter(three).diameter_mm / _around_three(*three) - 1.0)
    assert MIXED_ERROR[0] <= min(shares) < MIXED_ERROR[0] + 0.002
    assert max(shares) <= MIXED_ERROR[1]
