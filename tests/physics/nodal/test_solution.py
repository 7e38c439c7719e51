"""Node voltages and currents against textbooks, exact arithmetic and Kirchhoff."""

import math
import random
from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harnessgen.physics.nodal import factors as nodal_factors
from harnessgen.physics.nodal import solution as nodal
from harnessgen.physics.nodal.solution import ResistiveNetwork, Resistor, Solution, assemble
from tests.balance import assert_currents_balance, assert_ohms_law, assert_power_balances
from tests.physics.nodal.networks import Drawn, drawn_networks, harness_network
from tests.samples import examples


def assert_holds(network: ResistiveNetwork, solution: Solution) -> None:
    a, b = network.elements.a, network.elements.b
    with np.errstate(divide="ignore"):
        ohm = 1.0 / network.elements.siemens
    loops = a == b
    ohm[loops] = 1.0
    nothing = np.zeros(network.elements.node_count)
    currents, volts = solution.currents_a, solution.voltages_v
    assert_currents_balance(a, b, currents, nothing, solution.supplied_a)
    assert_power_balances(a, b, ohm, currents, volts, nothing, solution.supplied_a)
    assert_ohms_law(a[~loops], b[~loops], ohm[~loops], currents[~loops], volts)


def test_unbalanced_bridge_gives_the_printed_detector_current() -> None:
    """Bridge of worked example A: electronic-instrumentation textbook, bridge chapter.

    Inputs as printed; the detector current 20.83 microampere is recomputed from the printed method.
    """
    arms = [Resistor(0, 2, 1000.0), Resistor(2, 1, 400.0), Resistor(0, 3, 100.0), Resistor(3, 1, 41.0)]
    network = assemble(4, [*arms, Resistor(3, 2, 50.0)], {0: 1.5, 1: 0.0})
    solution = network.solve()
    assert solution.currents_a[4] == pytest.approx(20.83e-6, abs=0.005e-6)
    open_circuit = assemble(4, arms, {0: 1.5, 1: 0.0}).solve().voltages_v
    assert open_circuit[3] - open_circuit[2] == pytest.approx(7.599e-3, abs=0.0005e-3)
    assert_holds(network, solution)


def test_second_bridge_gives_the_printed_detector_current() -> None:
    """Bridge of a physics textbook, current electricity: 4.87 mA from B to D (printed); node voltages recomputed."""
    a, b, c, d = range(4)
    arms = [Resistor(a, b, 100.0), Resistor(b, c, 10.0), Resistor(c, d, 5.0), Resistor(d, a, 60.0)]
    network = assemble(4, [*arms, Resistor(b, d, 15.0)], {a: 10.0, c: 0.0})
    solution = network.solve()
    assert solution.currents_a[4] == pytest.approx(4.87e-3, abs=0.005e-3)
    assert solution.voltages_v[[b, d]] == pytest.approx([0.86480, 0.79172], abs=5e-6)
    assert solution.supplied_a[a] == pytest.approx(0.24482, abs=5e-6)
    assert_holds(network, solution)


def test_three_section_ladder_is_exact() -> None:
    """Ladder of a circuit-analysis textbook: 10 A at the end, 30 A from the source (printed); voltages recomputed."""
    ladder = [(0, 2, 5.0), (2, 1, 6.0), (2, 3, 4.0), (3, 1, 6.0), (3, 4, 1.0), (4, 1, 2.0)]
    network = assemble(5, [Resistor(*each) for each in ladder], {0: 240.0, 1: 0.0})
    solution = network.solve()
    assert solution.voltages_v == pytest.approx([240.0, 0.0, 90.0, 30.0, 20.0], rel=1e-14)
    assert solution.currents_a[[0, 5]] == pytest.approx([30.0, 10.0], rel=1e-14)
    assert_holds(network, solution)


def test_ladder_by_reduction_is_exact() -> None:
    """Ladder of an electrical-engineering textbook, network reduction; which 3 ohm is the shunt is worked out by us."""
    ladder = [(0, 2, 3.0), (2, 1, 3.0), (2, 3, 1.0), (3, 1, 10.0), (3, 4, 4.0), (4, 1, 6.0)]
    network = assemble(5, [Resistor(*each) for each in ladder], {0: 90.0, 1: 0.0})
    solution = network.solve()
    assert solution.voltages_v[[2, 3, 4]] == pytest.approx([36.0, 30.0, 18.0], rel=1e-14)
    assert solution.currents_a[[0, 5]] == pytest.approx([18.0, 3.0], rel=1e-14)
    assert_holds(network, solution)


@settings(max_examples=examples(150), deadline=None)
@given(drawn_networks())
def test_any_network_obeys_kirchhoff(drawn: Drawn) -> None:
    """Currents balance at every node, power in is power dissipated, and Ohm's law holds, from 1e-6 to 1e7 ohm."""
    network = drawn.assembled()
    assert_holds(network, network.solve())


