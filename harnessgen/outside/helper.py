"""Libraries of other programs, asked in a child process of our own: one for a build, so that it can be ended."""

import atexit
import json
import os
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from threading import Lock
from typing import IO, Any

from harnessgen.outside.program import (
    MOST_BYTES,
    OutsideProgram,
    OutsideProgramFailed,
    end,
    forgive,
    give_up,
    read_bytes,
    refuse_overdue,
    started,
    within,
)
from harnessgen.outside.worker import DONE, FAILED, LENGTH_BYTES, MISSING

_lock = Lock()
_running: "list[subprocess.Popen[bytes]]" = []
"""The child process, once it was needed: it takes longer to start than most documents take."""


def helped(program: OutsideProgram, task: str, begins: bytes, request: Mapping[str, Any]) -> bytes:
    """What the child process makes of a request: bytes that start with `begins`, as every file of their kind does.

    Raises:
        OutsideProgramFailed: the library is not there, failed, ended the process, answered nonsense or did not end.
    """
    body = json.dumps({"task": task, **request}).encode()
    with _lock:
        refuse_overdue(program)
        try:
            status, answer = within(program.limit_s, lambda: _exchange(_child(program), body))
        except TimeoutError as overdue:
            _end_child()
            raise give_up(program) from overdue
        except (OSError, ValueError, EOFError) as broken:
            _end_child()
            raise OutsideProgramFailed(program.failed("it ended without an answer")) from broken
        except BaseException:
            # Interrupted: what comes next would read this answer.
            _end_child()
            raise
    if status == MISSING:
        raise OutsideProgramFailed(program.missing)
    if status == FAILED:
        raise OutsideProgramFailed(program.failed(answer.decode("utf-8", "replace")))
    if not answer.startswith(begins):
        raise OutsideProgramFailed(program.failed("its answer is no such file"))
    return answer


def end_helper() -> None:
    """End the child process and ask programs again that did not end: called when a build is done."""
    with _lock:
        _end_child()
        forgive()


def _exchange(child: "subprocess.Popen[bytes]", body: bytes) -> tuple[bytes, bytes]:
    assert child.stdin is not None  # it was started with pipes
    child.stdin.write(len(body).to_bytes(LENGTH_BYTES, "big") + body)
    child.stdin.flush()
    status = _exactly(child.stdout, 1)
    length = int.from_bytes(_exactly(child.stdout, LENGTH_BYTES), "big")
    if status not in (DONE, MISSING, FAILED) or length > MOST_BYTES:
        raise ValueError("no answer of ours")
    return status, _exactly(child.stdout, length)


def _exactly(stream: IO[bytes] | None, count: int) -> bytes:
    held = read_bytes(stream, count)
    if len(held) < count:
        raise EOFError
    return held


def _child(program: OutsideProgram) -> "subprocess.Popen[bytes]":
    if _running and _running[0].poll() is not None:
        _end_child()
    if not _running:
        # It finds what we find, in the same order; without -P it would look into the present folder first.
        paths = os.pathsep.join(str(Path(each).absolute()) for each in sys.path)
        command = [sys.executable, "-P", "-m", "harnessgen.outside.worker"]
        _running.append(started(program, command, {**os.environ, "PYTHONPATH": paths}))
    return _running[0]


def _end_child() -> None:
    while _running:
        end(_running.pop())


atexit.register(end_helper)
