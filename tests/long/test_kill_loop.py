"""Builds killed at chance moments: the former set is complete or the new one is, nothing between."""

import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from harnessgen.disk.manifest import MANIFEST, manifest_in, manifest_of
from tests.disk.kinds import documents
from tests.documents.small_designs import LAMP

pytestmark = pytest.mark.long

SEED = 15
SETS = """
import sys
from pathlib import Path
from tests.disk.kinds import build
number = int(sys.argv[2])
files = {f"{at % 5}/{at}.pdf": bytes([number]) * (at * 4_000) for at in range(60 + number)}
print("ready", flush=True)
sys.stdin.readline()
while True:
    build(Path(sys.argv[1]), files)
"""


def complete(folder: Path) -> dict[str, bytes]:
    """The documents of a folder, which its manifest has to name all and no others."""
    found = documents(folder)
    manifest = manifest_in((folder / MANIFEST).read_bytes())
    assert manifest is not None
    assert manifest == manifest_of(found, {})
    return found


def test_writing_killed_at_chance_moments(tmp_path: Path) -> None:
    """200 kills while sets of 60 and 61 files of 7 MB take turns."""
    chance = random.Random(SEED)
    folder = tmp_path / "six"
    sizes = []
    for kill in range(200):
        child = subprocess.Popen(
            [sys.executable, "-c", SETS, str(folder), str(kill % 2)],
            stdin=subprocess.PIPE, stdout=subprocess.PIPE,
            env={**os.environ, "PYTHONPATH": str(Path(__file__).parents[2])},
        )  # fmt: skip
        assert child.stdin is not None
        assert child.stdout is not None
        child.stdout.readline()
        child.stdin.write(b"go\n")
        child.stdin.flush()
        time.sleep(chance.uniform(0.0, 0.4))
        child.send_signal(signal.SIGKILL)
        child.communicate()
        if folder.exists():
            found = complete(folder)
            assert len({content[:1] for content in found.values() if content}) == 1
            sizes.append(len(found))
        assert {each.name for each in tmp_path.iterdir()} <= {"six", ".six.harnessgen"}
    # Both sets got there, and some of the kills left the former one in place.
    assert set(sizes) == {60, 61}
    assert len(sizes) > 100


def test_the_program_killed_at_chance_moments(tmp_path: Path) -> None:
    """20 kills of the command, proof and drawings and all; the next build tidies up."""
    chance = random.Random(SEED)
    design = tmp_path / "lamp.yaml"
    folder = tmp_path / "out" / "lamp"
    command = [sys.executable, "-m", "harnessgen", "build", str(design), "-o", str(folder)]
    wholes = []
    began = time.monotonic()
    for paper in ("a4", "letter"):
        design.write_text(LAMP, encoding="utf-8")
        assert subprocess.run([*command, "--paper", paper], capture_output=True, check=False).returncode in (0, 1)
        wholes.append(complete(folder))
    takes_s = (time.monotonic() - began) / 2
    for _ in range(20):
        child = subprocess.Popen([*command, "--paper", chance.choice(("a4", "letter"))], stdout=subprocess.DEVNULL)
        time.sleep(chance.uniform(0.5, 1.1) * takes_s)
        child.send_signal(signal.SIGKILL)
        child.wait()
        assert complete(folder) in wholes
    assert subprocess.run(command, capture_output=True, check=False).returncode in (0, 1)
    assert complete(folder) == wholes[0]
    assert [each.name for each in folder.parent.iterdir()] == ["lamp"]
