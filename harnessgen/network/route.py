"""The route as a forest: one tree per section, joined where a disconnect is mated."""

from collections import deque
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

from harnessgen.design.checks.consistency import neighbours_of
from harnessgen.design.records.design import Design
from harnessgen.design.records.route import Stretch
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import Quantity

if TYPE_CHECKING:
    import networkx


@frozen
class RoutePoint:
    """A node of the forest: a point of the route, one side of a disconnect's point, or a splice's place on a stretch.

    `side` is the neighbour that names the side of a disconnect's point; `splice` the designator at a splice's place.
    """

    name: str
    point: str
    side: str = ""
    splice: str = ""


@frozen
class Leg:
    """An edge of the forest: a stretch of the design, or the part of one between splices.

    `offset_mm` is where it begins, measured from the stretch's first point; `share` its part of the whole stretch.
    """

    start: str
    end: str
    stretch: Stretch
    from_point: str
    to_point: str
    offset_mm: float
    length_mm: float
    share: float
    zone: str

    @property
    def measured(self) -> Quantity:
        """Length with its part of the stretch's measurement tolerance, in mm."""
        whole = self.stretch.length_mm
        return Quantity(self.length_mm, whole.plus * self.share, whole.minus * self.share)

    @property
    def name(self) -> str:
        """The stretch that it belongs to, as the builder would say it: `b1 to b2`."""
        return f"{self.from_point} to {self.to_point}"


@frozen
class Mating:
    """An edge between the two sides of a disconnect's point: no length, and no wire goes across."""

    start: str
    end: str
    point: str


@frozen
class _Link:
    """How a node hangs on the one before it."""

    parent: str
    edge: Leg | Mating


@dataclass(frozen=True)
class Route:
    """The forest with each tree rooted once, so that a path is found by climbing."""

    points: Mapping[str, RoutePoint]
    legs: tuple[Leg, ...]
    matings: tuple[Mating, ...]
    _links: Mapping[str, _Link]
    _depths: Mapping[str, int]
    _sides: Mapping[tuple[str, str], str]

    @cached_property
    def graph(self) -> "networkx.Graph[str]":
        """The forest: nodes carry a RoutePoint, edges a Leg, each under `record`; matings are no edges."""
        import networkx

        graph: networkx.Graph[str] = networkx.Graph()
        graph.add_nodes_from((name, {"record": point}) for name, point in self.points.items())
        graph.add_edges_from((leg.start, leg.end, {"record": leg}) for leg in self.legs)
        return graph

    def node_of(self, point: str) -> str:
        """Node of a point that has no disconnect; of one that has, its side towards the root."""
        return self._sides.get((point, ""), point)

    def side_node(self, point: str, neighbour: str) -> str:
        """Node on the side of `neighbour` of a point with a disconnect."""
        return self._sides[point, neighbour]

    def splice_node(self, splice: str) -> str:
        """Node where a splice sits."""
        return self._sides["", splice]

    def root_of(self, node: str) -> str:
        """The node at which the tree of `node`, mated disconnects included, is rooted."""
        while (link := self._links.get(node)) is not None:
            node = link.parent
        return node

    def path(self, start: str, end: str) -> list[Leg | Mating] | None:
        """Edges from `start` to `end` in order, or None when no way leads there. Edges keep their own direction."""
        up, down = [], []
        a, b = start, end
        while a != b:
            if self._depths[a] >= self._depths[b]:
                link = self._links.get(a)
                if link is None:
                    return None
                up.append(link.edge)
                a = link.parent
            else:
                link = self._links[b]
                down.append(link.edge)
                b = link.parent
        return up + down[::-1]


def build_route(design: Design) -> Route:
    """The forest of `design`, whose route has to be a tree (see the rule route-not-a-tree)."""
    return _RouteBuilder(design).build()


