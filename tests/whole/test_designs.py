"""The complete designs: each passes every rule, does what its scenario says, and carries what hand arithmetic gives."""

import math
from collections.abc import Mapping
from functools import cache
from pathlib import Path

import pytest

from harnessgen.design.records.device import Fuse
from harnessgen.network.network import Network
from harnessgen.physics.physics import Physics
from tests.line import examine_text, physics_of

FOLDER = Path(__file__).parents[2] / "designs"
DESIGNS = sorted(path.stem for path in FOLDER.glob("*.yaml"))


def text_of(name: str) -> str:
    return (FOLDER / f"{name}.yaml").read_text(encoding="utf-8")


@cache
def solved(name: str) -> Physics:
    return physics_of(text_of(name))


@pytest.mark.parametrize("name", DESIGNS)
def test_a_good_design_passes_every_rule(name: str) -> None:
    """No error and no warning, nothing accepted to hide one, and no rule left out."""
    examined = examine_text(text_of(name))
    assert [
        (each.rule, each.subject) for each in examined.findings if each.severity.value in ("error", "warning")
    ] == []
    assert "\naccept:" not in text_of(name)
    # No published dead times are packaged, and none of these designs states any.
    assert {each.rule for each in examined.not_examined} <= {"uneven-bank"}


@pytest.mark.parametrize("name", DESIGNS)
def test_every_load_works_in_some_state_and_rests_where_it_should(name: str) -> None:
    """A load listed as off gets less than a hundredth of its working current (lamps with a common feed leak)."""
    physics = solved(name)
    design = physics.network.design
    of_load: dict[str, list[float]] = {}
    for load in design.loads:
        of_load[load] = [abs(point.amperes[load]) for point in physics.points.values()]
        assert max(of_load[load]) > 0, load
    for state, point in physics.points.items():
        for load in design.states[state].off:
            assert abs(point.amperes[load]) < 0.01 * max(of_load[load]), f"{load} in {state}"


@pytest.mark.parametrize("name", DESIGNS)
def test_every_switch_and_driver_is_used(name: str) -> None:
    """There is a state with each of them on, and one with everything off but what acts by itself."""
    design = solved(name).network.design
    used = {each for state in design.states.values() for each in state.on}
    assert used == {*design.switches, *design.drivers}


# Current of a load straight across its supply, without any wire: design, state, load, volts, ohms; and the least share
# of it that is to be left in the wired harness.
STRAIGHT = [
    ("v8-second-injectors", "left-bank", "INJ1", 13.8, 12.0, 0.90),
    ("v8-second-injectors", "boost", "INJ8", 13.8, 12.0, 0.90),
    ("v8-second-injectors", "lift", "Y1", 13.8, 14.0, 0.95),
    ("twin-fans", "first-stage", "M1", 13.8, 0.65, 0.95),
    ("twin-fans", "second-stage", "M2", 13.8, 0.65, 0.93),
    ("small-boat", "bilge-water", "M1", 13.6, 3.2, 0.97),
    ("small-boat", "under-way", "E1", 13.6, 16.5, 0.97),
    ("trailer", "left", "E1", 13.5, 6.88, 0.95),
    ("trailer", "fog", "E2", 13.5, 6.88, 0.90),
    ("trailer", "tail", "R1", 13.5, 12.5**2 / 60.0, 0.95),
    ("ignition-sensors", "coil-a", "T1", 13.8, 3.0, 0.92),
    ("ignition-sensors", "key-on", "E1", 13.8, 13.5**2 / 2.0, 0.98),
]


@pytest.mark.parametrize(("name", "state", "load", "volts", "ohms", "share"), STRAIGHT)
def test_a_load_gets_nearly_what_it_would_take_at_the_supply(
    name: str, state: str, load: str, volts: float, ohms: float, share: float
) -> None:
    """Wires, joints, fuses and switches take a few per cent of the current that Ohm's law gives without them."""
    current = abs(solved(name).points[state].amperes[load])
    assert share * volts / ohms < current < volts / ohms


