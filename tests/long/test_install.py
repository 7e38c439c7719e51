"""Wheel and source distribution, each installed in a clean environment outside the checkout, run the main job."""

import json
import os
import shutil
import subprocess
import sys
import tarfile
import venv
import zipfile
from pathlib import Path

import pytest

pytestmark = pytest.mark.long

ROOT = Path(__file__).parents[2]
NOT_PACKED = {"__pycache__", "build", "dist", "output"}


def run(*command: str | Path, cwd: Path) -> str:
    """Output of a command, without the checkout in reach."""
    own = {name: value for name, value in os.environ.items() if not name.startswith(("PYTHON", "VIRTUAL"))}
    done = subprocess.run(
        [str(each) for each in command], cwd=cwd, env=own, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, (command, done.stdout[-2000:], done.stderr[-2000:])
    return done.stdout


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """Wheel and source distribution of a copy of the checkout, by kind."""
    copy = tmp_path_factory.mktemp("source") / "copy"
    hidden = shutil.ignore_patterns(*NOT_PACKED, ".*", "*.egg-info")
    shutil.copytree(ROOT, copy, ignore=hidden)
    run(sys.executable, "-m", "build", "--outdir", "dist", ".", cwd=copy)
    (wheel,), (source,) = (copy / "dist").glob("*.whl"), (copy / "dist").glob("*.tar.gz")
    return {"wheel": wheel, "source": source}


def packaged() -> set[str]:
    """Every file of the package in the checkout, code and data."""
    found = (path for path in (ROOT / "harnessgen").rglob("*") if path.is_file() and "__pycache__" not in path.parts)
    return {path.relative_to(ROOT).as_posix() for path in found}


def test_both_hold_every_file_of_the_package(made: dict[str, Path]) -> None:
    """Tables, pages, templates, lettering, list of changes and the mark of types are in both, as the code is."""
    with zipfile.ZipFile(made["wheel"]) as wheel:
        assert packaged() <= set(wheel.namelist())
    with tarfile.open(made["source"]) as source:
        names = {name.partition("/")[2] for name in source.getnames()}
    assert packaged() | {"README.md", "LICENSE", "pyproject.toml"} <= names


@pytest.mark.parametrize("kind", ["wheel", "source"])
def test_installed_outside_the_checkout_it_runs_the_main_job(kind: str, made: dict[str, Path], tmp_path: Path) -> None:
    """A design checked, built and proved by what was installed; a type checker finds that it is typed."""
    venv.create(tmp_path / "venv", with_pip=True)
    bin_ = tmp_path / "venv" / "bin"
    run(bin_ / "pip", "install", "-q", made[kind], cwd=tmp_path)
    shutil.copy(made[kind].parents[1] / "designs" / "twin-fans.yaml", tmp_path)
    where = run(bin_ / "python", "-c", "import harnessgen; print(harnessgen.__file__)", cwd=tmp_path)
    assert Path(where.strip()).is_relative_to(tmp_path / "venv")
    assert (Path(where.strip()).parent / "py.typed").is_file()
    found = json.loads(run(bin_ / "harnessgen", "check", "--format", "json", "twin-fans.yaml", cwd=tmp_path))
    assert [each for each in found["findings"] if each["severity"] != "note"] == []
    run(bin_ / "harnessgen", "build", "twin-fans.yaml", "-o", "out", cwd=tmp_path)
    for name in ("cut-list.pdf", "circuit.svg", "formboard.dxf", "test/bench.pdf", "states/first-stage/network.cir"):
        assert (tmp_path / "out" / name).stat().st_size > 0, name
    assert "no step can be spared" in run(bin_ / "harnessgen", "prove", "twin-fans.yaml", cwd=tmp_path)
    assert run(bin_ / "harnessgen", "--changes", cwd=tmp_path).startswith("# Changes\n")
