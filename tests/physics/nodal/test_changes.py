"""Changed networks against networks assembled anew."""

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harnessgen.physics.nodal import spread as nodal_spread
from harnessgen.physics.nodal.changes import Altered, Bridged, Change, solve_changed
from harnessgen.physics.nodal.single_changes import solve_each
from harnessgen.physics.nodal.solution import Resistor, Solution, assemble
from tests.physics.nodal.networks import OHMS, Drawn, drawn_networks, harness_network
from tests.samples import examples


def anew(drawn: Drawn, changes: Sequence[Change]) -> Solution:
    resistors = list(drawn.resistors)
    for each in changes:
        match each:
            case Altered(resistor=which, ohm=ohm):
                resistors[which] = replace(resistors[which], ohm=ohm)
            case Bridged(a=a, b=b, ohm=ohm):
                resistors.append(Resistor(a, b, ohm))
    return assemble(drawn.node_count, resistors, drawn.fixed).solve()


@st.composite
def changed_networks(draw: st.DrawFn) -> tuple[Drawn, list[Change]]:
    drawn = draw(drawn_networks(most_nodes=10, most_resistors=20))
    node, ohm = st.integers(0, drawn.node_count - 1), st.one_of(st.just(math.inf), OHMS)
    altered = draw(st.lists(st.integers(0, len(drawn.resistors) - 1), max_size=5, unique=True))
    changes: list[Change] = [Altered(which, draw(ohm)) for which in altered]
    changes.extend(draw(st.lists(st.builds(Bridged, node, node, ohm), max_size=3)))
    return drawn, draw(st.permutations(changes))


@settings(max_examples=examples(200), deadline=None)
@given(changed_networks())
def test_changes_together_equal_a_network_assembled_anew(case: tuple[Drawn, list[Change]]) -> None:
    """Any opens, altered resistances and bridges at once give the changed network, islands and their nan included."""
    drawn, changes = case
    expected, found = anew(drawn, changes), solve_changed(drawn.assembled(), changes)
    bridged = [each for each in changes if isinstance(each, Bridged)]
    assert len(found.currents_a) == len(drawn.resistors) + len(bridged)
    np.testing.assert_allclose(found.voltages_v, expected.voltages_v, rtol=1e-11, atol=1e-12)
    largest = np.max(np.abs(expected.currents_a))
    np.testing.assert_allclose(found.currents_a, expected.currents_a, rtol=1e-9, atol=1e-13 * largest + 1e-18)


def singles(drawn: Drawn) -> list[Change]:
    """All opens, all resistances altered to 1 ohm and to themselves, and bridges of three kinds between all nodes."""
    nodes = range(drawn.node_count)
    changes: list[Change] = []
    for which, resistor in enumerate(drawn.resistors):
        changes += [Altered(which, math.inf), Altered(which, 1.0), Altered(which, resistor.ohm)]
    changes += [Bridged(a, b, ohm) for a in nodes for b in nodes for ohm in (0.01, 100.0, math.inf)]
    return changes


@settings(max_examples=examples(12), deadline=None)
@given(drawn_networks(most_nodes=6))
def test_each_change_alone_equals_a_network_assembled_anew(drawn: Drawn) -> None:
    """Every single open, altered resistance and bridge gives what the changed network gives."""
    assert_each_is_right(drawn)


@settings(max_examples=examples(12), deadline=None)
@given(drawn_networks(most_nodes=6, most_resistors=16))
def test_each_change_alone_is_right_with_hubs_held(drawn: Drawn) -> None:
    """The same where every node with three elements or more counts as a hub, and is held and let go again."""
    with_hubs_held(drawn)


def test_a_dead_end_between_two_hubs_stays_dead() -> None:
    """Two hubs that hang on the supply by a megohm are lifted far together; between them nothing flows."""
    resistors = [Resistor(0, 2, 1e6), Resistor(2, 3, 10.0**0.5), Resistor(2, 4, 1.0), Resistor(3, 3, 1.0)]
    with_hubs_held(Drawn(5, resistors, {0: 12.0, 1: 0.0}))


def with_hubs_held(drawn: Drawn) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(nodal_spread, "DENSE_LIMIT", 2)
        patch.setattr(nodal_spread, "_HUB_ENDS", (5, 4, 3))
        patch.setattr(nodal_spread, "_MANY", 1)
        assert_each_is_right(drawn)


def assert_each_is_right(drawn: Drawn) -> None:
    network, changes = drawn.assembled(), singles(drawn)
    before = np.max(np.abs(network.solve().currents_a))
    found = solve_each(network, changes)
    for row, change in enumerate(changes):
        expected = anew(drawn, [change])
        np.testing.assert_allclose(found.voltages_v[row], expected.voltages_v, rtol=1e-9, atol=1e-9)
        largest = max(before, float(np.max(np.abs(expected.currents_a))))
        own = expected.currents_a[change.resistor if isinstance(change, Altered) else -1]
        assert found.changed_a[row] == pytest.approx(own, rel=0.0, abs=1e-11 * largest + 1e-17)
        np.testing.assert_allclose(
            found.currents_a[row], expected.currents_a[: len(drawn.resistors)], rtol=0.0, atol=1e-11 * largest + 1e-17
        )


