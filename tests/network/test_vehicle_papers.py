"""What documents, tests and tools make of the vehicle's own circuits, by the example of `test_vehicle`."""

import pytest

from harnessgen.bench.faults.fault import FaultKind
from harnessgen.bench.need import Need
from harnessgen.bench.proof import Proofs, proofs_of
from harnessgen.bench.setup.step import Phase
from harnessgen.drawings.circuit.drawing import circuit_sheets
from harnessgen.explain.explain import explain
from harnessgen.network.network import Network
from harnessgen.physics.physics import Physics
from harnessgen.sheets.marks import Conductor, Polyline, TextMark
from tests.network.test_bank import network_of
from tests.network.test_vehicle import EXAMPLE
from tests.remedies.placing.test_place import placed


@pytest.fixture(scope="module")
def network() -> Network:
    """The example."""
    return network_of(EXAMPLE)


@pytest.fixture(scope="module")
def proofs(network: Network) -> Proofs:
    """Every fault of the example under every step."""
    return proofs_of(network, Physics(network))


def test_the_vehicles_wires_are_drawn_dashed_and_ours_in_their_colours(network: Network) -> None:
    """No wire of the vehicle is a conductor in colours, none of ours is dashed, and the note says what dashes mean."""
    marks = [mark for sheet in circuit_sheets(network) for mark in sheet.marks]
    given = {wire.mark for wire in network.given}
    dashed = {mark.subject for mark in marks if isinstance(mark, Polyline) and mark.dash_mm}
    assert given <= dashed
    assert not dashed & set(network.wire_of)
    coloured = {mark.subject for mark in marks if isinstance(mark, Conductor)}
    assert coloured == set(network.wire_of)
    texts = [mark.text for mark in marks if isinstance(mark, TextMark)]
    assert any("dashed, with mark and size: the vehicle's own" in text for text in texts)
    assert texts.count("vehicle's own") == 1
    assert "V8A 2.5" in texts


def test_a_tap_is_proved_by_a_drop_test_in_the_vehicle(network: Network, proofs: Proofs) -> None:
    """From VF7's empty holder through V8A, the tap and 50A to F3's: by hand at 5 A, the sum of their ohms."""
    (block,) = [each for each in proofs.pool.blocks if each.setup.phase is Phase.DROP and not each.setup.section]
    (step,) = block.steps
    assert step.a is not None
    assert step.b is not None
    assert (step.a.node, step.b.node) == ("VF7/out", "F3/in")
    sizes = network.parts.wires["thin-wall-125"].sizes
    ohm = 0.4 * sizes["2.5"].resistance_ohm_per_m.value + 0.135 * sizes["1.5"].resistance_ohm_per_m.value
    ohm += network.splice_part("S9").resistance_ohm.value + network.parts.contacts["tab-6.3"].resistance_ohm.value
    assert step.expected.value == pytest.approx(5.0 * ohm)
    assert set(block.setup.out) == {"VF7", "F3"}
    vehicle = next(each for each in proofs.proofs if each.need is Need.VEHICLE)
    assert any(each.setup.phase is Phase.DROP for each in vehicle.procedure.blocks)


def test_no_fault_of_our_wire_at_the_tap_goes_unseen(proofs: Proofs) -> None:
    """Also a poor joint there, and one that comes and goes."""
    kinds = {fault.kind for fault in proofs.universe.faults if fault.subject == "50A"}
    assert {FaultKind.POOR_JOINT, FaultKind.COMES_AND_GOES, FaultKind.SPLICE_LEG_OPEN} <= kinds
    assert not [fault.name for fault in proofs.untested if fault.subject == "50A"]


def test_the_vehicles_wires_and_ratings_are_no_faults_of_ours(network: Network, proofs: Proofs) -> None:
    """Faults are laid into our wires; of the vehicle's fuse only that it may be out."""
    subjects = {fault.subject for fault in proofs.universe.faults}
    assert not subjects & {wire.mark for wire in network.given}
    assert [fault.kind for fault in proofs.universe.faults if fault.subject == "VF7"] == [FaultKind.FUSE_MISSING]
    plugs = [fault.subject for fault in proofs.universe.faults if fault.kind is FaultKind.PLUG_MISSING]
    assert not [each for each in plugs if each.startswith("C1/")]


@pytest.mark.parametrize("name", ["V8", "V8A"])
def test_a_circuit_of_the_vehicle_is_explained_whole_or_by_piece(network: Network, name: str) -> None:
    """Ends, length and what it carries already."""
    (thing,) = explain(Physics(network), {"bank.yaml": EXAMPLE}, (), name)
    facts = {fact.what: fact.value for fact in thing.facts}
    assert thing.noun == "circuit of the vehicle"
    assert facts["wire V8A"].startswith("VF7/out to S9, 400 mm, ")
    assert ("wire V8B" in facts) == (name == "V8")
    assert facts["carries"] == "6 A"


def test_place_leaves_a_tap_where_it_is() -> None:
    """It sits on a wire of the vehicle, whatever copper another place would save."""
    assert placed(EXAMPLE).moves == ()
