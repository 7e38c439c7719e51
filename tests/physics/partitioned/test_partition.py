"""Networks parted at hubs, under lists of changes and a bridge each, against the whole network solved by itself."""

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import pytest

from harnessgen.physics.nodal.elements import Floats
from harnessgen.physics.nodal.solution import Resistor, assemble
from harnessgen.physics.partitioned.bridges import BridgedRows
from harnessgen.physics.partitioned.change_lists import Changed, change_lists
from harnessgen.physics.partitioned.partition import Parted, hubs_of, parted
from harnessgen.physics.partitioned.patches import Lists
from tests.physics.nodal.networks import Drawn, harness_network
from tests.samples import some

FIXED = {0: 0.0, 1: 13.8}
ROWS = 30


@dataclass(frozen=True)
class Added:
    """One change: a resistor of this number altered to `ohm`, or with -1 a bridge of it from `a` to `b`."""

    resistor: int
    a: int
    b: int
    ohm: float


@dataclass(frozen=True)
class Whole:
    """A network as a matrix: what a part of it hangs on is walked, the rest is one solution of linear equations."""

    count: int
    resistors: tuple[tuple[int, int, float], ...]
    fixed: dict[int, float]

    def changed(self, changes: list[Added]) -> "Whole":
        """The network with these changes made."""
        found = list(self.resistors)
        for each in changes:
            if each.resistor >= 0:
                found[each.resistor] = (each.a, each.b, each.ohm)
            else:
                found.append((each.a, each.b, each.ohm))
        return Whole(self.count, tuple(found), self.fixed)

    @cached_property
    def _free(self) -> list[int]:
        """Free nodes with a way to a fixed one."""
        near: dict[int, list[int]] = {}
        for a, b, ohm in self.resistors:
            if math.isfinite(ohm):
                near.setdefault(a, []).append(b)
                near.setdefault(b, []).append(a)
        reached, queue = set(self.fixed), list(self.fixed)
        for node in queue:
            new = set(near.get(node, ())) - reached
            reached |= new
            queue.extend(new)
        return sorted(reached - set(self.fixed))

    @cached_property
    def _matrix(self) -> Floats:
        found = np.zeros((self.count, self.count))
        for a, b, ohm in self.resistors:
            siemens = 1.0 / ohm
            found[[a, b], [a, b]] += siemens if a != b else 0.0
            found[[a, b], [b, a]] -= siemens if a != b else 0.0
        return found

    @cached_property
    def volts(self) -> Floats:
        """Volts of every node, nan where it hangs free."""
        found, fixed = np.full(self.count, np.nan), list(self.fixed)
        found[fixed] = list(self.fixed.values())
        fed = -self._matrix[np.ix_(self._free, fixed)] @ found[fixed]
        found[self._free] = np.linalg.solve(self._matrix[np.ix_(self._free, self._free)], fed)
        return found

    @cached_property
    def _lift(self) -> Floats:
        found = np.zeros((self.count, self.count))
        found[np.ix_(self._free, self._free)] = np.linalg.inv(self._matrix[np.ix_(self._free, self._free)])
        return found

    def ohm(self, one: int, other: int) -> float:
        """Resistance between two nodes, fixed ones taken as joined."""
        return float(self._lift[one, one] + self._lift[other, other] - 2.0 * self._lift[one, other])


def made(base: Parted, lists: list[list[Added]]) -> Changed:
    """The parted network with each list of changes."""
    every = [(number, each) for number, own in enumerate(lists) for each in own]
    of, resistor, a, b = (
        np.array(values, dtype=np.intp)
        for values in (
            [number for number, _ in every],
            [each.resistor for _, each in every],
            [each.a for _, each in every],
            [each.b for _, each in every],
        )
    )
    siemens = np.array([1.0 / each.ohm for _, each in every], dtype=np.float64)
    return change_lists(base, Lists(of, resistor, a, b, siemens, len(lists)))


