"""For the rules on grounds, standard pins and lengths without sense: what breaks a good design so, and what nearly does."""

import re

from harnessgen.design.records.device import Ground, Relay
from harnessgen.measures.quantity import plain_number
from tests.mutators import Change, Good, Mutator, free_cavity, sized, under, with_studs
from tests.mutators_electrical import HAIR, with_block

HAIR_MM = 0.1


def _line(text: str, piece: str) -> int:
    return text[: text.index(piece)].count("\n") + 1


def _ground_limit(good: Good, by: float) -> Change | None:
    """A limit beside the resistance of the poorest ground point of the vehicle."""
    grounds = [
        each
        for each in good.network.design.devices.values()
        if isinstance(each, Ground) and each.cavity is None and each.resistance_ohm.value > 0.0
    ]
    grounds.sort(key=lambda each: -each.resistance_ohm.value)
    if not grounds or (len(grounds) > 1 and grounds[1].resistance_ohm.value == grounds[0].resistance_ohm.value):
        return None
    ohm = grounds[0].resistance_ohm.value * (1.0 + by)
    text = with_block(good.text, "limits", f"{{ground-resistance: {ohm:.9f} ohm}}")
    place = grounds[0].where("resistance_ohm")
    return Change(text, place.line if by < 0.0 else 0) if text is not None else None


def poorly_grounded(good: Good) -> Change | None:
    """A ground point a hair above the limit."""
    return _ground_limit(good, -HAIR)


def well_grounded(good: Good) -> Change | None:
    """A hair below it."""
    return _ground_limit(good, HAIR)


def _in_return(good: Good, block: str, name: str, figures: str) -> Change | None:
    """A small load whose return runs through a thing with the terminals `in` and `out`."""
    fuse, ground = good.live_fuse(), good.device(Ground)
    if fuse is None or ground is None:
        return None
    look = sized(fuse[1])
    lines = (
        f"777: {{from: {fuse[0]}, to: E99/1, {look}}}",
        f"778: {{from: E99/2, to: {name}/in, {look}}}",
    )
    text = under(with_studs(good, good.text, lines), "loads", f"E99: {{resistance: 1 kohm, at: {ground.at}}}").text
    text = under(text, block, f"{name}: {{{figures}, at: {ground.at}, direct: {{out: {ground.name}}}}}").text
    if block == "switches":
        text = under(text, "states", f"s99: {{on: {name}}}").text
    text = under(text, "circuits", *lines).text
    return Change(text, _line(text, f"  {name}: "))


def fused_return(good: Good) -> Change | None:
    """A fuse in it."""
    return _in_return(good, "fuses", "F99", "rating: 3 A")


def switched_return(good: Good) -> Change | None:
    """A switch in it."""
    return _in_return(good, "switches", "SW99", "current: 3 A")


def _sensor(good: Good, ground: str) -> Change | None:
    """A sensor on a supply of the controller, returned to a ground point of its own or to that of others."""
    cavity, block = free_cavity(good), good.device(Ground)
    if not cavity or block is None or not any(isinstance(each.device, Relay) for each in good.elements):
        return None
    wires = good.network.wires_at.get(block.name, [])
    thin = [wire for wire in good.network.wires if any(e.designator == cavity.partition("/")[0] for e in wire.ends)]
    if not wires or not thin:
        return None
    look = sized(thin[0])
    text = under(good.text, "loads", f"N99: {{kind: sensor, resistance: 50 kohm, at: {block.at}}}").text
    text = under(text, "supplies", f"V99: {{voltage: 5 V, resistance: 20 ohm, cavity: {cavity}}}").text
    text = under(text, "grounds", f"G99: {{at: {block.at}, resistance: 1 mohm}}").text
    lines = f"778: {{from: N99/2, to: {ground.format(block.name)}, {look}}}", f"777: {{from: V99, to: N99/1, {look}}}"
    return under(text, "circuits", *lines)