def exact_currents(drawn: Drawn) -> list[Fraction]:
    """Currents by Gaussian elimination in exact fractions; floating parts carry none."""
    network = drawn.assembled()
    free = [node for node in range(drawn.node_count) if node not in drawn.fixed and network.anchored[node]]
    place = {node: row for row, node in enumerate(free)}
    rows = [[Fraction(0)] * (len(free) + 1) for _ in free]
    for each in drawn.resistors:
        for here, there in ((each.a, each.b), (each.b, each.a)):
            if here in place and here != there:
                siemens = Fraction(1.0 / each.ohm)
                rows[place[here]][place[here]] += siemens
                if there in place:
                    rows[place[here]][place[there]] -= siemens
                else:
                    rows[place[here]][-1] += siemens * Fraction(drawn.fixed[there])
    for pivot in range(len(free)):
        for row in range(len(free)):
            if row != pivot and rows[row][pivot]:
                factor = rows[row][pivot] / rows[pivot][pivot]
                rows[row] = [value - factor * above for value, above in zip(rows[row], rows[pivot], strict=True)]
    volts = {node: Fraction(value) for node, value in drawn.fixed.items()}
    volts |= {node: rows[row][-1] / rows[row][row] for node, row in place.items()}
    return [
        (volts[each.a] - volts[each.b]) * Fraction(1.0 / each.ohm)
        if each.a in volts and each.b in volts
        else Fraction(0)
        for each in drawn.resistors
    ]


@settings(max_examples=examples(150), deadline=None)
@given(drawn_networks())
def test_currents_agree_with_exact_arithmetic(drawn: Drawn) -> None:
    """Every current is right to 1e-6 of itself, with 1e-6 and 1e7 ohm in one network.

    The least of currents is excepted: where a branch carries less than 1e-9 of what passes both its ends, the inputs'
    own last digits decide it, and it is held to 1e-15 of what passes.
    """
    exact = exact_currents(drawn)
    found = drawn.assembled().solve().currents_a
    passing = np.zeros(drawn.node_count)
    for each, current in zip(drawn.resistors, exact, strict=True):
        for node in (each.a, each.b):
            passing[node] += abs(float(current))
    for each, right, current in zip(drawn.resistors, exact, found, strict=True):
        least = 1e-15 * min(passing[each.a], passing[each.b]) + 1e-19
        assert abs(float(Fraction(float(current)) - right)) <= max(1e-6 * abs(float(right)), least)


@settings(max_examples=examples(60), deadline=None)
@given(drawn_networks(), st.randoms(use_true_random=False))
def test_order_of_resistors_does_not_matter(drawn: Drawn, chance: random.Random) -> None:
    """Shuffled resistors give the same voltages and currents to 1e-12 of what flows."""
    order = list(range(len(drawn.resistors)))
    chance.shuffle(order)
    shuffled = Drawn(drawn.node_count, [drawn.resistors[each] for each in order], drawn.fixed)
    first, second = drawn.assembled().solve(), shuffled.assembled().solve()
    np.testing.assert_allclose(second.voltages_v, first.voltages_v, rtol=1e-12, atol=1e-12)
    largest = np.max(np.abs(first.currents_a))
    np.testing.assert_allclose(second.currents_a, first.currents_a[order], rtol=1e-9, atol=1e-12 * largest + 1e-18)


@settings(max_examples=examples(60), deadline=None)
@given(drawn_networks())
def test_sets_of_injections_equal_single_solutions(drawn: Drawn) -> None:
    """Two sets of injections and none, solved together, equal three solutions."""
    network = drawn.assembled()
    sets = np.zeros((drawn.node_count, 3))
    anchored = np.nonzero(network.anchored)[0]
    sets[anchored[-1], 0] = 0.5
    sets[anchored[0], 1], sets[anchored[-1], 1] = 2.0, -1e-3
    together = network.solve(sets)
    for column in range(3):
        alone = network.solve(sets[:, column])
        np.testing.assert_allclose(together.voltages_v[:, column], alone.voltages_v, rtol=1e-9, atol=1e-12)
        np.testing.assert_allclose(together.currents_a[:, column], alone.currents_a, rtol=1e-9, atol=1e-13)


def test_other_supply_voltage_needs_no_new_network() -> None:
    """A replaced fixed voltage gives what a network with that voltage gives."""
    resistors = [Resistor(0, 2, 1.0), Resistor(2, 1, 5.0)]
    found = assemble(3, resistors, {0: 12.0, 1: 0.0}).solve(fixed_v={0: 14.4})
    assert found.voltages_v == pytest.approx([14.4, 0.0, 12.0])


def test_part_without_path_has_no_voltage_and_no_current() -> None:
    """A floating part reads nan and carries nothing; an open resistor is no path; a lone node floats."""
    resistors = [Resistor(0, 1, 2.0), Resistor(0, 2, math.inf), Resistor(2, 3, 1.0)]
    found = assemble(5, resistors, {0: 12.0, 1: 0.0}).solve()
    assert np.isnan(found.voltages_v).tolist() == [False, False, True, True, True]
    assert found.currents_a.tolist() == [6.0, 0.0, 0.0]
    assert found.supplied_a[0] == 6.0


