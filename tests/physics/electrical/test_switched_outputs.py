"""Each output laid over one network, against an operating point solved anew for each."""

import pytest

from harnessgen.network.electrical import ElementKind
from harnessgen.physics.electrical.operating_point import operating_point, stated
from harnessgen.physics.electrical.switched_outputs import switched_on
from harnessgen.physics.physics import Physics
from tests.drawings.generated import design_text, network_of


@pytest.mark.parametrize("seed", [7, 11, 12, 13, 14, 15, 16, 17])
def test_every_output_gives_what_an_operating_point_of_its_own_gives(seed: int) -> None:
    """With all switches off, half of them on and all on; outputs that pull relays in are among them."""
    network = network_of(design_text(seed, loads=40))
    ohms = Physics(network).ohms
    elements = network.electrical.elements
    outputs = [each for each in elements if each.kind is ElementKind.DRIVER]
    loads = [each for each in elements if each.kind is ElementKind.LOAD]
    switches = sorted(network.design.switches)
    for on in ([], switches[::2], switches):
        found = switched_on(network, stated(network, "bench", frozenset(on), ohms), outputs, loads)
        assert found.across_v.shape == (len(outputs), len(loads))
        for row, output in enumerate(outputs):
            point = operating_point(network, "bench", frozenset([*on, output.name]), ohms)
            assert found.own_a[row] == pytest.approx(point.amperes[output.name], rel=1e-9, abs=1e-9)
            assert found.across_v[row] == pytest.approx([point.across(each) for each in loads], rel=1e-9, abs=1e-9)


def test_some_of_these_outputs_move_relays_and_some_move_none() -> None:
    """What the test above leans on: else one half of the way would never be walked."""
    moved = set()
    for seed in (7, 11, 12, 13, 14, 15, 16, 17):
        network = network_of(design_text(seed, loads=40))
        given = stated(network, "bench", frozenset(network.design.switches), Physics(network).ohms)
        usual = operating_point(network, "bench", given.on, given.ohms).pulled_in
        for name in network.design.drivers:
            point = operating_point(network, "bench", given.on | {name}, given.ohms)
            moved.add((point.pulled_in != usual, bool(usual)))
    assert moved == {(True, True), (True, False), (False, True), (False, False)}
