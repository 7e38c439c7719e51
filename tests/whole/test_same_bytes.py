"""The same bytes on unlike processors: a small design on two cores here, everything in `tests/long`."""

import pytest

from tests.whole.machines import MACHINES, run_on

NOISE = """
import numpy as np
generator = np.random.default_rng(1)
print(np.linalg.solve(generator.random((60, 60)), generator.random(60)).tobytes().hex())
"""
KEPT = """
from tests.whole.golden_files import built, golden, kept
made, held = golden(built("injector-bank")), kept("injector-bank")
print(sorted(name for name in {*made, *held} if made.get(name) != held.get(name)))
"""


def test_the_machines_differ_in_their_last_digits() -> None:
    """Without this the next test could not fail: the same equations have other last digits on another core."""
    assert run_on(MACHINES["an old core"], ["-c", NOISE]) != run_on(MACHINES["a middling core"], ["-c", NOISE])


@pytest.mark.parametrize("machine", ["an old core", "a middling core"])
def test_every_document_has_the_bytes_that_are_kept(machine: str) -> None:
    """Lists, data, drawings and paper of the golden injector bank; the present core is tried with the golden files."""
    assert run_on(MACHINES[machine], ["-c", KEPT]).strip() == "[]"
