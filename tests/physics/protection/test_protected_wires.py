"""Fuses of the flat six and of the twin fans against their wires, worked by hand; prospective currents by simulator."""

import math
import re
import subprocess
from dataclasses import replace
from pathlib import Path

import pytest

from harnessgen.network.electrical import REFERENCE, ElementKind
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.physics import Physics
from harnessgen.physics.protection.fuse_curve import FuseCurve
from harnessgen.physics.protection.short_current import Short, supply_volts
from harnessgen.rules.protection.guards import Guard, guards
from tests.line import FLAT_SIX, edited, physics_of
from tests.physics.simulator import NGSPICE, needs_simulator

DESIGNS = Path(__file__).parents[3] / "designs"
FANS = (DESIGNS / "twin-fans.yaml").read_text(encoding="utf-8")


def guard_of(physics: Physics, name: str) -> Guard:
    """The guard of a fuse."""
    return next(each for each in guards(physics) if each.protects.fuse.name == name)


def cold_ohm(physics: Physics, mark: str) -> float:
    """Conductor of a wire at 20 degC from its length and its published highest resistance."""
    figures = physics.network.wire_of[mark].figures
    return figures.resistance_ohm_per_m.value * physics.lengths[mark].needed_mm / 1000.0


def test_flat_six_left_bank_by_hand() -> None:
    """F1: 13.8 V over battery, two fuses, relay, four wires and the joints; 21C of 0.5 mm2 from 122 to 225 degC."""
    physics = physics_of(FLAT_SIX)
    guard = guard_of(physics, "F1")
    contact = physics.network.parts.relays["plug-in-make"].contact_ohm.value
    joints = 2 * physics.network.splice_part("S5").resistance_ohm.value
    for end in (end for mark in ("10A", "11A", "12A", "12B") for end in physics.network.wire_of[mark].ends):
        landing = physics.network.contact_at(end) if end.kind.value != "splice" else None
        joints += landing.resistance_ohm.value if landing is not None else 0.0
    wires = sum(cold_ohm(physics, mark) for mark in ("10A", "11A", "12A", "12B"))
    loop = 0.008 + 0.0047 + contact + 0.017 + wires + joints + 0.002
    assert guard.currents.near.current_a == pytest.approx(13.8 / loop, rel=1e-6)
    assert guard.currents.near.current_a == pytest.approx(245, abs=1)

    least = guard.wires[0]
    assert least.wire.figures.area_mm2.value == 0.5
    # ISO 6722 highest resistance 37.1 mohm/m stands for 17.241 / 37.1 = 0.4647 mm2 of copper.
    copper = 17.241 / 37.1
    start = least.heating.start_degc
    assert start == pytest.approx(122, abs=1)
    k2s2 = 3.45e-3 * 254.5 / 17.241e-6 * math.log((234.5 + 225) / (234.5 + start)) * copper**2
    assert least.heating.k2s2_a2s == pytest.approx(k2s2, rel=1e-9)
    # Beyond 600 % of 5 A the fuse lets through 0.15 s * (30 A)^2 = 135 A2s at most.
    assert least.at_a == pytest.approx(guard.currents.near.current_a)
    assert least.opens_s == pytest.approx(135.0 / least.at_a**2)
    assert least.margin == pytest.approx(k2s2 / 135.0, rel=0.01)
    assert least.must_a == pytest.approx(1.35 * 5)


def test_twin_fans_left_fan_by_hand() -> None:
    """F1: 20A of 6 mm2 between 112 and 40.5 A: 4.3 s against what the heat equation gives, and far below k2S2."""
    physics = physics_of(FANS)
    guard = guard_of(physics, "F1")
    least = guard.wires[0]
    assert (str(least.wire.size), least.must_a) == ("6 mm2", pytest.approx(40.5))
    between = 5.0 * (1.0 / 5.0) ** (math.log(least.at_a / 105.0) / math.log(180.0 / 105.0))
    assert least.opens_s == pytest.approx(between)
    k2s2 = 3.45e-3 * 254.5 / 17.241e-6 * (17.241 / 3.14) ** 2
    k2s2 *= math.log((234.5 + 175.0) / (234.5 + least.heating.start_degc))
    assert least.heating.k2s2_a2s == pytest.approx(k2s2, rel=1e-9)
    assert k2s2 / least.at_a**2 < least.stands_s < 2.0 * k2s2 / least.at_a**2
    # In its conduit it starts hotter and loses less than bare, where the margin would be 10.
    assert least.margin == pytest.approx(8.2, abs=0.1)


