"""For each rule a change that breaks a good design in that one way, and one that nearly does."""

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import pairwise

from harnessgen.design.records.device import Device, Driver, Fuse, Ground, Supply, Switch
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.network.electrical import Element, mate_of
from harnessgen.network.network import Network
from harnessgen.network.wires import EndKind, Wire
from harnessgen.physics.physics import Physics
from harnessgen.rules.cavity.terminal_misfit import misfits
from harnessgen.rules.loading.steady import highest_steady
from harnessgen.rules.protection.fused import protected
from harnessgen.rules.protection.guards import guards
from harnessgen.source.place import Place


@dataclass(frozen=True, slots=True)
class Change:
    """A changed design, and the line at which the finding belongs; 0 where none does."""

    text: str
    line: int = 0


@dataclass(frozen=True, slots=True)
class Good:
    """A good design: its text, and what was made of it."""

    text: str
    physics: Physics

    @property
    def network(self) -> Network:
        """The network of the design."""
        return self.physics.network

    @property
    def elements(self) -> tuple[Element, ...]:
        """The electrical elements of the design."""
        return self.physics.network.electrical.elements

    def device(self, kind: type[Device], key: Callable[[Device], float] = lambda each: 0.0) -> Device | None:
        """The first device of a kind that stands at a point of the route by itself."""
        found = [each for each in self.network.design.devices.values() if isinstance(each, kind) and each.at]
        return min(found, key=key, default=None)

    def live_fuse(self) -> tuple[str, Wire] | None:
        """The fuse of the lowest rating that is live in every state and has a wire behind it: its way out, the wire."""
        found: list[tuple[float, str, Wire]] = []
        for each in self.elements:
            node = f"{each.name}/out"
            if isinstance(each.device, Fuse) and node in self.network.wires_at:
                volts = min(abs(point.volts[node]) for point in self.physics.points.values())
                if volts > 9.0:
                    found.append((each.device.rating_a.value, node, self.network.wires_at[node][0]))
        return min(found, default=("", "", None), key=lambda each: each[0])[1:] if found else None  # type: ignore[return-value]


Mutator = Callable[[Good], Change | None]


def at(text: str, place: Place, new: str) -> str:
    """The text with another piece at a place."""
    return text[: place.start] + new + text[place.end :]


def under(text: str, block: str, *lines: str) -> Change:
    """The text with lines put first into a block of the file, which is added where it is missing; the first's line."""
    head = f"\n{block}:\n"
    if head not in text:
        text = text.rstrip("\n") + f"\n{head}"
    start = text.index(head) + len(head)
    added = "".join(f"  {line}\n" for line in lines)
    return Change(text[:start] + added + text[start:], text[:start].count("\n") + 1)


def added(good: Good, *circuits: str, **blocks: str) -> Change:
    """The design with circuits put first among its circuits, and other lines into other blocks; the first's line."""
    text = good.text
    text = with_studs(good, text, circuits)
    for block, line in blocks.items():
        text = under(text, block, line).text
    return under(text, "circuits", *circuits)


def with_studs(good: Good, text: str, circuits: tuple[str, ...]) -> str:
    """The text, of the same lines, with studs in place of tabs on the devices that the circuits lead a second wire to."""
    for node in sorted(set(re.findall(r"[A-Z]+\d+(?:/\w+)?", " ".join(circuits))) & good.network.wires_at.keys()):
        device = good.network.design.devices.get(node.partition("/")[0])
        if device is None:
            continue
        contact = good.network.contact_at(next(e for e in good.network.wires_at[node][0].ends if e.node == node))
        if contact is None or contact.stack is None:
            continue
        own = good.text.split("\n")[device.place.line - 1]
        stud = re.sub(r"terminal: [^,}]*", "terminal: ring-m5", own)
        text = text.replace(own, stud if stud != own else f"{own[:-1]}, terminal: ring-m5}}")
    return text


def plain_wires(good: Good) -> list[tuple[Wire, Place]]:
    """Wires that are the only one of their circuit, which is written on one line, with the place of its number."""
    found: list[tuple[Wire, Place]] = []
    for wire in good.network.wires:
        alone = sum(each.circuit == wire.circuit for each in good.network.wires) == 1
        line = good.text.split("\n")[wire.place.line - 1]
        if alone and not wire.bank and re.fullmatch(rf"  {wire.circuit}: \{{from: [^,]*, to: [^,]*, color.*\}}", line):
            found.append((wire, wire.place))
    return found


