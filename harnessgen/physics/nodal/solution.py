"""Direct-current node voltages and currents of a resistive network, and what changes when elements change.

Assembled and factorised once, a network is solved for any sources. `changes` lays opened, altered or added
elements over the same factors. Elements with a bent characteristic are iterated around it by the caller. Resistances
may lie sixteen decades apart in one network.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from harnessgen.measures.frozen import frozen
from harnessgen.physics.nodal.elements import (
    Elements,
    Flags,
    Floats,
    Ints,
    SolvedColumns,
    Sources,
    StalledError,
    connected,
    elements,
    refined,
)
from harnessgen.physics.nodal.factors import Factors, factorise, star_mesh_factors

# Rounding explains some 1e-15 of the currents at a node; a network that cannot be solved to 1e-10 is reported.
_LAST_SLACK = 1e5


@frozen
class Resistor:
    """A resistance between two nodes; its current counts from `a` to `b`; `inf` ohm is open."""

    a: int
    b: int
    ohm: float


@frozen
class Solution:
    """Voltages and currents of a network.

    Shapes: (nodes,) and (resistors,), or with a last axis where several sets of injections were given. Voltages are
    nan at nodes without a path to a fixed node, and no current flows there. Bridges follow the resistors.
    `residual_a` is what Kirchhoff's current law misses at each free node, `supplied_a` what each fixed node feeds in.
    """

    voltages_v: Floats
    currents_a: Floats
    residual_a: Floats
    supplied_a: Floats


@dataclass(frozen=True, slots=True, eq=False)
class ResistiveNetwork:
    """A resistive network with its factors; made by `assemble`."""

    elements: Elements
    fixed: Flags
    fixed_v: Floats
    label: Ints
    anchored: Flags
    factors: Factors

    def solve(self, injections_a: ArrayLike | None = None, fixed_v: Mapping[int, float] | None = None) -> Solution:
        """Voltages and currents for amperes injected per node, shape (nodes,) or (nodes, sets).

        `fixed_v` replaces the voltages of some of the fixed nodes.

        Raises:
            ValueError: a shape is wrong, a voltage is given for a free node, or current enters a part without a path to
                a fixed node.
            ArithmeticError: the resistances lie too far apart to be solved together.
        """
        sources, flat = self.sources(injections_a, fixed_v)
        refuse_stranded(sources, self.anchored)
        return self.report(self.state(sources), self.anchored, flat)

    def sources(self, injections_a: ArrayLike | None, fixed_v: Mapping[int, float] | None) -> tuple[Sources, bool]:
        """Injections and fixed voltages as columns, and whether one flat set was given.

        Raises:
            ValueError: a shape is wrong, a value is not finite, or a voltage is given for a free node.
        """
        count = self.elements.node_count
        injection_a = np.zeros(count) if injections_a is None else np.array(injections_a, dtype=np.float64)
        if injection_a.ndim not in (1, 2) or injection_a.shape[0] != count or not np.isfinite(injection_a).all():
            raise ValueError(f"injections are finite amperes for each of {count} nodes, not shape {injection_a.shape}")
        volts = self.fixed_v.copy()
        for node, value in (fixed_v or {}).items():
            if not (0 <= node < count and self.fixed[node] and np.isfinite(value)):
                raise ValueError(f"node {node} has no fixed voltage to replace by {value}")
            volts[node] = value
        flat = injection_a.ndim == 1
        columns = injection_a[:, None] if flat else injection_a
        return Sources(np.repeat(volts[:, None], columns.shape[1], axis=1), columns), flat

    def state(self, sources: Sources) -> SolvedColumns:
        """Refined solution of columns.

        Raises:
            ArithmeticError: the resistances lie too far apart to be solved together.
        """
        try:
            return refined(self.elements, self.fixed, sources, self.factors.solve)
        except StalledError:
            exact = star_mesh_factors(self.elements, self.label, self.anchored & ~self.fixed)
            try:
                return refined(self.elements, self.fixed, sources, exact.solve, slack=_LAST_SLACK)
            except StalledError as error:
                ohm = 1.0 / self.elements.siemens[self.elements.siemens > 0.0]
                spread = f"from {np.min(ohm):.3g} to {np.max(ohm):.3g} ohm"
                raise ArithmeticError(f"resistances {spread} lie too far apart to be solved together") from error

    def report(self, state: SolvedColumns, anchored: Flags, flat: bool) -> Solution:
        """Solution from a refined state, with nan where no path leads to a fixed node."""
        volts = np.where(anchored[:, None], state.high_v, np.nan)
        residual = np.where(self.fixed[:, None], 0.0, state.residual_a)
        supplied = np.where(self.fixed[:, None], -state.residual_a, 0.0)
        # Adding zero turns a minus zero into a plain one, which would otherwise be printed.
        found = (volts, state.current_a + 0.0, residual, supplied)
        return Solution(*(each[:, 0] for each in found)) if flat else Solution(*found)


def assemble(node_count: int, resistors: Sequence[Resistor], fixed: Mapping[int, float]) -> ResistiveNetwork:
    """A factorised network of nodes 0 to `node_count - 1`; `fixed` holds the nodes of known voltage, ground among them.

    Raises:
        ValueError: an end is no node, a resistance is not above zero, or a fixed voltage is not finite.
    """
    return assemble_arrays(
        node_count,
        [each.a for each in resistors],
        [each.b for each in resistors],
        [each.ohm for each in resistors],
        fixed,
    )


def assemble_arrays(
    node_count: int, a: ArrayLike, b: ArrayLike, ohm: ArrayLike, fixed: Mapping[int, float]
) -> ResistiveNetwork:
    """The same as `assemble` from arrays of end nodes and resistances (shape: resistors).

    Raises:
        ValueError: an end is no node, a resistance is not above zero, or a fixed voltage is not finite.
    """
    first, second = np.array(a, dtype=np.intp), np.array(b, dtype=np.intp)
    network = elements(node_count, *_checked_ends(node_count, first, second), siemens_of(ohm))
    is_fixed, volts = np.zeros(node_count, dtype=np.bool_), np.zeros(node_count)
    for node, value in fixed.items():
        if not (0 <= node < node_count and np.isfinite(value)):
            raise ValueError(f"fixed node {node} at {value} V: no such node, or no finite voltage")
        is_fixed[node], volts[node] = True, value
    return over(network, is_fixed, volts)


def over(network: Elements, fixed: Flags, fixed_v: Floats) -> ResistiveNetwork:
    """Factorised network of given elements and fixed nodes (flags and volts, shape: nodes)."""
    label, anchored = paths(network, fixed)
    return ResistiveNetwork(network, fixed, fixed_v, label, anchored, factorise(network, label, anchored & ~fixed))


def paths(network: Elements, fixed: Flags) -> tuple[Ints, Flags]:
    """The part of the network between fixed nodes that each node belongs to, and whether a fixed node is in reach."""
    closed = network.siemens > 0.0
    end_a, end_b = fixed[network.a], fixed[network.b]
    inner = closed & ~end_a & ~end_b
    label = connected(network.node_count, network.a[inner], network.b[inner])
    anchored_label = np.zeros(network.node_count, dtype=np.bool_)
    anchored_label[label[network.b[closed & end_a]]] = True
    anchored_label[label[network.a[closed & end_b]]] = True
    return label, anchored_label[label] | fixed


def refuse_stranded(sources: Sources, anchored: Flags) -> None:
    """Refuse current that has no way back.

    Raises:
        ValueError: current enters a part without a path to a fixed node.
    """
    stranded = np.nonzero(~anchored & (sources.injection_a != 0.0).any(axis=1))[0]
    if len(stranded):
        raise ValueError(f"current enters node {stranded[0]}, which has no path to a fixed node")


def siemens_of(ohm: ArrayLike) -> Floats:
    """Conductance of resistances in ohm; zero for `inf`.

    Raises:
        ValueError: a resistance is not above zero, or so small that its conductance overflows.
    """
    values = np.array(ohm, dtype=np.float64)
    if not (values > 1e-300).all():
        raise ValueError(f"a resistance lies above 0 ohm, not at {values[~(values > 1e-300)][0]}")
    return 1.0 / values


def _checked_ends(node_count: int, a: Ints, b: Ints) -> tuple[Ints, Ints]:
    if a.shape != b.shape or a.ndim != 1:
        raise ValueError(f"ends are two lists of equal length, not shapes {a.shape} and {b.shape}")
    outside = np.nonzero((np.minimum(a, b) < 0) | (np.maximum(a, b) >= node_count))[0]
    if len(outside):
        which = outside[0]
        raise ValueError(f"resistor {which} ends at nodes {a[which]} and {b[which]}; there are {node_count}")
    return a, b
