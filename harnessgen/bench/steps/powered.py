"""What all powered blocks have in common: switch positions, volts steps, and how a reading follows the battery."""

import math
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from harnessgen.bench.setup.installed import Fitted, is_live
from harnessgen.bench.setup.instruments import FEED_SAG_V, LEAST_LIVE_V, VOLT_METER
from harnessgen.bench.setup.step import Caution, Expected, Step, TouchPlace
from harnessgen.bench.steps.cautions import FUEL, IGNITION_OFF
from harnessgen.physics.electrical.operating_point import OperatingPoint


@dataclass(frozen=True, slots=True)
class Position:
    """Switches that are on together, outputs that pull in relays held on, every other output off.

    `states` are the states of the design that this comes from, `words` is what is said to the person at the bench.
    """

    on: tuple[str, ...]
    states: tuple[str, ...]
    words: str


def positions(fitted: Fitted, apart: Collection[str] = ()) -> tuple[Position, ...]:
    """Every set of switches and relay outputs that the declared states use; without states, all off and all on.

    Outputs of a controller that is `apart` hold nothing on.
    """
    design = fitted.network.design
    absent = {name for name in fitted.relay_outputs if fitted.plug_of(name) in apart}
    found: dict[tuple[str, ...], list[str]] = {}
    for name, state in design.states.items() if design.declares_states else ():
        on = tuple(each for each in dict.fromkeys(state.on) if each in fitted.lasting and each not in absent)
        found.setdefault(on, []).append(name)
    if not found:
        found = {(): [], tuple(design.switches): []}
    ordered = sorted(found.items(), key=lambda item: len(item[0]))
    return tuple(Position(on, tuple(states), fitted.set_words(on) or "every switch off") for on, states in ordered)


def engine_cautions(fitted: Fitted) -> tuple[Caution, ...]:
    """Fuel and ignition, where a coil could be an injector or a fuel valve."""
    return (IGNITION_OFF, FUEL) if fitted.has_kind("coil") else ()


def volts_lines(fitted: Fitted) -> tuple[str, ...]:
    """How to read volts, and what to do when the battery does not stand at the voltage of the design."""
    supplies = fitted.supplies
    if len(supplies) == 1:
        volts = fitted.supply_v
        return (
            f"First write down the battery's own volts, B, on its posts. Values here are for B = {volts:.2f} V: with"
            f" another B multiply volts and amperes by B / {volts:.2f}.",
        )
    listed = ", ".join(f"{name} {each.voltage_v.value:.2f} V" for name, each in supplies.items())
    return (f"First read every supply on its posts. Values here are for {listed}.",)


def volts_expected(fitted: Fitted, volts: float) -> Expected:
    """What a place shows that carries `volts`, or hangs free (nan)."""
    if not is_live(volts, LEAST_LIVE_V):
        return Expected("dead", 0.0, "V", -LEAST_LIVE_V, LEAST_LIVE_V)
    allowance = VOLT_METER.allowance(volts)
    words = f"{volts:.2f} V"
    fall = fitted.supply_v - volts
    if len(fitted.supplies) == 1 and 0 <= fall < 0.2 * fitted.supply_v:
        words += f" (B less {fall:.2f})" if fall >= 0.005 else " (B)"
    return Expected(words, volts, "V", volts - FEED_SAG_V - allowance, volts + allowance)


def volts_steps(
    fitted: Fitted, places: Sequence[TouchPlace], points: Mapping[Position, OperatingPoint]
) -> Iterator[Step]:
    """Volts from each place to metal, switch position by switch position."""
    for position, point in points.items():
        for place in places:
            expected = volts_expected(fitted, point.volts[place.node])
            yield Step("", position.words, expected, VOLT_METER, place, fitted.metal, place.wires, position.on)


def first_live_steps(
    fitted: Fitted, places: Collection[TouchPlace], points: Mapping[Position, OperatingPoint]
) -> Iterator[Step]:
    """Volts from each place to metal in the first position that feeds it."""
    left = list(places)
    for position, point in points.items():
        fed = [place for place in left if is_live(point.volts[place.node], LEAST_LIVE_V)]
        left = [place for place in left if place not in fed]
        yield from volts_steps(fitted, fed, {position: point})


def live_places(places: Collection[TouchPlace], points: Mapping[Position, OperatingPoint]) -> tuple[TouchPlace, ...]:
    """Places that carry volts in one position at least."""
    return tuple(
        place for place in places if any(is_live(point.volts[place.node], LEAST_LIVE_V) for point in points.values())
    )


def grounded_places(fitted: Fitted, places: Collection[TouchPlace], point: OperatingPoint) -> tuple[TouchPlace, ...]:
    """Places that wires join to a ground point as the harness now stands."""
    net_of = fitted.network.net_of
    return tuple(
        place
        for place in places
        if net_of[place.node] in fitted.ground_nets and not math.isnan(point.volts[place.node])
    )


def ground_steps(
    fitted: Fitted, places: Collection[TouchPlace], position: Position, point: OperatingPoint
) -> Iterator[Step]:
    """Volts from the supply's post to each grounded place: battery volts if its ground wire is whole."""
    post = fitted.supply_place
    if post is None:
        return
    for place in places:
        volts = point.volts[post.node] - point.volts[place.node]
        expected = volts_expected(fitted, volts)
        yield Step("", position.words, expected, VOLT_METER, post, place, place.wires, position.on)
