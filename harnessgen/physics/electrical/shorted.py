"""Whether a solved state is the state of a short: its voltages and currents say nothing of the harness at work."""

from collections.abc import Callable, Mapping

import numpy as np

from harnessgen.network.electrical import Electrical, Element, ElementKind
from harnessgen.physics.electrical.operating_point import OperatingPoint, conducting
from harnessgen.physics.nodal.elements import connected

_POLES = (ElementKind.SUPPLY, ElementKind.GROUND)


def held_together(electrical: Electrical, joins: Callable[[Element], bool]) -> Mapping[str, int]:
    """Number of the part of the network in which those elements that `joins` hold each node.

    Supplies and ground points never do, nor what limits a current. By the arrays of the graph: many states are asked.
    """
    a, b = electrical.ends
    closed = np.array(
        [each.kind not in _POLES and not each.kind.limits_current and joins(each) for each in electrical.elements],
        dtype=np.bool_,
    )
    part = connected(len(electrical.nodes), a[closed], b[closed])
    return dict(zip(electrical.nodes, part.tolist(), strict=True))


def is_shorted(electrical: Electrical, point: OperatingPoint) -> bool:
    """True where a supply reaches a ground point through what conducts, with no load or relay coil between.

    A diode the wrong way round across a coil is such a way too.
    """
    if point.forward:
        return True
    part_of = held_together(electrical, lambda each: conducting(each, point.on, point.pulled_in))
    supplied, grounded = ({part_of[each.a] for each in electrical.elements if each.kind is kind} for kind in _POLES)
    return not supplied.isdisjoint(grounded)