# The most that each fuse can carry, by hand: loads straight across the supply, added up.
FUSED: Mapping[str, Mapping[str, float]] = {
    "v8-second-injectors": {
        "F1": 4 * 13.8 / 12.0,
        "F2": 4 * 13.8 / 12.0,
        "F3": 13.8 / 14.0,
        "F4": 13.8 / 24.0 + 13.8 / 90.0,
        "F10": 8 * 13.8 / 12.0 + 13.8 / 24.0 + 13.8 / 90.0,
    },
    "twin-fans": {
        "F1": 13.8 / 0.65,
        "F2": 13.8 / 0.65,
        "F3": 2 * 13.8 / 90.0,
        "F10": 2 * 13.8 / 0.65 + 2 * 13.8 / 90.0,
    },
    "small-boat": {
        "F1": 13.6 / 3.2,
        "F2": 2 * 13.6 / 16.5,
        "F3": 13.6 / 33.0,
        "F10": 2 * 13.6 / 16.5 + 13.6 / 33.0,
        "F11": 13.6 / 3.2,
    },
    "trailer": {
        "F1": 13.5 / 6.88,
        "F2": 13.5 / 6.88,
        "F4": 13.5 / 6.88,
        "F5": 3 * 13.5 / 33.0,
        "F6": 2 * 13.5 / 6.88,
        "F7": 2 * 13.5 / 33.0,
        "F8": 13.5 / 6.88,
        "F9": 13.5 / 16.5,
        "F10": 6 * 13.5 / 6.88 + 5 * 13.5 / 33.0 + 13.5 / 16.5 + 13.5 * 60.0 / 12.5**2 + 13.5 / 90.0,
        "F11": 13.5 * 60.0 / 12.5**2,
        "F12": 13.5 / 90.0,
    },
    "ignition-sensors": {
        "F1": 13.8 / 3.0,
        "F2": 13.8 / 24.0,
        "F3": 13.8 / 90.0 + 13.8 * 2.0 / 13.5**2,
        "F10": 13.8 / 3.0 + 13.8 / 24.0 + 13.8 / 90.0 + 13.8 * 2.0 / 13.5**2,
    },
}


@pytest.mark.parametrize("name", FUSED)
def test_each_fuse_carries_at_most_three_quarters_of_its_rating(name: str) -> None:
    """The sum by hand stays below 75 % (common practice, no source), and above what the solved states give."""
    physics = solved(name)
    fuses = [each for each in physics.network.electrical.elements if isinstance(each.device, Fuse)]
    assert {each.name for each in fuses} == set(FUSED[name])
    for fuse in fuses:
        assert isinstance(fuse.device, Fuse)
        by_hand_a = FUSED[name][fuse.name]
        assert by_hand_a <= 0.75 * fuse.device.rating_a.value, fuse.name
        assert 0.85 * by_hand_a < physics.highest_current(fuse)[0] <= by_hand_a, fuse.name


def copper(length_mm: float, mohm_per_m: float, degc: float) -> float:
    """Ohm of a conductor at a temperature (copper: 234.5 degC)."""
    return length_mm / 1000 * mohm_per_m / 1000 * (234.5 + degc) / 254.5


def test_the_left_fan_by_hand() -> None:
    """One loop, part by part: 6 mm2 and 16 mm2 at 80 degC, rings, tabs, fuses, relay, motor, ground."""
    ohm = math.fsum(
        (
            0.006,
            0.0003 + copper(120, 1.16, 80) + 0.0005,  # battery to main fuse
            0.0007 + 0.0005 + copper(310, 1.16, 80) + 0.0005,  # main fuse, to the bar
            0.0019 + 0.001 + copper(150, 3.14, 80) + 0.001,  # fuse, to the relay
            0.002 + 0.001 + copper(830 + 18, 3.14, 80) + 0.0015,  # relay, to the fan
            0.65,
            0.0015 + copper(440 + 18, 3.14, 80) + 0.0003 + 0.001,  # fan to ground
        )
    )
    assert abs(solved("twin-fans").points["first-stage"].amperes["M1"]) == pytest.approx(13.8 / ohm, rel=0.001)


