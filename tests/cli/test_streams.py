"""The program at a closed, full or narrow standard output: a plain end with a fitting status, never a traceback."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

_ROOT = Path(__file__).parents[2]
_FAULTY = "format: 2\nroute: {a: {b: 1 m ± 5 %}}\nrout: é\n"


def _run(command: str, folder: Path, **variables: str) -> subprocess.CompletedProcess[bytes]:
    """A shell command in which $H is the program and $D a design with faults."""
    design = folder / "design.yaml"
    design.write_text(_FAULTY, encoding="utf-8")
    here = {"H": f"{sys.executable} -m harnessgen", "D": str(design), "PYTHONPATH": str(_ROOT)}
    environment = {**os.environ, **here, **variables}
    return subprocess.run(["bash", "-c", command], capture_output=True, env=environment, check=False, timeout=60)


def _is_plain(done: subprocess.CompletedProcess[bytes]) -> bool:
    return not any(sign in done.stderr + done.stdout for sign in (b"Traceback", b"fault of the program", b"ignored"))


@pytest.mark.parametrize(
    ("command", "status", "told"),
    [
        ("$H check $D >&-", 2, "The standard output cannot be written: it is closed."),
        ("$H check $D >/dev/full", 2, "The standard output cannot be written: no space left on device."),
        ("$H --help >/dev/full", 2, "The standard output cannot be written: no space left on device."),
        ("$H rules >&- 2>&-", 2, ""),
        ("$H check $D 2>&-", 1, ""),
        ("$H cut nothing.yaml 2>/dev/full", 2, ""),
        ("$H check $D <&- >&- 2>&-", 2, ""),
        ("set -o pipefail; $H check $D | true", 1, ""),
        ("set -o pipefail; $H schema --page | head -1 >/dev/null", 0, ""),
    ],
)
def test_whatever_the_streams_are_the_end_is_plain(command: str, status: int, told: str, tmp_path: Path) -> None:
    """What cannot be written is said where that can be, and the status tells it."""
    done = _run(command, tmp_path)
    assert _is_plain(done)
    assert (done.returncode, done.stderr.decode().strip()) == (status, told)


@pytest.mark.parametrize("form", ["text", "json", "sarif"])
def test_a_terminal_of_ascii_shows_other_letters_by_number(form: str, tmp_path: Path) -> None:
    """And JSON stays JSON."""
    done = _run(f"$H check --format {form} $D", tmp_path, PYTHONIOENCODING="ascii")
    assert _is_plain(done)
    assert done.returncode == 1
    assert done.stdout.isascii()
    if form != "text":
        json.loads(done.stdout)


def test_the_schema_is_json_at_a_terminal_of_ascii(tmp_path: Path) -> None:
    """Its patterns hold letters that ASCII lacks."""
    done = _run("$H schema", tmp_path, PYTHONIOENCODING="ascii")
    assert json.loads(done.stdout) == json.loads(_run("$H schema", tmp_path).stdout)


def test_a_name_that_is_no_utf8_is_shown_byte_by_byte(tmp_path: Path) -> None:
    """In text and JSON alike."""
    done = _run("$H check $(printf 'a\\xff.yaml')", tmp_path)
    assert b"a\\xff.yaml:1:1" in done.stdout
    done = _run("$H check --format json $(printf 'a\\xff.yaml')", tmp_path)
    assert json.loads(done.stdout)["findings"][0]["file"] == "a\\xff.yaml"