def line_with(text: str, line: int, tail: str) -> str:
    """The text with more keys at the end of the mapping that a line holds."""
    lines = text.split("\n")
    assert lines[line - 1].endswith("}")
    lines[line - 1] = lines[line - 1][:-1] + tail + "}"
    return "\n".join(lines)


def sized(wire: Wire) -> str:
    """Size and colour of a wire as a circuit writes them."""
    return f"color: VT, size: {wire.size}"


# Ways that should be there, and ways that should not.


def short(good: Good) -> Change | None:
    """A wire from the battery to ground."""
    supply, ground = good.device(Supply), good.device(Ground)
    assert supply is not None
    assert ground is not None
    wire = good.network.wires_at[supply.name][0]
    return added(good, f"777: {{from: {supply.name}, to: {ground.name}, {sized(wire)}}}")


def no_short(good: Good) -> Change | None:
    """A second wire beside the one from the battery to its fuse."""
    supply = good.device(Supply)
    assert supply is not None
    wire = good.network.wires_at[supply.name][0]
    return added(good, f"777: {{from: {wire.a}, to: {wire.b}, {sized(wire)}}}")


def dead(good: Good) -> Change | None:
    """A load whose feed was forgotten."""
    ground = good.device(Ground)
    assert ground is not None
    load = f"E99: {{resistance: 1 kohm, at: {ground.at}, direct: {{2: {ground.name}}}}}"
    return under(good.text, "loads", load)


def not_dead(good: Good) -> Change | None:
    """The same load, with its feed."""
    return _lamp(good, "{fuse}", "E99/1")


def _lamp(good: Good, start: str, end: str, *more: str, tail: str = "", direct: bool = True) -> Change | None:
    """A small load at the ground point, fed from `start` to `end`."""
    fuse, ground = good.live_fuse(), good.device(Ground)
    if fuse is None or ground is None:
        return None
    back = f", direct: {{2: {ground.name}}}" if direct else ""
    load = f"E99: {{resistance: 1 kohm, at: {ground.at}{back}}}"
    first = f"777: {{from: {start.format(fuse=fuse[0])}, to: {end}{tail}, {sized(fuse[1])}}}"
    rest = [each.format(ground=ground.name, look=sized(fuse[1])) for each in more]
    return added(good, *rest, first, loads=load) if rest else added(good, first, loads=load)


def groundless(good: Good) -> Change | None:
    """A load whose return ends at a bus that leads nowhere."""
    change = _lamp(good, "{fuse}", "E99/1", "778: {{from: E99/2, to: B99, {look}}}", direct=False)
    return _with_bus(good, change)


def grounded(good: Good) -> Change | None:
    """The same with the bus led to ground."""
    more = ("778: {{from: E99/2, to: B99, {look}}}", "779: {{from: B99, to: {ground}, {look}}}")
    return _with_bus(good, _lamp(good, "{fuse}", "E99/1", *more, direct=False))


def _with_bus(good: Good, change: Change | None) -> Change | None:
    ground = good.device(Ground)
    if change is None or ground is None:
        return None
    text = under(change.text, "buses", f"B99: {{at: {ground.at}}}").text
    return Change(text, _line(text, "  778: "))


def _line(text: str, piece: str) -> int:
    return text[: text.index(piece)].count("\n") + 1


def chattering(good: Good) -> Change | None:
    """A relay whose coil hangs on its own rest contact."""
    return _relay(good, "K99/87a")


def resting(good: Good) -> Change | None:
    """The same relay with its coil on the fuse."""
    return _relay(good, "K99/30")


def _relay(good: Good, feed: str) -> Change | None:
    fuse, ground = good.live_fuse(), good.device(Ground)
    if fuse is None or ground is None:
        return None
    look = sized(fuse[1])
    change = added(
        good,
        f"777: {{from: {fuse[0]}, to: K99/30, {look}}}",
        f"778: {{from: {feed}, to: K99/86, {look}}}",
        f"779: {{from: K99/85, to: {ground.name}, {look}}}",
        relays=f"K99: {{part: plug-in-change-over, at: {ground.at}, suppression: resistor, terminal: ring-m5}}",
    )
    return Change(change.text, _line(change.text, "  K99: "))


