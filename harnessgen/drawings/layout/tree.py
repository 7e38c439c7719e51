"""The route of a section as a drawing sees it: a straight trunk, legs that leave it, and legs that leave those."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import accumulate, pairwise

from harnessgen.design.records.route import Stretch
from harnessgen.drawings.layout.fixings import MOST_FIXED, Fixed, Station, fixed_on, over_all, stations_of
from harnessgen.lengths.bundles.diameter import bundle_diameter
from harnessgen.network.network import Network
from harnessgen.network.route import Leg
from harnessgen.network.wires import EndKind
from harnessgen.schedules.tables.length_text import dimension_words, length_words
from harnessgen.sheets.mark_kind import MarkKind

MOST_SPLICES = 20
"""Splices on a stretch that are drawn and dimensioned; of more, only their number is noted."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A part of a stretch between two stations: its length and the diameter of its bundle (0 without wires), mm."""

    length_mm: float
    diameter_mm: float


@dataclass(frozen=True, slots=True)
class DrawnRun:
    """A stretch between two nodes of the route, as it is drawn: its pieces, and the stations between them.

    `text` is its dimension; `datum_first` says that its splices are measured from `start`. `mated` names the
    disconnects of a mated pair, which is drawn as a run without length. A quiet run does not say its covering and zone.
    `extras` are the lengths that lie in loops on top of its dimension, in words; `unit` is that of its dimensions.
    `fixed` are all clips, tapes and grommets on it; those among the stations are dimensioned.
    """

    name: str
    start: str
    end: str
    pieces: tuple[Piece, ...]
    stations: tuple[Station, ...]
    datum_first: bool
    text: str
    covering: str = ""
    covering_mm: float = 0.0
    zone: str = ""
    remark: str = ""
    mated: tuple[str, ...] = ()
    first_half: str = ""
    is_quiet: bool = False
    extras: tuple[str, ...] = ()
    unit: str = "mm"
    fixed: tuple[Fixed, ...] = ()

    @property
    def splices(self) -> tuple[str, ...]:
        """Splices on it, from its start on."""
        return tuple(each.name for each in self.stations if each.is_splice)

    @property
    def length_mm(self) -> float:
        """Nominal length, mm."""
        return sum(piece.length_mm for piece in self.pieces)

    @property
    def splice_distances_mm(self) -> tuple[float, ...]:
        """Distance of each splice from `start`, mm."""
        so_far_mm = accumulate(piece.length_mm for piece in self.pieces)
        return tuple(mm for mm, station in zip(so_far_mm, self.stations, strict=False) if station.is_splice)

    @property
    def is_marked(self) -> bool:
        """Whether something fixed on it is drawn."""
        return any(not each.is_splice for each in self.stations) or any(each.at_mm is None for each in self.fixed)

    def turned(self) -> "DrawnRun":
        """The same run seen from its other end."""
        other = {"s": "p", "p": "s"}.get(self.first_half, "")
        whole_mm = self.length_mm
        stations = tuple(
            Station(each.name, each.fixed.turned(whole_mm) if each.fixed is not None else None)
            for each in self.stations[::-1]
        )
        return replace(
            self,
            start=self.end,
            end=self.start,
            pieces=self.pieces[::-1],
            stations=stations,
            fixed=tuple(each.turned(whole_mm) for each in self.fixed[::-1]),
            datum_first=not self.datum_first,
            first_half=other,
        )


@dataclass(frozen=True, slots=True)
class LayoutSpot:
    """A node of the route with what sits there: splices, connectors and halves, devices on which wires land.

    `goes_on` says that more of the route leaves here on another sheet.
    """

    node: str
    point: str
    is_half: bool = False
    splices: tuple[str, ...] = ()
    connectors: tuple[str, ...] = ()
    devices: tuple[str, ...] = ()
    goes_on: bool = False


@dataclass(frozen=True, slots=True)
class SpineStep:
    """One run of a spine, the spot that it leads to, and the legs that leave there."""

    run: DrawnRun
    spot: LayoutSpot
    legs: tuple["Spine", ...] = ()


