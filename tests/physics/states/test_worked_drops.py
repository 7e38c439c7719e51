"""Drop on a run and the size that it asks for, by the worked examples of publications; the whole line has to agree."""

import pytest

from tests.line import examine_text

FOOT_MM = 304.8
RUN = """\
format: 2
harness: {{title: Run, number: RN-1, revision: A, wire: {family}}}
route: {{battery: {{load: {half_mm} mm}}}}
supplies: {{BAT: {{voltage: {volts} V, at: battery}}}}
grounds: {{G1: {{at: battery}}}}
loads: {{E1: {{current: {amps} A, at-voltage: {volts} V, keeps: current, at: load}}}}
circuits:
  10: {{from: BAT, to: E1/1, color: RD, size: {size} AWG}}
  90: {{from: E1/2, to: G1, color: BK, size: {size} AWG}}
limits: {{ambient: 20 degC, drop: {share} %}}
states: {{run: {{on: []}}}}
"""
"""Out and back make the whole run, as the examples count it."""
JOINTS_OHM = 4 * 0.0005
"""Four crimped ends, which the examples leave out: the limit is raised by what they take."""


def has_excess(family: str, size: str, volts: float, limit_v: float, run_ft: float, amps: float = 20.0) -> bool:
    """Whether the rule on drop tells a run."""
    half_mm, limit_v = run_ft * FOOT_MM / 2.0, limit_v + amps * JOINTS_OHM
    text = RUN.format(
        family=family, half_mm=half_mm, volts=volts, amps=amps, size=size, share=round(100.0 * limit_v / volts, 7)
    )
    examined = examine_text(text)
    assert "unfused-feed" in {each.rule for each in examined.findings}, examined.findings
    return any(each.rule == "excess-drop" for each in examined.findings)


@pytest.mark.parametrize(
    ("volts", "limit_v", "run_ft", "too_thin", "enough"),
    [
        # FAA AC 43.13-1B CHG 1, paragraph 11-68, example 1 (seen): 50 ft with the ground wire, choose No. 8.
        (28.0, 1.0, 50.0, "10", "8"),
        # Table 11-7 (seen): rows for which the family has both sizes.
        (115.0, 4.0, 88.0, "14", "12"),
        (200.0, 7.0, 100.0, "16", "14"),
    ],
)
def test_the_size_for_a_run(volts: float, limit_v: float, run_ft: float, too_thin: str, enough: str) -> None:
    """20 A in aircraft wire: the rule tells the size below the one that is to be chosen, and not that one."""
    assert has_excess("aircraft-150", too_thin, volts, limit_v, run_ft)
    assert not has_excess("aircraft-150", enough, volts, limit_v, run_ft)


@pytest.mark.parametrize(
    ("volts", "limit_v", "printed_ft", "exact_ft"),
    [(28.0, 1.0, 39.0, 39.68), (14.0, 0.5, 19.5, 19.84), (115.0, 4.0, 156.0, 158.73), (200.0, 7.0, 273.0, 277.78)],
)
def test_the_longest_run_of_a_size(volts: float, limit_v: float, printed_ft: float, exact_ft: float) -> None:
    """FAA AC 43.13-1B CHG 1, table 11-8 (lengths seen, exact ones recomputed): No. 10 at 20 A."""
    assert not has_excess("aircraft-150", "10", volts, limit_v, printed_ft)
    assert not has_excess("aircraft-150", "10", volts, limit_v, exact_ft * 0.999)
    assert has_excess("aircraft-150", "10", volts, limit_v, exact_ft * 1.002)


@pytest.mark.parametrize(("limit_v", "too_thin", "enough"), [(1.2, "18", "16"), (0.36, "14", "12")])
def test_the_size_for_a_boat(limit_v: float, too_thin: str, enough: str) -> None:
    """Small-craft catalogue on ABYC E-11: 10 A, 11 ft out and 10 ft back at 12 V.

    10 % asks for 16 AWG (seen) and 3 % for 12 AWG (CM = 10.75 I L / E, from memory).
    """
    assert has_excess("boat-105", too_thin, 12.0, limit_v, 21.0, 10.0)
    assert not has_excess("boat-105", enough, 12.0, limit_v, 21.0, 10.0)
