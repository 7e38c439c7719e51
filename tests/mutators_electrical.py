"""For the rules on drop, coils and banks: what breaks a good design in that one way, and what nearly does."""

from collections.abc import Callable
from statistics import median

from harnessgen.design.records.device import Ground, Relay, Supply
from harnessgen.network.wires import Wire
from harnessgen.physics.heat.harness import LOADED_A, WireHeat
from harnessgen.physics.heat.published_tables import Lying, Published, published
from harnessgen.physics.states.fuel_spread import InjectorOpening
from harnessgen.rules.loading import excess_drop
from tests.line import physics_of
from tests.mutators import Change, Good, Mutator, at, line_with, plain_wires, under

HAIR = 1e-4
"""Share by which a figure is laid beyond or within its limit."""


def with_block(text: str, block: str, rest: str) -> str | None:
    """The text with a block of the file at its end, so that no line moves; None where it has that block."""
    return None if f"\n{block}:" in text else text.rstrip("\n") + f"\n{block}: {rest}\n"


def _drop_limit(good: Good, by: float) -> Change | None:
    """A limit of the design beside the highest share that any load loses, or nothing where two lose nearly the same."""
    lowest = with_block(good.text, "limits", "{drop: 0.01 %}")
    if lowest is None:
        return None
    losses = excess_drop.check(physics_of(lowest))
    shares = {each.subject: 1e-4 * each.numbers[0].value / each.numbers[1].value for each in losses}
    worst = max(losses, key=lambda each: shares[each.subject])
    share = shares[worst.subject]
    others = [
        shares[each.subject] for each in losses if each.place._replace(pattern="") != worst.place._replace(pattern="")
    ]
    if max(others, default=0.0) > share * (1.0 - 2.0 * HAIR):
        return None
    text = with_block(good.text, "limits", f"{{drop: {100.0 * share * (1.0 + by):.6f} %}}")
    assert text is not None
    return Change(text, worst.place.line if by < 0.0 else 0)


def dropping(good: Good) -> Change | None:
    """A limit that the load at the end of the weakest way exceeds by a hair."""
    return _drop_limit(good, -HAIR)


def not_dropping(good: Good) -> Change | None:
    """A limit that it keeps by a hair."""
    return _drop_limit(good, HAIR)


def _pulled_at(good: Good, by: float) -> Change | None:
    """A further state like one that pulls a relay in, with all supplies beside the voltage at which it just closes."""
    design = good.network.design
    for state, found in good.physics.pull_ins.items():
        declared = design.states[state]
        if not found or declared.pulse or declared.voltage_v or declared.supply:
            continue
        needed = {each.relay.name: each.needs.result / each.gets_v * each.drop.source_v for each in found}
        weakest = max(needed, key=lambda name: needed[name])
        others = [volts for name, volts in needed.items() if name != weakest]
        if max(others, default=0.0) > needed[weakest] * (1.0 - 2.0 * HAIR):
            continue
        volts = ", ".join(
            f"{name}: {needed[weakest] * (1.0 + by):.6f} V"
            for name, each in design.supplies.items()
            if each.voltage_v.value > 9.0
        )
        changed = under(good.text, "states", f"weak: {{on: [{', '.join(declared.on)}], voltage: {{{volts}}}}}")
        place = design.relays[weakest].where("part")
        return Change(changed.text, place.line if by < 0.0 else 0) if place.line < changed.line else None
    return None


def pulling_weakly(good: Good) -> Change | None:
    """A supply a hair below what the hot coil needs."""
    return _pulled_at(good, -HAIR)


def pulling_in(good: Good) -> Change | None:
    """A supply a hair above it."""
    return _pulled_at(good, HAIR)


def _valve(good: Good, cathode: str) -> Change | None:
    """A valve with a diode across it and a fuse of its own, between the battery and a ground point."""
    supply = good.device(Supply)
    ground = good.device(Ground)
    is_metric = all(wire.size.system == "mm2" for wire in good.network.wires)
    if supply is None or ground is None or not is_metric:
        return None
    text = under(good.text, "fuses", f"XF: {{rating: 5 A, at: {supply.at}}}").text
    if "\nloads:\n" not in text:
        return None
    suppression = f"suppression: {{kind: diode, cathode: {cathode}}}"
    text = under(
        text,
        "circuits",
        f"901: {{from: {supply.name}, to: XF, color: RD, size: 1.5 mm2}}",
        "902: {from: XF, to: XV/1, color: RD/WH, size: 1.5 mm2}",
        f"903: {{from: XV/2, to: {ground.name}, color: BK, size: 1.5 mm2}}",
    ).text
    changed = under(text, "loads", f"XV: {{part: solenoid, at: {supply.at}, {suppression}}}")
    return Change(changed.text, changed.line if cathode == "2" else 0)


def diode_reversed(good: Good) -> Change | None:
    """Its cathode sits at the terminal that goes to ground."""
    return _valve(good, "2")