def drawn(rng: np.random.Generator, hubs: int) -> Whole:
    """Up to forty nodes, the first behind the fixed ones being hubs: chains, loops, parts that hang free."""
    count = int(rng.integers(8, 40))
    found: list[tuple[int, int, float]] = []
    for hub in range(2, 2 + hubs):
        others = [0, 1, *(each for each in range(2, 2 + hubs) if each != hub)]
        found += [(hub, int(rng.choice(others)), float(10 ** rng.uniform(-3, 1))) for _ in range(rng.integers(0, 3))]
    for node in range(2 + hubs, count):
        ends = [int(each) for each in rng.integers(0, count, rng.integers(0, 3)) if each != node]
        found += [(node, end, float(10 ** rng.uniform(-2, 2)) if rng.random() < 0.8 else math.inf) for end in ends]
    return Whole(count, (*found, (0, 1, 5.0)), FIXED)


def drawn_changes(rng: np.random.Generator, whole: Whole) -> list[Added]:
    """Up to three resistors opened or altered, and bridges added."""
    found: dict[object, Added] = {}
    for _ in range(rng.integers(0, 4)):
        if rng.random() < 0.6:
            which = int(rng.integers(0, len(whole.resistors)))
            ohm = math.inf if rng.random() < 0.6 else float(10 ** rng.uniform(-2, 2))
            found[which] = Added(which, *whole.resistors[which][:2], ohm)
        else:
            a, b = map(int, rng.choice(whole.count, 2, replace=False))
            found[a, b] = Added(-1, a, b, float(10 ** rng.uniform(-3, 1)))
    return list(found.values())


def both(one: list[Added], other: list[Added]) -> list[Added]:
    """The changes of two lists; of those of one resistor that of the first."""
    found = {each.resistor if each.resistor >= 0 else (each.a, each.b): each for each in (*other[::-1], *one)}
    return list(found.values())


@pytest.mark.parametrize("hubs", [0, 1, 2, 4])
@pytest.mark.parametrize("seed", some(range(40), 10))
def test_every_row_equals_the_whole_network_solved_anew(seed: int, hubs: int) -> None:
    """Volts, those of hubs too, amperes of the bridge, and the resistance between nodes: ten lists, thirty bridges.

    Four lists have the changes of two others, so that many alter the same parts alike.
    """
    rng = np.random.default_rng([seed, hubs])
    whole = drawn(rng, hubs)
    network = assemble(whole.count, [Resistor(*each) for each in whole.resistors], whole.fixed)
    base = parted(network, np.arange(2, 2 + hubs))
    lists: list[list[Added]] = [[], *(drawn_changes(rng, whole) for _ in range(5))]
    lists += [both(lists[one], lists[other]) for one, other in rng.integers(0, 6, (4, 2)).tolist()]
    of = rng.integers(0, len(lists), ROWS)
    ends = [tuple(map(int, rng.choice(whole.count, 2, replace=False))) for _ in range(ROWS)]
    ends = [pair if rng.random() < 0.7 else (-1, -1) for pair in ends]
    ohm = 10 ** rng.uniform(-3, 1, ROWS)
    a, b = np.array(ends, dtype=np.intp).T
    bridged = BridgedRows(made(base, lists), of, a, b, ohm)
    nodes = np.tile(np.arange(whole.count), ROWS)
    volts = bridged.volts(np.repeat(np.arange(ROWS), whole.count), nodes).reshape(ROWS, -1)
    one, other = rng.integers(0, whole.count, (2, ROWS))
    between = bridged.ohms(np.arange(ROWS), one, other)
    for row in range(ROWS):
        before = whole.changed(lists[of[row]])
        after = before.changed([Added(-1, *ends[row], ohm[row])]) if ends[row][0] >= 0 else before
        where = (row, lists[of[row]], ends[row])
        np.testing.assert_allclose(volts[row], after.volts, rtol=1e-7, atol=1e-7, err_msg=str(where))
        through = (after.volts[ends[row][0]] - after.volts[ends[row][1]]) / ohm[row] if ends[row][0] >= 0 else 0.0
        # A bridge of a milliohm has an ampere for each millivolt.
        assert bridged.ampere[row] == pytest.approx(np.nan_to_num(through), rel=1e-5, abs=1e-5), where
        if not np.isnan(after.volts[[one[row], other[row]]]).any():
            assert between[row] == pytest.approx(after.ohm(one[row], other[row]), rel=1e-4, abs=1e-4), where


