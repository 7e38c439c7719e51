"""What lies so near along the route that hands can take one for the other."""

from collections.abc import Collection, Mapping

from harnessgen.network.route import Leg, Mating, Route


def in_reach(route: Route, starts: Collection[str], reach_mm: float) -> Mapping[str, tuple[str, ...]]:
    """For each node of `starts` those at most `reach_mm` from it along the route, past mated disconnects, itself first.

    Each walk ends where the reach does, so that it costs what lies near and not what the harness holds.
    """
    beside: dict[str, list[tuple[str, float]]] = {}
    edges: tuple[Leg | Mating, ...] = (*route.legs, *route.matings)
    for edge in edges:
        length_mm = edge.length_mm if isinstance(edge, Leg) else 0.0
        beside.setdefault(edge.start, []).append((edge.end, length_mm))
        beside.setdefault(edge.end, []).append((edge.start, length_mm))
    return {start: _walked(beside, start, reach_mm) for start in starts}


def _walked(beside: Mapping[str, list[tuple[str, float]]], start: str, reach_mm: float) -> tuple[str, ...]:
    so_far_mm = {start: 0.0}
    queue = [start]
    for node in queue:
        for after, length_mm in beside.get(node, ()):
            if after not in so_far_mm and so_far_mm[node] + length_mm <= reach_mm:
                so_far_mm[after] = so_far_mm[node] + length_mm
                queue.append(after)
    return tuple(queue)
