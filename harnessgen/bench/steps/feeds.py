"""Powered, nothing works yet: feeds and grounds with the disconnects apart, then mated, then returns at rest."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from harnessgen.bench.setup.installed import Fitted, listed
from harnessgen.bench.setup.step import Phase, Setup, Step, TouchPlace
from harnessgen.bench.steps.cautions import FUSES_FIRST, LIVE_PARTS, LOCAL_RULES, MATING_CONTACT
from harnessgen.bench.steps.powered import (
    Position,
    engine_cautions,
    first_live_steps,
    ground_steps,
    grounded_places,
    live_places,
    positions,
    volts_lines,
    volts_steps,
)
from harnessgen.physics.electrical.operating_point import OperatingPoint

_HALF_VOLT = (
    "A feed may read up to half a volt below B while things are switched on. This tells fed from dead and proves no"
    " joint."
)


@dataclass(frozen=True)
class _Stage:
    """The harness with some connectors apart, solved in every switch position."""

    fitted: Fitted
    apart: tuple[str, ...]
    positions: tuple[Position, ...]

    @cached_property
    def points(self) -> Mapping[Position, OperatingPoint]:
        """Solution in each switch position."""
        return {each: self.fitted.solve(self.apart, each.on) for each in self.positions}

    @cached_property
    def places(self) -> tuple[TouchPlace, ...]:
        """What can be touched."""
        return (*self.fitted.open_places(self.apart), *self.fitted.landings())

    @cached_property
    def live(self) -> tuple[TouchPlace, ...]:
        """Places that carry volts in one position at least."""
        return live_places(self.places, self.points)

    @cached_property
    def grounded(self) -> tuple[TouchPlace, ...]:
        """Places on a ground wire."""
        return grounded_places(self.fitted, self.places, self.points[self.positions[0]])

    def steps(self, known: Iterable[TouchPlace] | None = None) -> Iterator[Step]:
        """Readings in every position; at what is not `known` once, where other places were read before."""
        before = {place.node for place in known or ()}
        live = [place for place in self.live if place.node not in before]
        yield from (volts_steps if known is None else first_live_steps)(self.fitted, live, self.points)
        grounded = [place for place in self.grounded if place.node not in before]
        first = self.positions[0]
        yield from ground_steps(self.fitted, grounded, first, self.points[first])


def volts_blocks(fitted: Fitted) -> Iterator[tuple[Setup, list[Step]]]:
    """The blocks in which only volts are read, each with its setup."""
    loads_out = (*fitted.load_connectors, *fitted.controllers)
    unheld = positions(fitted, fitted.controllers)
    apart = _Stage(fitted, (*fitted.disconnects, *loads_out), unheld)
    yield _apart_setup(fitted, apart.apart), list(apart.steps())
    if fitted.disconnects:
        mated = _Stage(fitted, loads_out, unheld)
        yield _mated_setup(fitted, loads_out), list(mated.steps((*apart.live, *apart.grounded)))
    if fitted.relay_outputs:
        yield _relay_setup(fitted), list(_relay_steps(_Stage(fitted, fitted.load_connectors, positions(fitted))))
    if fitted.network.design.drivers:
        yield _rest_setup(fitted), list(_rest_steps(_Stage(fitted, fitted.controllers, unheld)))


def _apart_setup(fitted: Fitted, apart: tuple[str, ...]) -> Setup:
    lines = (
        f"Fitted where it belongs. Unplugged: {listed(apart)}. Relays in, every output off.",
        "A switch that no hand can work (temperature, pressure, float): unplug it and bridge its two cavities with"
        " mating contacts for on.",
    )
    title = "Feeds and grounds with the disconnects apart" if fitted.disconnects else "Feeds and grounds"
    cautions = (FUSES_FIRST, LIVE_PARTS, *engine_cautions(fitted), MATING_CONTACT, LOCAL_RULES)
    meter = (*volts_lines(fitted), _HALF_VOLT)
    return Setup(Phase.FEEDS, "", title, lines, cautions, apart=apart, meter_lines=meter)


def _mated_setup(fitted: Fitted, apart: tuple[str, ...]) -> Setup:
    lines = (f"Battery off, mate {listed(fitted.disconnects)}, battery on. Still unplugged: {listed(apart)}.",)
    cautions = (LIVE_PARTS, *engine_cautions(fitted), MATING_CONTACT)
    meter = (*volts_lines(fitted), _HALF_VOLT)
    title = "Feeds and grounds beyond the disconnects"
    return Setup(Phase.FEEDS, "", title, lines, cautions, apart=apart, meter_lines=meter)


def _relay_setup(fitted: Fitted) -> Setup:
    held = listed([fitted.named(each) for each in fitted.network.design.drivers if each in fitted.relay_outputs])
    lines = (
        f"Battery off, plug the controllers in, battery on. Unplugged: {listed(fitted.load_connectors)}.",
        f"Hold {held} on by the controller's own output test, where a row says so; every other output is off.",
        "A feed that is live with its relay's output off has a relay or an output that is stuck on.",
    )
    cautions = (LIVE_PARTS, *engine_cautions(fitted), MATING_CONTACT)
    title = "Feeds through relays that an output pulls in"
    apart, meter = fitted.load_connectors, (*volts_lines(fitted), _HALF_VOLT)
    return Setup(Phase.FEEDS, "", title, lines, cautions, apart=apart, meter_lines=meter)


def _relay_steps(stage: _Stage) -> Iterator[Step]:
    """Places that are fed with a relay's output held on and not with the same switches alone."""
    fitted = stage.fitted
    without = {
        position: frozenset(position.on) - fitted.relay_outputs
        for position in stage.positions
        if not fitted.relay_outputs.isdisjoint(position.on)
    }
    rested = {frozenset(position.on): position for position in stage.positions}
    for position, switches in without.items():
        rest = rested.get(switches)
        if rest is None:
            continue
        points = {each: stage.points[each] for each in (rest, position)}
        fed = live_places(stage.places, {position: points[position]})
        live = {place.node for place in live_places(stage.places, {rest: points[rest]})}
        yield from volts_steps(fitted, [place for place in fed if place.node not in live], points)


def _rest_setup(fitted: Fitted) -> Setup:
    left = f"Only {listed(fitted.controllers)} stays unplugged." if fitted.controllers else "Every output is off."
    lines = (
        f"Battery off, plug the loads in, battery on. {left}",
        "With its output off a return rests near battery volts, fed through its own loads: then it is whole from the"
        " feed through a load to the output, and does not touch ground. A return near zero switches its loads on.",
    )
    cautions = (LIVE_PARTS, *engine_cautions(fitted), MATING_CONTACT)
    title = "Returns at rest, loads plugged in"
    apart, meter = fitted.controllers, volts_lines(fitted)
    return Setup(Phase.RETURNS_AT_REST, "", title, lines, cautions, apart=apart, meter_lines=meter)


def _rest_steps(stage: _Stage) -> Iterator[Step]:
    fitted = stage.fitted
    drivers = fitted.network.design.drivers
    outputs = {each.a.removesuffix(" mate") for each in fitted.network.electrical.elements if each.name in drivers}
    places = [place for place in stage.places if place.node in outputs]
    yield from volts_steps(fitted, places, stage.points)
