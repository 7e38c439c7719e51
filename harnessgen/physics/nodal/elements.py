"""The elements of a resistive network as arrays, and the refinement that makes their currents exact.

A milliohm contact in series with a sensor of ten megohms drops less than the last digit of the supply voltage. Node
voltages are therefore held as a sum of two floats, and the solution is corrected until Kirchhoff's current law holds
at every node against the currents of that very node; factors of any quality will do to find the corrections.
"""

from collections.abc import Callable
from dataclasses import field

import numpy as np
from numpy.typing import NDArray

from harnessgen.measures.frozen import frozen

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]
Flags = NDArray[np.bool_]
Solver = Callable[[Floats], Floats]
"""Injected amperes to volts, both (nodes, columns); rows of fixed and floating nodes come back as zero."""

# Rounding alone leaves up to this share of the currents at a node unbalanced, for each element that ends there.
_ROUNDING = 3e-16
# Two floats hold a voltage to 1e-32 of its size; a current below this share of conductance times voltage is noise.
_NOISE = 1e-28

_PATIENCE = 4
# From this many currents on, summing them by node with a sparse matrix is ten times faster and worth importing it.
_WIDE = 50_000
# With so few columns reducing them one by one is several times as fast as all of their short rows at once.
_FEW = 8


class StalledError(ArithmeticError):
    """The corrections no longer shrink: the factors are too coarse for this network."""


@frozen
class Elements:
    """Resistive elements: the end nodes `a` and `b` and the conductance of each (shape: elements; 0 S is open).

    `entries`, `signs`, `starts` and `touched` list the element ends node by node: entries from `starts[i]` on
    belong to node `touched[i]`, with sign +1 where the element's `a` lies there.
    """

    node_count: int
    a: Ints
    b: Ints
    siemens: Floats
    entries: Ints
    signs: Floats
    starts: Ints
    touched: Ints

    def leaving(self, current_a: Floats) -> Floats:
        """Net current that leaves each node through the elements: (elements, columns) to (nodes, columns)."""
        return self._by_node(self.signs, current_a)

    def through(self, current_a: Floats) -> Floats:
        """Sum of the magnitudes of all element currents at each node: (elements, columns) to (nodes, columns)."""
        return self._by_node(np.ones(len(self.entries)), np.abs(current_a))

    def neighbours(self) -> Floats:
        """Number of element ends at each node (shape: nodes)."""
        found = np.zeros(self.node_count)
        found[self.touched] = np.diff(self.starts, append=len(self.entries))
        return found

    def at_node(self, node: int) -> tuple[Ints, Floats]:
        """Elements that end at a node, and their signs (+1: positive current leaves the node)."""
        where = int(np.searchsorted(self.touched, node))
        if where == len(self.touched) or self.touched[where] != node:
            return np.zeros(0, dtype=np.intp), np.zeros(0)
        last = self.starts[where + 1] if where + 1 < len(self.starts) else len(self.entries)
        chosen = slice(int(self.starts[where]), int(last))
        return self.entries[chosen], self.signs[chosen]

    def diagonal(self) -> Floats:
        """Sum of the conductances at each node, in siemens (shape: nodes)."""
        return self.through(self.siemens[:, None])[:, 0]

    def _by_node(self, weights: Floats, current_a: Floats) -> Floats:
        sums = np.zeros((self.node_count, current_a.shape[1]))
        if not len(self.starts):
            return sums
        columns = current_a.shape[1]
        if columns == 1 or (columns < _FEW and current_a.size < _WIDE):
            for column in range(columns):
                sums[self.touched, column] = np.add.reduceat(current_a[self.entries, column] * weights, self.starts)
            return sums
        if current_a.size < _WIDE:
            ends = current_a[self.entries] * weights[:, None]
            sums[self.touched] = np.add.reduceat(ends, self.starts, axis=0)
            return sums
        from scipy.sparse import csr_matrix

        rows = np.append(self.starts, len(self.entries))
        shape = (len(self.starts), len(self.a))
        sums[self.touched] = csr_matrix((weights, self.entries, rows), shape=shape) @ current_a
        return sums


def elements(node_count: int, a: Ints, b: Ints, siemens: Floats) -> Elements:
    """Elements from their ends and conductances; one that ends twice at the same node carries nothing."""
    siemens = np.where(a == b, 0.0, siemens)
    ends = np.concatenate((a, b))
    order = np.argsort(ends, kind="stable")
    touched, starts = np.unique(ends[order], return_index=True)
    signs = np.where(order < len(a), 1.0, -1.0)
    return Elements(node_count, a, b, siemens, order % max(len(a), 1), signs, starts.astype(np.intp), touched)


def connected(node_count: int, a: Ints, b: Ints) -> Ints:
    """The connected part that each node belongs to, named by its lowest node (shape: nodes)."""
    label = np.arange(node_count)
    while True:
        low = np.minimum(label[a], label[b])
        hooked = label.copy()
        np.minimum.at(hooked, label[a], low)
        np.minimum.at(hooked, label[b], low)
        while not np.array_equal(followed := hooked[hooked], hooked):
            hooked = followed
        if np.array_equal(hooked, label):
            return label
        label = hooked


