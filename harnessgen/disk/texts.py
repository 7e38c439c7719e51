"""Texts of design files: regular files of a bounded size, read without trusting what a name says."""

import io
import os
import stat
from pathlib import Path

from harnessgen.design.reading.read import MOST_BYTES, UnreadableFile

_NO_FILE = (
    (stat.S_ISDIR, "it is a folder"),
    (stat.S_ISFIFO, "it is a pipe (FIFO), no file"),
    (stat.S_ISSOCK, "it is a socket, no file"),
    (stat.S_ISCHR, "it is a device, no file"),
    (stat.S_ISBLK, "it is a device, no file"),
)


def text_of(name: str) -> str:
    """Text of the file `name` (UTF-8): a regular file of at most `MOST_BYTES`, or a link to one.

    Raises:
        UnreadableFile: there is no such file, it is too large, or it is no text.
    """
    try:
        return _bytes_of(name).decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise UnreadableFile(f"it is no UTF-8 text (byte {error.start})") from error
    except OSError as error:
        raise UnreadableFile((error.strerror or str(error)).lower(), _beside(Path(name))) from error
    except ValueError as error:
        # A NUL, or a letter that the names of this disk cannot have.
        raise UnreadableFile("no file can have that name") from error


def _bytes_of(name: str) -> bytes:
    """What a regular file holds.

    Raises:
        UnreadableFile: it is no regular file, or too large.
        OSError: it cannot be read.
        ValueError: no file can have that name.
    """
    # To open a device can already do something; what was looked at may be another thing when it is opened.
    _refuse_unlike(Path(name).stat())
    handle = os.open(name, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_NOCTTY", 0))
    with io.FileIO(handle) as file:
        _refuse_unlike(os.fstat(handle))
        # The size that a file states is no bound: it may grow, and those of the system state none.
        held = bytearray()
        while piece := file.read(MOST_BYTES + 1 - len(held)):
            held += piece
    if len(held) > MOST_BYTES:
        raise UnreadableFile(_TOO_LARGE)
    return bytes(held)


_TOO_LARGE = f"it has more than {MOST_BYTES // 1024 // 1024} MiB, which no file of a design may have"


def _refuse_unlike(status: os.stat_result) -> None:
    """Refuse what is no regular file of a size that a design can have.

    Raises:
        UnreadableFile: it is none.
    """
    if not stat.S_ISREG(status.st_mode):
        why = next((words for is_kind, words in _NO_FILE if is_kind(status.st_mode)), "it is no regular file")
        raise UnreadableFile(why)
    if status.st_size > MOST_BYTES:
        raise UnreadableFile(_TOO_LARGE)


def _beside(path: Path) -> list[str]:
    """Names of the design files in the folder of `path`."""
    try:
        return sorted(each.name for each in path.parent.iterdir() if each.suffix in (".yaml", ".yml"))
    except OSError:
        return []
