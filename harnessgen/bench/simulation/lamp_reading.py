"""What a lamp sees of a powered harness, and what it then shows.

The resistance between two nodes and the voltage between them are all that decides how a lamp there burns (Thevenin).
"""

import numpy as np

from harnessgen.bench.setup.test_lamp import DARK_SHARE, SEEN_SHARE, Lamp, Light
from harnessgen.physics.nodal.elements import Flags, Floats

RESTING_SHARE = 0.85
"""A battery at rest stands that much below the volts of a running engine (common practice, no source)."""


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
