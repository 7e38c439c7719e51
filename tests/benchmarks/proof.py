"""How long the fault simulation of a vehicle takes and how that grows: `python -m tests.benchmarks.proof`, by hand.

A line for each size with the time of each part, and behind it the ratio to the size before; then the processor time of
all cores together. Nothing is asserted: a time is no property of the program alone.
"""

import gc
import os
import sys
from collections.abc import Callable
from time import perf_counter
from typing import TypeVar

from harnessgen.bench.detection.detection import detect
from harnessgen.bench.faults.universe import universe_of
from harnessgen.bench.proof import Proofs, procedures_of
from harnessgen.bench.setup.installed import Fitted
from harnessgen.bench.steps.procedure import procedure_of
from harnessgen.bench.undetected import with_missed
from harnessgen.cli.cores import on_cores
from harnessgen.cli.main import COLLECTS_AFTER
from harnessgen.documents.data import proof_json
from harnessgen.documents.text import proof as proof_text
from harnessgen.network.network import Network
from harnessgen.physics.physics import Physics
from harnessgen.schedules.results.coverage import alike_table, coverage_table, untested_table
from harnessgen.schedules.results.undetected import every_missed_table
from tests.benchmarks.vehicle import vehicle_text
from tests.drawings.generated import network_of

LOADS = (225, 450, 900)
"""The last has about 2,000 circuits."""

_T = TypeVar("_T")


class Laps:
    """Time of one part after the other, s, and how often that of the size before it is."""

    def __init__(self, before: dict[str, float]) -> None:
        self.before = before
        self.seconds: dict[str, float] = {}

    def of(self, name: str, made: Callable[[], _T]) -> _T:
        """What a part makes, its time noted."""
        start = perf_counter()
        result = made()
        self.seconds[name] = perf_counter() - start
        return result

    def __str__(self) -> str:
        """All parts and their sum."""
        return " | ".join(self._lap(name) for name in self.seconds)

    def _lap(self, name: str) -> str:
        ratio = f" x {self.seconds[name] / self.before[name]:.1f}" if self.before.get(name) else ""
        return f"{name} {self.seconds[name]:.1f} s{ratio}"


def measured(network: Network, before: dict[str, float]) -> tuple[Proofs, Laps, int]:
    """The proofs of a network, the time of each part, and the characters of the form for programs."""
    laps = Laps(before)
    physics = Physics(network)
    fitted = laps.of("solving", lambda: _solved(network, physics))
    universe = laps.of("faults", lambda: universe_of(fitted))
    pool = laps.of("steps", lambda: procedure_of(network, physics))
    detection = laps.of("matrix", lambda: detect(fitted, pool.blocks, universe.faults, on_cores))
    letters = [section.letter for section in network.sections.sections]
    found = laps.of("choice", lambda: tuple(procedures_of(pool, detection, letters)))
    proofs = laps.of("missed", lambda: with_missed(Proofs(network, universe, pool, detection, found)))
    size = laps.of("documents", lambda: _written(proofs))
    laps.seconds["all"] = sum(laps.seconds.values())
    return proofs, laps, size


def _solved(network: Network, physics: Physics) -> Fitted:
    fitted = Fitted(network, physics)
    assert physics.ohms is not None
    return fitted


def _written(proofs: Proofs) -> int:
    """Characters of the form for programs; the texts and tables for people are made beside it."""
    proof_text.render(proofs)
    for table in (coverage_table, untested_table, alike_table, every_missed_table):
        table(proofs)
    return len(proof_json.render(proofs))


def _processor_s() -> float:
    """Processor time of this program and of those that it started, s."""
    spent = os.times()
    return spent.user + spent.system + spent.children_user + spent.children_system


def main() -> None:
    """Print a line for each size, with the ratios to the size before."""
    gc.set_threshold(*COLLECTS_AFTER)
    # What is loaded once is not what grows.
    measured(network_of(vehicle_text(1, 20)), {})
    before: dict[str, float] = {}
    for loads in map(int, sys.argv[1:]) if sys.argv[1:] else LOADS:
        network = network_of(vehicle_text(7, loads))
        start = _processor_s()
        proofs, laps, size = measured(network, before)
        circuits = len(network.design.circuits) + 2 * len(network.design.banks)
        steps = sum(1 for _ in proofs.pool.steps)
        sys.stdout.write(
            f"{loads:5} loads {circuits:5} circuits {len(proofs.universe.faults):6} faults {steps:5} steps"
            f" {size / 1e6:5.1f} MB | {laps} | cores {_processor_s() - start:.1f} s\n"
        )
        sys.stdout.flush()
        before = laps.seconds


if __name__ == "__main__":
    main()