def sensing_power(good: Good) -> Change | None:
    """The ground point that coils and the controller return to."""
    return _sensor(good, "{}")


def sensing_alone(good: Good) -> Change | None:
    """A ground point of its own."""
    change = _sensor(good, "G99")
    return None if change is None else Change(change.text)


def _pins(good: Good, feed: str) -> Change | None:
    """A lamp of the trailer's kind through two cavities of a standard connector."""
    fuse, ground = good.live_fuse(), good.device(Ground)
    cavity = free_cavity(good)
    if fuse is None or ground is None or not cavity:
        return None
    # Where the controller is, it is as cool as such a connector has to have it.
    place = good.network.design.connectors[cavity.partition("/")[0]].at
    text = under(good.text, "connectors", f"C99: {{part: trailer-7, at: {place}}}").text
    text = under(
        text, "loads", "E99: {title: left indicator, resistance: 1 kohm, terminals: {1: C99/%s, 2: C99/3}}" % feed
    ).text
    look = re.sub(r"size: .*", "size: 1.5 mm2", sized(fuse[1]))
    lines = f"777: {{from: {fuse[0]}, to: C99/{feed}, {look}}}", f"778: {{from: C99/3, to: {ground.name}, {look}}}"
    return under(with_studs(good, text, lines), "circuits", *lines)


def exchanged(good: Good) -> Change | None:
    """The left indicator in the cavity of the right one."""
    return _pins(good, "4")


def allocated(good: Good) -> Change | None:
    """In its own."""
    change = _pins(good, "1")
    return None if change is None else Change(change.text)


def _stub(good: Good, plus: float) -> Change | None:
    """A branch of the route in which nothing lies, 40 mm long."""
    stretch = good.network.route.legs[0].stretch
    lines = good.text.split("\n")
    number = stretch.where("covering").line if stretch.covering else stretch.place.line
    lines.insert(number, f"    x99: {{length: 40 mm +{plus:g}/-0 mm}}")
    return Change("\n".join(lines), number + 1 if plus > 40.0 else 0)


def vague(good: Good) -> Change | None:
    """Its tolerance a hair larger than itself."""
    return _stub(good, 40.0 + HAIR_MM)


def less_vague(good: Good) -> Change | None:
    """A hair smaller."""
    return _stub(good, 40.0 - HAIR_MM)


def _bridge(good: Good, by_mm: float) -> Change | None:
    """A lamp's return at the ground point, with just so much slack."""
    fuse, ground = good.live_fuse(), good.device(Ground)
    if fuse is None or ground is None:
        return None
    look = sized(fuse[1])
    feed = f"777: {{from: {fuse[0]}, to: E99/1, {look}}}"
    text = with_studs(good, good.text, (feed,))
    text = under(text, "loads", f"E99: {{resistance: 1 kohm, at: {ground.at}, terminal: tab-6.3}}").text
    contacts = good.network.parts.contacts
    mm = contacts["tab-6.3"].strip_mm.value + contacts[ground.contact or "ring-m6"].strip_mm.value + by_mm
    return under(text, "circuits", f"778: {{from: E99/2, to: {ground.name}, {look}, cut: {plain_number(mm)} mm}}", feed)


def all_stripped(good: Good) -> Change | None:
    """As long as both strips."""
    return _bridge(good, 0.0)


def not_all_stripped(good: Good) -> Change | None:
    """A little longer."""
    change = _bridge(good, HAIR_MM)
    return None if change is None else Change(change.text)


SENSE: dict[str, tuple[Mutator, Mutator]] = {
    "poor-ground": (poorly_grounded, well_grounded),
    "fused-ground": (fused_return, switched_return),
    "sensor-ground": (sensing_power, sensing_alone),
    "pin-function": (exchanged, allocated),
    "tolerance-exceeds-length": (vague, less_vague),
    "shorter-than-ends": (all_stripped, not_all_stripped),
}
"""For each of these rules what breaks a good design in that way, and what nearly does."""
