"""The loaded drop test: a known current through a path, and the millivolts that it loses; the proof of a joint.

A meter on ohms cannot see a joint of 0.2 ohm beside its own error. A few amperes through the path make that joint a
volt, and the wire itself a few tens of millivolts, which a hand meter reads to a millivolt.
"""

from collections.abc import Iterator

from harnessgen.bench.setup.instruments import DROP_METER
from harnessgen.bench.setup.path_resistance import ohm_between, way
from harnessgen.bench.setup.section_nets import SectionNet
from harnessgen.bench.setup.step import Expected, Phase, Setup, Step
from harnessgen.bench.steps.cautions import BATTERY_OFF, HEAT_OF_DROP, LOCAL_RULES, MATING_CONTACT, SPARKS
from harnessgen.bench.steps.continuity import ALL_OFF, BY_ITSELF
from harnessgen.network.network import HarnessSection, Network

MOST_A = 5.0
"""Test current where the wires stand it: what a bench supply or a headlamp bulb gives (common practice, no source)."""
COPPER_SPREAD = 0.10
"""How far a good path may lie above its calculated resistance: warmth and joints (common practice, no source)."""


def drop_setup(network: Network, section: HarnessSection, apart: tuple[str, ...]) -> Setup:
    """How a section lies for the drop test, and how the current is made."""
    return Setup(
        Phase.DROP,
        section.letter,
        f"Drop under load, {section.number}",
        (
            BY_ITSELF,
            ALL_OFF,
            "A current-limited supply (or a battery through a fuse and a bulb) drives the stated current in at the"
            " first place and out at the second; the meter's own tips touch the same two contacts beside the clips."
            " Clips on before the current, off after it.",
            "Bend each end of the path by hand while the current flows: a reading that jumps is a joint that comes and"
            " goes.",
        ),
        (BATTERY_OFF, HEAT_OF_DROP, SPARKS, MATING_CONTACT, LOCAL_RULES),
        apart=apart,
    )


def drop_steps(net: SectionNet) -> Iterator[Step]:
    """From the handiest place of a net to each other place of it, at the current that its thinnest wire stands."""
    for place in net.places[1:]:
        first = net.places[0]
        ohm = ohm_between(net.beside, first.node, place.node)
        passed = tuple(edge.name for edge in way(net.beside, first.node, place.node))
        ampere = test_current_a(net, passed)
        volts = ohm * ampere
        high = volts * (1 + COPPER_SPREAD) + DROP_METER.allowance(volts)
        low = max(volts * (1 - COPPER_SPREAD) - DROP_METER.allowance(volts), 0.0)
        words = f"{1000 * volts:.0f} mV at {ampere:g} A by calculation at 20 degC"
        expected = Expected(words, volts, "V", low, high)
        yield Step("", f"circuit {net.circuits}, {ampere:g} A", expected, DROP_METER, first, place, passed)


def test_current_a(net: SectionNet, passed: tuple[str, ...]) -> float:
    """Test current of a path: 5 A, less where a wire of it is under 0.5 mm2."""
    area_mm2 = min(wire.figures.area_mm2.value for wire in net.wires if wire.mark in passed)
    return MOST_A if area_mm2 >= 0.45 else 2.0
