"""A bench on which remedies for a wire that is too short are tried: the design is changed, its lengths made anew."""

import math
from collections.abc import Iterable, Mapping
from dataclasses import replace
from enum import Enum

from harnessgen.design.records.design import Design
from harnessgen.lengths.wire_length import ROUNDING_MM, WireLength, wire_length
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import Quantity, quantity_text
from harnessgen.network.network import Network
from harnessgen.network.route import Leg, Route, build_route
from harnessgen.network.wires import EndKind, Wire, WireEnd
from harnessgen.source.place import Place

_MOST_NAMED = 4


class RemedyKind(Enum):
    """What is done."""

    TURN = "turn the connector"
    MOVE_BRACKET = "move the bracket"
    LENGTHEN = "cut the wire longer"
    MOVE_SPLICE = "move the splice"
    MOVE_BREAKOUT = "move the breakout"


@frozen
class Edit:
    """A change of the file: the text that would stand at a place."""

    place: Place
    text: str


@frozen
class Effect:
    """What a remedy does to a wire: how much more it needs (negative: less) and what margin it is left with, in mm.

    `margin_mm` is None for a wire that is still to be cut: it is given what it needs.
    """

    mark: str
    change_mm: float
    margin_mm: float | None


@frozen
class Remedy:
    """A remedy that works: what is done to which thing, in words; what the wire wins; what it does to all wires.

    `spellings` are ways to write it, of which the first that the file can take is the right one: each a set of edits
    to be made together.
    """

    kind: RemedyKind
    subject: str
    words: str
    gain_mm: float
    effects: tuple[Effect, ...]
    spellings: tuple[tuple[Edit, ...], ...]


def least_cut_mm(length: WireLength) -> float:
    """The smallest length on the bench's step that reaches when cut within its tolerance."""
    step_mm = length.step.value.value
    own = length.given_mm is not None and not length.is_measured and (length.given_mm.plus or length.given_mm.minus)
    least_mm = length.given_mm.minus if own and length.given_mm is not None else length.cutting.value.minus
    return math.ceil((length.longest_need_mm + least_mm) / step_mm - ROUNDING_MM) * step_mm


def recut(length: WireLength, cut_mm: float) -> WireLength:
    """The same wire cut anew to `cut_mm`, with its own tolerance of cutting where it has one, else the shop's."""
    given = length.given_mm if length.given_mm is not None and not length.is_measured else Quantity(0.0)
    return replace(length, given_mm=replace(given, value=cut_mm), cut_mm=cut_mm, is_measured=False)


def recut_text(length: WireLength, cut_mm: float) -> str:
    """The length of a wire cut anew to `cut_mm`, as it is written in a file."""
    return quantity_text(recut(length, cut_mm).given_mm or Quantity(cut_mm), "mm")


class Bench:
    """Tries changed designs for one wire that is too short."""

    def __init__(self, network: Network, lengths: Mapping[str, WireLength], wire: Wire) -> None:
        self.network = network
        self.lengths = lengths
        self.wire = wire
        self.short_mm = -lengths[wire.mark].margin_mm

    def longer(self) -> Remedy:
        """The wire cut anew, or its stated length mended."""
        length = self.lengths[self.wire.mark]
        cut_mm = least_cut_mm(length)
        text = recut_text(length, cut_mm)
        words = f"a new wire, cut to {text}" if length.is_measured else f"cut: {text}"
        edit = Edit(self.wire.cut_place, text)
        return Remedy(RemedyKind.LENGTHEN, self.wire.mark, words, cut_mm - length.cut_mm, (), ((edit,),))

    def tried(
        self, design: Design, kind: RemedyKind, subject: str, words: str, *spellings: tuple[Edit, ...]
    ) -> Remedy | None:
        """The remedy if the changed design cures the wire and harms no other; else None."""
        effects = self._effects(design)
        own = next((each for each in effects if each.mark == self.wire.mark), None)
        if own is None or own.margin_mm is None or own.margin_mm < -ROUNDING_MM:
            return None
        for each in effects:
            before = self.lengths[each.mark].margin_mm
            if each.margin_mm is not None and each.margin_mm < -ROUNDING_MM <= before:
                return None
        others = [each for each in effects if each.mark != self.wire.mark]
        gain_mm = -own.change_mm
        said = f"{words} (wins {gain_mm:.1f} mm{_others(others)})"
        return Remedy(kind, subject, said, gain_mm, tuple(effects), spellings)

    def _effects(self, design: Design) -> list[Effect]:
        after = rerouted(self.network, design)
        found: list[Effect] = []
        freed = {
            name for name, each in design.connectors.items() if each is not self.network.design.connectors.get(name)
        }
        for old, new in zip(self.network.wires, after.wires, strict=True):
            if old == new and not any(end.designator in freed for end in old.ends):
                continue
            length, before = wire_length(after, new), self.lengths[old.mark]
            change_mm = length.needed_mm - before.needed_mm
            if old.mark == self.wire.mark or abs(change_mm) > ROUNDING_MM:
                margin_mm = length.margin_mm if length.given_mm is not None else None
                found.append(Effect(old.mark, change_mm, margin_mm))
        return found


def rerouted(network: Network, design: Design) -> Network:
    """The network of a design in which only places and lengths differ, with the same wires along the changed route."""
    route = build_route(design)
    wires = tuple(_laid(wire, route) for wire in network.wires)
    return replace(network, design=design, route=route, wires=wires)


def _laid(wire: Wire, route: Route) -> Wire:
    a, b = (_end_on(route, end) for end in wire.ends)
    path = route.path(a.route_node, b.route_node) or []
    return replace(wire, a=a, b=b, way=tuple(leg for leg in path if isinstance(leg, Leg)))


def _end_on(route: Route, end: WireEnd) -> WireEnd:
    if end.kind is not EndKind.SPLICE:
        return end
    return replace(end, route_node=route.splice_node(end.designator))


def _others(effects: Iterable[Effect]) -> str:
    said = [
        f"{each.mark} needs {abs(each.change_mm):.1f} mm {'more' if each.change_mm > 0 else 'less'}" for each in effects
    ]
    if not said:
        return ""
    more = f", and {len(said) - _MOST_NAMED} others change" if len(said) > _MOST_NAMED else ""
    return "; " + ", ".join(said[:_MOST_NAMED]) + more
