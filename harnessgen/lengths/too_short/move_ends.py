"""Remedies at the ends of a wire that is too short: its connector turned or moved, its splice put elsewhere."""

import math
from collections.abc import Iterator
from dataclasses import replace

from harnessgen.design.records.reach import Reach
from harnessgen.lengths.reach import least_turn_deg
from harnessgen.lengths.too_short.trial import Bench, Edit, Remedy, RemedyKind
from harnessgen.lengths.wire_length import ROUNDING_MM
from harnessgen.lengths.wire_length_terms import reach_of
from harnessgen.measures.quantity import Quantity, plain_number, quantity_text
from harnessgen.network.route import Leg
from harnessgen.network.wires import EndKind, WireEnd
from harnessgen.source.place import NOWHERE, Place


def turns(bench: Bench) -> Iterator[Remedy | None]:
    """A connector at either end, turned towards its breakout by the smallest whole angle that suffices."""
    for end, reach, leg_mm in _free_ends(bench):
        angle = least_turn_deg(reach, leg_mm, bench.short_mm)
        if angle is not None:
            turned = replace(reach, turned_deg=Quantity(angle))
            words = f"turned: {plain_number(angle)} deg"
            yield _freed(bench, end, reach, turned, RemedyKind.TURN, words)


def brackets(bench: Bench) -> Iterator[Remedy | None]:
    """The bracket of a connector at either end, moved towards its breakout."""
    for end, reach, _ in _free_ends(bench):
        left_mm = reach.move_mm.value - reach.moved_mm.value
        if left_mm >= bench.short_mm:
            way_mm = _just_enough(bench.short_mm, left_mm)
            moved = replace(reach, moved_mm=Quantity(reach.moved_mm.value + way_mm))
            words = f"moved: {plain_number(moved.moved_mm.value)} mm"
            yield _freed(bench, end, reach, moved, RemedyKind.MOVE_BRACKET, words)


def _free_ends(bench: Bench) -> Iterator[tuple[WireEnd, Reach, float]]:
    wire = bench.wire
    for end, way in ((wire.a, wire.way[:1]), (wire.b, wire.way[-1:])):
        reach = reach_of(bench.network, end)
        if reach is not None and way:
            yield end, reach, way[0].stretch.length_mm.value


def _freed(bench: Bench, end: WireEnd, reach: Reach, used: Reach, kind: RemedyKind, words: str) -> Remedy | None:
    design = bench.network.design
    # One text may stand for all connectors of a bank: they are then turned alike.
    alike = [name for name, each in design.connectors.items() if each.reach is reach]
    connectors = {name: replace(design.connectors[name], reach=used) for name in alike}
    place = design.connectors[end.designator].where("reach")
    spelling = (Edit(place, reach_text(used)),)
    verb = "turn" if kind is RemedyKind.TURN else "move"
    names = alike[0] if len(alike) == 1 else f"each of {', '.join(alike)}"
    said = f"{verb} {names} towards its breakout, {words}"
    return bench.tried(
        replace(design, connectors={**design.connectors, **connectors}), kind, end.designator, said, spelling
    )


def reach_text(reach: Reach) -> str:
    """A reach as it is written in a file."""
    default = Reach()
    given = [
        (name, quantity_text(value, unit))
        for name, value, usual, unit in (
            ("turn", reach.turn_deg, default.turn_deg, "deg"),
            ("radius", reach.radius_mm, default.radius_mm, "mm"),
            ("bearing", reach.bearing_deg, default.bearing_deg, "deg"),
            ("turned", reach.turned_deg, default.turned_deg, "deg"),
            ("move", reach.move_mm, default.move_mm, "mm"),
            ("moved", reach.moved_mm, default.moved_mm, "mm"),
        )
        if value != usual
    ]
    return "{" + ", ".join(f"{name}: {text}" for name, text in given) + "}"


def splice_moves(bench: Bench) -> Iterator[Remedy | None]:
    """A splice at either end, moved along the stretch on which the wire leaves it."""
    wire = bench.wire
    for end, way in ((wire.a, wire.way), (wire.b, wire.way[::-1])):
        if end.kind is EndKind.SPLICE and way:
            yield _splice_move(bench, end, way[0])


def _splice_move(bench: Bench, end: WireEnd, leg: Leg) -> Remedy | None:
    """Move a splice along the stretch on which the wire leaves it, towards the wire's other end."""
    design = bench.network.design
    splice = design.splices[end.designator]
    is_onward = leg.start == end.route_node
    whole_mm = leg.stretch.length_mm.value
    at_mm = leg.offset_mm if is_onward else leg.offset_mm + leg.length_mm
    room_mm = whole_mm - at_mm if is_onward else at_mm
    way_mm = _just_enough(bench.short_mm, room_mm)
    if not bench.short_mm <= way_mm < room_mm:
        return None
    new_mm = at_mm + way_mm if is_onward else at_mm - way_mm
    ahead = leg.to_point if is_onward else leg.from_point
    moved = replace(splice, offset_mm=replace(splice.offset_mm, value=way_mm), toward=ahead)
    is_on_it = splice.toward in (leg.from_point, leg.to_point) and splice.offset_mm.value > 0.0
    if is_on_it:
        from_mm = new_mm if splice.at == leg.from_point else whole_mm - new_mm
        moved = replace(splice, offset_mm=replace(splice.offset_mm, value=round(from_mm, 6)))
    words = f"move {splice.name} {plain_number(way_mm, 1)} mm towards {ahead}"
    changed = replace(design, splices={**design.splices, splice.name: moved})
    text = quantity_text(moved.offset_mm, "mm")
    if "offset_mm" in splice.places and is_on_it:
        spellings: tuple[tuple[Edit, ...], ...] = ((Edit(splice.where("offset_mm"), text),),)
    else:
        spellings = tuple((edit,) for edit in _placed(splice.where("at"), splice.at, text, ahead))
    return bench.tried(changed, RemedyKind.MOVE_SPLICE, splice.name, words, *spellings)


def _placed(place: Place, at: str, offset: str, toward: str) -> Iterator[Edit]:
    """Ways to write a splice's offset where none stood: the point alone, inside braces, or on lines of their own."""
    if place == NOWHERE:
        return
    yield Edit(place, f"{{at: {at}, offset: {offset}, toward: {toward}}}")
    yield Edit(place, f"{at}, offset: {offset}, toward: {toward}")
    indent = " " * max(place.column - len("at: ") - 1, 0)
    yield Edit(place, f"{at}\n{indent}offset: {offset}\n{indent}toward: {toward}")


def _just_enough(short_mm: float, most_mm: float) -> float:
    """What is missing, in whole millimetres where there is room for it, else in tenths."""
    for step_mm in (1.0, 0.1):
        way_mm = math.ceil(short_mm / step_mm - ROUNDING_MM) * step_mm
        if way_mm < most_mm:
            return round(way_mm, 1)
    return most_mm
