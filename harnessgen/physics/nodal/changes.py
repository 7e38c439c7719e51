"""A solved network with some elements opened, altered or bridged, without factorising it again.

What an opening leaves without a path to a fixed node is found by topology, never by a vanishing number. The correction
is refined against the changed network itself; where it would cancel, the changed network is factorised afresh.
"""

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import ArrayLike

from harnessgen.measures.frozen import frozen
from harnessgen.physics.nodal.elements import (
    Elements,
    Flags,
    Floats,
    Ints,
    SolvedColumns,
    Solver,
    Sources,
    StalledError,
    elements,
    refined,
)
from harnessgen.physics.nodal.solution import ResistiveNetwork, Solution, over, paths, refuse_stranded, siemens_of


@frozen
class Altered:
    """Change: the resistor with this index has another resistance, `inf` when opened."""

    resistor: int
    ohm: float


@frozen
class Bridged:
    """Change: a resistance added between two nodes, as by a short or a chafe; its current counts from `a` to `b`."""

    a: int
    b: int
    ohm: float


Change = Altered | Bridged


@frozen
class ChangeArrays:
    """A list of changes as arrays: `resistor` is -1 for a bridge; conductance before and after; shape: changes."""

    resistor: Ints
    a: Ints
    b: Ints
    before: Floats
    after: Floats


def read_changes(network: ResistiveNetwork, changes: Sequence[Change]) -> ChangeArrays:
    """The changes as arrays, each with its end nodes.

    Raises:
        ValueError: a change names no resistor or no node, or a resistance that is not above zero.
    """
    have, count = network.elements, network.elements.node_count
    after = siemens_of([each.ohm for each in changes])
    rows: list[tuple[int, int, int, float]] = []
    for each in changes:
        match each:
            case Altered(resistor=which):
                if not 0 <= which < len(have.a):
                    raise ValueError(f"there is no resistor {which} to alter")
                rows.append((which, int(have.a[which]), int(have.b[which]), float(have.siemens[which])))
            case Bridged(a=a, b=b):
                if not (0 <= a < count and 0 <= b < count):
                    raise ValueError(f"there are no two nodes {a} and {b} to bridge")
                rows.append((-1, a, b, 0.0))
    named = np.array([row[:3] for row in rows], dtype=np.intp).reshape(-1, 3)
    before = np.array([row[3] for row in rows], dtype=np.float64)
    return ChangeArrays(named[:, 0], named[:, 1], named[:, 2], before, np.where(named[:, 1] == named[:, 2], 0.0, after))


def solve_changed(
    network: ResistiveNetwork,
    changes: Sequence[Change],
    injections_a: ArrayLike | None = None,
    fixed_v: Mapping[int, float] | None = None,
) -> Solution:
    """Voltages and currents with all the changes made together; currents of bridges follow those of the resistors.

    Raises:
        ValueError: as for `Network.solve`, or a change names no resistor or node, a resistor twice, or no positive ohm.
        ArithmeticError: the resistances lie too far apart to be solved together.
    """
    made = read_changes(network, changes)
    altered = made.resistor[made.resistor >= 0]
    if len(np.unique(altered)) != len(altered):
        raise ValueError("a resistor is altered twice in one list of changes")
    sources, flat = network.sources(injections_a, fixed_v)
    changed = _changed_elements(network.elements, made)
    label, anchored = paths(changed, network.fixed)
    refuse_stranded(sources, anchored)
    if not (anchored & ~network.anchored).any() and not _joins_floating(network, made):
        held = _held_closed(network, made, label, anchored)
        try:
            state = _corrected(network, made, changed, held, sources)
        except StalledError:
            pass
        else:
            state.current_a[~(anchored[changed.a] & anchored[changed.b])] = 0.0
            return network.report(state, anchored, flat)
    fresh = over(changed, network.fixed, network.fixed_v)
    return fresh.report(fresh.state(sources), fresh.anchored, flat)


def _changed_elements(have: Elements, made: ChangeArrays) -> Elements:
    siemens = have.siemens.copy()
    bridge = made.resistor < 0
    siemens[made.resistor[~bridge]] = made.after[~bridge]
    a, b = np.concatenate((have.a, made.a[bridge])), np.concatenate((have.b, made.b[bridge]))
    return elements(have.node_count, a, b, np.concatenate((siemens, made.after[bridge])))


def _joins_floating(network: ResistiveNetwork, made: ChangeArrays) -> bool:
    """Whether a change closes a path to a node that had none to a fixed node, and so lies outside the factors."""
    outside = ~(network.anchored[made.a] & network.anchored[made.b])
    return bool((outside & (made.after > 0.0)).any())


def _held_closed(network: ResistiveNetwork, made: ChangeArrays, label: Ints, anchored: Flags) -> Flags:
    """Openings to hold closed, so that each island left floating still hangs on the rest by exactly one element.

    An island without a source takes no current through a single element, so the rest does not notice.
    """
    root: dict[int, int] = {}

    def group(node: int) -> int:
        name = -1 if anchored[node] else int(label[node])
        while name in root:
            name = root[name]
        return name

    held = np.zeros(len(made.a), dtype=np.bool_)
    for which in np.nonzero((made.after == 0.0) & (made.before > 0.0))[0]:
        first, second = sorted((group(made.a[which]), group(made.b[which])))
        if first != second and network.anchored[made.a[which]]:
            root[second] = first
            held[which] = True
    return held


def _corrected(
    network: ResistiveNetwork, made: ChangeArrays, changed: Elements, held: Flags, sources: Sources
) -> SolvedColumns:
    kept = made.resistor[held]
    siemens = changed.siemens.copy()
    siemens[kept] = network.elements.siemens[kept]
    solved = elements(changed.node_count, changed.a, changed.b, siemens)
    live = ~held & (made.after != made.before) & ~(network.fixed[made.a] & network.fixed[made.b])
    solver = _low_rank(network, made.a[live], made.b[live], (made.after - made.before)[live])
    return refined(solved, network.fixed, sources, solver)


def _low_rank(network: ResistiveNetwork, a: Ints, b: Ints, added: Floats) -> Solver:
    """Solver of the network with conductances added between nodes, by the Woodbury identity on its factors.

    Raises:
        StalledError: the correction is singular to rounding.
    """
    count = len(a)
    unit = np.zeros((network.elements.node_count, count))
    np.add.at(unit, (a, np.arange(count)), 1.0)
    np.add.at(unit, (b, np.arange(count)), -1.0)
    unit[network.fixed] = 0.0
    spread = network.factors.solve(unit)
    small = np.eye(count) + added[:, None] * (spread[a] - spread[b])
    try:
        inner = np.linalg.inv(small)
    except np.linalg.LinAlgError as error:
        raise StalledError("the correction is singular") from error

    def solve(amperes: Floats) -> Floats:
        volts = network.factors.solve(amperes)
        return volts - spread @ (inner @ (added[:, None] * (volts[a] - volts[b])))

    return solve
