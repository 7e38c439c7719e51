"""Powered and working: switch positions with the outputs off, then each output pulsed by itself."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from harnessgen.bench.cautions import FILAMENT, HIGH_VOLTAGE, LIVE_PARTS, LOCAL_RULES, MOVING_PARTS
from harnessgen.bench.fitted import Fitted
from harnessgen.bench.instruments import CLAMP_METER
from harnessgen.bench.load_figures import LoadFigures
from harnessgen.bench.powered import Position, engine_cautions, listed, positions, volts_lines
from harnessgen.bench.pulse import BURST_PULSES, HOLD_S, IDLE_RPM, MOST_HELD_W, REST_S, on_time_ms, pulse_period
from harnessgen.bench.section_net import cold_ohm
from harnessgen.bench.step import Caution, Expected, Phase, Reactions, Setup, Step, TouchPlace
from harnessgen.physics.operating_point import OperatingPoint

_WORKS_SHARE = 0.3
"""A load counts as working from this share of the supply's volts on (common practice, no source)."""
_STIRS_SHARE = 0.02
"""A load counts as at rest below this share."""


def states_block(fitted: Fitted) -> tuple[Setup, list[Step]]:
    """Every switch position with the outputs off: what works and what must not."""
    lines = (
        "Battery off, everything plugged in, controllers too; battery on. Every output off.",
        *volts_lines(fitted),
    )
    cautions = (*engine_cautions(fitted), *_kind_cautions(fitted.figures), LIVE_PARTS)
    setup = Setup(Phase.STATES, "", "Switch by switch, outputs off", lines, cautions)
    return setup, [_state_step(fitted, position) for position in positions(fitted)]


def _state_step(fitted: Fitted, position: Position) -> Step:
    point = fitted.solve((), position.on)
    total = sum(-point.amperes[name] for name in fitted.supplies)
    pulled = sorted(point.pulled_in)
    relays = f"; {listed(pulled)} {'pull' if len(pulled) > 1 else 'pulls'} in" if pulled else ""
    words = f"{total:.2f} A from the supply by calculation, for information{relays}"
    post = fitted.supply_place
    clamp = None
    if post is not None and len(fitted.supplies) == 1:
        where = f"all together, just behind {post.designator}"
        clamp = TouchPlace(post.node, f"round {listed(post.wires)}", "", "", where, post.wires)
    meter = CLAMP_METER if clamp is not None else None
    reactions = _reactions(fitted, point, None)
    return Step("", position.words, Expected(words, total, "A"), meter, clamp, None, (), reactions)


def outputs_block(fitted: Fitted) -> tuple[Setup, list[Step]] | None:
    """Each driver pulsed, then held on for a moment; None without a driver."""
    drivers = fitted.network.design.drivers
    if not drivers:
        return None
    switched = [_Output(fitted, name) for name in drivers]
    loads = {name: load for output in switched for name, load in output.figures.items()}
    lines = (
        "Everything plugged in. Work each output by the controller's own output test. Where it has none: controller"
        " unplugged, and a switch lead to ground, fused no higher than the feed, on a mating contact in the output's"
        " cavity.",
        *_pulse_lines(loads),
        "Wait until all is still before the next output. Feel, listen or look at every load, also at those that must"
        " not stir.",
        *volts_lines(fitted),
    )
    cautions = (*engine_cautions(fitted), *_coil_cautions(loads), *_kind_cautions(loads), LIVE_PARTS, LOCAL_RULES)
    setup = Setup(Phase.OUTPUTS, "", "Outputs one by one", lines, cautions)
    return setup, [step for output in switched for step in output.steps()]


def unheld_outputs(fitted: Fitted) -> tuple[str, ...]:
    """Drivers whose current is not read, since a coil on them may not be held on."""
    switched = (_Output(fitted, name) for name in fitted.network.design.drivers)
    return tuple(output.name for output in switched if output.hottest_w > MOST_HELD_W)


def _pulse_lines(loads: Mapping[str, LoadFigures]) -> Iterator[str]:
    if any(load.kind == "coil" for load in loads.values()):
        yield (
            f"Pulses come every {pulse_period().result:.0f} ms, once in a four-stroke cycle at {IDLE_RPM:.0f} rpm"
            f" (120000 / {IDLE_RPM:.0f}), {BURST_PULSES} at a time."
        )


def _coil_cautions(loads: Mapping[str, LoadFigures]) -> Iterator[Caution]:
    if any(load.kind == "coil" for load in loads.values()):
        yield HIGH_VOLTAGE
    if any(load.kind == "coil" and not load.is_ignition for load in loads.values()):
        text = (
            f"An injector without fuel has nothing to cool and wet it: at most {BURST_PULSES} pulses or {HOLD_S:.0f} s"
            f" on, then {REST_S:.0f} s rest (common practice, no source)."
        )
        yield Caution("Dry running", text)


def _kind_cautions(loads: Mapping[str, LoadFigures]) -> Iterator[Caution]:
    kinds = {load.kind for load in loads.values()}
    if "motor" in kinds:
        yield MOVING_PARTS
    if "lamp" in kinds:
        yield FILAMENT


