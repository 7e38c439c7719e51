"""Work on several cores gives what the same work gives by itself."""

import os

import pytest

from harnessgen.bench.detection import detection
from harnessgen.bench.detection.detection import detect
from harnessgen.bench.faults.universe import universe_of
from harnessgen.bench.setup.installed import Fitted
from harnessgen.bench.steps.procedure import procedure_of
from harnessgen.cli import cores
from harnessgen.cli.cores import on_cores
from harnessgen.physics.physics import Physics
from tests.benchmarks.vehicle import vehicle_text
from tests.drawings.generated import network_of

# A copy is made of this program alone, whatever threads the test runner has.
pytestmark = pytest.mark.filterwarnings("ignore:.*fork.*:DeprecationWarning")


@pytest.fixture(autouse=True)
def two_cores(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cores, "_cores", lambda: 2)


def test_results_come_in_the_order_of_the_items_from_other_processes() -> None:
    """Seven numbers, and the process that squared each."""
    found = on_cores(lambda number: (number**2, os.getpid()), range(7))
    assert [square for square, _ in found] == [0, 1, 4, 9, 16, 25, 36]
    assert os.getpid() not in {process for _, process in found}


def test_what_goes_wrong_in_a_copy_is_told() -> None:
    """A division by zero."""
    with pytest.raises(ZeroDivisionError):
        on_cores(lambda number: 1 // number, [1, 0])


def test_many_cores_show_the_same_faults(monkeypatch: pytest.MonkeyPatch) -> None:
    """The detection matrix of a small vehicle, both ways."""
    network = network_of(vehicle_text(7, 5))
    physics = Physics(network)
    fitted = Fitted(network, physics)
    faults, blocks = universe_of(fitted).faults, procedure_of(network, physics).blocks
    alone = detect(fitted, blocks, faults)
    monkeypatch.setattr(detection, "_LARGE", 0)
    assert detect(fitted, blocks, faults, on_cores).masks == alone.masks