def same_number(good: Good) -> Change | None:
    """Two circuits under one number."""
    plain = [wire for wire, _ in plain_wires(good)]
    for one, other in pairwise(plain):
        if good.network.net_of[one.a.node] != good.network.net_of[other.a.node]:
            return _as_runs(good, one, other)
    return None


def own_number(good: Good) -> Change | None:
    """A circuit that is written run by run, with the wire that carries it on."""
    plain = [wire for wire, _ in plain_wires(good)]
    for one in plain:
        for other in plain:
            is_after = other.place.line > one.place.line
            if (
                is_after
                and one.size == other.size
                and good.network.net_of[one.a.node] == good.network.net_of[other.a.node]
            ):
                return _as_runs(good, one, other)
    return None


def _as_runs(good: Good, one: Wire, other: Wire) -> Change:
    lines = good.text.split("\n")
    runs = [f"      - {{from: {wire.a}, to: {wire.b}, size: {wire.size}}}" for wire in (one, other)]
    lines[other.place.line - 1] = "#"
    lines[one.place.line - 1] = "\n".join(
        (f"  {one.circuit}:", "    color: VT", f"    size: {one.size}", "    runs:", *runs)
    )
    return Change("\n".join(lines), one.place.line + 5)


def sneaking(good: Good) -> Change | None:
    """A load that works in a state stands among those that are off in it."""
    for state, point in good.physics.points.items():
        listed = good.network.design.states[state].off
        for each in good.elements:
            loads = good.network.design.loads
            if each.name in loads and each.name not in listed and abs(point.amperes[each.name]) > 0.01 and listed:
                place = good.network.design.states[state].where("off")
                names = ", ".join((*listed, each.name))
                return Change(at(good.text, place, f"[{names}]"), place.line)
    return None


def not_sneaking(good: Good) -> Change | None:
    """The last load is struck from what is off in a state."""
    for state in good.network.design.states.values():
        if len(state.off) > 1:
            return Change(at(good.text, state.where("off"), f"[{', '.join(state.off[:-1])}]"))
    return None


# Cavities.


def free_cavity(good: Good) -> str:
    """A cavity of a controller's header with neither wire nor device; empty where there is none."""
    for name, connector in good.network.design.connectors.items():
        if not connector.part.startswith("header"):
            continue
        for cavity in good.network.connector_part(name).cavities:
            node = f"{name}/{cavity}"
            if node not in good.network.wires_at and mate_of(node) not in good.network.electrical.nodes:
                return node
    return ""


def orphan(good: Good) -> Change | None:
    """A wire to a cavity behind which nothing stands."""
    cavity, fuse = free_cavity(good), good.live_fuse()
    if not cavity or fuse is None:
        return None
    look = sized(_in_connector(good, cavity))
    return added(good, f"777: {{from: {fuse[0]}, to: {cavity}, {look}}}")


def _in_connector(good: Good, cavity: str) -> Wire:
    name = cavity.partition("/")[0]
    wires = [wire for wire in good.network.wires for end in wire.ends if end.designator == name]
    return min(wires, key=lambda wire: wire.figures.area_mm2.value)


def no_orphan(good: Good) -> Change | None:
    """The same wire, with a device behind the cavity."""
    change, ground = orphan(good), good.device(Ground)
    if change is None or ground is None:
        return None
    load = f"E99: {{resistance: 1 kohm, terminals: {{1: {free_cavity(good)}}}, direct: {{2: {ground.name}}}}}"
    return Change(under(change.text, "loads", load).text)


def doubled(good: Good) -> Change | None:
    """A second wire into a cavity."""
    for wire, place in plain_wires(good):
        kinds = {end.kind: end for end in wire.ends}
        cavity, landing = kinds.get(EndKind.CAVITY), kinds.get(EndKind.LANDING)
        if cavity is not None and landing is not None and cavity.designator in good.network.design.connectors:
            second = f"  777: {{from: {landing}, to: {cavity}, {sized(wire)}}}"
            lines = with_studs(good, good.text, (second,)).split("\n")
            lines.insert(place.line, second)
            return Change("\n".join(lines), place.line + 1)
    return None


