"""Many single changes of one network, each made alone: all opens, all shorts, all poor joints.

What an opening cuts off, and what a bridge onto a dead part does, is settled here by topology; the others spread.
"""

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import ArrayLike

from harnessgen.physics.nodal.changes import Change, ChangeArrays, read_changes
from harnessgen.physics.nodal.elements import Elements, Floats, Ints, SolvedColumns, elements
from harnessgen.physics.nodal.solution import ResistiveNetwork, refuse_stranded
from harnessgen.physics.nodal.spread import EachChange, fill


def solve_each(
    network: ResistiveNetwork,
    changes: Sequence[Change],
    injections_a: ArrayLike | None = None,
    fixed_v: Mapping[int, float] | None = None,
    nodes: Sequence[int] | None = None,
    resistors: Sequence[int] | None = None,
) -> EachChange:
    """Voltages at `nodes` and currents in `resistors` (all if not given) for each change made alone.

    Currents are right to 1e-11 of the largest current in the network, before or after the change. Where there are
    thousands of changes, ask for the nodes and resistors that matter: the result holds a row of them for each change.

    Raises:
        ValueError: as for `solve_changed`, or several sets of injections are given, or an opening would strand one.
        ArithmeticError: the resistances lie too far apart to be solved together.
    """
    made = read_changes(network, changes)
    sources, flat = network.sources(injections_a, fixed_v)
    if not flat:
        raise ValueError("single changes are solved for one set of injections at a time")
    refuse_stranded(sources, network.anchored)
    base = network.state(sources)
    every_node, every_resistor = range(network.elements.node_count), range(len(network.elements.a))
    at = np.array(every_node if nodes is None else nodes, dtype=np.intp)
    of = np.array(every_resistor if resistors is None else resistors, dtype=np.intp)
    volts = np.where(network.anchored[at], base.high_v[at, 0], np.nan)
    found = EachChange(
        np.repeat(volts[None, :], len(made.a), axis=0),
        np.repeat(base.current_a[of, 0][None, :], len(made.a), axis=0),
        made.after * base.across_v(made.a, made.b, slice(0, 1))[:, 0],
    )
    spreading = _settle_apart(network, made, sources.injection_a, base, at, found)
    fill(network, made, spreading, base, at, of, found)
    for row, which in enumerate(made.resistor.tolist()):
        if which >= 0:
            found.currents_a[row, of == which] = found.changed_a[row]
    return found


def _settle_apart(
    network: ResistiveNetwork, made: ChangeArrays, injection_a: Floats, base: SolvedColumns, at: Ints, found: EachChange
) -> Ints:
    """Settle the changes that move no current elsewhere, by topology; return the others.

    Raises:
        ValueError: an opening strands injected current.
    """
    order, last = _hanging(network)
    injected = np.sort(order[(injection_a != 0.0).any(axis=1)])
    anchored_a, anchored_b = network.anchored[made.a], network.anchored[made.b]
    both_fixed = network.fixed[made.a] & network.fixed[made.b]
    cut = (made.resistor >= 0) & (made.after == 0.0) & (last[made.resistor] >= 0)
    for row in np.nonzero(cut & anchored_a)[0]:
        lowest = max(int(order[made.a[row]]), int(order[made.b[row]]))
        highest = int(last[made.resistor[row]])
        if np.searchsorted(injected, lowest) < np.searchsorted(injected, highest + 1):
            raise ValueError(f"opening resistor {made.resistor[row]} strands injected current")
        found.voltages_v[row, (order[at] >= lowest) & (order[at] <= highest)] = np.nan
    half = (made.resistor < 0) & (made.after > 0.0) & (anchored_a != anchored_b)
    for row in np.nonzero(half)[0]:
        near, far = (made.a[row], made.b[row]) if anchored_a[row] else (made.b[row], made.a[row])
        found.voltages_v[row, (network.label[at] == network.label[far]) & ~network.fixed[at]] = base.high_v[near, 0]
    idle = cut | ~(anchored_a & anchored_b) | (made.after == made.before)
    found.changed_a[idle & (made.after == 0.0) | ~(anchored_a & anchored_b)] = 0.0
    return np.nonzero(~idle & ~both_fixed & (made.a != made.b))[0]


def _hanging(network: ResistiveNetwork) -> tuple[Ints, Ints]:
    """Which elements alone hold up a part of the network: (order of nodes, last order below each element or -1).

    All fixed nodes count as one. An element whose opening leaves nodes without a path to it parts the network; those
    nodes follow each other in `order`, which is -1 for nodes never reached.
    """
    have, root = network.elements, network.elements.node_count
    end_a = np.where(network.fixed[have.a], root, have.a)
    end_b = np.where(network.fixed[have.b], root, have.b)
    graph = elements(root + 1, end_a, end_b, have.siemens)
    around = _around(graph)
    order, low = [-1] * (root + 1), [0] * (root + 1)
    last = np.full(len(have.a), -1, dtype=np.intp)
    order[root], reached = 0, 0
    stack = [(root, -1, iter(around[root]))]
    while stack:
        node, arrived, rest = stack[-1]
        for other, element in rest:
            if order[other] < 0:
                reached += 1
                order[other] = low[other] = reached
                stack.append((other, element, iter(around[other])))
                break
            if element != arrived:
                low[node] = min(low[node], order[other])
        else:
            stack.pop()
            if stack:
                above = stack[-1][0]
                low[above] = min(low[above], low[node])
                if low[node] == order[node]:
                    last[arrived] = reached
    return np.array(order[:root], dtype=np.intp), last


def _around(graph: Elements) -> list[list[tuple[int, int]]]:
    """For each node the closed elements that leave it, as (other end, element)."""
    around: list[list[tuple[int, int]]] = [[] for _ in range(graph.node_count)]
    closed = np.nonzero(graph.siemens > 0.0)[0]
    for element, a, b in zip(closed.tolist(), graph.a[closed].tolist(), graph.b[closed].tolist(), strict=True):
        around[a].append((b, element))
        around[b].append((a, element))
    return around
