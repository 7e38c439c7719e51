"""Powered, nothing works yet: feeds and grounds with the disconnects apart, then mated, then returns at rest."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from harnessgen.bench.cautions import FUEL, FUSES_FIRST, IGNITION_OFF, LIVE_PARTS, LOCAL_RULES, MATING_CONTACT
from harnessgen.bench.fitted import Fitted, is_live
from harnessgen.bench.instruments import LEAST_LIVE_V, VOLT_METER
from harnessgen.bench.powered import (
    Position,
    ground_steps,
    live_places,
    positions,
    volts_expected,
    volts_lines,
    volts_steps,
)
from harnessgen.bench.step import Phase, Setup, Step, TestPlace
from harnessgen.physics.operating_point import OperatingPoint


@dataclass(frozen=True)
class FeedBlocks:
    """The three blocks in which only volts are read; `outputs` are the drivers' own places at rest."""

    fitted: Fitted

    @cached_property
    def loads_out(self) -> tuple[str, ...]:
        """Connectors that are unplugged while feeds are read."""
        return (*self.fitted.load_connectors, *self.fitted.controllers)

    @cached_property
    def apart(self) -> tuple[str, ...]:
        """Everything that is unplugged in the first block."""
        return (*self.fitted.disconnects, *self.loads_out)

    @cached_property
    def positions(self) -> tuple[Position, ...]:
        """Switch positions of the design."""
        return positions(self.fitted)

    def points(self, apart: tuple[str, ...]) -> dict[Position, OperatingPoint]:
        """The solution in each switch position with these unplugged."""
        return {each: self.fitted.solve(apart, each.on) for each in self.positions}

    @cached_property
    def first_places(self) -> tuple[TestPlace, ...]:
        """Live places with the disconnects apart."""
        return live_places((*self.fitted.open_places(self.apart), *self.fitted.landings()), self.points(self.apart))

    def apart_block(self) -> tuple[Setup, Iterator[Step]]:
        """Feeds and grounds with the disconnects apart."""
        fitted = self.fitted
        lines = (
            f"Fitted in the vehicle. Unplugged: {_listed(self.apart)}. Relays in, every output off.",
            *volts_lines(fitted),
            f"Second tip on {fitted.metal.reach} unless the step says otherwise. A feed may read up to half a volt low"
            " while things are switched on; no joint is proved by this.",
        )
        title = "Feeds and grounds with the disconnects apart" if fitted.disconnects else "Feeds and grounds"
        cautions = (FUSES_FIRST, LIVE_PARTS, FUEL, IGNITION_OFF, MATING_CONTACT, LOCAL_RULES)
        setup = Setup(Phase.FEEDS, "", title, lines, cautions, apart=self.apart)
        return setup, self._readings(self.apart, self.first_places, frozenset())

    def mated_block(self) -> tuple[Setup, Iterator[Step]] | None:
        """Feeds and grounds beyond the disconnects; None without a disconnect."""
        fitted = self.fitted
        if not fitted.disconnects:
            return None
        known = frozenset(place.node for place in fitted.open_places(self.apart))
        places = [place for place in fitted.open_places(self.loads_out) if place.node not in known]
        places = [place for place in fitted.open_places(self.loads_out) if place.node not in self._powered_before]
        live = live_places(places, self.points(self.loads_out))
        lines = (
            f"Battery off, mate {_listed(fitted.disconnects)}, battery on. Still unplugged: {_listed(self.loads_out)}.",
            *volts_lines(fitted),
        )
        cautions = (LIVE_PARTS, FUEL, IGNITION_OFF, MATING_CONTACT)
        setup = Setup(Phase.FEEDS, "", "Feeds and grounds beyond the disconnects", lines, cautions, apart=self.loads_out)
        return setup, self._readings(self.loads_out, live, self._powered_before)

    @cached_property
    def _powered_before(self) -> frozenset[str]:
        """Nodes read in the first block."""
        first = self.points(self.apart)[self.positions[0]]
        grounded = (place.node for place in self.fitted.open_places(self.apart) if _is_ground(self.fitted, place, first))
        return frozenset([*(place.node for place in self.first_places), *grounded])

    def _readings(self, apart: tuple[str, ...], live: tuple[TestPlace, ...], known: frozenset[str]) -> Iterator[Step]:
        points = self.points(apart)
        yield from volts_steps(self.fitted, live, points)
        position, point = next(iter(points.items()))
        places = [
            place
            for place in self.fitted.open_places(apart)
            if place.node not in known and _is_ground(self.fitted, place, point)
        ]
        yield from ground_steps(self.fitted, places, point, position.words)

    def rest_block(self) -> tuple[Setup, Iterator[Step]] | None:
        """Each output's return at rest: near supply volts through its loads; None without a driver."""
        fitted = self.fitted
        if not fitted.network.design.drivers:
            return None
        lines = (
            f"Battery off, plug the loads in, battery on. Only {_listed(fitted.controllers)} stays unplugged."
            if fitted.controllers
            else "Battery off, plug the loads in, battery on. Every output off.",
            *volts_lines(fitted),
            "With its output off a return rests near supply volts, fed through its own loads: it is whole from the fuse"
            " to the output, and touches neither metal nor another return.",
        )
        setup = Setup(
            Phase.RETURNS_AT_REST,
            "",
            "Returns at rest, loads plugged in",
            lines,
            (LIVE_PARTS, FUEL, IGNITION_OFF, MATING_CONTACT),
            apart=fitted.controllers,
        )
        return setup, self._rest_steps()

    def _rest_steps(self) -> Iterator[Step]:
        fitted = self.fitted
        points = self.points(fitted.controllers)
        opened = {place.node: place for place in (*fitted.open_places(fitted.controllers), *fitted.landings())}
        for place in self.output_places():
            if place.node not in opened:
                continue
            for position, point in points.items():
                volts = point.volts[place.node]
                expected = volts_expected(fitted, volts)
                yield Step("", position.words, expected, VOLT_METER, place, fitted.metal, place.wires)

    def output_places(self) -> Iterator[TestPlace]:
        """The harness-side place of each driver's output."""
        fitted = self.fitted
        opened = {place.node: place for place in (*fitted.open_places(fitted.controllers), *fitted.landings())}
        for element in fitted.network.electrical.elements:
            if element.name in fitted.network.design.drivers:
                place = opened.get(element.a.removesuffix(" mate"))
                if place is not None:
                    yield place


def _is_ground(fitted: Fitted, place: TestPlace, point: OperatingPoint) -> bool:
    volts = point.volts[place.node]
    joined = fitted.network.net_of[place.node] in fitted.ground_nets
    return joined and not is_live(volts, LEAST_LIVE_V) and volts == volts  # noqa: PLR0124


def _listed(names: tuple[str, ...]) -> str:
    return ", ".join(names) if names else "nothing"
