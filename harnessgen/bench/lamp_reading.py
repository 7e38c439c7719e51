"""What a lamp sees of a powered harness: the resistance between two nodes, with every fault, each alone.

With the voltage between them this is all that decides how a lamp there burns (Thevenin). One inverse of the network
serves all faults of one element: each changes it by a product of two columns (Sherman and Morrison, 1950).
"""

from collections.abc import Sequence

import numpy as np

from harnessgen.bench.fault import Change
from harnessgen.bench.lamp import DARK_SHARE, SEEN_SHARE, Lamp, Light
from harnessgen.bench.powered_readings import PoweredSet, Readings
from harnessgen.network.electrical import REFERENCE
from harnessgen.physics import nodal_changes as nodal
from harnessgen.physics.nodal import over
from harnessgen.physics.nodal_elements import Flags, Floats, elements

RESTING_SHARE = 0.85
"""A battery at rest stands that much below the volts of a running engine (common practice, no source)."""
_LEAK_S = 1e-6
"""What hangs free is tied to ground by 1 Mohm, through which no lamp burns."""
_PAIRS = 256
"""Pairs of nodes that an ampere is sent between at one time."""

Pair = tuple[str, str]


def base_ohms(held: PoweredSet, pairs: Sequence[Pair]) -> list[float]:
    """Resistance between each two nodes without a fault, in ohm, supplies taken as joined."""
    network, index = held.live.nodal, held.live.index
    have, free = network.elements, np.nonzero(~network.fixed)[0]
    ends_a = np.concatenate((have.a, free))
    ends_b = np.concatenate((have.b, np.full(len(free), index[REFERENCE], dtype=np.intp)))
    siemens = np.concatenate((have.siemens, np.full(len(free), _LEAK_S)))
    tied = over(elements(have.node_count, ends_a, ends_b, siemens), network.fixed, np.zeros(have.node_count))
    found: list[float] = []
    for first in range(0, len(pairs), _PAIRS):
        own = pairs[first : first + _PAIRS]
        a, b = np.array([(index[one], index[other]) for one, other in own], dtype=np.intp).T
        at = np.arange(len(own))
        ampere = np.zeros((have.node_count, len(own)))
        np.add.at(ampere, (a, at), 1.0)
        np.add.at(ampere, (b, at), -1.0)
        volts = tied.solve(ampere).voltages_v
        found += (volts[a, at] - volts[b, at]).tolist()
    return found


def seen_ohms(held: PoweredSet, changes: Sequence[Change], readings: Readings, pairs: Sequence[Pair]) -> Floats:
    """Resistance between each two nodes with each change, nan where a change is of more than one element.

    Shape: changes, pairs.
    """
    inverse, columns, (a, b) = _columns(held, pairs)
    at = np.arange(len(pairs))
    base = columns[a, at] - columns[b, at]
    found = np.full((len(changes), len(pairs)), np.nan)
    have = held.live.nodal.elements
    for row, change in enumerate(changes):
        if not readings.is_single[row]:
            continue
        made = held.single(change)
        if made is None:
            found[row] = base
            continue
        if isinstance(made, nodal.Altered):
            one, other = int(have.a[made.resistor]), int(have.b[made.resistor])
            more_s = (0.0 if np.isinf(made.ohm) else 1.0 / made.ohm) - float(have.siemens[made.resistor])
        else:
            one, other, more_s = made.a, made.b, 1.0 / made.ohm
        moved = columns[one] - columns[other]
        own = inverse[one, one] - 2.0 * inverse[one, other] + inverse[other, other]
        found[row] = np.maximum(base - moved**2 * more_s / (1.0 + more_s * own), 0.0)
    return found


def _columns(held: PoweredSet, pairs: Sequence[Pair]) -> tuple[Floats, Floats, tuple[list[int], list[int]]]:
    """Volts at every node for an ampere into each, and for an ampere from one node of each pair to the other."""
    network, index = held.live.nodal, held.live.index
    have, count = network.elements, network.elements.node_count
    matrix = np.zeros((count, count))
    np.add.at(matrix, (have.a, have.a), have.siemens)
    np.add.at(matrix, (have.b, have.b), have.siemens)
    np.add.at(matrix, (have.a, have.b), -have.siemens)
    np.add.at(matrix, (have.b, have.a), -have.siemens)
    free = np.nonzero(~network.fixed)[0]
    matrix[free, free] += _LEAK_S
    inverse = np.zeros((count, count))
    inverse[np.ix_(free, free)] = np.linalg.inv(matrix[np.ix_(free, free)])
    a, b = [index[one] for one, _ in pairs], [index[other] for _, other in pairs]
    return inverse, inverse[:, a] - inverse[:, b], (a, b)


def shown_by_lamp(lamp: Lamp, light: Light, volts: Floats, ohms: Floats) -> Flags:
    """For each change whether the lamp surely shows something else than `light`; `ohms` are nan where not known."""
    open_v = np.abs(volts)
    if light is Light.DARK:
        at_v = SEEN_SHARE * lamp.volts
        is_seen: Flags = RESTING_SHARE * open_v >= at_v + np.nan_to_num(ohms, nan=np.inf) * lamp.ampere(at_v)
        return is_seen
    at_v = DARK_SHARE * lamp.volts
    is_dark: Flags = open_v <= at_v + np.nan_to_num(ohms, nan=0.0) * lamp.ampere(at_v)
    return is_dark
