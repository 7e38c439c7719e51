"""Finished stretches of bundle: the tolerance of the workmanship standard, and what is short."""

import math

import pytest

from harnessgen.lengths.built_stretch import built_lengths, workmanship_tolerance
from tests.lengths.designs import measured

LEG = "v1: 120 +/- 3"


@pytest.mark.parametrize(
    ("length_mm", "plus_mm"),
    [(1, 25), (300, 25), (301, 50), (1500, 50), (3000, 100), (3001, 150), (7500, 150), (10_000, 500)],
)
def test_finished_assemblies_may_only_be_longer(length_mm: float, plus_mm: float) -> None:
    """IPC/WHMA-A-620, length of a cable assembly without a tolerance on its drawing: 25, 50, 100, 150 mm, then 5 %."""
    tolerance = workmanship_tolerance(length_mm)
    assert (tolerance.value, tolerance.plus, tolerance.minus) == (0, plus_mm, 0)


@pytest.mark.parametrize(
    ("built", "shortest"),
    [
        ("built: 118", 118.0),
        ("built: 118, build: +10/-4", 114.0),
        ("built: 118 +/- 1", 117.0),
        ("built: 118 +/- 3 mm (k=3)", 116.0),
    ],
)
def test_the_shortest_that_it_may_have_turned_out(built: str, shortest: float) -> None:
    """Plus only by the standard, less the build tolerance where there is one, less its own doubt where measured."""
    physics = measured((LEG, f"v1: {{length: 120 +/- 3, {built}}}"))
    ((leg, length),) = built_lengths(physics.network)
    assert leg.to_point == "v1"
    assert length.shortest_built_mm == pytest.approx(shortest)
    assert length.margin_mm == pytest.approx(shortest - 120 - 2 * 3 / math.sqrt(3))


def test_allowances_of_the_bundle_are_needed_and_freedom_is_not() -> None:
    """Slack, drip loop and movement count; a connector's freedom only as far as it is used."""
    physics = measured(
        (LEG, "v1: {length: 120, slack: 20, movement: 8, drip-loop: 5, built: 150}"),
        ("C1: {part: sealed-2, at: v1}", "C1: {part: sealed-2, at: v1, reach: {move: 12, moved: 7}}"),
    )
    ((_, length),) = built_lengths(physics.network)
    assert length.needed_mm == pytest.approx(120 + 33 - 7)
