"""How a powered harness comes to rest: what blew before an output goes on, and what blows with it."""

import numpy as np

from harnessgen.bench.faults.changes import Changes
from harnessgen.bench.faults.fault import FaultKind
from harnessgen.bench.faults.universe import universe_of
from harnessgen.bench.setup.installed import Fitted
from harnessgen.bench.simulation.powered import PoweredRig
from harnessgen.bench.simulation.powered_arrays import PoweredGrid
from harnessgen.bench.simulation.powered_batch import Cases
from harnessgen.bench.simulation.settling import Courses
from harnessgen.physics.physics import Physics
from tests.benchmarks.vehicle import vehicle_text
from tests.drawings.generated import network_of


def test_a_fuse_that_is_out_stays_out_when_an_output_goes_on() -> None:
    """Of a small vehicle with every switch on, each fault with each output."""
    network = network_of(vehicle_text(2, 14))
    fitted = Fitted(network, Physics(network))
    switches = frozenset(network.design.switches)
    settings = [switches, *(switches | {each} for each in network.design.drivers)]
    faults = universe_of(fitted).faults
    changes = [each.change for each in faults if each.change is not None and each.kind is not FaultKind.COMES_AND_GOES]
    courses = Courses(PoweredGrid(PoweredRig(fitted, ())), switches, settings, Changes(changes))
    count = len(changes)
    out: list[list[frozenset[str]]] = []
    rests = courses.at_rest()
    for setting in range(len(settings)):
        cases = Cases(np.full(count, setting, dtype=np.intp), np.arange(count))
        blown = [frozenset[str]()] * count
        for batch, rows in courses.settled(cases, rests):
            for case, group in zip(batch.cases[rows].tolist(), batch.group[rows].tolist(), strict=True):
                blown[case] = batch.standings[group][2]
            if not setting:
                rests.take(batch, rows, cases)
        out.append(blown)
    assert sum(map(bool, out[0])) > 30
    assert all(before <= after for blown in out[1:] for before, after in zip(out[0], blown, strict=True))
    assert any(before < after for blown in out[1:] for before, after in zip(out[0], blown, strict=True))