def unmated(good: Good) -> Change | None:
    """A wire in one half of a disconnect and none in the other."""
    free, fuse = _free_mate(good), good.live_fuse()
    if not free or fuse is None:
        return None
    name, cavity = free
    look = sized(_in_half(good, name))
    return added(good, f"777: {{from: {fuse[0]}, to: {name}s/{cavity}, {look}}}")


def _free_mate(good: Good) -> tuple[str, str] | None:
    for name in good.network.design.disconnects:
        for cavity in good.network.connector_part(f"{name}s").cavities:
            if not any(f"{name}{half}/{cavity}" in good.network.wires_at for half in "sp"):
                return name, cavity
    return None


def _in_half(good: Good, name: str) -> Wire:
    return _in_connector(good, f"{name}s/1")


def mated(good: Good) -> Change | None:
    """A wire that goes on through both halves to a load on the other side."""
    free, fuse, ground = _free_mate(good), good.live_fuse(), good.device(Ground)
    if not free or fuse is None or ground is None:
        return None
    name, cavity = free
    wire = _in_half(good, name)
    beyond = list(good.network.design.sections.values())[-1].holds
    load = f"E99: {{resistance: 1 kohm, at: {beyond}, direct: {{2: {ground.name}}}}}"
    return added(good, f"777: {{from: {fuse[0]}, to: E99/1, through: {name}/{cavity}, {sized(wire)}}}", loads=load)


def _resized(wire: Wire, label: str) -> Wire:
    return replace(wire, size=ConductorSize(wire.family.system, label), figures=wire.family.sizes[label])


def _size_changes(good: Good, *, fits: bool) -> Change | None:
    """The first wire that can be made larger so that it fits, or does not fit, its terminals and seals."""
    for wire, _ in plain_wires(good):
        cavities = [end for end in wire.ends if end.kind is EndKind.CAVITY]
        for label, figures in wire.family.sizes.items():
            if figures.area_mm2.value <= wire.figures.area_mm2.value or not cavities:
                continue
            other = _resized(wire, label)
            seals = [seal for end in wire.ends if (seal := good.network.seal_at(end)) is not None]
            is_sealed = all(seal.from_mm.value <= figures.diameter_mm.value <= seal.to_mm.value for seal in seals)
            is_fitting = not misfits(good.network, other)
            if fits is is_fitting and (is_sealed or not fits):
                return Change(at(good.text, wire.size_place, str(other.size)), wire.size_place.line)
    return None


def misfit(good: Good) -> Change | None:
    """A wire too thick for its terminal."""
    return _size_changes(good, fits=False)


def no_misfit(good: Good) -> Change | None:
    """A thicker wire that just fits."""
    return _size_changes(good, fits=True)


def unsealed(good: Good) -> Change | None:
    """A seal for another diameter in one cavity."""
    return _sealed(good, fits=False)


def sealed(good: Good) -> Change | None:
    """A seal that fits, named for the cavity itself."""
    return _sealed(good, fits=True)


def _sealed(good: Good, *, fits: bool) -> Change | None:
    for name, connector in good.network.design.connectors.items():
        line = good.text.split("\n")[connector.place.line - 1]
        node = f"{name}/1"
        if "cavities:" in line or not line.endswith("}") or node not in good.network.wires_at:
            continue
        wire = good.network.wires_at[node][0]
        end = next(end for end in wire.ends if end.node == node)
        now = good.network.seal_at(end)
        if now is None:
            continue
        for seal in good.network.parts.seals.values():
            is_fitting = seal.from_mm.value <= wire.figures.diameter_mm.value <= seal.to_mm.value
            if is_fitting is fits:
                tail = f", cavities: {{1: {{seal: {seal.name}}}}}"
                return Change(line_with(good.text, connector.place.line, tail), wire.size_place.line)
    return None


# Fuses, contacts, sizes and heat.


def unfused(good: Good) -> Change | None:
    """A load straight from the battery."""
    supply = good.device(Supply)
    assert supply is not None
    return _lamp(good, supply.name, "E99/1")


def fused(good: Good) -> Change | None:
    """The same load behind a fuse."""
    return _lamp(good, "{fuse}", "E99/1")