def diode_right(good: Good) -> Change | None:
    """Its cathode sits at the terminal that is fed."""
    return _valve(good, "1")


def _relay_with(good: Good, suppression: str) -> Change | None:
    """The first relay of which nothing is said, with what sits across its coil."""
    relay = next((each for each in good.network.design.relays.values() if isinstance(each, Relay)), None)
    if relay is None or relay.suppression is not None:
        return None
    text = line_with(good.text, relay.place.line, f", suppression: {suppression}")
    return Change(text, relay.place.line if suppression == "none" else 0)


def bare_coil(good: Good) -> Change | None:
    """Nothing sits across it."""
    return _relay_with(good, "none")


def resistor_coil(good: Good) -> Change | None:
    """A resistor sits across it."""
    return _relay_with(good, "resistor")


def _injectors(good: Good, match: float) -> str | None:
    """The design with a family of its own for its first bank, which has dead times and a flow match."""
    bank = next(iter(good.network.design.banks.values()), None)
    if bank is None:
        return None
    dead = "dead-time: {6: 4.5 ms, 8: 2.9 ms, 10: 1.9 ms, 12: 1.35 ms, 14: 1.05 ms, 16: 0.85 ms}"
    figures = "title: injector, kind: coil, resistance: 12 ohm, inductance: 14 mH, rating: 150 degC"
    family = f"{{{figures}, {dead}, flow-match: {100.0 * match:.9f} %}}"
    return with_block(at(good.text, bank.where("load"), "own"), "parts", f"{{loads: {{own: {family}}}}}")


def _matched(good: Good, by: float) -> Change | None:
    """A flow match beside the lack of the leanest injector, or beside the largest difference either way."""
    wide = _injectors(good, 0.5)
    if wide is None:
        return None
    physics = physics_of(wide)
    off: list[tuple[float, InjectorOpening]] = []
    for spread in (spread for spreads in physics.fuel_spreads.values() for spread in spreads):
        flows = [each.flow for each in spread.openings]
        middles = [median(flows[:index] + flows[index + 1 :]) for index in range(len(flows))]
        off += [(middle - each.flow, each) for middle, each in zip(middles, spread.openings, strict=True)]
    lack, leanest = max(off, key=lambda each: each[0])
    assert leanest.own_part is not None
    place = physics.network.wire_of[leanest.own_part.element].size_place
    widest = max(abs(each) for each, _ in off)
    text = _injectors(good, (lack if by < 0.0 else widest) * (1.0 + by))
    return Change(text, place.line if by < 0.0 else 0) if text is not None else None


def uneven(good: Good) -> Change | None:
    """A match that the injector at the end of the longest legs misses by a hair."""
    return _matched(good, -HAIR)


def even(good: Good) -> Change | None:
    """A match that it keeps by a hair."""
    return _matched(good, HAIR)


def _by_method(good: Good, choose: Callable[[Wire], str]) -> Change | None:
    """A circuit with a method of its own for its allowed current."""
    for wire, place in plain_wires(good):
        method = choose(wire) if any(each.current_a > LOADED_A for each in good.physics.heat.by_wire[wire.mark]) else ""
        if method and "limits:" not in good.text.split("\n")[place.line - 1]:
            return Change(line_with(good.text, place.line, f", limits: {{ampacity: {method}}}"), place.line)
    return None


def off_the_table(good: Good) -> Change | None:
    """The table for vacuum, in air."""
    return _by_method(good, lambda wire: "space-derating")


def on_the_table(good: Good) -> Change | None:
    """A table that knows the wire wherever it carries current, and allows it."""

    def fits(wire: Wire) -> str:
        def allows(method: str, each: WireHeat) -> bool:
            lies = each.stretch.bundle
            loaded = sum(1 for current in each.stretch.currents_a if current > LOADED_A)
            lying = Lying(wire.size, wire.family.rating_degc.value, lies.ambient_degc, len(lies.wires), loaded)
            found = published(method, "", lying)
            return isinstance(found, Published) and each.current_a < 0.8 * found.allowed_a

        places = [each for each in good.physics.heat.by_wire[wire.mark] if each.current_a > LOADED_A]
        methods = ("boat-table", "aircraft-curves")
        return next((method for method in methods if all(allows(method, each) for each in places)), "")

    return _by_method(good, fits)


ELECTRICAL: dict[str, tuple[Mutator, Mutator]] = {
    "excess-drop": (dropping, not_dropping),
    "weak-pull-in": (pulling_weakly, pulling_in),
    "reversed-diode": (diode_reversed, diode_right),
    "unsuppressed-coil": (bare_coil, resistor_coil),
    "uneven-bank": (uneven, even),
    "table-out-of-domain": (off_the_table, on_the_table),
}
"""For each of these rules what breaks a good design in that way, and what nearly does."""
