"""The standard output and error as they may be: closed, full, a pipe that nobody reads, a terminal of ASCII alone.

What cannot be written is dropped and remembered, so that a command runs to its end (a build writes its files) and its
exit status is known; nothing of it is left for the interpreter to stumble over as it ends.
"""

import codecs
import errno
import io
import os
import sys
from typing import TYPE_CHECKING, TextIO

if TYPE_CHECKING:
    from _typeshed import ReadableBuffer


class _Descriptor(io.FileIO):
    """A descriptor that takes everything: what cannot be written is dropped, and the first error kept."""

    failure: OSError | None = None

    def write(self, content: "ReadableBuffer", /) -> int:
        """Write as much as can be; always says that it wrote something."""
        if self.failure is None:
            try:
                return super().write(content) or 0
            except OSError as error:
                self.failure = error
        return memoryview(content).nbytes


class StandardOutput:
    """The standard streams of this run, made safe; `ended` says how it went."""

    def __init__(self) -> None:
        is_closed = [not _is_open(number) for number in (0, 1, 2)]
        for _ in filter(None, is_closed):
            # The lowest free number is taken, so that no file of ours becomes a standard stream.
            os.open(os.devnull, os.O_RDWR)
        self._written = _Descriptor(1, "wb", closefd=False)
        if is_closed[1]:
            self._written.failure = OSError(errno.EBADF, "it is closed")
        sys.stdout = _text_on(self._written, sys.stdout)
        sys.stderr = _text_on(_Descriptor(2, "wb", closefd=False), sys.stderr, is_by_line=True)

    def ended(self, status: int) -> int:
        """The exit status of a run that ended with `status`; says so when its output could not be written.

        A reader of a pipe that has seen enough is no failure.
        """
        sys.stdout.flush()
        failure = self._written.failure
        if failure is None or failure.errno == errno.EPIPE:
            return status
        why = (failure.strerror or str(failure)).lower()
        print(f"The standard output cannot be written: {why}.", file=sys.stderr)
        return 2


_ESCAPED = "harnessgen-escaped"


def _escape(error: UnicodeError) -> tuple[str, int]:
    """Letters that an encoding lacks, as JSON writes them (`\\u00b1`), so that JSON stays JSON at a terminal of ASCII.

    Raises:
        UnicodeError: it is not of encoding.
    """
    if not isinstance(error, UnicodeEncodeError):
        raise error
    text = error.object[error.start : error.end]
    units = text.encode("utf-16-be", "surrogatepass")
    escaped = "".join(f"\\u{units[at] << 8 | units[at + 1]:04x}" for at in range(0, len(units), 2))
    return escaped, error.end


codecs.register_error(_ESCAPED, _escape)


def _is_open(number: int) -> bool:
    try:
        os.fstat(number)
    except OSError:
        return False
    return True


def _text_on(descriptor: _Descriptor, former: TextIO | None, *, is_by_line: bool = False) -> TextIO:
    """A text stream on `descriptor` in the encoding of the `former` one; what that cannot hold stands as its number."""
    encoding = (former.encoding if former is not None else None) or "utf-8"
    is_by_line = is_by_line or descriptor.isatty()
    buffered = io.BufferedWriter(descriptor)
    return io.TextIOWrapper(buffered, encoding=encoding, errors=_ESCAPED, line_buffering=is_by_line)