def test_the_bilge_pump_by_hand() -> None:
    """Through the manual switch and the negative bus, and the drop of 3 % that ABYC E-11 allows such a pump."""
    feed = math.fsum(
        (
            0.0003 + copper(140, 3.44, 50) + 0.002,
            0.0047 + 0.002 + copper(560, 3.44, 50) + copper(1740, 3.44, 40) + 0.0007,  # fuse, to the always-on bus
            0.0075 + 0.002 + copper(90 + 90 + 20, 3.44, 40) + 0.0005,  # fuse, to the splice
            0.0005 + copper(120 + 20, 5.47, 40) + 0.002,
            0.010 + 0.002 + copper(1860, 5.47, 40) + copper(880 + 20, 5.47, 30) + 0.0005,  # switch, to the sump
            0.0005 + copper(260 + 20 + 18, 3.44, 30) + 0.0015,
        )
    )
    back = math.fsum(
        (
            0.0015 + copper(18 + 260 + 880, 3.44, 30) + copper(1650 + 120, 3.44, 40) + 0.0007,
            0.0007 + copper(120 + 1650, 2.16, 40) + copper(420, 2.16, 50) + 0.0003,
        )
    )
    current = 13.6 / (0.010 + feed + 3.2 + back)
    assert abs(solved("small-boat").points["pump-by-hand"].amperes["M1"]) == pytest.approx(current, rel=0.001)
    assert current * (feed + back) < 0.03 * 13.6


def test_the_trailer_keeps_to_its_connector() -> None:
    """Each wire at the connector has the colour of its pin and no less copper than the pin asks for (ISO 11446)."""
    network = solved("trailer").network
    pins = network.parts.connectors["trailer-13"].pins
    seen = set()
    for wire in network.wires:
        for end in wire.ends:
            if end.designator in ("C10s", "C10p"):
                pin = pins[end.terminal]
                seen.add(end.terminal)
                assert pin.size is not None
                assert wire.colour == pin.colour, wire.mark
                assert wire.figures.area_mm2.value >= pin.size.nominal_area_mm2, wire.mark
    assert seen == set(pins) - {"12"}


def pins_in_net(network: Network, node: str) -> set[str]:
    net = network.net_of[node]
    return {name.partition("/")[2] for name, own in network.net_of.items() if own == net and name.startswith("C10p/")}


def test_each_current_of_the_trailer_comes_back_by_its_own_pin() -> None:
    """The return that ISO 11446 gives to the pin of a load's feed is the one that its return is wired to."""
    network = solved("trailer").network
    pins = network.parts.connectors["trailer-13"].pins
    loads = {each.name: each for each in network.electrical.elements if each.name in network.design.loads}
    door = next(each for each in network.electrical.elements if each.name == "SW9")
    for name, load in loads.items():
        (feed,) = pins_in_net(network, load.a) or pins_in_net(network, door.a)
        (back,) = pins_in_net(network, load.b)
        assert back == pins[feed].return_, name


def test_each_design_has_what_no_other_has() -> None:
    """The feature for which it stands among the designs."""
    networks = {name: solved(name).network for name in DESIGNS}
    assert {name for name, each in networks.items() if "units: {length: in" in text_of(name)} == {"v8-second-injectors"}
    systems = {wire.size.system for wire in networks["v8-second-injectors"].wires}
    legs = {round(wire_mm) for wire_mm in solved_legs("v8-second-injectors", "21")}
    assert (systems, len(legs)) == ({"AWG", "mm2"}, 4)
    assert {name for name, each in networks.items() if len(each.design.relays) == 2} == {"twin-fans"}
    assert {
        name for name, each in networks.items() if "trailer-13" in {d.part for d in each.design.disconnects.values()}
    } == {"trailer"}
    assert {name for name, each in networks.items() if each.design.cables} == {"ignition-sensors"}
    assert networks["ignition-sensors"].electrical.nodes["W1"].kind == "shield"
    boat = networks["small-boat"].design
    before_switch = solved("small-boat").points["left-alone"].volts
    assert (before_switch["B1"] > 13, math.isnan(before_switch["B2"]), boat.grounds["G1"].at) == (True, True, "battery")


def solved_legs(name: str, circuit: str) -> list[float]:
    """Needed lengths of the legs of a bank's circuit, in mm."""
    physics = solved(name)
    return [
        physics.lengths[wire.mark].needed_mm
        for wire in physics.network.wires
        if wire.circuit == circuit and wire.run.load
    ]
