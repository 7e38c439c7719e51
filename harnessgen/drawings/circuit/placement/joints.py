"""The form of each joint once the columns have their places: a dot, a bar, or a rail of level pieces."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from types import MappingProxyType

from harnessgen.design.records.device import Device, Load
from harnessgen.drawings.circuit.elements.body_symbol import depth_mm
from harnessgen.drawings.circuit.elements.element_symbols import figure_text, joined_names
from harnessgen.drawings.circuit.elements.graph import CircuitGraph, JunctionKind
from harnessgen.drawings.circuit.elements.readings import Readings, volt_words
from harnessgen.drawings.circuit.placement.layers import Joint, Layers
from harnessgen.network.network import Network
from harnessgen.sheets.lettering import fit_text

_SAME_MM = 0.02
_BAR_OVER_MM = 1.2
"""How far a bar reaches beyond its outer conductors."""
_CLEAR_MM = 2.0
_MOST_WORDS_MM = 40.0


class Shape(Enum):
    """How a joint is drawn."""

    DOT = "dot"
    """A dot with at most one conductor on each of its four sides."""
    BAR = "bar"
    """A level bar on which each conductor ends by itself; nothing crosses it."""
    RAIL = "rail"
    """A level run of pieces between dots, which other conductors may cross."""
    BODY = "body"
    """The symbol of a device with three terminals, and the thin leads that fan out from it."""


@dataclass(frozen=True, slots=True)
class JointForm:
    """A joint with its shape, the place of its dot and the level run from `left` to `right`, millimetres.

    `named_below` puts its words under the run, where no column comes down to the dot.
    """

    joint: Joint
    shape: Shape
    at: float
    left: float
    right: float
    named_below: bool

    def depth_mm(self, module_mm: float) -> float:
        """How far it reaches down between the strands above and below it."""
        is_body = self.shape is Shape.BODY
        return depth_mm(len(self.joint.above), len(self.joint.below), module_mm) if is_body else 0.0

    @property
    def has_run(self) -> bool:
        """Whether there is anything level to draw."""
        return self.right - self.left > _SAME_MM


def joint_forms(layers: Layers, places: Sequence[float]) -> dict[str, JointForm]:
    """The form of every joint but supplies, by name."""
    return {
        name: _form(layers, joint, places)
        for name, joint in layers.joints.items()
        if joint.kind is not JunctionKind.SUPPLY
    }


@dataclass(frozen=True, slots=True)
class JointWords:
    """What is printed beside a joint: a name in bold and words after it; both may be empty."""

    name: str = ""
    words: str = ""

    def width_mm(self, module_mm: float) -> float:
        """Room to the right of the joint that the words take, millimetres; 0 without words."""
        if not self.name:
            return 0.0
        marks = joined_names(self.name, (self.words,), 0.6 * module_mm, 0.0, module_mm, "")
        return max(mark.box.x1 for mark in marks) + 1.0


def joint_words(
    network: Network,
    graph: CircuitGraph,
    joint: Joint,
    readings: Readings | None = None,
    references: Mapping[str, str] = MappingProxyType({}),
) -> JointWords:
    """The number of a splice, the name of a bus bar or body, or a cavity that nothing else names.

    The change-over contact of a relay says where its coil is: `references` by name of its element.
    """
    if joint.kind is JunctionKind.SPLICE:
        return JointWords(joint.name)
    if joint.kind is JunctionKind.BODY:
        return _body_words(network, network.design.devices[graph.junctions[joint.name].device], readings, references)
    if joint.kind is JunctionKind.BUS:
        name = graph.junctions[joint.name].device
        return JointWords(name, fit_text(network.design.devices[name].title, _MOST_WORDS_MM, 2.0, 2.0)[0])
    is_terminal = joint.kind is JunctionKind.TERMINAL
    if is_terminal and all(each.kind.is_wire for each in network.elements_at(joint.name)):
        return JointWords(joint.name.replace("/", " "))
    return JointWords()


def _body_words(
    network: Network, device: Device, readings: Readings | None, references: Mapping[str, str]
) -> JointWords:
    if not isinstance(device, Load):
        words = (device.title, references.get(f"{device.name} 30-87", ""))
        return JointWords(device.name, fit_text(", ".join(filter(None, words)), _MOST_WORDS_MM, 2.0, 2.0)[0])
    element = next(each for each in network.electrical.elements if each.device is device)
    figure = figure_text(network, element)
    # The figure of a sensor is that of each of its two halves.
    parts = (f"2 x {figure}" if figure else "", volt_words(readings, device.name), device.title)
    return JointWords(device.name, fit_text(" ".join(part for part in parts if part), _MOST_WORDS_MM, 2.0, 2.0)[0])


def _form(layers: Layers, joint: Joint, places: Sequence[float]) -> JointForm:
    xs = sorted(places[place] for place in joint.strands)
    left, right = xs[0], xs[-1]
    at, shape = _dot_place(joint, places), Shape.DOT
    if joint.kind is JunctionKind.BODY:
        at, shape = _middle_place(joint, places), Shape.BODY
    elif joint.kind is JunctionKind.PIN:
        at, shape = None, Shape.RAIL
    elif at is None or joint.kind is JunctionKind.BUS:
        at, shape = None, Shape.RAIL if _is_crossed(layers, joint, places, left, right) else Shape.BAR
    if at is None:
        at = _middle_place(joint, places)
    named_below = all(abs(places[place] - at) > _SAME_MM for place in joint.above)
    return JointForm(joint, shape, at, left, right, named_below)


def _dot_place(joint: Joint, places: Sequence[float]) -> float | None:
    """Where a dot has at most one conductor on each side, the trunk's place first; None if there is no such place."""
    few = min((joint.above, joint.below), key=len)
    preferred = [places[few[0]]] if len(few) == 1 else []
    others = sorted(places[place] for place in joint.strands)
    middle = (others[0] + others[-1]) / 2
    others.sort(key=lambda x: abs(x - middle))
    for at in (*preferred, *others):
        left = sum(places[place] < at - _SAME_MM for place in joint.strands)
        right = sum(places[place] > at + _SAME_MM for place in joint.strands)
        if left <= 1 and right <= 1:
            return at
    return None


def _middle_place(joint: Joint, places: Sequence[float]) -> float:
    """Place of the trunk where there is one, else of the column nearest the middle."""
    for side in sorted((joint.above, joint.below), key=len):
        if len(side) == 1:
            return places[side[0]]
    xs = sorted(places[place] for place in joint.strands)
    return min(xs, key=lambda x: abs(x - (xs[0] + xs[-1]) / 2))


def _is_crossed(layers: Layers, joint: Joint, places: Sequence[float], left: float, right: float) -> bool:
    own = set(joint.strands)
    return any(
        place not in own
        and column.top <= joint.layer <= column.bottom
        and left - _BAR_OVER_MM - _CLEAR_MM < places[place] < right + _BAR_OVER_MM + _CLEAR_MM
        for place, column in enumerate(layers.columns)
    )
