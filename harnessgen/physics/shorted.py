"""Whether a solved state is the state of a short: its voltages and currents say nothing of the harness at work."""

import numpy as np

from harnessgen.network.electrical import Electrical, ElementKind
from harnessgen.physics.nodal_elements import connected
from harnessgen.physics.operating_point import OperatingPoint, conducting

_POLES = (ElementKind.SUPPLY, ElementKind.GROUND)


def is_shorted(electrical: Electrical, point: OperatingPoint) -> bool:
    """True where a supply reaches a ground point through what conducts, with no load or relay coil between.

    A diode the wrong way round across a coil is such a way too.
    """
    if point.forward:
        return True
    elements, (a, b) = electrical.elements, electrical.ends
    joins = [
        each.kind not in _POLES and not each.kind.limits_current and conducting(each, point.on, point.pulled_in)
        for each in elements
    ]
    closed = np.array(joins, dtype=np.bool_)
    part = connected(len(electrical.nodes), a[closed], b[closed])[a].tolist()
    supplied, grounded = ({part[at] for at, each in enumerate(elements) if each.kind is kind} for kind in _POLES)
    return not supplied.isdisjoint(grounded)