def test_network_without_resistors_is_solved() -> None:
    """Two fixed nodes and nothing else give their own voltages."""
    assert assemble(2, [], {0: 12.0, 1: 0.0}).solve().voltages_v.tolist() == [12.0, 0.0]


def test_injected_current_returns_through_the_resistor() -> None:
    """One ampere into a node behind 3 ohm lifts it by 3 V and comes out at the fixed node."""
    found = assemble(2, [Resistor(0, 1, 3.0)], {0: 0.0}).solve([0.0, 1.0])
    assert found.voltages_v[1] == pytest.approx(3.0)
    assert found.supplied_a[0] == pytest.approx(-1.0)


@pytest.mark.parametrize("ohm", [0.0, -1.0, math.nan, 1e-320])
def test_resistance_not_above_zero_is_refused(ohm: float) -> None:
    """Zero, negative and undefined resistances are refused; so is one whose conductance overflows."""
    with pytest.raises(ValueError, match="above 0 ohm"):
        assemble(2, [Resistor(0, 1, ohm)], {0: 1.0})


def test_wrong_nodes_and_sources_are_refused() -> None:
    """Ends outside the network, voltages that are no number, wrong shapes and stranded injections are refused."""
    with pytest.raises(ValueError, match="resistor 0 ends at nodes 0 and 2"):
        assemble(2, [Resistor(0, 2, 1.0)], {0: 1.0})
    with pytest.raises(ValueError, match="fixed node 5"):
        assemble(2, [Resistor(0, 1, 1.0)], {5: 1.0})
    with pytest.raises(ValueError, match="no finite voltage"):
        assemble(2, [Resistor(0, 1, 1.0)], {0: math.inf})
    network = assemble(3, [Resistor(0, 1, 1.0)], {0: 1.0})
    with pytest.raises(ValueError, match="finite amperes"):
        network.solve([1.0, 2.0])
    with pytest.raises(ValueError, match="no fixed voltage"):
        network.solve(fixed_v={1: 3.0})
    with pytest.raises(ValueError, match="current enters node 2"):
        network.solve([0.0, 0.0, 1.0])


def test_chain_of_micro_ohms_behind_ten_megohms_carries_one_current() -> None:
    """400 joints of 1e-6 ohm in series with two resistors of 1e7 ohm all carry the same current.

    Each joint drops a trillionth of a millivolt, far below the last digit of the node voltages.
    """
    joints = [Resistor(node, node + 1, 1e-6) for node in range(2, 402)]
    network = assemble(403, [Resistor(0, 2, 1e7), *joints, Resistor(402, 1, 1e7)], {0: 12.0, 1: 0.0})
    assert network.solve().currents_a == pytest.approx(12.0 / (2e7 + 400e-6), rel=1e-12)


def test_failing_factors_fall_back_to_star_mesh_and_then_to_an_error(monkeypatch: pytest.MonkeyPatch) -> None:
    """Useless factors are noticed and replaced; if those fail too, an error names the spread of resistances."""
    network = assemble(3, [Resistor(0, 2, 1e-3), Resistor(2, 1, 1e4)], {0: 12.0, 1: 0.0})
    useless = replace(network, factors=nodal_factors.Factors(()))
    assert useless.solve().currents_a == pytest.approx(network.solve().currents_a, rel=1e-14)
    monkeypatch.setattr(nodal, "star_mesh_factors", lambda *_: nodal_factors.Factors(()))
    with pytest.raises(ArithmeticError, match=r"from 0\.001 to 1e\+04 ohm lie too far apart"):
        useless.solve()


def test_dense_sparse_and_star_mesh_agree(monkeypatch: pytest.MonkeyPatch) -> None:
    """A network of 1,500 elements gives the same currents by each kind of factors."""
    drawn = harness_network(300)
    sparse = drawn.assembled()
    monkeypatch.setattr(nodal_factors, "DENSE_LIMIT", drawn.node_count)
    monkeypatch.setattr(nodal_factors, "_LARGE_NETWORK", drawn.node_count)
    dense = drawn.assembled()
    monkeypatch.setattr(nodal_factors, "_COARSE", 0.0)
    star_mesh = drawn.assembled()
    kinds = [{type(part) for part in each.factors.parts} for each in (sparse, dense, star_mesh)]
    assert kinds == [{nodal_factors.SparsePart}, {nodal_factors.DensePart}, {nodal_factors.StarMeshPart}]
    expected = sparse.solve()
    assert_holds(sparse, expected)
    for each in (dense, star_mesh):
        found = each.solve()
        np.testing.assert_allclose(found.currents_a, expected.currents_a, rtol=1e-11)
        np.testing.assert_allclose(found.voltages_v, expected.voltages_v, rtol=1e-12)
