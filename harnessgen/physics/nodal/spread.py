"""How a single change spreads through a network, for many changes at a time.

A change acts on the rest of the network as a source at the place where it is made: a volt in series with the altered
resistor, an ampere from end to end of the bridge. Its spread is solved once per place, refined like any other solution,
and scaled; places in parts that share no unknown are solved together. Where a few hubs (battery, buses, ground studs)
join everything, they are first held at 0 V, which leaves many small parts, and then let go together.
"""

import numpy as np

from harnessgen.measures.frozen import frozen
from harnessgen.physics.nodal.changes import ChangeArrays
from harnessgen.physics.nodal.elements import Flags, Floats, Ints, SolvedColumns, Sources, runs
from harnessgen.physics.nodal.factors import DENSE_LIMIT
from harnessgen.physics.nodal.solution import ResistiveNetwork, over, paths

_CELLS = 100_000
"""Largest number of node voltages held at one time while spreads are solved: about what a processor's cache holds."""

_MANY = 32
"""Number of changes from which on holding hubs is worth its work."""

_MOST_HUBS = 256
_HUB_ENDS = (64, 32, 16, 8)
"""Numbers of elements at a node from which on it is tried as a hub, one after the other."""

_SURE = 1e-3
"""Smallest share of a current with hubs held that may be left with hubs let go; below, cancellation costs digits."""

_PROMISE = 1e-12
"""Largest share of the largest current that rounding may leave in any other once the hubs are let go."""


@frozen
class EachChange:
    """What each change alone does: voltages (changes, nodes asked for) and currents (changes, resistors asked for).

    `changed_a` is the current in the altered resistor or the added bridge (shape: changes). Voltages are nan where the
    change leaves no path to a fixed node.
    """

    voltages_v: Floats
    currents_a: Floats
    changed_a: Floats


@frozen
class Split:
    """A network with its hubs held, and what one volt at each hub does (columns: hubs).

    `volts_per_ampere` lifts the hubs for current that is left over at them (hubs, hubs). `noise` is the most that
    rounding adds to any current, in amperes for each volt that a hub is lifted (hubs).
    """

    inner: ResistiveNetwork
    hubs: Ints
    response: SolvedColumns
    volts_per_ampere: Floats
    noise: Floats


def fill(
    network: ResistiveNetwork,
    made: ChangeArrays,
    rows: Ints,
    base: SolvedColumns,
    at: Ints,
    of: Ints,
    found: EachChange,
) -> None:
    """Add to `found` what the changes of `rows` do at the nodes `at` and in the resistors `of`.

    Raises:
        ArithmeticError: the resistances lie too far apart to be solved together.
    """
    split = _split(network) if len(rows) >= _MANY else None
    if split is not None:
        rows = _fill(split, made, rows, base, at, of, found)
    if len(rows):
        _fill(_whole(network), made, rows, base, at, of, found)


def _whole(network: ResistiveNetwork) -> Split:
    """The network itself, without hubs."""
    nothing = np.zeros((network.elements.node_count, 0))
    state = SolvedColumns(nothing, nothing, np.zeros((len(network.elements.a), 0)), nothing)
    return Split(network, np.zeros(0, dtype=np.intp), state, np.zeros((0, 0)), np.zeros(0))


def _split(network: ResistiveNetwork) -> Split | None:
    """The network with its best connected nodes held, if that leaves small parts only."""
    largest = np.bincount(network.label[network.anchored & ~network.fixed], minlength=1).max()
    if largest <= DENSE_LIMIT:
        return None
    ends = network.elements.neighbours()
    for fewest in _HUB_ENDS:
        hub = (ends >= fewest) & network.anchored & ~network.fixed
        if hub.sum() > _MOST_HUBS:
            return None
        held = network.fixed | hub
        label, anchored = paths(network.elements, held)
        if np.bincount(label[anchored & ~held], minlength=1).max() <= DENSE_LIMIT:
            return _held(network, hub)
    return None


def _held(network: ResistiveNetwork, hub: Flags) -> Split | None:
    inner, hubs = over(network.elements, network.fixed | hub, network.fixed_v), np.nonzero(hub)[0]
    unit = np.zeros((network.elements.node_count, len(hubs)))
    unit[hubs, np.arange(len(hubs))] = 1.0
    response = inner.state(Sources(unit, np.zeros_like(unit)))
    siemens: Floats = -response.residual_a[hubs]
    if np.linalg.cond(siemens) > 1e8:
        return None
    lifting: Floats = np.linalg.inv(siemens).astype(np.float64)
    # Between two hubs currents are differences of what each hub drives: hubs that hang on the fixed nodes by a high
    # resistance alone are lifted far, and together, and the digits that cancel are those of the whole lift.
    lost = np.finfo(np.float64).eps * np.max(np.abs(lifting) @ np.abs(siemens))
    return Split(inner, hubs, response, lifting, lost * np.max(np.abs(response.current_a), axis=0))


