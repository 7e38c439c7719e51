"""Designs proved, for tests: the fault simulation of a design, and the findings with those of its rules."""

from functools import cache
from pathlib import Path

from harnessgen import run
from harnessgen.bench.detection.detection import Detection
from harnessgen.bench.proof import Proofs
from harnessgen.bench.setup.installed import Fitted
from harnessgen.rules.examine import Examination
from tests.samples import some

FOLDER = Path(__file__).parents[2] / "designs"
DESIGNS = sorted(path.stem for path in FOLDER.glob("*.yaml"))


SOME = some(DESIGNS, ["flat-six", "twin-fans"])
"""As parameters of tests that prove a whole design: three by default, every one with `--long`."""


def text_of(name: str) -> str:
    """The text of a complete design."""
    return (FOLDER / f"{name}.yaml").read_text(encoding="utf-8")


@cache
def proved(text: str) -> run.Checked:
    """A design of one text with its fault simulation, whatever its findings are."""
    return run.prove(run.examine_text(text))


def proofs_of(text: str) -> Proofs:
    """The fault simulation of a design."""
    proofs = proved(text).proofs
    assert proofs is not None
    return proofs


def fitted_of(text: str) -> Fitted:
    """The harness in its vehicle."""
    physics = proved(text).physics
    assert physics is not None
    return Fitted(physics.network, physics)


def examine_all(text: str) -> Examination:
    """Findings of every rule, those on the fault simulation too."""
    return proved(text).examination


def shown_by(detection: Detection) -> tuple[frozenset[str], ...]:
    """For each fault the numbers of the steps that show it."""
    return tuple(frozenset(detection.steps_of(mask)) for mask in detection.masks)