@dataclass(frozen=True, slots=True)
class Spine:
    """A straight line of the drawing: the trunk, or a leg from the spot where it leaves another spine."""

    start: LayoutSpot
    steps: tuple[SpineStep, ...]

    @property
    def runs(self) -> tuple[DrawnRun, ...]:
        """All runs of the spine and of its legs."""
        own = tuple(step.run for step in self.steps)
        return own + tuple(run for step in self.steps for leg in step.legs for run in leg.runs)


@dataclass(frozen=True, slots=True)
class Board:
    """A tree of runs that is drawn on one sheet."""

    spots: Mapping[str, LayoutSpot]
    runs: tuple[DrawnRun, ...]
    neighbours: Mapping[str, tuple[DrawnRun, ...]] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        found: dict[str, list[DrawnRun]] = {node: [] for node in self.spots}
        for run in self.runs:
            found[run.start].append(run)
            found[run.end].append(run.turned())
        object.__setattr__(self, "neighbours", {node: tuple(runs) for node, runs in found.items()})

    @property
    def signs(self) -> tuple[MarkKind, ...]:
        """Kinds of what is fixed on the bundles and drawn, each once."""
        drawn = {each.kind for run in self.runs if run.is_marked for each in run.fixed}
        return tuple(kind for kind in (MarkKind.CLIP, MarkKind.TAPE, MarkKind.GROMMET) if kind in drawn)

    def quiet(self) -> "Board":
        """The same without the names of coverings and zones, which the sheets of the sections say."""
        return Board(self.spots, tuple(replace(run, is_quiet=True) for run in self.runs))


def section_board(network: Network, letter: str) -> Board:
    """The tree of one section, its disconnects apart."""
    section = next(each for each in network.sections.sections if each.letter == letter)
    nodes = {node for leg in section.legs for node in (leg.start, leg.end)}
    return Board(_spots(network, nodes), tuple(_runs(network, section.legs)))


def whole_board(network: Network) -> Board:
    """The tree of the whole harness, its disconnects mated."""
    halves = half_nodes(network)
    pairs: list[DrawnRun] = []
    for mating in network.route.matings:
        names = tuple(name for name, disconnect in network.design.disconnects.items() if disconnect.at == mating.point)
        first_half = "s" if names and halves[f"{names[0]}s"] == mating.start else "p"
        name = f"{', '.join(names) or mating.point} mated"
        piece = (Piece(0.0, 0.0),)
        pairs.append(DrawnRun(name, mating.start, mating.end, piece, (), True, "", mated=names, first_half=first_half))
    spots = _spots(network, set(network.route.points))
    return Board(spots, (*_runs(network, network.route.legs), *pairs))


def half_nodes(network: Network) -> dict[str, str]:
    """Node of the route at which each half of a disconnect sits, by its designator (`C10s`, `C10p`)."""
    nodes: dict[str, str] = {}
    for name, disconnect in network.design.disconnects.items():
        sockets = network.route.side_node(disconnect.at, disconnect.socket_side[0])
        mating = next((each for each in network.route.matings if each.point == disconnect.at), None)
        nodes[f"{name}s"] = sockets
        if mating is not None:
            nodes[f"{name}p"] = mating.end if mating.start == sockets else mating.start
    return nodes


def _spots(network: Network, nodes: set[str]) -> dict[str, LayoutSpot]:
    """Spots of the nodes that are no splice's place on a stretch, in the order of the route."""
    route, design = network.route, network.design
    splices: dict[str, list[str]] = {}
    for name in design.splices:
        splices.setdefault(route.splice_node(name), []).append(name)
    connectors: dict[str, list[str]] = {}
    for name, connector in design.connectors.items():
        connectors.setdefault(route.node_of(connector.at), []).append(name)
    for name, node in half_nodes(network).items():
        connectors.setdefault(node, []).append(name)
    devices: dict[str, dict[str, None]] = {}
    for wire in network.wires:
        for end in wire.ends:
            if end.kind is EndKind.LANDING:
                devices.setdefault(end.route_node, {})[end.designator] = None
    order = {name: place for place, name in enumerate(design.devices)}
    return {
        node: LayoutSpot(
            node,
            point.point,
            is_half=bool(point.side),
            splices=tuple(splices.get(node, ())),
            connectors=tuple(connectors.get(node, ())),
            devices=tuple(sorted(devices.get(node, ()), key=lambda name: order.get(name, 0))),
        )
        for node, point in route.points.items()
        if node in nodes and not point.splice
    }