def test_all_opens_of_a_harness_equal_networks_assembled_anew() -> None:
    """Opens, poor joints of 2 ohm and shorts of 0.1 ohm in a harness of 1,000 elements agree with full solutions.

    Battery bus and ground stud are its hubs: one connected part without them held, many small ones with.
    """
    drawn = harness_network(200)
    network = drawn.assembled()
    assert nodal_spread._split(network) is not None
    ends = range(len(drawn.resistors))
    changes: list[Change] = [Altered(which, ohm) for which in ends for ohm in (math.inf, 2.0)]
    changes += [Bridged(which % drawn.node_count, which * 31 % drawn.node_count, 0.1) for which in ends]
    found, largest = solve_each(network, changes), np.max(np.abs(network.solve().currents_a))
    for row in range(0, len(changes), 29):
        expected = anew(drawn, [changes[row]])
        np.testing.assert_allclose(found.voltages_v[row], expected.voltages_v, rtol=1e-12, atol=1e-12)
        np.testing.assert_allclose(
            found.currents_a[row], expected.currents_a[: len(ends)], rtol=1e-9, atol=1e-14 * largest
        )


def test_only_what_was_asked_for_is_returned() -> None:
    """Chosen nodes and resistors come back in the order asked for, the changed resistor's own current among them."""
    drawn = harness_network(10)
    network = drawn.assembled()
    changes: list[Change] = [Altered(3, math.inf), Bridged(5, 3, 0.1), Altered(0, 0.5)]
    everything = solve_each(network, changes)
    chosen = solve_each(network, changes, nodes=[4, 2], resistors=[3, 0])
    np.testing.assert_array_equal(chosen.voltages_v, everything.voltages_v[:, [4, 2]])
    np.testing.assert_array_equal(chosen.currents_a, everything.currents_a[:, [3, 0]])


def test_open_of_a_low_resistance_in_a_high_loop_does_not_cancel() -> None:
    """A milliohm joint in parallel with ten megohms, opened: the whole current takes the other way."""
    resistors = [Resistor(0, 2, 1.0), Resistor(2, 3, 1e-3), Resistor(2, 3, 1e7), Resistor(3, 1, 1.0)]
    network = assemble(4, resistors, {0: 12.0, 1: 0.0})
    expected = 12.0 / (1e7 + 2.0)
    for found in (
        solve_changed(network, [Altered(1, math.inf)]).currents_a,
        solve_each(network, [Altered(1, math.inf)]).currents_a[0],
    ):
        assert found[[0, 2, 3]] == pytest.approx(expected, rel=1e-8)
        assert found[1] == 0.0


def test_two_openings_that_free_an_island_leave_the_rest_right() -> None:
    """Opening both joints of a loop at once frees what lies between; the loop's supply goes on without it."""
    resistors = [
        Resistor(0, 2, 1.0),
        Resistor(2, 3, 0.1),
        Resistor(3, 4, 5.0),
        Resistor(4, 2, 0.1),
        Resistor(2, 1, 2.0),
    ]
    found = solve_changed(assemble(5, resistors, {0: 12.0, 1: 0.0}), [Altered(1, math.inf), Altered(3, math.inf)])
    assert found.currents_a.tolist() == [pytest.approx(4.0), 0.0, 0.0, 0.0, pytest.approx(4.0)]
    assert np.isnan(found.voltages_v).tolist() == [False, False, False, True, True]


def test_bridge_gives_a_floating_part_its_voltage() -> None:
    """A short from a live node onto a dead wire makes it live, and the single change agrees with the list of one."""
    resistors = [Resistor(0, 1, 2.0), Resistor(2, 3, 1.0)]
    network = assemble(4, resistors, {0: 12.0, 1: 0.0})
    together = solve_changed(network, [Bridged(3, 0, 0.1)])
    assert together.voltages_v.tolist() == pytest.approx([12.0, 0.0, 12.0, 12.0])
    alone = solve_each(network, [Bridged(3, 0, 0.1)])
    assert alone.voltages_v[0].tolist() == [12.0, 0.0, 12.0, 12.0]
    assert alone.changed_a.tolist() == [0.0]


def test_no_changes_give_the_network_itself() -> None:
    """An empty list of changes is the plain solution."""
    network = harness_network(5).assembled()
    np.testing.assert_allclose(solve_changed(network, []).currents_a, network.solve().currents_a, rtol=1e-14)
    assert solve_each(network, []).currents_a.shape == (0, len(network.elements.a))


def test_impossible_changes_are_refused() -> None:
    """Unknown resistors and nodes, doubled changes, no resistance and stranded injections are refused."""
    network = assemble(3, [Resistor(0, 1, 1.0), Resistor(1, 2, 1.0)], {0: 1.0})
    with pytest.raises(ValueError, match="no resistor 2"):
        solve_changed(network, [Altered(2, 1.0)])
    with pytest.raises(ValueError, match="no two nodes 0 and 9"):
        solve_changed(network, [Bridged(0, 9, 1.0)])
    with pytest.raises(ValueError, match="altered twice"):
        solve_changed(network, [Altered(0, 1.0), Altered(0, 2.0)])
    with pytest.raises(ValueError, match="above 0 ohm"):
        solve_each(network, [Altered(0, 0.0)])
    with pytest.raises(ValueError, match="current enters node 2"):
        solve_changed(network, [Altered(1, math.inf)], [0.0, 0.0, 1.0])
    with pytest.raises(ValueError, match="opening resistor 1 strands"):
        solve_each(network, [Altered(1, math.inf)], [0.0, 0.0, 1.0])
    with pytest.raises(ValueError, match="one set of injections"):
        solve_each(network, [], np.zeros((3, 2)))


def test_a_chain_of_shorts_takes_no_column_for_each_link() -> None:
    """Changes that each join one part to the next are solved two columns at a time, however long the chain is."""
    chain = np.array([range(500), range(1, 501)])
    assert nodal_spread._columns(chain).max() == 1
    closed = np.array([[0, 0, 1, -1], [1, 2, 2, 0]])
    column = nodal_spread._columns(closed)
    for a, b in combinations(range(4), 2):
        if column[a] == column[b]:
            assert not set(closed[:, a]) & set(closed[:, b]) - {-1}
