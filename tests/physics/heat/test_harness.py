"""Heat of whole designs: who shares a stretch, states that pass, derivations, and what cannot change it."""

import math
import time
from pathlib import Path

import pytest

from harnessgen.evidence.derivation import Evaluated
from harnessgen.physics.heat.contacts import contacts_of
from harnessgen.physics.heat.single_wire import conductor_temperature_degc
from harnessgen.physics.heat.stretch_derivation import wire_heat_derivation
from harnessgen.physics.physics import Physics
from tests.line import FLAT_SIX, edited, physics_of

DESIGNS = sorted((Path(__file__).parents[3] / "designs").glob("*.yaml"))

FAN = """\
format: 2
harness: {title: Fan, number: FN-1, revision: A, wire: thin-wall-125}
zones: {bay: 80 degC}
route: {battery: {fuse: 200, fan: {length: 900, zone: bay}, block: 300}}
supplies: {BAT: {voltage: 13.5 V, at: battery}}
grounds: {G1: {at: block}}
fuses: {F1: {rating: 30 A, at: fuse}}
loads: {M1: {kind: motor, current: 12 A, at: fan}}
circuits:
  10: {from: BAT, to: F1, color: RD, size: 4 mm2}
  11: {from: F1, to: M1/1, color: RD, size: 1.5 mm2}
  90: {from: M1/2, to: G1, color: BK, size: 1.5 mm2}
states:
  run: {on: []}
"""


def degc(physics: Physics, mark: str, state: str, leg: str) -> float:
    """Temperature of a wire in a stretch and state."""
    (found,) = [
        each.conductor_degc
        for each in physics.heat.by_wire[mark]
        if each.stretch.state == state and each.stretch.bundle.leg is not None and each.stretch.bundle.leg.name == leg
    ]
    return found


def test_each_stretch_holds_the_wires_that_pass_it() -> None:
    """The flat six between disconnect and first breakout: two feeds and two returns; the other stretches as drawn."""
    physics = physics_of(FLAT_SIX)
    held = {
        bundle.leg.name: sorted(bundle.marks)
        for bundle in physics.heat.bundles
        if bundle.leg is not None and bundle.leg.name in ("c10 to b1", "lb1 to left-1", "battery to main-fuses")
    }
    assert held["c10 to b1"] == ["21B", "22B", "31B", "32B"]
    assert held["lb1 to left-1"] == ["21C", "31C"]
    assert held["battery to main-fuses"] == ["10A", "13A"]


def test_a_wire_alone_is_the_single_balance() -> None:
    """The return from battery to block lies alone in 40 degC: the temperature of the single wire."""
    physics = physics_of(FAN)
    (at,) = [
        each
        for each in physics.heat.by_wire["90A"]
        if each.stretch.bundle.leg is not None and each.stretch.bundle.leg.name == "battery to block"
    ]
    single = conductor_temperature_degc(at.stretch.bundle.bodies[0], at.current_a, 40.0)
    assert at.conductor_degc == pytest.approx(single, abs=1e-6)


def test_only_what_is_loaded_in_the_state_heats() -> None:
    """One bank at work: its trunk is cooler than with both, the idle one warmer than its zone."""
    physics = physics_of(FLAT_SIX)
    one, both = degc(physics, "21B", "left-bank", "c10 to b1"), degc(physics, "21B", "boost", "c10 to b1")
    idle = degc(physics, "22B", "left-bank", "c10 to b1")
    assert 120.0 < idle < one < both


def test_a_stall_is_judged_by_its_time() -> None:
    """A held motor for a second, ten (the default), a minute and for ever: hotter by the time, from where it ran."""
    found = {}
    for name, words in {
        "second": "stalled: M1, lasts: 1 s",
        "default": "stalled: M1",
        "minute": "stalled: M1, lasts: 1 min",
        "hours": "stalled: M1, lasts: 1440 min",
    }.items():
        physics = physics_of(FAN.replace("run: {on: []}", f"run: {{on: []}}\n  held: {{{words}}}"))
        running = degc(physics, "11A", "run", "battery to fan")
        found[name] = degc(physics, "11A", "held", "battery to fan")
        assert found[name] > running
    assert found["second"] < found["default"] < found["minute"] <= found["hours"]
    assert physics.heat.durations_s == {"run": None, "held": 86400.0}
    ten = physics_of(FAN.replace("run: {on: []}", "run: {on: []}\n  held: {stalled: M1, lasts: 10 s}"))
    assert degc(ten, "11A", "held", "battery to fan") == pytest.approx(found["default"], abs=1e-9)


def test_cranking_lasts_by_the_limits() -> None:
    """A state with its supply cranking lasts half a minute unless the limits or the state say otherwise."""
    cranking = FAN.replace("run: {on: []}", "run: {on: []}\n  start: {supply: cranking}")
    assert physics_of(cranking).heat.durations_s["start"] == 30.0
    assert physics_of(cranking + "limits: {cranking-lasts: 5 s}\n").heat.durations_s["start"] == 5.0