def simulated_a(physics: Physics, short: Short, fuse: str, relays: str, folder: Path) -> float:
    """Current of a fuse for a short at a node, by the simulator, with the cards written here."""
    case = short.case
    ohms = physics.ohms_in(Case.STRONG) if case is Case.STRONG else physics.ohms
    volts = supply_volts(physics, case)
    node = {name: f"n{number}" for number, name in enumerate(physics.network.electrical.nodes)} | {REFERENCE: "0"}
    left_out = (ElementKind.LOAD, ElementKind.COIL, ElementKind.DRIVER)
    cards = ["short"]
    probe = f"Vprobe p 0 0\nRback s p {max(short.return_ohm, 1e-9)!r}"
    for number, each in enumerate(physics.network.electrical.elements):
        if each.kind in left_out or each.kind.value == relays:
            continue
        a, b, ohm = node[each.a], node[each.b], ohms[each.name]
        if each.kind is ElementKind.SUPPLY:
            assert each.device is not None
            cards += [
                f"Vs{number} v{number} 0 {volts[each.device.name]!r}",
                f"Rs{number} v{number} {a} {ohm or 1e-9!r}",
            ]
        elif each.name == fuse:
            cards += [f"Vfuse {a} f 0", f"Rfuse f {b} {ohm!r}"]
        else:
            cards.append(f"R{number} {a} {b} {ohm or 1e-9!r}")
    cards += [f"R{name} {name} 0 1e9" for name in node.values() if name != "0"]
    loads = {each.name: each for each in physics.network.electrical.elements if each.kind is ElementKind.LOAD}
    if short.at in loads:
        cards.append(f"Vprobe {node[loads[short.at].a]} {node[loads[short.at].b]} 0")
    else:
        cards += [probe.replace(" s p", f" {node[short.at]} p")]
    file = folder / "short.cir"
    file.write_text("\n".join([*cards, ".control", "op", "print i(vfuse)", ".endc", ".end", ""]), encoding="ascii")
    assert NGSPICE is not None
    done = subprocess.run([NGSPICE, "-b", str(file)], capture_output=True, text=True, timeout=60, check=False)
    found = re.search(r"i\(vfuse\) = (\S+)", done.stdout.lower())
    assert found is not None, done.stdout + done.stderr
    return abs(float(found[1]))


@needs_simulator
@pytest.mark.parametrize("stem", ["flat-six", "small-boat", "twin-fans", "trailer", "v8-second-injectors"])
def test_prospective_currents_by_the_simulator(stem: str, tmp_path: Path) -> None:
    """Near and far shorts of every fuse agree with a circuit simulator to 0.1 %."""
    physics = physics_of((DESIGNS / f"{stem}.yaml").read_text(encoding="utf-8"))
    held = ElementKind.BREAK.value
    for guard in guards(physics):
        name = guard.protects.fuse.name
        for short in (guard.currents.near, guard.currents.far):
            expected = simulated_a(physics, short, name, held, tmp_path)
            assert short.current_a == pytest.approx(expected, rel=1e-3), (name, short.at)


def test_near_is_the_largest_and_a_longer_wire_makes_the_far_short_smaller() -> None:
    """Near is never less than far; five times the way to the fuses takes from both."""
    plain = {each.protects.fuse.name: each.currents for each in guards(physics_of(FLAT_SIX))}
    longer = {
        each.protects.fuse.name: each.currents
        for each in guards(physics_of(edited(("fuses: {length: 160", "fuses: {length: 800"))))
    }
    for name, currents in plain.items():
        assert currents.far.current_a < currents.near.current_a
        assert longer[name].far.current_a <= currents.far.current_a * (1 + 1e-9)
    assert longer["F1"].near.current_a < 0.95 * plain["F1"].near.current_a


@pytest.mark.parametrize("path", sorted(DESIGNS.glob("*.yaml")), ids=lambda path: path.stem)
def test_what_is_quickly_told_to_be_guarded_is(path: Path) -> None:
    """The wires that are hurt are those of the whole list that are, with each fuse as it is and half as large again."""
    for guard in guards(physics_of(path.read_text(encoding="utf-8"))):
        curve = guard.curve
        larger = FuseCurve(
            1.5 * curve.rating_a,
            tuple((1.5 * current, time) for current, time in curve.longest),
            tuple((1.5 * current, time) for current, time in curve.shortest),
            curve.source,
        )
        for each in (guard, replace(guard, curve=larger)):
            assert each.hurt == tuple(wire for wire in each.wires if wire.is_hurt)


@pytest.mark.parametrize("stem", ["flat-six", "twin-fans"])
def test_the_least_margin_is_that_of_many_currents(stem: str) -> None:
    """Of 400 currents up to the largest short none leaves the wire less than 1 % below the margin that is stated."""
    tried = 0
    for guard in guards(physics_of((DESIGNS / f"{stem}.yaml").read_text(encoding="utf-8"))):
        curve = guard.curve
        for wire in guard.wires:
            low, high = curve.holds_up_to_a, wire.up_to_a
            if math.isinf(wire.margin) or high <= low:
                continue
            currents = (low * (high / low) ** (step / 400) for step in range(1, 400))
            least = min(wire.heating.stands_s(current) / curve.longest_s(current) for current in currents)
            assert wire.margin <= 1.01 * least, (guard.protects.fuse.name, wire.at_a)
            assert wire.margin == wire.heating.stands_s(wire.at_a) / curve.longest_s(wire.at_a)
            tried += 1
    assert tried > 5