def _rated(good: Good, choose: Callable[[list[float], float, float], list[float]]) -> Change | None:
    """The first fuse for which `choose` finds a rating, from its ratings, what it carries and what its wires allow."""
    for each in protected(good.physics):
        form = good.network.parts.fuses[each.fuse.form]
        allowed = min((good.physics.allowed[wire.name].allowed_a for wire in each.held), default=0.0)
        guard = next((guard for guard in guards(good.physics) if guard.protects.fuse is each.fuse), None)
        if guard is not None and guard.wires:
            held = guard.curve.holds_up_to_a / guard.curve.rating_a
            allowed = min(allowed, *(wire.for_ever_a / held for wire in guard.wires))
        carries, _ = highest_steady(good.physics, each.element)
        ratings = [rating for rating in sorted(map(float, form.ratings)) if rating != each.fuse.rating_a.value]
        for rating in choose(ratings, carries, allowed):
            place = each.fuse.where("rating_a")
            return Change(at(good.text, place, f"{rating:g} A"), place.line)
    return None


def too_large(good: Good) -> Change | None:
    """The least rating above what the wires allow."""
    return _rated(good, lambda ratings, carries, allowed: [each for each in ratings if each > allowed > 0])


def not_too_large(good: Good) -> Change | None:
    """The largest rating that the wires allow."""
    return _rated(
        good,
        lambda ratings, carries, allowed: [each for each in ratings[::-1] if carries / 0.75 <= each <= allowed],
    )


def too_small(good: Good) -> Change | None:
    """The largest rating of which the load takes more than three quarters."""
    return _rated(
        good, lambda ratings, carries, allowed: [each for each in ratings[::-1] if 0.75 * each < carries < each]
    )


def not_too_small(good: Good) -> Change | None:
    """The least rating of which the load takes less than three quarters."""
    return _rated(good, lambda ratings, carries, allowed: [r for r in ratings if carries <= 0.75 * r and r <= allowed])


def chafing(good: Good) -> Change | None:
    """A load that a driver switches to ground."""
    return _low_side(good, "Q99", "drivers", "ground")


def not_chafing(good: Good) -> Change | None:
    """The same load with a hand switch in its return."""
    return _low_side(good, "SW99", "switches", "out")


def _low_side(good: Good, name: str, block: str, far: str) -> Change | None:
    ground = good.device(Ground)
    change = _lamp(good, "{fuse}", "E99/1", f"778: {{{{from: E99/2, to: {name}, {{look}}}}}}", direct=False)
    if change is None or ground is None or any(isinstance(each.device, Driver) for each in good.elements):
        return None
    text = under(change.text, block, f"{name}: {{at: {ground.at}, direct: {{{far}: {ground.name}}}}}").text
    text = under(text, "states", f"s99: {{on: {name}}}").text
    return Change(text, _line(text, "  778: "))


def _switch_rated(good: Good, share: float) -> Change | None:
    for each in good.elements:
        if isinstance(each.device, Switch) and each.device.current_a is not None:
            carries, _ = highest_steady(good.physics, each)
            if carries > 0.05:
                text = at(good.text, each.device.where("current_a"), f"{share * carries:.5f} A")
                return Change(text, each.device.place.line)
    return None


def contact_over(good: Good) -> Change | None:
    """A switch rated a hundredth below what it carries."""
    return _switch_rated(good, 0.99)


def contact_near(good: Good) -> Change | None:
    """A switch rated a hundredth above what it carries."""
    return _switch_rated(good, 1.01)


def _limited(good: Good, name: str, unit: str, figure: Callable[[Wire], float], highest: float) -> Change | None:
    """A circuit with a limit of its own, a share of the figure of its wire."""
    for wire, place in plain_wires(good):
        value = figure(wire)
        if 0.001 < value < highest:
            text = line_with(good.text, place.line, f", limits: {{{name}: {value:.6f}{unit}}}")
            return Change(text, wire.size_place.line)
    return None


def _load_share(good: Good, share: float) -> Change | None:
    loadings = {wire.mark: good.physics.heat.loading(wire.mark) for wire in good.network.wires}
    figure = lambda wire: share * loading.used if (loading := loadings[wire.mark]) is not None else 0.0  # noqa: E731
    return _limited(good, "wire-load", "", figure, 1.0)


