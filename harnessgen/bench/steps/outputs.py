"""Powered and working: switch positions with the outputs off, then each output pulsed by itself."""

from collections.abc import Iterator, Mapping, Sequence

from harnessgen.bench.setup.installed import Fitted, listed
from harnessgen.bench.setup.instruments import CLAMP_METER
from harnessgen.bench.setup.load_figures import LoadFigures
from harnessgen.bench.setup.step import Caution, Expected, Phase, Setup, Step, TouchPlace
from harnessgen.bench.steps.cautions import FILAMENT, HIGH_VOLTAGE, LIVE_PARTS, LOCAL_RULES, MOVING_PARTS
from harnessgen.bench.steps.output import Output, reactions_of, shares_of
from harnessgen.bench.steps.powered import Position, engine_cautions, positions, volts_lines
from harnessgen.bench.steps.pulse import BURST_PULSES, HOLD_S, IDLE_RPM, REST_S, pulse_period


def states_block(fitted: Fitted) -> tuple[Setup, list[Step]]:
    """Every switch position with the outputs off: what works and what must not."""
    lines = ("Battery off, everything plugged in, controllers too; battery on. Every output off.",)
    cautions = (*engine_cautions(fitted), *_kind_cautions(fitted.figures), LIVE_PARTS)
    meter = volts_lines(fitted)
    setup = Setup(Phase.STATES, "", "Switch by switch, outputs off", lines, cautions, meter_lines=meter)
    return setup, [_state_step(fitted, position) for position in positions(fitted)]


def _state_step(fitted: Fitted, position: Position) -> Step:
    point = fitted.solve((), position.on)
    total = sum(-point.amperes[name] for name in fitted.supplies)
    pulled = sorted(point.pulled_in)
    relays = f"; {listed(pulled)} {'pull' if len(pulled) > 1 else 'pulls'} in" if pulled else ""
    beside = ", what the vehicle takes already not counted" if fitted.network.given else ""
    words = f"{total:.2f} A from the supply by calculation, for information{beside}{relays}"
    post = fitted.supply_place
    clamp = None
    if post is not None and len(fitted.supplies) == 1:
        where = f"all together, just behind {post.designator}"
        clamp = TouchPlace(post.node, f"round {listed(post.wires)}", "", "", where, post.wires)
    meter = CLAMP_METER if clamp is not None else None
    reactions = reactions_of(fitted, shares_of(fitted, point), {})
    expected = Expected(words, total, "A")
    return Step("", position.words, expected, meter, clamp, on=position.on, reactions=reactions)


def outputs_block(fitted: Fitted, outputs: Sequence[Output]) -> tuple[Setup, list[Step]] | None:
    """Each driver pulsed, then held on for a moment; None without a driver."""
    if not outputs:
        return None
    loads = {name: load for output in outputs for name, load in output.figures.items()}
    lines = (
        "Everything plugged in. Work each output by the controller's own output test. Where it has none: controller"
        " unplugged, and a switch lead to ground, fused no higher than the feed, on a mating contact in the output's"
        " cavity.",
        *_pulse_lines(loads),
        "Wait until all is still before the next output. Feel, listen or look at every load, also at those that must"
        " not stir.",
    )
    cautions = (*engine_cautions(fitted), *_coil_cautions(loads), *_kind_cautions(loads), LIVE_PARTS, LOCAL_RULES)
    setup = Setup(Phase.OUTPUTS, "", "Outputs one by one", lines, cautions, meter_lines=volts_lines(fitted))
    return setup, [step for output in outputs for step in output.steps()]


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
