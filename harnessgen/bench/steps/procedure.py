"""Every step that can be made on a harness: all phases in an order that is safe, the values from the solution.

`proof` chooses from them what a need asks for.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from harnessgen.bench.setup.installed import Fitted, listed
from harnessgen.bench.setup.section_nets import section_nets
from harnessgen.bench.setup.step import Block, Procedure, Setup, Step
from harnessgen.bench.setup.test_lamp import lamp_of
from harnessgen.bench.steps.continuity import (
    continuity_setup,
    continuity_steps,
    isolation_setup,
    isolation_steps,
    joined_setup,
    joined_steps,
)
from harnessgen.bench.steps.drop_test import drop_setup, drop_steps
from harnessgen.bench.steps.feeds import volts_blocks
from harnessgen.bench.steps.lamp_powered import lamp_fed_blocks, lamp_worked_block, no_lamp
from harnessgen.bench.steps.lamp_unpowered import (
    lamp_continuity_setup,
    lamp_continuity_steps,
    lamp_isolation_setup,
    lamp_isolation_steps,
)
from harnessgen.bench.steps.mated import mated_block
from harnessgen.bench.steps.output import Output, outputs_of
from harnessgen.bench.steps.outputs import outputs_block, states_block
from harnessgen.bench.steps.pulse import MOST_HELD_W
from harnessgen.bench.steps.tap_drop import tap_block
from harnessgen.bench.steps.through_loads import loads_setup, loads_steps
from harnessgen.bench.steps.visual_inspection import look_setup, look_steps
from harnessgen.network.network import HarnessSection, Network
from harnessgen.physics.physics import Physics

PREFACE = (
    "Go through the phases in order. Stop at the first step that does not come out: each phase relies on those"
    " before it.",
    "Write each reading down, also the good ones, with the instrument that gave it.",
)


def procedure_of(network: Network, physics: Physics) -> Procedure:
    """All steps of a harness: section by section without power, then the whole harness with it."""
    fitted = Fitted(network, physics)
    outputs = outputs_of(fitted) if network.design.supplies else ()
    numbered: list[Block] = []
    for setup, steps in _blocks(fitted, outputs):
        own = tuple(steps)
        if own:
            number = len(numbered) + 1
            named = tuple(replace(step, number=f"{number}.{index}") for index, step in enumerate(own, start=1))
            numbered.append(Block(number, setup, named))
    return Procedure(PREFACE, tuple(numbered), tuple(_not_tested(fitted, outputs)))


def _blocks(fitted: Fitted, outputs: Sequence[Output]) -> Iterator[tuple[Setup, Iterable[Step]]]:
    network = fitted.network
    for section in network.sections.sections:
        if _has_wires(network, section):
            yield from _section_blocks(fitted, section)
    mated = mated_block(fitted)
    if mated is not None:
        yield mated
    taps = tap_block(fitted)
    if taps is not None:
        yield taps
    if not network.design.supplies:
        return
    yield from volts_blocks(fitted)
    yield from lamp_fed_blocks(fitted)
    yield states_block(fitted)
    in_place = lamp_worked_block(fitted, outputs)
    if in_place is not None:
        yield in_place
    working = outputs_block(fitted, outputs)
    if working is not None:
        yield working


def _section_blocks(fitted: Fitted, section: HarnessSection) -> Iterator[tuple[Setup, Iterable[Step]]]:
    network = fitted.network
    nets = section_nets(network, fitted.physics.lengths, section.letter)
    yield look_setup(section), look_steps(network, section)
    yield continuity_setup(network, section), (step for net in nets for step in continuity_steps(net))
    isolation = isolation_setup(network, section)
    yield isolation, isolation_steps(nets, fitted.metal)
    yield joined_setup(network, section), joined_steps(nets, fitted.metal)
    yield drop_setup(network, section, isolation.apart), (step for net in nets for step in drop_steps(net))
    yield loads_setup(fitted, section), loads_steps(fitted, nets)
    lamp = lamp_of(network.design.limits)
    yield lamp_continuity_setup(network, section, lamp), (s for net in nets for s in lamp_continuity_steps(net, lamp))
    yield lamp_isolation_setup(network, section, lamp), lamp_isolation_steps(nets, fitted.metal)


def _has_wires(network: Network, section: HarnessSection) -> bool:
    return any(wire.section == section.letter for wire in network.wires)


def _not_tested(fitted: Fitted, outputs: Sequence[Output]) -> Iterator[str]:
    unheld = [output.name for output in outputs if not output.may_be_held]
    if unheld:
        yield f"The current of {listed(unheld)}: a coil there takes more than {MOST_HELD_W:.0f} W and is only pulsed."
    if no_lamp(fitted):
        yield no_lamp(fitted)
    inner = [name for name in fitted.network.design.supplies if name in fitted.inner]
    if inner:
        yield f"Volts from {listed(inner)}, which a controller makes while it is awake."
    if not fitted.network.design.supplies:
        yield "The design has no supply: no step with power."