def overload(good: Good) -> Change | None:
    """A circuit that may use a hundredth less of its wire than it does."""
    return _load_share(good, 0.99)


def near_overload(good: Good) -> Change | None:
    """A circuit that may use a hundredth more of its wire than it does."""
    return _load_share(good, 1.01)


def _least_size(good: Good, share: float) -> Change | None:
    zones = good.network.design.zones
    on_engine = {
        wire.mark
        for wire in good.network.wires
        if any(leg.zone in zones and zones[leg.zone].on == "engine" for leg in wire.way)
    }
    figure = lambda wire: 0.0 if wire.mark in on_engine else share * wire.figures.area_mm2.value  # noqa: E731
    return _limited(good, "smallest-size", " mm2", figure, 100.0)


def too_thin(good: Good) -> Change | None:
    """A circuit that asks for a hundredth more copper than its wire has."""
    return _least_size(good, 1.01)


def thin(good: Good) -> Change | None:
    """A circuit that asks for a hundredth less copper than its wire has."""
    return _least_size(good, 0.99)


def _hot_stub(good: Good, degc: int) -> Change | None:
    stretch = good.network.route.legs[0].stretch
    lines = good.text.split("\n")
    number = stretch.where("covering").line if stretch.covering else stretch.place.line
    lines.insert(number, "    x99: {length: 100 mm, zone: z99, covering: conduit-7}")
    text = under("\n".join(lines), "zones", f"z99: {degc} degC").text
    return Change(text, _line(text, "    x99: "))


def too_hot(good: Good) -> Change | None:
    """A stretch one degree hotter than its covering stands."""
    return _hot_stub(good, 126)


def hot(good: Good) -> Change | None:
    """A stretch as hot as its covering stands."""
    return _hot_stub(good, 125)


def _cut(good: Good, more_mm: float) -> Change | None:
    for wire, place in plain_wires(good):
        if "cut:" not in good.text.split("\n")[place.line - 1]:
            needed = good.physics.lengths[wire.mark].needed_mm
            return Change(line_with(good.text, place.line, f", cut: {needed + more_mm:.0f} mm"), place.line)
    return None


def cut_short(good: Good) -> Change | None:
    """A wire cut to less than the route needs."""
    return _cut(good, -20.0)


def cut_enough(good: Good) -> Change | None:
    """A wire cut to somewhat more than the route needs."""
    return _cut(good, 30.0)


def _driver_rated(good: Good, share: float) -> Change | None:
    for each in good.elements:
        if isinstance(each.device, Driver) and each.device.current_a is not None:
            carries, _ = highest_steady(good.physics, each)
            place = each.device.where("current_a")
            return Change(at(good.text, place, f"{share * carries:.4f} A"), place.line)
    return None


def driver_over(good: Good) -> Change | None:
    """An output rated below what its bank takes."""
    return _driver_rated(good, 0.95)


def driver_near(good: Good) -> Change | None:
    """An output rated well above what its bank takes."""
    return _driver_rated(good, 1.5)


MUTATORS: dict[str, tuple[Mutator, Mutator]] = {
    "short-circuit": (short, no_short),
    "open-circuit": (dead, not_dead),
    "relay-unsettled": (chattering, resting),
    "orphan-cavity": (orphan, no_orphan),
    "double-filled-cavity": (doubled, no_short),
    "terminal-misfit": (misfit, no_misfit),
    "seal-misfit": (unsealed, sealed),
    "mate-mismatch": (unmated, mated),
    "missing-ground": (groundless, grounded),
    "duplicate-circuit": (same_number, own_number),
    "sneak-path": (sneaking, not_sneaking),
    "unfused-feed": (unfused, fused),
    "fuse-too-large": (too_large, not_too_large),
    "fuse-too-small": (too_small, not_too_small),
    "return-to-ground-hazard": (chafing, not_chafing),
    "wire-overload": (overload, near_overload),
    "contact-overload": (contact_over, contact_near),
    "wire-too-small": (too_thin, thin),
    "over-temperature": (too_hot, hot),
    "driver-overload": (driver_over, driver_near),
    "leg-too-short": (cut_short, cut_enough),
}
"""For each rule what breaks a good design in that way, and what nearly does."""
