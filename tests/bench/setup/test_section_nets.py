"""Nets of a section by itself, what of them can be touched, and the resistance between two places."""

import pytest

from harnessgen.bench.setup.path_resistance import Edge, beside, ohm_between, way
from harnessgen.bench.setup.section_nets import SectionNet, section_nets
from tests.documents.small_designs import CHANGE_OVER
from tests.line import FLAT_SIX, physics_of


def nets_of(text: str, section: str) -> dict[str, SectionNet]:
    physics = physics_of(text)
    nets = section_nets(physics.network, physics.lengths, section)
    return {net.wires[0].mark: net for net in nets}


def test_a_net_is_what_wires_and_splices_join_for_good() -> None:
    """In the plenum section each feed and each return is one net, its splice no place to touch."""
    nets = nets_of(FLAT_SIX, "B")
    assert {mark: [wire.mark for wire in net.wires] for mark, net in nets.items()}["21B"] == [
        "21B",
        "21C",
        "21D",
        "21E",
    ]
    assert [place.name for place in nets["21B"].places] == ["C10p/1", "C21/1", "C22/1", "C23/1"]
    assert all("S" not in place.name for net in nets.values() for place in net.places)


def test_wires_that_share_a_stud_are_apart_on_the_bench() -> None:
    """10A and 13A meet on the battery post alone, 90A and 91A at G1 alone: four nets."""
    nets = nets_of(FLAT_SIX, "A")
    assert {"10A", "13A", "90A", "91A"} <= set(nets)
    assert [place.name for place in nets["10A"].places] == ["10A at BAT", "10A at F10/in"]


def test_a_cavity_is_reached_by_its_own_mate() -> None:
    """Sockets are touched with a pin or gauge pin, pins with a socket contact, a landed terminal with a clip."""
    reach = {
        place.name: place.reach
        for section in "AB"
        for net in nets_of(FLAT_SIX, section).values()
        for place in net.places
    }
    assert reach["C10s/1"].startswith("mating pin or gauge pin (pin-1.5)")
    assert reach["C10p/1"].startswith("mating socket contact (pin-1.5)")
    assert reach["90A at G1"] == "clip on the ring terminal for an M6 stud of 90A, off G1"


def test_two_wires_in_one_cavity_are_one_net() -> None:
    """What shares a crimp is joined, and the net has the places of both."""
    line = "  17: {from: C1/2, to: G1, color: GY, size: 0.5 mm2}\n"
    nets = nets_of(CHANGE_OVER.replace("  90:\n", f"{line}  90:\n"), "A")
    assert {"17A", "90A"} <= {wire.mark for wire in nets["17A"].wires}
    assert {"17A at G1", "90D at G1"} <= {place.name for place in nets["17A"].places}


def test_resistance_along_a_tree_is_the_sum() -> None:
    """From the disconnect to an injector: 21B and 21D at 20 degC with their crimps, worked by hand.

    24.7 and 37.1 mohm/m (ISO 6722-1 as packaged), 159 and 325 mm, one crimp of 1 mohm at the splice's end of each.
    """
    net = nets_of(FLAT_SIX, "B")["21B"]
    expected = 0.0247 * 0.159 + 0.001 + 0.0371 * 0.325 + 0.001
    assert ohm_between(net.beside, "C10p/1", "C22/1") == pytest.approx(expected, rel=1e-9)
    assert [edge.name for edge in way(net.beside, "C10p/1", "C22/1")] == ["21B", "21D"]


def test_resistance_of_a_bridge_needs_the_network_solved() -> None:
    """Wheatstone bridge with equal arms: the bridge carries nothing, 100 ohm remain whatever it is."""
    arms = [
        Edge("1", "a", "c", 100.0),
        Edge("2", "c", "b", 100.0),
        Edge("3", "a", "d", 100.0),
        Edge("4", "d", "b", 100.0),
    ]
    assert ohm_between(beside([*arms, Edge("5", "c", "d", 7.0)]), "a", "b") == pytest.approx(100.0, rel=1e-9)
    two = beside([Edge("1", "a", "b", 3.0), Edge("2", "a", "b", 6.0), Edge("3", "b", "c", 1.0)])
    assert ohm_between(two, "a", "c") == pytest.approx(3.0, rel=1e-9)
    assert ohm_between(two, "a", "z") == float("inf")
