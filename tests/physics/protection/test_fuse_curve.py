"""Opening times: the published limits, straight lines in logarithms between them, and what is beyond."""

import math

import pytest

from harnessgen.design.records.device import Fuse
from harnessgen.measures.quantity import Quantity
from harnessgen.network.electrical import ElementKind
from harnessgen.parts.fuse import FuseForm
from harnessgen.parts.packaged import PackagedFamilies
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.protection.derivation import let_through_derivation, opening_derivation
from harnessgen.physics.protection.fuse_curve import FuseCurve, fuse_curve
from harnessgen.physics.protection.short_current import Short
from harnessgen.source.container import RecordOf

FORMS = PackagedFamilies("fuses", RecordOf(FuseForm))


def curve(form: str, rating_a: float) -> FuseCurve:
    """The curve of a fuse of the library."""
    found = fuse_curve(Fuse(rating_a=Quantity(rating_a), form=form), FORMS[form])
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("form", "percent", "shortest", "longest"),
    [
        # Published data sheets of fuses declared to ISO 8820-3 and SAE J1284 or J1888.
        ("blade-medium", 135, 0.75, 600),
        ("blade-medium", 160, 0.25, 50),
        ("blade-medium", 200, 0.15, 5),
        ("blade-medium", 350, 0.08, 0.5),
        ("blade-large", 135, 60, 1800),
        ("blade-large", 200, 2, 50),
        ("blade-large", 350, 0.2, 7),
        ("blade-large", 600, 0.04, 1),
    ],
)
def test_published_limits(form: str, percent: float, shortest: float, longest: float) -> None:
    """At the published currents the times are the published ones."""
    found = curve(form, 40.0)
    assert found.shortest_s(0.4 * percent) == pytest.approx(shortest)
    assert found.longest_s(0.4 * percent) == pytest.approx(longest)


@pytest.mark.parametrize(("form", "a2s"), [("blade-medium", 9800.0), ("blade-large", 137200.0)])
def test_what_a_fuse_lets_through(form: str, a2s: float) -> None:
    """40 A at 350 %: 0.5 s and 7 s at the latest (published data sheets), so 9800 and 137200 A2s (recomputed)."""
    short = Short("F1", "X1", Case.STRONG, 14.0, 14.0, 0.1, 0.0, 0.0, 1.0, ("X1", ""), ElementKind.BREAK)
    assert short.current_a == short.derivation.again() == pytest.approx(140.0)
    found = let_through_derivation("F1", curve(form, 40.0), short)
    assert found is not None
    assert found.again() == found.result == pytest.approx(a2s)


@pytest.mark.parametrize("is_longest", [True, False])
def test_derivations_give_the_times_again(is_longest: bool) -> None:
    """At, between and beyond the published currents the printed formula gives what the curve gives."""
    found = curve("blade-medium", 10.0)
    for current_a in (13.5, 16.0, 18.0, 27.0, 35.0, 59.9, 60.0, 400.0):
        derived = opening_derivation("F1", found, current_a, is_longest)
        time_s = found.longest_s(current_a) if is_longest else found.shortest_s(current_a)
        assert derived.again() == derived.result == pytest.approx(time_s, rel=1e-12)
    with pytest.raises(ValueError, match="no published limit bounds"):
        opening_derivation("F1", found, 10.9, is_longest)


def test_between_and_beyond() -> None:
    """Half-way in logarithms is the mean in logarithms; no bound below the first limit, I2t beyond the last."""
    found = curve("blade-medium", 10.0)
    assert found.longest_s(math.sqrt(20.0 * 35.0)) == pytest.approx(math.sqrt(5.0 * 0.5))
    assert found.longest_s(13.49) == math.inf
    assert found.shortest_s(10.9) == math.inf
    assert (found.holds_up_to_a, found.published_up_to_a) == (pytest.approx(13.5), pytest.approx(60.0))
    assert found.longest_s(600.0) == pytest.approx(0.15 / 100.0)
    times = [found.longest_s(13.5 * 1.02**step) for step in range(200)]
    assert times == sorted(times, reverse=True)


@pytest.mark.parametrize(("degc", "allowed_a"), [(20, 40), (65, 34), (85, 30), (110, 25), (125, 22)])
def test_published_rerating(degc: float, allowed_a: float) -> None:
    """Published data sheet of a 40 A large blade fuse: what it may carry by ambient."""
    rerating = FORMS["blade-large"].rerating
    assert rerating is not None
    assert 40 * rerating.share_at(degc) == pytest.approx(allowed_a)
    assert rerating.share_at(0) == 1
    assert rerating.share_at(75) == pytest.approx(0.8)
    assert rerating.share_at(400) == 0