def _reactions(fitted: Fitted, point: OperatingPoint, before: OperatingPoint | None) -> Reactions:
    """Which loads work in a solution, and which of these already did before."""
    work, rest, unchanged = [], [], []
    for name in fitted.load_elements:
        share = _share(fitted, name, point)
        earlier = _share(fitted, name, before) if before is not None else 0.0
        if share <= _STIRS_SHARE:
            # A controller's own inputs show nothing.
            if name not in fitted.electronics:
                rest.append(name)
        elif share < _WORKS_SHARE:
            unchanged.append(f"{name} (at {share:.0%} of supply volts)")
        elif earlier >= _WORKS_SHARE:
            unchanged.append(name)
        else:
            work.append(name)
    return Reactions(tuple(work), tuple(rest), tuple(unchanged))


def _share(fitted: Fitted, load: str, point: OperatingPoint) -> float:
    """Volts across a load as a share of the supply's."""
    across = max(abs(point.across(element)) for element in fitted.load_elements[load])
    return across / fitted.supply_v if fitted.supply_v else 0.0


@dataclass(frozen=True)
class _Output:
    """One driver with the loads that it works."""

    fitted: Fitted
    name: str

    @cached_property
    def switches(self) -> tuple[str, ...]:
        """Switches that have to be on: those of the state with this driver and the fewest others on."""
        design = self.fitted.network.design
        having = [state for state in design.states.values() if self.name in state.on]
        on = min(having, key=lambda state: len(state.on)).on if having else tuple(design.switches)
        return tuple(each for each in dict.fromkeys(on) if each in design.switches)

    @cached_property
    def figures(self) -> dict[str, LoadFigures]:
        """Loads that start to work when it is switched on."""
        return {name: self.fitted.figures[name] for name in self.reactions.work}

    @cached_property
    def reactions(self) -> Reactions:
        """What it does to the loads."""
        ready = self.fitted.solve((), self.switches)
        return _reactions(self.fitted, self._on(), ready)

    def _on(self, ohms: Mapping[str, float] | None = None) -> OperatingPoint:
        return self.fitted.solve((), (*self.switches, self.name), ohms)

    def steps(self) -> Iterator[Step]:
        """Pulsed, then held on while its current is read."""
        reactions, figures = self.reactions, self.figures
        ready = f"{listed(self.switches)} on; " if self.switches else ""
        title = self.fitted.network.design.drivers[self.name].title
        named = f"{self.name} ({title})" if title else self.name
        if not figures:
            yield Step("", f"{ready}{named} on", Expected("nothing reacts"), reactions=reactions)
            return
        kinds = {load.kind for load in figures.values()}
        if kinds <= {"coil"}:
            on_ms = on_time_ms(figures.values())
            action = f"{ready}pulse {named}: {on_ms:.0f} ms on in every {pulse_period().result:.0f} ms"
        else:
            action = f"{ready}switch {named} on for {HOLD_S:.0f} s"
        signs = listed([f"{name} {figures[name].sign}" for name in reactions.work])
        yield Step("", action, Expected(signs), reactions=reactions)
        if self.hottest_w <= MOST_HELD_W:
            yield self._held(f"{ready}hold {named} on, {HOLD_S:.0f} s at most", figures)

    @cached_property
    def hottest_w(self) -> float:
        """Most power that one of its coils takes while it is held on, in watts."""
        point = self._on()
        coils = (name for name, load in self.figures.items() if load.kind == "coil")
        elements = (element for name in coils for element in self.fitted.load_elements[name])
        return max((abs(point.across(each) * point.amperes[each.name]) for each in elements), default=0.0)

    def _held(self, action: str, figures: Mapping[str, LoadFigures]) -> Step:
        network = self.fitted.network
        element = next(each for each in network.electrical.elements if each.name == self.name)
        cavity = element.a.removesuffix(" mate")
        marks = tuple(wire.mark for wire in network.wires_at.get(cavity, ()))
        place = TouchPlace(cavity, f"round {listed(marks)}", self.name, "", f"just behind {cavity}", marks)
        point = self._on()
        amperes = abs(point.amperes[self.name])
        bank_ohm = self._bank_ohm(point, figures)
        low, high = (abs(self._on(ohms).amperes[self.name]) for ohms in self._bounds(figures))
        words = f"{amperes:.2f} A; its loads together {bank_ohm:.2f} ohm"
        limit = network.design.drivers[self.name].current_a
        if limit is not None:
            words += f"; the output may carry {limit.value:g} A"
        linear = all(load.is_linear for load in figures.values())
        bounds = (low - CLAMP_METER.allowance(low), high + CLAMP_METER.allowance(high)) if linear else (None, None)
        return Step("", action, Expected(words, amperes, "A", *bounds), CLAMP_METER, place, None, marks)

    def _bank_ohm(self, point: OperatingPoint, figures: Mapping[str, LoadFigures]) -> float:
        """Resistance of its loads taken together, from their power in the solution and its current."""
        elements = [each for name in figures for each in self.fitted.load_elements[name]]
        watts = sum(point.across(each) * point.amperes[each.name] for each in elements)
        return watts / float(point.amperes[self.name]) ** 2

    def _bounds(self, figures: Mapping[str, LoadFigures]) -> Iterator[dict[str, float]]:
        """Resistances for the lowest current (loads high, wires hot) and the highest (loads low, wires at 20 degC)."""
        usual, network = self.fitted.physics.ohms, self.fitted.network
        yield {**usual, **{name: load.ohm.highest for name, load in figures.items()}}
        lengths = self.fitted.physics.lengths
        cold = {wire.mark: cold_ohm(network, wire, lengths[wire.mark]) for wire in network.wires}
        yield {**usual, **cold, **{name: max(load.ohm.lowest, 1e-6) for name, load in figures.items()}}