def runs(first: Ints, last: Ints) -> tuple[Ints, Ints]:
    """Numbers from each first up to, not with, its last, run behind run: the place of the run, and the number."""
    size = last - first
    place = np.repeat(np.arange(len(first)), size)
    return place, np.arange(len(place)) + np.repeat(first - np.cumsum(size) + size, size)


def distinct(values: Ints) -> Ints:
    """The values without repetition, ascending; by sorting, which is many times as fast as the library's hashing."""
    ordered = np.sort(values)
    found: Ints = ordered[np.concatenate((np.ones(min(1, len(ordered)), dtype=np.bool_), ordered[1:] != ordered[:-1]))]
    return found


@frozen
class SolvedColumns:
    """A solved set of columns: `high_v + low_v` is the voltage (nodes, columns), with the element currents.

    `residual_a` is what Kirchhoff's current law misses at each node; at fixed nodes it is minus what the node supplies.
    """

    high_v: Floats
    low_v: Floats
    current_a: Floats
    residual_a: Floats

    def across_v(self, a: Ints, b: Ints, columns: Ints | slice = slice(None)) -> Floats:
        """Voltage from node `a` to node `b`, right to its own last digits."""
        high = self.high_v[a, columns] - self.high_v[b, columns]
        return high + (self.low_v[a, columns] - self.low_v[b, columns])


@frozen
class Sources:
    """What drives the columns: voltages of fixed nodes (zero elsewhere) and amperes injected, both (nodes, columns).

    `driven` are resistors with one volt in series, each in its column of `driven_column`: the volt drives current out
    of the resistor's end `b` and in at its end `a`.
    """

    fixed_v: Floats
    injection_a: Floats
    driven: Ints = field(default_factory=lambda: np.zeros(0, dtype=np.intp))
    driven_column: Ints = field(default_factory=lambda: np.zeros(0, dtype=np.intp))


def refined(network: Elements, fixed: Flags, sources: Sources, solver: Solver, slack: float = 1.0) -> SolvedColumns:
    """Node voltages and currents that the sources cause; `solver` solves the network approximately.

    A solution that no longer improves is taken if no node lacks more than `slack` times what rounding explains.

    Raises:
        StalledError: the solver is too coarse to approach a solution.
    """
    high, low, injection_a = sources.fixed_v, np.zeros_like(sources.fixed_v), sources.injection_a
    factor = _ROUNDING * (2.0 + network.neighbours()[:, None])
    noise = _NOISE * network.diagonal()[:, None]
    free = ~fixed[:, None]
    least, strikes = np.full(2, np.inf), 0
    while True:
        current = network.siemens[:, None] * _across(network, sources, high, low)
        residual = injection_a - network.leaving(current)
        bound = factor * (network.through(current) + np.abs(injection_a))
        quiet = noise * np.max(np.abs(high), axis=0, initial=0.0)
        bound += quiet
        size = np.where(free, np.abs(residual), 0.0)
        # Dead ends improve last, so both the worst relative and the total absolute fault count as progress.
        fault = np.array([np.max(size / np.maximum(bound, 1e-300), initial=0.0), np.sum(size)])
        strikes = 0 if (fault < 0.5 * least).any() else strikes + 1
        stuck = strikes == _PATIENCE or not np.isfinite(fault).all()
        if fault[0] <= (slack if stuck else 1.0):
            heard = np.abs(current) > 8.0 * (quiet[network.a] + quiet[network.b])
            return SolvedColumns(high, low, np.where(heard, current, 0.0), residual)
        if stuck:
            raise StalledError("the corrections no longer shrink")
        least = np.minimum(least, fault)
        # What is well within rounding is left alone: it would only stir nodes that hang on a high resistance.
        high, low = _added(high, low + solver(np.where(size > bound / 4.0, residual, 0.0)))


def _across(network: Elements, sources: Sources, high: Floats, low: Floats) -> Floats:
    """Volts over the conductance of each element, from `a` to `b` (elements, columns)."""
    across = (high[network.a] - high[network.b]) + (low[network.a] - low[network.b])
    which, column = sources.driven, sources.driven_column
    if len(which):
        # The volt nearly cancels the difference of the ends, so the rounding of that difference is carried along.
        first, second = high[network.a[which], column], high[network.b[which], column]
        lows = low[network.a[which], column] - low[network.b[which], column]
        total = first - second
        part = total - first
        lost = (first - (total - part)) - (second + part)
        across[which, column] = (total - 1.0) + (lost + lows)
    return across


def _added(high: Floats, low: Floats) -> tuple[Floats, Floats]:
    """Two-float sum of `high + low`, with the whole rounding error in the second part."""
    total = high + low
    part = total - high
    return total, (high - (total - part)) + (low - part)