@pytest.mark.parametrize("path", DESIGNS, ids=lambda path: path.stem)
def test_derivations_give_the_printed_numbers(path: Path) -> None:
    """Balances of every wire's temperature cancel; every contact's, evaluated from its own inputs, is the one used."""
    physics = physics_of(path.read_text(encoding="utf-8"))
    for wire in physics.network.wires:
        at = physics.heat.hottest(wire.mark)
        assert at is not None
        solved = wire_heat_derivation(at)
        assert solved.result == at.conductor_degc
        for balance in solved.balances:
            largest = max(abs(value) for _, value in balance.terms)
            assert abs(balance.residual) <= 1e-6 * largest + 1e-8
    hot = [found for contact in contacts_of(physics.network) if (found := contact.hottest(physics.heat)) is not None]
    assert hot
    for found in hot:
        told = found.derivation()
        assert isinstance(told, Evaluated)
        assert told.again() == told.result == pytest.approx(found.degc, abs=1e-9)


def test_a_passing_state_has_an_energy_balance() -> None:
    """The derivation of a stalled wire's temperature balances what was made, stored and lost."""
    physics = physics_of(FAN.replace("run: {on: []}", "run: {on: []}\n  held: {stalled: M1, lasts: 4 s}"))
    at = physics.heat.hottest("11A")
    assert at is not None
    assert at.stretch.state == "held"
    (balance,) = wire_heat_derivation(at).balances
    assert balance.terms[0][1] > 100.0
    assert abs(balance.residual) <= 1e-6 * balance.terms[0][1]


@pytest.mark.parametrize("warmer", [1, 10, 30])
def test_a_hotter_zone_never_raises_an_allowed_current(warmer: int) -> None:
    """Every wire of the flat six in a hotter engine bay: allowed where and when it uses most, never more."""
    cool = physics_of(FLAT_SIX)
    warm = physics_of(edited(("engine-bay: 90", f"engine-bay: {90 + warmer}")))
    for mark, places in cool.heat.by_wire.items():
        for one, other in zip(places, warm.heat.by_wire[mark], strict=True):
            if one.stretch.state == "boost":
                before = cool.heat.allowed_a(one.stretch, one.index)
                after = warm.heat.allowed_a(other.stretch, other.index)
                assert after <= before * (1.0 + 1e-6)


def test_a_thicker_wire_is_never_hotter_at_its_current() -> None:
    """Sizes of the fan's feed in order, the current kept: the conductor gets cooler with each."""
    physics = physics_of(FAN)
    at = physics.heat.hottest("11A")
    assert at is not None
    family = at.wire.family
    found = []
    for size in ("1.5", "2.5", "4", "6"):
        text = FAN.replace(
            "11: {from: F1, to: M1/1, color: RD, size: 1.5", f"11: {{from: F1, to: M1/1, color: RD, size: {size}"
        )
        other = physics_of(text)
        stretch = next(
            each for each in other.heat.bundles if each.leg is not None and each.leg.name == "battery to fan"
        )
        from harnessgen.physics.heat.stretch import shared_heat

        heat = shared_heat(stretch.bodies, at.stretch.currents_a, stretch.covering, stretch.ambient_degc)
        found.append(heat.conductors_degc[stretch.marks.index("11A")])
    assert found == sorted(found, reverse=True)
    assert len(family.sizes) > 4


def test_the_order_of_the_file_does_not_matter() -> None:
    """Circuits in the opposite order of the file: the same temperatures."""
    head, rest = FAN.split("circuits:\n")
    lines, states = rest.split("states:\n")
    turned = "".join(f"{line}\n" for line in reversed(lines.strip("\n").split("\n")))
    one, other = physics_of(FAN), physics_of(f"{head}circuits:\n{turned}states:\n{states}")
    for mark in ("10A", "11A", "90A"):
        first, second = one.heat.hottest(mark), other.heat.hottest(mark)
        assert first is not None
        assert second is not None
        assert first.conductor_degc == pytest.approx(second.conductor_degc, abs=1e-9)


def test_what_no_wire_stands_has_no_temperature() -> None:
    """A stall that a thin feed does not survive: no temperature, and no derivation of one."""
    text = FAN.replace("color: RD, size: 1.5", "color: RD, size: 0.5").replace("current: 12 A", "current: 60 A")
    at = physics_of(text).heat.hottest("11A")
    assert at is not None
    assert math.isinf(at.conductor_degc)
    with pytest.raises(ValueError, match="no temperature"):
        wire_heat_derivation(at)


def test_it_is_quick() -> None:
    """200 wires that share ten stretches, in five states: well under a second (0.3 s here; a slow one has room)."""
    wires = "".join(f"  {n}: {{from: SW{n}/out, to: M{n}/1, color: RD, size: 1}}\n" for n in range(1, 101))
    wires += "".join(f"  {n + 200}: {{from: M{n}/2, to: G1, color: BK, size: 1}}\n" for n in range(1, 101))
    text = (
        "format: 2\nharness: {title: Many, number: MN-1, revision: A, wire: thin-wall-125}\nroute:\n"
        + "".join(f"  p{n}: {{p{n + 1}: 300}}\n" for n in range(10))
        + "supplies: {BAT: {voltage: 13 V, at: p0}}\ngrounds: {G1: {at: p0}}\nswitches:\n"
        + "".join(f"  SW{n}: {{at: p0, direct: {{in: BAT}}}}\n" for n in range(1, 101))
        + "loads:\n"
        + "".join(f"  M{n}: {{resistance: {10 + n} ohm, at: p10}}\n" for n in range(1, 101))
        + f"circuits:\n{wires}states:\n"
        + "".join(f"  s{k}: {{on: [{', '.join(f'SW{n}' for n in range(1, 101 - k))}]}}\n" for k in range(5))
    )
    physics = physics_of(text)
    assert physics.currents
    begun = time.process_time()
    assert len(physics.heat.by_wire) == 200
    assert time.process_time() - begun < 1.5
