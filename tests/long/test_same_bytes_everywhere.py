"""Every shipped design and every command that prints numbers, on machines that differ: the same bytes."""

import hashlib
from functools import cache
from pathlib import Path

import pytest

from tests.whole.machines import MACHINES, run_on

pytestmark = pytest.mark.long

DESIGNS = sorted((Path(__file__).parents[2] / "designs").glob("*.yaml"))
COMMANDS = {
    "check": ["check", "DESIGN", "--format", "json"],
    "prove": ["prove", "DESIGN", "--format", "json"],
    "size": ["size", "DESIGN", "--format", "json"],
    "place": ["place", "DESIGN", "--format", "json"],
    "cut": ["cut", "DESIGN", "--format", "json"],
    "explain": ["explain", "DESIGN", "F1", "--format", "json"],
}


@cache
def told(machine: str, design: Path, command: str) -> str:
    arguments = [str(design) if each == "DESIGN" else each for each in COMMANDS[command]]
    return run_on(MACHINES.get(machine, {}), ["-m", "harnessgen", *arguments])


@cache
def built(machine: str, design: Path, folder: Path) -> dict[str, str]:
    run_on(MACHINES.get(machine, {}), ["-m", "harnessgen", "build", str(design), "-o", str(folder)])
    files = (path for path in folder.rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest() for path in files}


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("machines")


@pytest.mark.parametrize("machine", MACHINES)
@pytest.mark.parametrize("design", DESIGNS, ids=lambda path: path.stem)
def test_a_build_is_the_same(design: Path, machine: str, folder: Path) -> None:
    here = built("here", design, folder / "here" / design.stem)
    assert len(here) > 20
    assert built(machine, design, folder / machine / design.stem) == here


@pytest.mark.parametrize("machine", MACHINES)
@pytest.mark.parametrize("command", COMMANDS)
@pytest.mark.parametrize("design", DESIGNS, ids=lambda path: path.stem)
def test_a_command_prints_the_same(design: Path, command: str, machine: str) -> None:
    assert told(machine, design, command) == told("here", design, command)