def _fill(
    split: Split, made: ChangeArrays, rows: Ints, base: SolvedColumns, at: Ints, of: Ints, found: EachChange
) -> Ints:
    """Fill in all rows but those that cancel, and return these."""
    inner, have = split.inner, split.inner.elements
    label = np.where(inner.fixed, -1, inner.label)
    part = np.stack((label[made.a[rows]], label[made.b[rows]]))
    part_at, part_of = label[at], np.maximum(label[have.a[of]], label[have.b[of]])
    column, unsure = _columns(part), [np.zeros(0, dtype=np.intp)]
    width = max(1, _CELLS // have.node_count)
    for start in range(0, int(column.max()) + 1, width):
        here = np.nonzero((column >= start) & (column < start + width))[0]
        row, col = rows[here], column[here] - start
        spread = _driven(inner, made, row, col)
        lift = split.volts_per_ampere @ _left_at_hubs(split, made, row, col, part[:, here], spread)
        scale, own, sure = _scales(split, made, row, col, base, spread, lift)
        unsure.append(row[~sure])
        row, col, lift, scale, here = row[sure], col[sure], lift[:, sure], scale[sure], here[sure]
        found.changed_a[row] = own[sure]
        for known, place, values, response in (
            (found.voltages_v, part_at, spread.high_v[at], split.response.high_v[at]),
            (found.currents_a, part_of, spread.current_a[of], split.response.current_a[of]),
        ):
            near = ((place == part[0, here][:, None]) | (place == part[1, here][:, None])) & (place >= 0)
            known[row] += (np.where(near, values[:, col].T, 0.0) + lift.T @ response.T) * scale[:, None]
    return np.concatenate(unsure)


def _columns(part: Ints) -> Ints:
    """A column for each change such that no two changes of one column touch the same part; -1 is no part.

    Each takes the first column that is free in both its parts: a chain of changes, each from one part to the next,
    would otherwise take a column more at every link.
    """
    taken: dict[int, int] = {}
    column = np.zeros(part.shape[1], dtype=np.intp)
    for place, (one, other) in enumerate(part.T.tolist()):
        full = taken.get(one, 0) | taken.get(other, 0)
        first_free = ~full & (full + 1)
        column[place] = first_free.bit_length() - 1
        for each in (one, other):
            if each >= 0:
                taken[each] = taken.get(each, 0) | first_free
    return column


def _driven(network: ResistiveNetwork, made: ChangeArrays, row: Ints, col: Ints) -> SolvedColumns:
    """The spread of one volt in series with each altered resistor, or one ampere from end to end of each bridge."""
    shape = (network.elements.node_count, int(col.max()) + 1)
    unit = np.zeros(shape)
    bridge = made.before[row] == 0.0
    np.add.at(unit, (made.a[row[bridge]], col[bridge]), 1.0)
    np.add.at(unit, (made.b[row[bridge]], col[bridge]), -1.0)
    unit[network.fixed] = 0.0
    return network.state(Sources(np.zeros(shape), unit, made.resistor[row[~bridge]], col[~bridge]))


def _left_at_hubs(split: Split, made: ChangeArrays, row: Ints, col: Ints, part: Ints, spread: SolvedColumns) -> Floats:
    """Current that each change leaves over at the held hubs (hubs, changes)."""
    have = split.inner.elements
    left = np.zeros((len(split.hubs), len(row)))
    hub = np.full(have.node_count, -1, dtype=np.intp)
    hub[split.hubs] = np.arange(len(split.hubs))
    label = np.where(split.inner.fixed, -1, split.inner.label)
    bridge = made.before[row] == 0.0
    own = np.where(bridge, 1.0, -spread.current_a[made.resistor[row], col])
    for near, far, sense in ((have.a, have.b, -1.0), (have.b, have.a, 1.0)):
        spokes = np.nonzero((hub[near] >= 0) & (label[far] >= 0))[0]
        spokes = spokes[np.argsort(label[far[spokes]], kind="stable")]
        for side in (0, 1):
            # A change within one part is counted once, though both its ends name that part.
            which = np.nonzero((part[side] >= 0) & ((side == 0) | (part[0] != part[1])))[0]
            first, last = (np.searchsorted(label[far[spokes]], part[side, which], end) for end in ("left", "right"))
            place, at = runs(first, last)
            change, spoke = which[place], spokes[at]
            np.add.at(left, (hub[near[spoke]], change), sense * spread.current_a[spoke, col[change]])
    for ends, sense in ((made.a[row], 1.0), (made.b[row], -1.0)):
        # The part of a resistor that ends at a hub holds it as a spoke; a bridge, or one from hub to hub, is no spoke.
        direct = (hub[ends] >= 0) & (bridge | ((part[0] < 0) & (part[1] < 0)))
        np.add.at(left, (hub[ends[direct]], np.nonzero(direct)[0]), sense * own[direct])
    return left


def _scales(
    split: Split, made: ChangeArrays, row: Ints, col: Ints, base: SolvedColumns, spread: SolvedColumns, lift: Floats
) -> tuple[Floats, Floats, Flags]:
    """How much of the unit spread each change causes, the current in the changed element, and whether both are sure.

    Of the volt in series with a resistor, what is left over the resistor tells the share of its current that would
    find another way; one minus the share through itself would cancel for a low resistance in a high loop.
    """
    a, b, before, after = made.a[row], made.b[row], made.before[row], made.after[row]
    across = base.across_v(a, b, slice(0, 1))[:, 0]
    ends = spread.across_v(a, b, col) + np.sum(split.response.across_v(a, b) * lift.T, axis=1)
    bridge = before == 0.0
    siemens = np.where(bridge, 1.0, before)
    held = spread.current_a[made.resistor[row], col]
    current = held + np.sum(split.response.current_a[made.resistor[row]] * lift.T, axis=1)
    past = np.where(bridge, 1.0 + after * ends, (after * ends - current) / siemens)
    with np.errstate(divide="ignore", invalid="ignore"):
        scale, own = -(after - before) * across / past / siemens, after * across / past
        largest = np.maximum(np.max(np.abs(base.current_a), initial=0.0), np.abs(own))
        drowned = np.abs(scale) * (split.noise @ np.abs(lift)) > _PROMISE * largest
    return scale, own, (bridge | (np.abs(current) >= _SURE * np.abs(held))) & ~drowned
