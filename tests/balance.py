"""Invariants that any solved network must meet, for any test to call after any solution."""

import numpy as np
from numpy.typing import ArrayLike


def assert_currents_balance(
    a: ArrayLike,
    b: ArrayLike,
    currents_a: ArrayLike,
    injections_a: ArrayLike,
    supplied_a: ArrayLike,
    share: float = 1e-9,
) -> None:
    """Kirchhoff at every node: what enters by sources leaves by elements.

    `a`, `b` and `currents_a` by element (current counts from `a` to `b`), the rest by node. What is missing may be a
    `share` of the currents that pass the node, so that a small current beside large ones elsewhere is held to its own.
    """
    first, second = np.asarray(a, dtype=np.intp), np.asarray(b, dtype=np.intp)
    current = np.asarray(currents_a, dtype=np.float64)
    entering = np.asarray(injections_a, dtype=np.float64) + np.asarray(supplied_a, dtype=np.float64)
    missing, passing = entering.copy(), np.abs(entering)
    np.subtract.at(missing, first, current)
    np.add.at(missing, second, current)
    np.add.at(passing, first, np.abs(current))
    np.add.at(passing, second, np.abs(current))
    wrong = np.abs(missing) > share * passing + 1e-18
    assert not wrong.any(), f"at nodes {np.nonzero(wrong)[0]} {missing[wrong]} A are missing"


def assert_power_balances(
    a: ArrayLike,
    b: ArrayLike,
    ohm: ArrayLike,
    currents_a: ArrayLike,
    voltages_v: ArrayLike,
    injections_a: ArrayLike,
    supplied_a: ArrayLike,
    share: float = 1e-9,
) -> None:
    """What the sources give is what the elements turn into heat, to a `share` of all power that flows."""
    current, resistance = np.asarray(currents_a, dtype=np.float64), np.asarray(ohm, dtype=np.float64)
    flowing = current != 0.0
    heat_w = float(np.sum(current[flowing] ** 2 * resistance[flowing]))
    entering = np.asarray(injections_a, dtype=np.float64) + np.asarray(supplied_a, dtype=np.float64)
    # Without a path to a fixed node there is no voltage, and nothing enters.
    given_w = np.nan_to_num(np.asarray(voltages_v, dtype=np.float64)) * entering
    flow_w = float(np.sum(np.abs(given_w)))
    assert abs(float(np.sum(given_w)) - heat_w) <= share * (flow_w + heat_w) + 1e-18


def assert_ohms_law(
    a: ArrayLike, b: ArrayLike, ohm: ArrayLike, currents_a: ArrayLike, voltages_v: ArrayLike, share: float = 1e-9
) -> None:
    """Volts across every element are its current times its resistance, to a `share` of the voltages at its ends."""
    volts = np.asarray(voltages_v, dtype=np.float64)
    first, second = volts[np.asarray(a, dtype=np.intp)], volts[np.asarray(b, dtype=np.intp)]
    current, resistance = np.asarray(currents_a, dtype=np.float64), np.asarray(ohm, dtype=np.float64)
    floating = np.isnan(first) | np.isnan(second)
    assert not current[floating | np.isinf(resistance)].any(), "current flows where no path closes"
    live = ~floating & np.isfinite(resistance)
    fall = current[live] * resistance[live]
    error = np.abs(first[live] - second[live] - fall)
    assert (error <= share * (np.abs(first[live]) + np.abs(second[live]) + np.abs(fall)) + 1e-18).all()
