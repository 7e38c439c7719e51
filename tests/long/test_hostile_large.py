"""The hostile designs at full size, each in a process of its own: an answer within 20 s of its time and 1 GiB."""

import os
import resource
import subprocess
import sys
from pathlib import Path

import pytest

from tests.hostile.designs import MADE

pytestmark = pytest.mark.long
_ROOT = Path(__file__).parents[2]
_REPETITIONS = 50_000
_FEWER = {
    "broken banks": 5_000,
    "loads at no connector": 5_000,
    "wires between nothing": 20_000,
    "a route from point to point": 20_000,
    "a route to all sides": 20_000,
    "a route in rings": 20_000,
    "splices toward nothing": 20_000,
    "connectors at no point": 20_000,
    "zones that are not there": 20_000,
}
_MOST_SECONDS, _MOST_KIB = 20.0, 1024 * 1024


@pytest.mark.parametrize("name", MADE)
def test_a_large_hostile_design_is_answered(name: str, tmp_path: Path) -> None:
    """Processor time is measured, so that a busy machine does not fail the test."""
    path = tmp_path / "design.yaml"
    path.write_text(MADE[name](_FEWER.get(name, _REPETITIONS)), encoding="utf-8")
    command = [sys.executable, "-m", "harnessgen", "check", str(path)]
    process = subprocess.Popen(
        command,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        env={**os.environ, "PYTHONPATH": str(_ROOT)},
    )
    resource.prlimit(process.pid, resource.RLIMIT_CPU, (int(3 * _MOST_SECONDS),) * 2)
    assert process.stdout is not None
    told = process.stdout.read().decode()
    _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    process.stdout.close()
    assert process.returncode in (0, 1, 2), told[-2000:]
    assert "Traceback" not in told
    assert "fault of the program" not in told
    assert len(told) < 200_000
    assert used.ru_utime + used.ru_stime < _MOST_SECONDS
    assert used.ru_maxrss < _MOST_KIB
