"""From places and levels to marks: conductors, leads, joints, supply bars and the blocks on their columns."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from harnessgen.design.records.device import Supply
from harnessgen.drawings.circuit.elements.blocks import CircuitBlock
from harnessgen.drawings.circuit.elements.body_symbol import BodyTerminals, body_marks
from harnessgen.drawings.circuit.elements.cables import CONDUCTOR_MM
from harnessgen.drawings.circuit.elements.element_symbols import joined_names
from harnessgen.drawings.circuit.elements.graph import CircuitGraph, JunctionKind
from harnessgen.drawings.circuit.placement.columns import BAR_END_MM, SupplyBar
from harnessgen.drawings.circuit.placement.joints import JointForm, JointWords, Shape
from harnessgen.drawings.circuit.placement.layers import Layers, StrandColumn
from harnessgen.drawings.circuit.placement.levels import Levels
from harnessgen.measures.quantity import plain_number
from harnessgen.network.network import Network
from harnessgen.network.vehicle_wires import VehicleWire
from harnessgen.network.wires import Wire
from harnessgen.sheets.box import Point
from harnessgen.sheets.insulation_colours import BLACK, WHITE, base_and_stripe
from harnessgen.sheets.lettering import fit_text
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Circle, Conductor, Mark, Polyline

_BAR_TEXT_MM = 70.0
_BAR_OVER_MM = 1.2
_GIVEN_DASH_MM = (1.6, 0.9)
"""Strokes and gaps of a wire of the vehicle."""


@dataclass(frozen=True, slots=True)
class Placed:
    """A circuit with all its places and levels: what the marks are made from."""

    network: Network
    graph: CircuitGraph
    layers: Layers
    places: Sequence[float]
    forms: Mapping[str, JointForm]
    words: Mapping[str, JointWords]
    bars: Sequence[SupplyBar]
    levels: Levels
    module_mm: float


def supply_words(
    network: Network, graph: CircuitGraph, name: str, module_mm: float, *, is_first: bool
) -> tuple[str, str]:
    """Designator and figure of the supply at a junction as they stand over its bar; the title over the first bar."""
    device = network.design.devices[graph.junctions[name].device]
    figure = f"{plain_number(device.voltage_v.value)} V" if isinstance(device, Supply) else ""
    words = f"{figure} {device.title}" if is_first and device.title else figure
    return device.name, fit_text(words, _BAR_TEXT_MM, module_mm, module_mm)[0]


def supply_words_mm(network: Network, graph: CircuitGraph, name: str, module_mm: float, *, is_first: bool) -> float:
    """Width of what stands over the bar of a supply."""
    bold, plain = supply_words(network, graph, name, module_mm, is_first=is_first)
    marks = joined_names(bold, (plain,), 0.4 * module_mm, 0.0, module_mm, bold)
    return max(mark.box.x1 for mark in marks) + 0.4 * module_mm


def painted(placed: Placed) -> tuple[Mark, ...]:
    """All marks of a circuit, its leftmost text at x 0 and its highest joint at y 0."""
    marks: list[Mark] = []
    seen: set[str] = set()
    for bar in placed.bars:
        marks += _bar(placed, bar, is_first=bar.name not in seen)
        seen.add(bar.name)
    for place in range(len(placed.layers.columns)):
        marks += _column(placed, place)
    for form in placed.forms.values():
        marks += _joint(placed, form)
    return tuple(marks)


def _bar(placed: Placed, bar: SupplyBar, *, is_first: bool) -> list[Mark]:
    m, y = placed.module_mm, placed.levels.joints[bar.name]
    x0 = placed.places[bar.columns[0]] - BAR_END_MM
    x1 = max(placed.places[bar.columns[-1]] + BAR_END_MM, x0 + bar.text_mm)
    bold, plain = supply_words(placed.network, placed.graph, bar.name, m, is_first=is_first)
    line = Polyline(((x0, y), (x1, y)), 0.36 * m, kind=MarkKind.SUPPLY_BAR, subject=bold)
    return [line, *joined_names(bold, (plain,), x0 + 0.4 * m, y - 0.7 * m, m, bold)]


def _column(placed: Placed, place: int) -> list[Mark]:
    column, x = placed.layers.columns[place], placed.places[place]
    own = placed.levels.blocks[place]
    marks: list[Mark] = []
    for block, y in zip(column.blocks, own, strict=True):
        marks += [mark.shift(x, y) for mark in block.marks]
    stops: list[tuple[CircuitBlock | None, float, float]] = []
    if column.upper:
        form = placed.forms.get(column.upper)
        y = placed.levels.joints[column.upper] + (form.depth_mm(placed.module_mm) if form is not None else 0.0)
        stops.append((None, y, y))
    stops += [(block, y, y + block.length_mm) for block, y in zip(column.blocks, own, strict=True)]
    if column.lower:
        y = placed.levels.joints[column.lower]
        stops.append((None, y, y))
    for index, ((above, _, start), (below, end, _)) in enumerate(pairwise(stops)):
        points: tuple[Point, ...] = ((x, start), (x, end))
        if above is None and index == 0:
            points = (*_run(placed, column.upper, x, start), *points[1:])
        if below is None and index == len(stops) - 2:
            points = (*points[:-1], *_run(placed, column.lower, x, end)[::-1])
        marks.append(_line(placed, column, points, above, below))
    return marks


def _run(placed: Placed, name: str, x: float, y: float) -> tuple[Point, ...]:
    """From the dot of a joint level to the column; only the column where the joint is none or no dot."""
    form = placed.forms.get(name)
    if form is None or form.shape is not Shape.DOT or abs(form.at - x) < 0.02:
        return ((x, y),)
    return ((form.at, y), (x, y))


def _line(
    placed: Placed,
    column: StrandColumn,
    points: tuple[Point, ...],
    above: CircuitBlock | None,
    below: CircuitBlock | None,
) -> Mark:
    """The conductor or lead between two things that follow one another on a column."""
    wire = next((found for block in (above, below) if block is not None and (found := block.wire or block.given)), None)
    if wire is not None:
        return _conductor(wire, points)
    subject = _subject(column.upper if above is None else column.lower)
    if above is not None and below is not None:
        subject = above.marks[-1].subject
    return Polyline(points, 0.12 * placed.module_mm, kind=MarkKind.LEAD, subject=subject)


def _conductor(wire: Wire | VehicleWire, points: tuple[Point, ...]) -> Mark:
    if isinstance(wire, VehicleWire):
        # What the vehicle has is thin and dashed, so that nobody looks for it in the cut list.
        return Polyline(points, 0.25, dash_mm=_GIVEN_DASH_MM, kind=MarkKind.LEAD, subject=wire.mark)
    base, stripe = base_and_stripe(str(wire.colour))
    return Conductor(points, base, stripe, CONDUCTOR_MM, subject=wire.mark)


def _subject(joint: str) -> str:
    """The cavity that a joint stands for, so that its leads belong to it."""
    return joint.removesuffix(" mate").removesuffix(" contact")


def _joint(placed: Placed, form: JointForm) -> list[Mark]:
    joint, m = form.joint, placed.module_mm
    y = placed.levels.joints[joint.name]
    if joint.kind is JunctionKind.PIN:
        return _pin(placed, form, y)
    if joint.kind is JunctionKind.BODY:
        return _body(placed, form, y)
    is_splice = joint.kind is JunctionKind.SPLICE
    kind = MarkKind.SPLICE if is_splice else MarkKind.SYMBOL
    marks: list[Mark] = []
    if form.shape is Shape.BAR:
        run = ((form.left - _BAR_OVER_MM, y), (form.right + _BAR_OVER_MM, y))
        # A bar of metal is thick; a splice that fans out to many is thin, so that nobody takes it for one.
        marks.append(Polyline(run, (0.16 if is_splice else 0.36) * m, kind=kind, subject=joint.name))
    if form.shape is Shape.RAIL:
        marks += _rail(placed, form, y, kind)
    if is_splice:
        marks.append(Circle(form.at, y, 0.4 * m, 0, fill=BLACK, kind=kind, subject=joint.name))
    elif joint.kind is JunctionKind.TERMINAL:
        marks.append(Circle(form.at, y, 0.36 * m, 0.14 * m, fill=WHITE, kind=kind, subject=joint.name))
    words = placed.words[joint.name]
    if words.name:
        level = y + (1.35 if form.named_below else -0.75) * m
        marks += joined_names(words.name, (words.words,), form.at + 0.6 * m, level, m, joint.name)
    return marks


def _body(placed: Placed, form: JointForm, y: float) -> list[Mark]:
    """A device with three terminals: its symbol, the leads that fan out from it, and its words beside it."""
    m, joint = placed.module_mm, form.joint
    junction = placed.graph.junctions[joint.name]
    terminal = dict(junction.terminals)

    def side(places: Sequence[int]) -> tuple[tuple[str, float], ...]:
        return tuple(
            (terminal.get(placed.layers.columns[place].strand.element_at(joint.name), ""), placed.places[place])
            for place in sorted(places, key=lambda place: placed.places[place])
        )

    words = placed.words[joint.name]
    level = y + (form.depth_mm(m) + 1.35 * m if form.named_below else -0.75 * m)
    names = joined_names(words.name, (words.words,), form.at + 0.6 * m, level, m, words.name)
    return [*body_marks(junction.device, BodyTerminals(side(joint.above), side(joint.below)), form.at, y, m), *names]


def _pin(placed: Placed, form: JointForm, y: float) -> list[Mark]:
    """A pin that several circuits of a device share: thin leads that meet inside the device."""
    m, subject = placed.module_mm, _subject(form.joint.name)
    marks: list[Mark] = []
    if form.has_run:
        run = ((form.left, y), (form.right, y))
        marks.append(Polyline(run, 0.12 * m, kind=MarkKind.LEAD, subject=subject))
    dots = (Circle(x, y, 0.22 * m, 0, fill=BLACK, kind=MarkKind.SYMBOL, subject=subject) for x in _met(placed, form))
    return [*marks, *dots]


def _met(placed: Placed, form: JointForm) -> list[float]:
    """Places on a run where three leads or more meet."""
    xs = [placed.places[place] for place in form.joint.strands]
    found = []
    for x in sorted(set(xs)):
        sides = xs.count(x) + (x > form.left + 0.02) + (x < form.right - 0.02)
        if sides > 2:
            found.append(x)
    return found


def _rail(placed: Placed, form: JointForm, y: float, kind: MarkKind) -> list[Mark]:
    """Level pieces of conductor between dots, each in the colours of the wire that it leads outwards to."""
    m, joint = placed.module_mm, form.joint
    at: dict[float, int] = {}
    for place in joint.strands:
        at.setdefault(placed.places[place], place)
    xs = sorted(at)
    marks: list[Mark] = []
    for left, right in pairwise(xs):
        outer = left if right <= form.at + 0.02 else right
        wire = _end_wire(placed.layers.columns[at[outer]], joint.name)
        run = ((left, y), (right, y))
        if wire is not None:
            marks.append(_conductor(wire, run))
        else:
            marks.append(Polyline(run, 0.12 * m, kind=MarkKind.LEAD, subject=joint.name))
    inner = [x for x in xs if abs(x - form.at) > 0.02]
    fill = BLACK if kind is MarkKind.SPLICE else WHITE
    width_mm = 0.0 if kind is MarkKind.SPLICE else 0.14 * m
    marks += [Circle(x, y, 0.3 * m, width_mm, fill=fill, kind=kind, subject=joint.name) for x in inner]
    return marks


def _end_wire(column: StrandColumn, joint: str) -> Wire | VehicleWire | None:
    """The wire of a column at a joint, or None where a device is joined to it by a lead."""
    block = column.blocks[0] if column.upper == joint else column.blocks[-1]
    return block.wire or block.given