def test_what_lists_alter_alike_is_solved_once() -> None:
    """By hand: three loads of two nodes each between the poles; each list alters one or two of them."""
    legs = [(leg, Resistor(0, leg, 1.0), Resistor(leg, leg + 1, 2.0), Resistor(leg + 1, 1, 3.0)) for leg in (2, 4, 6)]
    network = assemble(8, [each for _, *leg in legs for each in leg], {0: 0.0, 1: 12.0})
    base = parted(network, np.zeros(0, dtype=np.intp))
    first, second = Added(1, 2, 3, 4.0), Added(4, 4, 5, 4.0)
    other, across = Added(1, 2, 3, 5.0), Added(-1, 2, 6, 1.0)
    for lists, copies in (
        ([[first], [first]], 2),
        ([[first], [second, first], [second]], 4),
        ([[first], [other]], 4),
        ([[across, first], [first, across], [first]], 6),
    ):
        assert len(made(base, lists).table.volts) == 8 + copies, lists


def test_what_hangs_free_takes_the_volts_that_it_is_bridged_to() -> None:
    """By hand: 12 V behind 1 ohm; a dead wire of 2 ohm bridged on by 3 carries nothing, and is 6 ohm from the pole."""
    network = assemble(5, [Resistor(1, 2, 1.0), Resistor(3, 4, 2.0), Resistor(0, 1, 7.0)], {0: 0.0, 1: 12.0})
    bridged = BridgedRows(
        made(parted(network, np.zeros(0, dtype=np.intp)), [[]]),
        np.array([0, 0]),
        np.array([3, -1]),
        np.array([2, -1]),
        np.array([3.0, 1.0]),
    )
    rows = np.array([0, 0, 1, 1])
    assert bridged.volts(rows, np.array([3, 4, 2, 1])).tolist() == pytest.approx([12.0, 12.0, 12.0, 12.0])
    assert np.isnan(bridged.volts(np.array([1]), np.array([4])))[0]
    assert bridged.ampere.tolist() == [0.0, 0.0]
    assert bridged.ohms(np.array([0]), np.array([4]), np.array([1]))[0] == pytest.approx(6.0, abs=1e-6)


def test_a_hub_that_hangs_free_leads_nowhere() -> None:
    """By hand: a bridge from a live node of 4 ohm to a hub that nothing feeds leaves it 4 ohm from its pole."""
    network = assemble(5, [Resistor(1, 3, 4.0), Resistor(2, 4, 1.0), Resistor(0, 1, 7.0)], {0: 0.0, 1: 12.0})
    bridged = BridgedRows(
        made(parted(network, np.array([2])), [[]]), np.array([0]), np.array([3]), np.array([2]), np.array([0.01])
    )
    assert bridged.volts(np.array([0, 0]), np.array([2, 4])).tolist() == pytest.approx([12.0, 12.0])
    assert bridged.ohms(np.array([0]), np.array([3]), np.array([1]))[0] == pytest.approx(4.0)


def resistors_of(harness: Drawn) -> tuple[tuple[int, int, float], ...]:
    return tuple((each.a, each.b, each.ohm) for each in harness.resistors)


def test_bus_and_stud_of_a_harness_are_its_hubs() -> None:
    """A harness of 1,000 elements falls into banks; a wire opened and one chafed read as in the whole network."""
    harness = harness_network(200)
    network = harness.assembled()
    hubs = hubs_of(network)
    assert {2, 3} <= set(hubs.tolist())
    base = parted(network, hubs)
    whole = Whole(harness.node_count, resistors_of(harness), harness.fixed)
    places = range(5, len(whole.resistors), 97)
    lists: list[list[Added]] = [[], *([Added(each, *whole.resistors[each][:2], math.inf)] for each in places)]
    rows = np.arange(len(lists))
    chafed = (rows * 53 + 9) % whole.count
    bridged = BridgedRows(made(base, lists), rows, chafed, np.full(len(rows), 3), np.full(len(rows), 0.01))
    for row in rows.tolist():
        after = whole.changed([*lists[row], Added(-1, int(chafed[row]), 3, 0.01)])
        got = bridged.volts(np.full(whole.count, row), np.arange(whole.count))
        np.testing.assert_allclose(got, after.volts, rtol=1e-8, atol=1e-8)


def test_a_small_network_needs_no_hub() -> None:
    """What can be solved as one part is left whole."""
    assert hubs_of(harness_network(4).assembled()).tolist() == []
