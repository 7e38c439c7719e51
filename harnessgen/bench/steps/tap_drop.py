"""The loaded drop test through each tap, in the vehicle: its joint is made there, so no bench sees it."""

from collections.abc import Iterator

from harnessgen.bench.setup.installed import Fitted
from harnessgen.bench.setup.instruments import DROP_METER
from harnessgen.bench.setup.path_resistance import Beside, beside, ohm_between, way
from harnessgen.bench.setup.step import Expected, Phase, Setup, Step, TouchPlace
from harnessgen.bench.steps.cautions import BATTERY_OFF, HEAT_OF_DROP, LOCAL_RULES, MATING_CONTACT, SPARKS
from harnessgen.bench.steps.drop_test import COPPER_SPREAD, MOST_A
from harnessgen.bench.steps.mated import MatedHarness
from harnessgen.design.records.device import Fuse, Relay
from harnessgen.network.wires import Wire

GIVEN_SPREAD = 0.5
"""How far a wire of the vehicle may lie off its calculated resistance: its length and joints are estimated
(common practice, no source)."""


def tap_block(fitted: Fitted) -> tuple[Setup, list[Step]] | None:
    """From the vehicle's wire through each tap to the far end of each wire of ours there; None without a tap."""
    network = fitted.network
    taps = [name for name in network.design.vehicle.taps if name in network.given_at]
    at = beside(MatedHarness(fitted).joined_for_good()) if taps else {}
    steps = [step for name in taps for wire in network.wires_at.get(name, ()) for step in _step(fitted, at, name, wire)]
    if not steps:
        return None
    lines = (
        "Fitted where it belongs, the taps made. Controllers unplugged; fuses and relays out, the vehicle's too.",
        "A current-limited supply (or a battery through a fuse and a bulb) drives the stated current in at the"
        " first place and out at the second; the meter's own tips touch the same two contacts beside the clips."
        " Clips on before the current, off after it.",
        "Bend each end of the path by hand while the current flows: a reading that jumps is a joint that comes and"
        " goes.",
    )
    design = network.design
    cautions = (BATTERY_OFF, HEAT_OF_DROP, SPARKS, MATING_CONTACT, LOCAL_RULES)
    out = (*design.fuses, *design.relays)
    title = "Drop under load through the taps"
    return Setup(Phase.DROP, "", title, lines, cautions, apart=fitted.controllers, out=out), steps


def _step(fitted: Fitted, at: Beside, tap: str, wire: Wire) -> Iterator[Step]:
    network = fitted.network
    ours = _touched(fitted, wire.other(tap).node)
    nodes = dict.fromkeys(node for each in network.given for node in (each.a, each.b))
    near = [node for node in nodes if network.net_of[node] == network.net_of[tap]]
    places = [place for node in near if (place := _touched(fitted, node)) is not None]
    if ours is None or not places:
        return
    first = min(places, key=lambda place: ohm_between(at, place.node, ours.node))
    passed = tuple(edge.name for edge in way(at, first.node, ours.node))
    ohm = ohm_between(at, first.node, ours.node)
    given = {each.mark for each in network.given}
    given_ohm = sum(edge.ohm for edge in way(at, first.node, ours.node) if edge.name in given)
    ampere = MOST_A if wire.figures.area_mm2.value >= 0.45 else 2.0
    volts, spread_v = ohm * ampere, ((ohm - given_ohm) * COPPER_SPREAD + given_ohm * GIVEN_SPREAD) * ampere
    high = volts + spread_v + DROP_METER.allowance(volts)
    low = max(volts - spread_v - DROP_METER.allowance(volts), 0.0)
    words = f"{1000 * volts:.0f} mV at {ampere:g} A by calculation at 20 degC, the vehicle's wire as estimated"
    marks = tuple(each for each in passed if each in network.wire_of)
    yield Step(
        "", f"through tap {tap}, {ampere:g} A", Expected(words, volts, "V", low, high), DROP_METER, first, ours, marks
    )


def _touched(fitted: Fitted, node: str) -> TouchPlace | None:
    """How a node is touched with fuses and relays out and controllers unplugged; None where it cannot be."""
    network = fitted.network
    record = network.electrical.nodes[node]
    device = network.design.devices.get(record.designator)
    if isinstance(device, Fuse | Relay):
        marks = tuple(wire.mark for wire in network.wires_at.get(node, ()))
        reach = f"mating tab in the empty holder of {device.name}"
        return TouchPlace(node, node, device.name, record.terminal, reach, marks)
    opened = {place.node: place for place in fitted.open_places(fitted.controllers)}
    return opened.get(node)
