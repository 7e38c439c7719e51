"""Each fault laid into each step: no false alarm, what is broken shows, and many at once read as one by one."""

from math import inf

import numpy as np
import pytest

from harnessgen.bench.detection.detection import detect
from harnessgen.bench.faults.fault import Consequence, FaultKind, HarnessFault, Series, Spot
from harnessgen.bench.setup.section_nets import section_nets
from harnessgen.bench.setup.step import Phase
from harnessgen.bench.simulation.powered import PoweredRig
from harnessgen.bench.simulation.unpowered import Rig
from tests.bench.proving import SOME, fitted_of, proofs_of, shown_by, text_of
from tests.bench.read_faults import read_faults
from tests.bench.solved_anew import solved_anew


@pytest.mark.parametrize("name", SOME)
def test_a_good_harness_passes_every_step(name: str) -> None:
    """A joint of no ohm more is no fault: no step of any procedure shows it."""
    text = text_of(name)
    mark = next(iter(fitted_of(text).network.wires)).mark
    harmless = HarnessFault(FaultKind.POOR_JOINT, "nothing", mark, Series(Spot(mark), 0.0), Consequence.HARMLESS)
    assert shown_by(detect(fitted_of(text), proofs_of(text).pool.blocks, [harmless])) == (frozenset(),)


@pytest.mark.parametrize("name", SOME)
def test_a_broken_wire_leaves_the_band_of_the_steps_that_carry_it(name: str) -> None:
    """By hand: without power a broken wire reads open, or higher than any path beside it allows."""
    text = text_of(name)
    proofs = proofs_of(text)
    shown = dict(zip(proofs.detection.faults, shown_by(proofs.detection), strict=True))
    for wire in fitted_of(text).network.wires:
        broken = next(each for each in shown if each.kind is FaultKind.WIRE_OPEN and each.subject == wire.mark)
        for block in proofs.pool.blocks:
            if block.setup.phase in (Phase.CONTINUITY, Phase.DROP):
                for step in block.steps:
                    assert (wire.mark in step.covers) == (step.number in shown[broken]), (wire.mark, step.number)


def test_the_reading_of_a_cut_wire_is_open_and_of_a_joint_its_ohms_more() -> None:
    """The resistance along one wire, with a joint of 1 ohm in it, is 1 ohm more; cut through it is infinite."""
    fitted = fitted_of(text_of("flat-six"))
    nets = section_nets(fitted.network, fitted.physics.lengths, "A")
    rig = Rig(fitted.network, tuple(edge for net in nets for edge in net.edges), is_landed=False)
    edge = next(edge for net in nets for edge in net.edges if edge.name == "10A")
    good = rig.ohm([edge.a], [edge.b])
    assert good == pytest.approx(edge.ohm)
    assert rig.ohm([edge.a], [edge.b], Series(Spot("10A"), 1.0)) == pytest.approx(good + 1.0)
    assert rig.ohm([edge.a], [edge.b], Series(Spot("10A"), inf)) == inf


@pytest.mark.parametrize("name", ["flat-six", "twin-fans", "ignition-sensors"])
def test_many_at_once_read_as_each_by_itself(name: str) -> None:
    """Faults laid over one solution, part by part, against the changed harness solved afresh, a fault of each kind."""
    text = text_of(name)
    fitted = fitted_of(text)
    rig = PoweredRig(fitted, ())
    on = tuple(fitted.network.design.switches)
    nodes = tuple(node for elements in fitted.load_elements.values() for each in elements for node in (each.a, each.b))
    faults = [fault for fault in proofs_of(text).universe.faults if fault.change is not None][::7]
    changes = [fault.change for fault in faults if fault.change is not None]
    readings = read_faults(rig, on, changes, nodes)
    for row, (fault, change) in enumerate(zip(faults, changes, strict=True)):
        point = solved_anew(rig, on, change)
        assert readings.holds[row] == point.pulled_in, fault.name
        for read, node in zip(readings.volts[row], nodes, strict=True):
            alone = point.volts[node]
            assert np.isnan(read) == np.isnan(alone), (fault.name, node)
            assert np.isnan(read) or read == pytest.approx(alone, rel=1e-6, abs=1e-6), (fault.name, node)


def test_what_comes_and_goes_shows_only_where_it_is_bent_under_load() -> None:
    """By hand: the drop test and the lamp with current in the wire; a meter on ohms has none, and volts have none."""
    proofs = proofs_of(text_of("flat-six"))
    phase_of = {step.number: block.setup.phase for block in proofs.pool.blocks for step in block.steps}
    pairs = list(zip(proofs.detection.faults, shown_by(proofs.detection), strict=True))
    fleeting = [steps for fault, steps in pairs if fault.kind is FaultKind.COMES_AND_GOES]
    assert fleeting
    for steps in fleeting:
        assert steps
        assert {phase_of[each] for each in steps} <= {Phase.DROP, Phase.LAMP_JOINED, Phase.LAMP_WORKED}
    bent = [block for block in proofs.pool.blocks if block.setup.phase.is_bent]
    assert all(any("Bend" in line for line in block.setup.lines) for block in bent)
