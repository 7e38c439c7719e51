"""With the vehicle's power: the lamp at feeds and grounds, then in the place of each load while its output works.

A lamp in a circuit feeds it. So it never goes where its current would pass through a load or into a controller: loads
and controllers are unplugged at feeds and grounds, and loads are unplugged where an output works the lamp.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from harnessgen.bench.faults.changes import Changes
from harnessgen.bench.setup.installed import Fitted, listed
from harnessgen.bench.setup.instruments import LAMP
from harnessgen.bench.setup.step import Phase, Setup, Step, TouchPlace
from harnessgen.bench.setup.test_lamp import Lamp, Light, lamp_of
from harnessgen.bench.simulation.lamp_reading import RESTING_SHARE
from harnessgen.bench.simulation.powered import PoweredRig
from harnessgen.bench.simulation.powered_arrays import PoweredGrid
from harnessgen.bench.simulation.powered_batch import Cases
from harnessgen.bench.simulation.readings import readouts
from harnessgen.bench.simulation.settling import Courses
from harnessgen.bench.steps.cautions import (
    AIRBAGS,
    FUSES_FIRST,
    LIVE_PARTS,
    LOCAL_RULES,
    MATING_CONTACT,
    NO_LED,
    SPARKS,
)
from harnessgen.bench.steps.lamp_unpowered import expected
from harnessgen.bench.steps.output import Output
from harnessgen.bench.steps.powered import Position, engine_cautions, positions
from harnessgen.bench.steps.pulse import HOLD_S, LEAST_ON_MS, STEP_MS, pulse_period
from harnessgen.network.electrical import REFERENCE
from harnessgen.physics.partitioned.bridges import BridgedRows

MOST_SHARE = 1.35
"""A filament on more than that share of its own voltage burns out in minutes (common practice, no source)."""
_STRAIGHT_OHM = 2.0
"""Behind more than that a place is fed through something that the lamp would work."""


@dataclass(frozen=True)
class _Stand:
    """The harness as the lamp finds it: a row of what is solved of a grid."""

    grid: PoweredGrid
    bridged: BridgedRows
    row: int

    @cached_property
    def lamp(self) -> Lamp:
        return lamp_of(self.grid.rig.fitted.network.design.limits)

    def lights(self, pairs: Sequence[tuple[str, str]]) -> list[tuple[Light | None, float, float]]:
        """What the lamp shows between each two nodes, with the volts without it and the ohms that it sees.

        No light where nobody could say.
        """
        between = readouts(self.grid, pairs)
        rows, which = np.full(len(pairs), self.row, dtype=np.intp), np.arange(len(pairs))
        volts = np.abs(between.volts(self.bridged, rows, which))
        ohms = self.bridged.ohms(rows, between.a, between.b)
        return [(self._light(*each), *each) for each in zip(volts.tolist(), ohms.tolist(), strict=True)]

    def _light(self, volts: float, ohm: float) -> Light | None:
        if self.lamp.is_seen(RESTING_SHARE * volts, ohm):
            return Light.LIT
        return Light.DARK if self.lamp.is_dark(volts, ohm) else None


def _stands(grid: PoweredGrid, switches: tuple[str, ...], ons: Sequence[tuple[str, ...]]) -> list[_Stand]:
    """The harness at rest with these switches on, and then with each output that `ons` have on besides."""
    settings = [frozenset(switches), *map(frozenset, ons)]
    courses = Courses(grid, settings[0], settings, Changes(()))
    cases = Cases(np.arange(len(settings)), np.full(len(settings), -1, dtype=np.intp))
    found: dict[int, _Stand] = {}
    for batch, rows in courses.settled(cases, courses.at_rest()):
        for row, case in zip(rows.tolist(), batch.cases[rows].tolist(), strict=True):
            found[case] = _Stand(grid, batch.bridged, row)
    return [found[case] for case in range(len(settings))]


def no_lamp(fitted: Fitted) -> str:
    """Why the lamp gets no step under power; empty where it does."""
    lamp = lamp_of(fitted.network.design.limits)
    if fitted.supply_v > MOST_SHARE * lamp.volts:
        return f"The lamp under power: a {lamp.words} burns out on {fitted.supply_v:g} V (limit `test-lamp-voltage`)."
    return ""


def lamp_fed_blocks(fitted: Fitted) -> Iterator[tuple[Setup, list[Step]]]:
    """Feeds and grounds with the lamp, disconnects apart and then mated."""
    if no_lamp(fitted):
        return
    loads_out = (*fitted.load_connectors, *fitted.controllers)
    apart = (*fitted.disconnects, *loads_out)
    first = list(_fed_steps(fitted, apart, frozenset(), positions(fitted, fitted.controllers)))
    yield _fed_setup(fitted, apart, "with the disconnects apart" if fitted.disconnects else ""), first
    if fitted.disconnects:
        known = frozenset(place.node for step in first for place in (step.a, step.b) if place is not None)
        steps = list(_fed_steps(fitted, loads_out, known, positions(fitted, fitted.controllers)))
        yield _fed_setup(fitted, loads_out, "beyond the disconnects"), steps


def _fed_setup(fitted: Fitted, apart: tuple[str, ...], where: str) -> Setup:
    lamp = lamp_of(fitted.network.design.limits)
    mated = f" {listed(fitted.disconnects)} mated with the battery off." if "beyond" in where else ""
    lines = (
        f"Fitted where it belongs. Unplugged: {listed(apart)}. Relays in, every output off.{mated}",
        f"The lamp ({lamp.words}) on two leads. Across the battery's posts it lights: try that first, and at the end.",
        "Its current works whatever lies in its way. So loads and controllers stay unplugged, and it goes to no other"
        " place than those named.",
    )
    cautions = (FUSES_FIRST, LIVE_PARTS, NO_LED, SPARKS, AIRBAGS, *engine_cautions(fitted), MATING_CONTACT, LOCAL_RULES)
    return Setup(Phase.LAMP_FED, "", f"Feeds and grounds by lamp {where}".rstrip(), lines, cautions, apart=apart)


def _fed_steps(
    fitted: Fitted, apart: tuple[str, ...], known: frozenset[str], ways: Sequence[Position]
) -> Iterator[Step]:
    places = [place for place in (*fitted.open_places(apart), *fitted.landings()) if place.node not in known]
    pairs = [(place.node, REFERENCE) for place in places]
    grid = PoweredGrid(PoweredRig(fitted, apart))
    stands = {way: _stands(grid, way.on, ())[0] for way in ways}
    found = {way: stand.lights(pairs) for way, stand in stands.items()}
    lit = {
        place.node
        for lights in found.values()
        for place, (light, _, ohm) in zip(places, lights, strict=True)
        if light is Light.LIT and ohm <= _STRAIGHT_OHM
    }
    for way, lights in found.items():
        for place, (light, _, ohm) in zip(places, lights, strict=True):
            if place.node in lit and light is not None and (light is Light.DARK or ohm <= _STRAIGHT_OHM):
                yield Step("", way.words, expected(light), LAMP, place, fitted.metal, place.wires, way.on)
    yield from _ground_steps(fitted, stands[ways[0]], places, ways[0])


def _ground_steps(fitted: Fitted, stand: _Stand, places: Sequence[TouchPlace], way: Position) -> Iterator[Step]:
    post = fitted.supply_place
    if post is None:
        return
    net_of = fitted.network.net_of
    grounded = [place for place in places if net_of[place.node] in fitted.ground_nets]
    lights = stand.lights([(post.node, place.node) for place in grounded])
    for place, (light, _, ohm) in zip(grounded, lights, strict=True):
        if light is Light.LIT and ohm <= _STRAIGHT_OHM:
            yield Step("", way.words, expected(Light.LIT), LAMP, post, place, place.wires, way.on)


def lamp_worked_block(fitted: Fitted, outputs: Sequence[Output]) -> tuple[Setup, list[Step]] | None:
    """Each output, the lamp in the place of each load that it works; None where there is no such place."""
    if no_lamp(fitted):
        return None
    apart = fitted.load_connectors
    opened = {place.node: place for place in fitted.open_places(apart)}
    # Outputs that need the same switches find the harness at rest alike.
    alike: dict[tuple[str, ...], list[Output]] = {}
    for output in outputs:
        alike.setdefault(output.switches, []).append(output)
    grid, worked = PoweredGrid(PoweredRig(fitted, apart)), {}
    for switches, own in alike.items():
        at_rest, *on = _stands(grid, switches, [output.on for output in own])
        worked.update({output.name: (at_rest, stand) for output, stand in zip(own, on, strict=True)})
    steps = [step for output in outputs for step in _worked_steps(output, *worked[output.name], opened)]
    if not steps:
        return None
    lamp = lamp_of(fitted.network.design.limits)
    lines = (
        f"Battery off, disconnects mated, controllers plugged in, battery on. Unplugged: {listed(apart)}.",
        f"The lamp ({lamp.words}) takes the place of one load at a time: a tip in each cavity of its open connector.",
        "Work each output by the controller's own output test. It may report that its load is missing: the lamp draws"
        " less.",
        *(f"Not by lamp: {text}." for text in map(overload, outputs) if text),
        "Bend the harness along its way while the lamp burns: a flicker is a contact that comes and goes.",
    )
    cautions = (*engine_cautions(fitted), LIVE_PARTS, NO_LED, SPARKS, AIRBAGS, MATING_CONTACT, LOCAL_RULES)
    return Setup(Phase.LAMP_WORKED, "", "The lamp in the place of each load", lines, cautions, apart=apart), steps


def _worked_steps(output: Output, at_rest: _Stand, worked: _Stand, opened: Mapping[str, TouchPlace]) -> Iterator[Step]:
    fitted = output.fitted
    if overload(output):
        return
    sides = (
        (opened.get(element.a.removesuffix(" mate")), opened.get(element.b.removesuffix(" mate")))
        for name in output.reactions.work
        for element in fitted.load_elements[name]
    )
    pairs = [(one, other) for one, other in sides if one is not None and other is not None]
    if not pairs:
        return
    nodes = [(one.node, other.node) for one, other in pairs]
    rest, work = at_rest.lights(nodes), worked.lights(nodes)
    ready = output.ready
    for (one, other), (before, _, _), (light, volts, _) in zip(pairs, rest, work, strict=True):
        if before is Light.DARK and light is Light.LIT:
            marks = (*one.wires, *other.wires)
            yield Step("", f"{ready}{output.name} off", expected(before), LAMP, one, other, marks, output.switches)
            action, shown = _worked(output, volts)
            yield Step("", f"{ready}{action}", expected(shown), LAMP, one, other, marks, output.on)


def _worked(output: Output, volts: float) -> tuple[str, Light]:
    """What the output does, and what the lamp shows: it flashes where the output pulses coils, else it burns."""
    lamp = lamp_of(output.fitted.network.design.limits)
    period_ms = pulse_period().result
    on_ms = lamp_on_ms(lamp, volts / lamp.volts)
    is_pulsed = {load.kind for load in output.figures.values()} <= {"coil"}
    if is_pulsed and lamp.flashes(volts / lamp.volts, on_ms / 1000.0, period_ms / 1000.0):
        return f"pulse {output.name}: {on_ms:.0f} ms on in every {period_ms:.0f} ms", Light.FLASHING
    return f"{output.name} on for {HOLD_S:.0f} s at most", Light.LIT


def lamp_on_ms(lamp: Lamp, share: float) -> float:
    """Time on of a pulse in which the lamp is well seen, in ms: twice the shortest, rounded up to a step."""
    least_ms = 2000.0 * lamp.least_on_s(share)
    return max(math.ceil(least_ms / STEP_MS) * STEP_MS, LEAST_ON_MS) if math.isfinite(least_ms) else math.inf


def overload(output: Output) -> str:
    """Why the lamp may not take the place of a load of an output: its inrush; empty where it may."""
    fitted = output.fitted
    driver = fitted.network.design.drivers[output.name]
    allowed = driver.peak_current_a or driver.current_a
    lamp = lamp_of(fitted.network.design.limits)
    cold_a = fitted.supply_v / lamp.cold_ohm
    if not output.bank_ohm or allowed is None or cold_a <= allowed.value:
        return ""
    return f"{output.name} may carry {allowed.value:g} A, and a cold {lamp.words} takes {cold_a:.1f} A"
