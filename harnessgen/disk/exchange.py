"""Writing a set of files that is complete on the disk, and putting one folder in the place of another in one step."""

import ctypes
import errno
import os
from collections.abc import Mapping
from pathlib import Path

_AT_FDCWD = -100
_RENAME_EXCHANGE = 2
_CANNOT = (errno.ENOSYS, errno.EINVAL, errno.EOPNOTSUPP)


def write_set(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write every file into the new folder `folder`; all of it is on the disk when this returns.

    Raises:
        OSError: it cannot be written.
    """
    folder.mkdir()
    made = [folder]
    for name, content in files.items():
        path = folder / name
        for parent in reversed(path.relative_to(folder).parents[:-1]):
            if not (folder / parent).is_dir():
                (folder / parent).mkdir()
                made.append(folder / parent)
        write_new(path, content)
    for each in reversed(made):
        sync(each)


def write_new(path: Path, content: bytes) -> None:
    """Write a file that is not there yet; its bytes are on the disk when this returns.

    Raises:
        OSError: it is there, or cannot be written.
    """
    with path.open("xb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def sync(folder: Path) -> None:
    """Bring the names in a folder to the disk."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    except OSError as error:
        # Some file systems cannot do that of a folder.
        if error.errno != errno.EINVAL:
            raise
    finally:
        os.close(handle)


def exchanged(one: Path, other: Path) -> bool:
    """Give each of two paths what the other one has, in one step; False where this computer or disk cannot.

    Raises:
        OSError: one of them is not there, or may not be moved.
    """
    call = getattr(ctypes.CDLL(None, use_errno=True), "renameat2", None)
    if call is None:
        return False
    if call(_AT_FDCWD, os.fsencode(one), _AT_FDCWD, os.fsencode(other), _RENAME_EXCHANGE) == 0:
        return True
    number = ctypes.get_errno()
    if number in _CANNOT:
        return False
    raise OSError(number, os.strerror(number), str(other))
