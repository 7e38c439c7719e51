"""Crimp forces: the published rows, nothing between them, and no value outside the tables."""

import pytest

from harnessgen.evidence.publication import Standing
from harnessgen.measures.conductor_size import parse_size
from harnessgen.schedules.wires.crimp_force import crimp_force


@pytest.mark.parametrize(
    ("size", "force_n"),
    [("22 AWG", 35.6), ("20 AWG", 57.9), ("18 AWG", 89.0), ("16 AWG", 133.5), ("10 AWG", 356.0), ("2/0 AWG", 1335.0)],
)
def test_a_gauge_has_its_row(size: str, force_n: float) -> None:
    """UL 486A, pull-out force by AWG: 8, 13, 20, 30, 80 and 300 lbf at 4.45 N."""
    found = crimp_force(parse_size(size))
    assert found is not None
    assert (found.force_n, found.source.standing) == (force_n, Standing.PUBLISHED)
    assert str(found.source) == f"UL 486A, pull-out force, {size}"


@pytest.mark.parametrize(("size", "force_n"), [("0.5 mm2", 60), ("0.75 mm2", 85), ("2.5 mm2", 230), ("10 mm2", 380)])
def test_a_metric_size_is_from_memory(size: str, force_n: float) -> None:
    """IEC 60352-2 by mm2, from memory, and the source says so."""
    found = crimp_force(parse_size(size))
    assert found is not None
    assert (found.force_n, found.source.standing) == (force_n, Standing.FROM_MEMORY)
    assert "(from memory)" in str(found.source)


@pytest.mark.parametrize(
    ("size", "force_n", "row"),
    [
        ("0.35 mm2", 40, "0.32 mm2"),
        ("3 mm2", 230, "2.5 mm2"),
        ("16 mm2", 445.0, "6 AWG"),
        ("11 AWG", 311.5, "12 AWG"),
        ("120 mm2", 2002.5, "4/0 AWG"),
    ],
)
def test_between_two_rows_the_lower_one_holds(size: str, force_n: float, row: str) -> None:
    """Nothing is interpolated: the row is the largest not above the size (6 AWG is 13.3 mm2), and is named."""
    found = crimp_force(parse_size(size))
    assert found is not None
    assert found.force_n == force_n
    assert row in str(found.source)


@pytest.mark.parametrize("size", ["0.03 mm2", "34 AWG", "185 mm2"])
def test_outside_the_tables_there_is_no_force(size: str) -> None:
    """Below the smallest row, and far above the largest, nothing is said."""
    assert crimp_force(parse_size(size)) is None
