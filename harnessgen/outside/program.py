"""A program that is not ours, asked once: it is ended after its time, and with it everything that it has started."""

import os
import shutil
import signal
import subprocess
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from threading import Thread
from typing import IO, TypeVar

from harnessgen.measures.frozen import frozen

MOST_BYTES = 256 * 2**20
"""No answer of a program is longer; one that writes without end is ended there."""
_CHUNK = 2**16
_GRACE_S = 2.0
"""How long a thread may take to see that its program has been ended, in seconds."""

_T = TypeVar("_T")


class OutsideProgramFailed(RuntimeError):
    """A program that is not ours is missing, failed, answered nonsense or did not end: one line for the builder.

    It costs the documents that need it, and is no fault of this program.
    """


@frozen
class OutsideProgram:
    """A program by its name in messages, how it is installed, and the seconds that it may take for an answer."""

    name: str
    install: str
    limit_s: float

    @property
    def missing(self) -> str:
        """What is said where it is not there."""
        return f"{self.name} is not installed; {self.install}"

    @property
    def overdue(self) -> str:
        """What is said where it was ended."""
        return f"{self.name} gave no answer within {self.limit_s:g} s and was ended"

    def failed(self, how: str) -> str:
        """What is said where it failed, with how."""
        return f"{self.name} failed ({how}); if it does so again, {self.install}"


_given_up: dict[str, str] = {}
"""Programs that did not end, with what was said of it: asked once for each document they would take hours."""


def refuse_overdue(program: OutsideProgram) -> None:
    """Nothing, unless the program did not end before and nobody has called `forgive` since.

    Raises:
        OutsideProgramFailed: it was ended before.
    """
    if program.name in _given_up:
        raise OutsideProgramFailed(_given_up[program.name])


def give_up(program: OutsideProgram) -> OutsideProgramFailed:
    """What to raise for a program that did not end; until `forgive` it is not asked again."""
    _given_up[program.name] = program.overdue
    return OutsideProgramFailed(program.overdue)


def forgive() -> None:
    """Ask programs again that did not end: called at the end of a build."""
    _given_up.clear()


def answer_of(program: OutsideProgram, command: Sequence[str], text: bytes, most_bytes: int = MOST_BYTES) -> bytes:
    """What a program that reads `text` writes to its standard output.

    Raises:
        OutsideProgramFailed: it is not there, ends with another status than 0, writes too much or does not end.
    """
    refuse_overdue(program)
    process = started(program, command)

    def asked() -> bytes:
        writer = Thread(target=_written, args=(process.stdin, text), daemon=True)
        writer.start()
        answer = read_bytes(process.stdout, most_bytes + 1)
        if len(answer) <= most_bytes:
            process.wait()
        return answer

    try:
        answer = within(program.limit_s, asked)
    except TimeoutError as overdue:
        raise give_up(program) from overdue
    finally:
        status = process.poll()
        end(process)
    if len(answer) > most_bytes:
        raise OutsideProgramFailed(program.failed("its answer does not end"))
    if status != 0:
        raise OutsideProgramFailed(program.failed(f"exit status {status}"))
    return answer


def started(
    program: OutsideProgram, command: Sequence[str], environment: Mapping[str, str] | None = None
) -> "subprocess.Popen[bytes]":
    """The program running, with pipes for what it reads and writes, its complaints unheard.

    Raises:
        OutsideProgramFailed: it cannot be started.
    """
    # Asked for here: where nothing is said of where programs are, the system would look in the present folder.
    path = shutil.which(command[0])
    if path is None:
        raise OutsideProgramFailed(program.missing)
    try:
        return subprocess.Popen(
            (path, *command[1:]),
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            env=environment,
            # So that what it has started can be ended with it: a child of it would hold its output open.
            start_new_session=True,
        )
    except OSError as refused:
        raise OutsideProgramFailed(program.failed(refused.strerror or type(refused).__name__)) from refused


def within(limit_s: float, work: Callable[[], _T]) -> _T:
    """What `work` returns or raises, if it does so in time; the thread of a work that does not is left behind.

    Raises:
        TimeoutError: it did not.
    """
    done: list[_T] = []
    errors: list[BaseException] = []

    def run() -> None:
        try:
            done.append(work())
        except BaseException as error:
            errors.append(error)

    thread = Thread(target=run, daemon=True)
    thread.start()
    thread.join(limit_s)
    if errors:
        raise errors[0]
    if not done:
        raise TimeoutError
    return done[0]


def end(process: "subprocess.Popen[bytes]") -> None:
    """End a program with everything that it has started, and wait until it is gone."""
    with suppress(OSError):
        if hasattr(os, "killpg"):
            os.killpg(process.pid, signal.SIGKILL)
        else:
            process.kill()
    with suppress(subprocess.TimeoutExpired):
        process.wait(_GRACE_S)
    # Closed by a thread: a pipe that another thread still reads would hold up who closes it.
    closer = Thread(target=_closed, args=(process.stdin, process.stdout), daemon=True)
    closer.start()
    closer.join(_GRACE_S)


def read_bytes(stream: IO[bytes] | None, most: int) -> bytes:
    """What the stream holds to its end, and no more than `most` bytes."""
    assert stream is not None  # every program here is started with pipes
    held = bytearray()
    while len(held) < most:
        chunk = stream.read(min(_CHUNK, most - len(held)))
        if not chunk:
            break
        held += chunk
    return bytes(held)


def _written(stream: IO[bytes], text: bytes) -> None:
    # A program that ends before it has read everything says so by its status.
    with suppress(OSError, ValueError):
        stream.write(text)
        stream.close()


def _closed(*streams: IO[bytes]) -> None:
    for stream in streams:
        with suppress(OSError, ValueError):
            stream.close()