def _runs(network: Network, legs: Iterable[Leg]) -> Iterable[DrawnRun]:
    """The stretches that the parts of the route between splices belong to."""
    parts: dict[tuple[str, str], list[Leg]] = {}
    for leg in legs:
        parts.setdefault((leg.from_point, leg.to_point), []).append(leg)
    for (first, last), own in parts.items():
        own.sort(key=lambda leg: leg.offset_mm)
        stretch = own[0].stretch
        unit = network.design.units.length
        remarks = []
        splices = [(leg.offset_mm, network.route.points[leg.start].splice) for leg in own[1:]]
        if len(splices) > MOST_SPLICES:
            remarks.append(f"{len(splices)} splices, see the splice schedule")
            splices = []
        fixed = fixed_on(network, own[0])
        shown = fixed
        if len(fixed) > MOST_FIXED:
            remarks.append(f"{len(fixed)} clips and the like, see the list of clips, tape and grommets")
            shown = ()
        if stretch.clips is not None and stretch.clips.every_mm is not None:
            remarks.append(f"clips every {length_words(stretch.clips.every_mm.value, unit)}")
        stations = stations_of(splices, shown)
        covering = network.parts.coverings.get(stretch.covering)
        outside_mm = covering.inside_mm.value + 2 * covering.wall_mm.value if covering else 0.0
        yield DrawnRun(
            f"{first} to {last}",
            own[0].start,
            own[-1].end,
            tuple(_pieces(network, own, [mm for mm, _ in stations])),
            tuple(station for _, station in stations),
            not splices or network.design.splices[splices[0][1]].at == first,
            dimension_words(stretch.length_mm.value, stretch.build, unit),
            stretch.covering,
            outside_mm,
            network.ambient_zone(own[0]),
            ", ".join((*over_all(fixed), *remarks)),
            extras=_extras(stretch, unit),
            unit=unit,
            fixed=fixed,
        )


def _pieces(network: Network, own: list[Leg], stations_mm: list[float]) -> Iterator[Piece]:
    """The stretch cut at its stations, each piece with the thickest bundle in it."""
    thick_mm = [_bundle_mm(network, leg) for leg in own]
    ends = [(leg.offset_mm, leg.offset_mm + leg.length_mm) for leg in own]
    for low, high in pairwise([0.0, *stations_mm, own[0].stretch.length_mm.value]):
        inside = [thick for thick, (a, b) in zip(thick_mm, ends, strict=True) if a < high - 1e-9 and b > low + 1e-9]
        here = [thick for thick, (a, b) in zip(thick_mm, ends, strict=True) if a <= high and b >= low]
        yield Piece(high - low, max(inside or here))


def _extras(stretch: Stretch, unit: str) -> tuple[str, ...]:
    """What of a stretch lies in loops, on top of the way that its dimension is of."""
    if stretch.built_mm is not None:
        return (f"built {length_words(stretch.built_mm.value, unit)} in all",)
    declared = (("slack", stretch.slack_mm), ("drip loop", stretch.drip_loop_mm), ("movement", stretch.movement_mm))
    return tuple(f"{word} +{length_words(length.value, unit)}" for word, length in declared if length.value)


def _bundle_mm(network: Network, leg: Leg) -> float:
    wires = network.wires_by_leg.get((leg.start, leg.end), ())
    return bundle_diameter([wire.figures.diameter_mm.value for wire in wires]).diameter_mm if wires else 0.0
