"""A section on the formboard as marks at 1:1: stretches, pegs, splices, what is fixed on them, connectors, words."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import cos, hypot, radians, sin

from harnessgen.drawings.formboard.connector_outlines import plate_parts, plate_size
from harnessgen.drawings.formboard.fixings import Taken, covering_ends, fixed_shapes, fixed_words
from harnessgen.drawings.formboard.grid import SheetGrid, grids_over
from harnessgen.drawings.formboard.labels import Labeller, Words
from harnessgen.drawings.formboard.line_clipping import cut_to
from harnessgen.drawings.formboard.occupied import OutlineRaster, pieces
from harnessgen.drawings.formboard.place import Laid, LaidTree, lay_section
from harnessgen.drawings.layout.block import listed
from harnessgen.drawings.layout.tree import LayoutSpot
from harnessgen.measures.quantity import plain_number
from harnessgen.network.network import Network
from harnessgen.sheets.box import Box, Point
from harnessgen.sheets.insulation_colours import BLACK, WHITE
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Circle, Mark, Polyline, box_of
from harnessgen.sheets.sheet import Paper

STRETCH_MM = 0.5
"""Width of the line of a stretch: its ends are the two places that a tape measures between."""
PEG_MM = 2.0
"""Radius of the peg at a breakout."""
SPLICE_MM = 1.2
_ROOM_MM = 34.0
"""Air around the board for the words of what stands at its edge."""
_REGISTER_MM = 4.0
_EDGE_MM = 12.0
_LONG_MM = 60.0
"""A stretch is named once more on a sheet that shows at least so much of it."""


@dataclass(frozen=True, slots=True)
class SectionBoard:
    """A section at 1:1: its tree, its marks (board mm), the grid of sheets, and the words that found no room."""

    tree: LaidTree
    marks: tuple[Mark, ...]
    grid: SheetGrid
    homeless: tuple[Words, ...]

    @property
    def size_mm(self) -> tuple[float, float]:
        """Length and height of the board that it needs."""
        box = box_of(self.marks)
        return box.width_mm, box.height_mm


def section_board_at_size(network: Network, letter: str, papers: tuple[Paper, ...]) -> SectionBoard:
    """A section laid out at 1:1 over sheets of one of `papers`.

    Raises:
        ValueError: the section has no stretch.
    """
    tree = lay_section(network, letter)
    shapes = tuple(_shapes(network, tree))
    grid = _fewest_sheets(box_of(shapes).inflate(_ROOM_MM), papers, shapes)
    ground = OutlineRaster()
    for mark in shapes:
        _take(ground, mark)
    for x, y in grid.registers:
        for outline in Circle(x, y, _REGISTER_MM, fill=WHITE, kind=MarkKind.SYMBOL).outlines:
            ground.add(outline)
    labeller = Labeller(grid, ground)
    words = [mark for each in _all_words(network, tree) for mark in labeller.place(each)]
    words += _reminders(tree, grid, labeller, words)
    return SectionBoard(tree, (*shapes, *words), grid, tuple(labeller.homeless))


def _fewest_sheets(area: Box, papers: tuple[Paper, ...], shapes: Sequence[Mark]) -> SheetGrid:
    """The grid of which the fewest sheets show any of the shapes; of equal ones the first."""
    boxes = [box for mark in shapes for outline in mark.outlines for box in pieces(outline)]

    def used(grid: SheetGrid) -> int:
        return len(set().union(*(grid.touched(box) for box in boxes)))

    return min(grids_over(area, papers), key=used)


def _shapes(network: Network, tree: LaidTree) -> Iterator[Mark]:
    for laid in tree.laid:
        yield Polyline((laid.a, laid.b), STRETCH_MM, kind=MarkKind.BUNDLE, subject=laid.run.name)
    taken = Taken()
    for mark in _splices(tree):
        _take(taken.signs, mark)
        yield mark
    for mark in _nodes(network, tree):
        _take(taken.ends, mark)
        yield mark
    for laid in tree.laid:
        yield from fixed_shapes(laid, taken)
    for laid in tree.laid:
        yield from covering_ends(laid, taken)


def _take(ground: OutlineRaster, mark: Mark) -> None:
    for outline in mark.outlines:
        ground.add(outline)


def _splices(tree: LaidTree) -> Iterator[Mark]:
    for laid in tree.laid:
        for name, distance_mm in zip(laid.run.splices, laid.run.splice_distances_mm, strict=True):
            x, y = laid.at(distance_mm)
            yield Circle(x, y, SPLICE_MM, 0.0, fill=BLACK, kind=MarkKind.SPLICE, subject=name)


def _nodes(network: Network, tree: LaidTree) -> Iterator[Mark]:
    for node, place in tree.places.items():
        if node not in tree.outward_deg:
            yield Circle(*place, PEG_MM, 0.4, fill=WHITE, kind=MarkKind.BREAKOUT, subject=node)
            yield Circle(*place, 0.35, 0.0, fill=BLACK, kind=MarkKind.BREAKOUT, subject=node)
    for node, angle_deg in tree.outward_deg.items():
        yield from _end_marks(network, tree.spots[node], tree.places[node], angle_deg)


def _end_marks(network: Network, spot: LayoutSpot, place: Point, angle_deg: float) -> Iterator[Mark]:
    """Outlines of the connectors at the end of a leg, the stud under its rings, or a bare end."""
    along, across = (
        (cos(radians(angle_deg)), sin(radians(angle_deg))),
        (-sin(radians(angle_deg)), cos(radians(angle_deg))),
    )

    def at(forward_mm: float, aside_mm: float) -> Point:
        return (
            place[0] + forward_mm * along[0] + aside_mm * across[0],
            place[1] + forward_mm * along[1] + aside_mm * across[1],
        )

    deep_mm, _ = plate_size(network, spot)
    for name, low_mm, high_mm in plate_parts(network, spot):
        corners = (at(0, low_mm), at(deep_mm, low_mm), at(deep_mm, high_mm), at(0, high_mm), at(0, low_mm))
        yield Polyline(corners, 0.35, kind=MarkKind.FACE, subject=name)
    if not spot.connectors and spot.devices:
        radius_mm = deep_mm / 2
        yield Circle(*at(radius_mm, 0), radius_mm, 0.35, kind=MarkKind.FACE, subject=spot.devices[0])
        yield Circle(*at(radius_mm, 0), 0.6 * radius_mm, 0.35, kind=MarkKind.FACE, subject=spot.devices[0])
    if not spot.connectors and not spot.devices:
        yield Polyline((at(0, -3.0), at(0, 3.0)), 0.5, kind=MarkKind.BREAKOUT, subject=spot.node)


def _all_words(network: Network, tree: LaidTree) -> Iterator[Words]:
    """The words in the order in which they get their places: what stands at ends and breakouts first."""
    for node, place in tree.places.items():
        spot = tree.spots[node]
        if node in tree.outward_deg:
            yield from _end_words(network, spot, place, tree.outward_deg[node])
        else:
            names = (*spot.connectors, *spot.devices)
            lines = [spot.point]
            lines += [f"{listed(names)} here"] if names else []
            lines += [f"{listed(spot.splices)} here"] if spot.splices else []
            yield Words(tuple(lines), node, (place,), PEG_MM)
    for laid in tree.laid:
        yield from _splice_words(laid)
        yield from fixed_words(laid)
    for laid in tree.laid:
        yield _run_words(laid)


def _reminders(tree: LaidTree, grid: SheetGrid, labeller: Labeller, words: Sequence[Mark]) -> Iterator[Mark]:
    """The name of a long stretch once more on each sheet that shows nothing else of it but its line."""
    named = {mark.subject: [other.box for other in words if other.subject == mark.subject] for mark in words}
    for laid in tree.laid:
        for tile in grid.tiles:
            inner = cut_to(laid.a, laid.b, tile.area.inflate(-_EDGE_MM))
            if inner is None or any(tile.area.contains(box) for box in named.get(laid.run.name, ())):
                continue
            (ax, ay), (bx, by) = inner
            if hypot(bx - ax, by - ay) < _LONG_MM:
                continue
            middle = ((ax + bx) / 2, (ay + by) / 2)
            again = Words(
                (f"{laid.run.name}, {laid.run.text}",), laid.run.name, (middle,), STRETCH_MM, abs(ax - bx) < 1e-6
            )
            yield from labeller.place(again, is_needed=False)


def _end_words(network: Network, spot: LayoutSpot, place: Point, angle_deg: float) -> Iterator[Words]:
    deep_mm, wide_mm = plate_size(network, spot)
    dx, dy = cos(radians(angle_deg)), sin(radians(angle_deg))
    middle = (place[0] + dx * deep_mm / 2, place[1] + dy * deep_mm / 2)
    named = listed(spot.connectors or spot.devices)
    lines = [named or f"end at {spot.point}"]
    lines += [f"at {spot.point}"] if named and spot.point != named else []
    lines += [f"{listed(spot.devices)} here"] if spot.connectors and spot.devices else []
    lines += [f"{listed(spot.splices)} here"] if spot.splices else []
    beyond = (place[0] + dx * deep_mm, place[1] + dy * deep_mm)
    reach_mm = 0.0 if deep_mm else 1.5
    yield Words(tuple(lines), spot.node, (beyond, middle, place), max(reach_mm, 0.0) + (0.5 if wide_mm else 0.0))


def _splice_words(laid: Laid) -> Iterator[Words]:
    run = laid.run
    for name, from_start_mm in zip(run.splices, run.splice_distances_mm, strict=True):
        start, end = run.name.split(" to ")
        distance_mm = from_start_mm if run.datum_first else run.length_mm - from_start_mm
        datum = start if run.datum_first else end
        yield Words(
            (f"{name}", f"{plain_number(distance_mm, 1)} from {datum}"), name, (laid.at(from_start_mm),), SPLICE_MM
        )


def _run_words(laid: Laid) -> Words:
    run = laid.run
    long_mm = hypot(laid.b[0] - laid.a[0], laid.b[1] - laid.a[1])
    shares = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88]
    thick_mm = max((piece.diameter_mm for piece in run.pieces), default=0.0)
    details = [
        run.name,
        *([f"bundle {plain_number(thick_mm, 1)}"] if thick_mm else []),
        *([run.covering] if run.covering else []),
    ]
    is_upright = abs(laid.b[0] - laid.a[0]) < 1e-6 < long_mm
    lines = (f"{run.text}", ", ".join(filter(None, details)), *([run.remark] if run.remark else []))
    targets = tuple(laid.at(share * long_mm) for share in shares)
    return Words(lines, run.name, targets, STRETCH_MM, is_upright, MarkKind.DIMENSION_TEXT)