class _RouteBuilder:
    def __init__(self, design: Design) -> None:
        self.design = design
        self.points: dict[str, RoutePoint] = {}
        self.sides: dict[tuple[str, str], str] = {}
        self.legs: list[Leg] = []
        self.matings: list[Mating] = []

    def build(self) -> Route:
        self._divide_points()
        splices = self._splices_by_stretch()
        for start, stretches in self.design.route.items():
            for end, stretch in stretches.items():
                self._lay(start, end, stretch, splices.get((start, end), []))
        self._place_other_splices()
        links, depths = self._rooted()
        return Route(self.points, tuple(self.legs), tuple(self.matings), links, depths, self.sides)

    def _add(self, point: RoutePoint) -> str:
        self.points[point.name] = point
        return point.name

    def _divide_points(self) -> None:
        divided: dict[str, set[str]] = {}
        for disconnect in self.design.disconnects.values():
            divided.setdefault(disconnect.at, set(disconnect.socket_side))
        for start, stretches in self.design.route.items():
            for point in (start, *stretches):
                if point in self.points or (point, "") in self.sides:
                    continue
                if point in divided:
                    self._divide(point, divided[point])
                else:
                    self._add(RoutePoint(point, point))

    def _divide(self, point: str, one_side: set[str]) -> None:
        neighbours = neighbours_of(self.design, point)
        groups = [[each for each in neighbours if (each in one_side) is wanted] for wanted in (True, False)]
        names = [self._add(RoutePoint(f"{point}~{group[0]}", point, side=group[0])) for group in groups if group]
        for name, group in zip(names, (group for group in groups if group), strict=True):
            self.sides.update({(point, neighbour): name for neighbour in group})
        self.sides[point, ""] = self.sides[point, neighbours[0]]
        if len(names) == 2:
            self.matings.append(Mating(names[0], names[1], point))

    def _end_node(self, point: str, neighbour: str) -> str:
        return self.sides.get((point, neighbour), point)

    def _splices_by_stretch(self) -> dict[tuple[str, str], list[tuple[float, str]]]:
        """For each stretch the splices on it, with their distance from its first point."""
        placed: dict[tuple[str, str], list[tuple[float, str]]] = {}
        for splice in self.design.splices.values():
            offset = splice.offset_mm.value
            if not splice.toward or not offset:
                continue
            if splice.toward in self.design.route.get(splice.at, {}):
                placed.setdefault((splice.at, splice.toward), []).append((offset, splice.name))
            else:
                length = self.design.route[splice.toward][splice.at].length_mm.value
                placed.setdefault((splice.toward, splice.at), []).append((length - offset, splice.name))
        return {stretch: sorted(splices) for stretch, splices in placed.items()}

    def _lay(self, start: str, end: str, stretch: Stretch, splices: list[tuple[float, str]]) -> None:
        whole = stretch.length_mm.value
        at = self._end_node(start, end)
        offset = 0.0
        for distance, splice in splices:
            node = self.sides.get(("", splice)) or f"@{splice}"
            self._add(RoutePoint(node, start, splice=splice))
            self.sides["", splice] = node
            self.legs.append(self._leg(at, node, stretch, start, end, offset, distance - offset, whole))
            at, offset = node, distance
        self.legs.append(self._leg(at, self._end_node(end, start), stretch, start, end, offset, whole - offset, whole))

    @staticmethod
    def _leg(
        at: str, to: str, stretch: Stretch, start: str, end: str, offset: float, length: float, whole: float
    ) -> Leg:
        share = length / whole if whole else 1.0
        return Leg(at, to, stretch, start, end, offset, length, share, stretch.zone)

    def _place_other_splices(self) -> None:
        for splice in self.design.splices.values():
            if ("", splice.name) not in self.sides:
                node = self.sides.get((splice.at, splice.toward)) or self.sides.get((splice.at, "")) or splice.at
                self.sides["", splice.name] = node

    def _rooted(self) -> tuple[dict[str, _Link], dict[str, int]]:
        edges: dict[str, list[tuple[str, Leg | Mating]]] = {node: [] for node in self.points}
        joined: list[Leg | Mating] = [*self.legs, *self.matings]
        for edge in joined:
            edges[edge.start].append((edge.end, edge))
            edges[edge.end].append((edge.start, edge))
        links: dict[str, _Link] = {}
        depths: dict[str, int] = {}
        zones: dict[str, str] = {}
        for root in self._roots():
            if root in depths:
                continue
            depths[root] = 0
            queue = deque([root])
            while queue:
                node = queue.popleft()
                for neighbour, edge in edges[node]:
                    if neighbour in depths:
                        continue
                    if isinstance(edge, Leg):
                        edge = _in_zone(edge, zones.get(node, ""))
                        zones[neighbour] = edge.zone
                    else:
                        zones[neighbour] = zones.get(node, "")
                    links[neighbour] = _Link(node, edge)
                    depths[neighbour] = depths[node] + 1
                    queue.append(neighbour)
        in_zone = {(link.edge.start, link.edge.end): link.edge for link in links.values() if isinstance(link.edge, Leg)}
        self.legs = [in_zone[leg.start, leg.end] for leg in self.legs]
        return links, depths

    def _roots(self) -> Iterator[str]:
        """Points that no stretch leads to come first; the rest only in case of a fault in the route."""
        reached = {end for stretches in self.design.route.values() for end in stretches}
        for point in self.design.route:
            if point not in reached:
                yield self.sides.get((point, ""), point)
        yield from self.points


def _in_zone(leg: Leg, before: str) -> Leg:
    """The leg in its zone; a stretch that names none lies in that of the stretch before it."""
    if leg.zone or not before:
        return leg
    return replace(leg, zone=before)
