"""What a lamp sees of a powered harness, and what it then shows.

The resistance between two nodes and the voltage between them are all that decides how a lamp there burns (Thevenin).
"""

from collections.abc import Sequence

import numpy as np

from harnessgen.bench.lamp import DARK_SHARE, SEEN_SHARE, Lamp, Light
from harnessgen.network.electrical import REFERENCE
from harnessgen.physics.live_network import LiveNetwork
from harnessgen.physics.nodal import over
from harnessgen.physics.nodal_elements import Flags, Floats, elements

RESTING_SHARE = 0.85
"""A battery at rest stands that much below the volts of a running engine (common practice, no source)."""
_LEAK_S = 1e-6
"""What hangs free is tied to ground by 1 Mohm, through which no lamp burns."""
_PAIRS = 256
"""Pairs of nodes that an ampere is sent between at one time."""

Pair = tuple[str, str]


def base_ohms(live: LiveNetwork, pairs: Sequence[Pair]) -> list[float]:
    """Resistance between each two nodes without a fault, in ohm, supplies taken as joined."""
    network, index = live.nodal, live.index
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


def shown_by_lamp(lamp: Lamp, light: Light, volts: Floats, ohms: Floats) -> Flags:
    """For each change whether the lamp surely shows something else than `light`."""
    open_v = np.abs(volts)
    if light is Light.DARK:
        at_v = SEEN_SHARE * lamp.volts
        is_seen: Flags = RESTING_SHARE * open_v >= at_v + ohms * lamp.ampere(at_v)
        return is_seen
    at_v = DARK_SHARE * lamp.volts
    is_dark: Flags = open_v <= at_v + ohms * lamp.ampere(at_v)
    return is_dark
