"""The only place that reads or writes the builder's files: texts of designs in, copies and folders of documents out.

A copy of a design never goes over a file that is there. `build_folder` writes the documents of a build: the folder that
it takes is wholly its own, by the manifest in it (`manifest`, `holding`), and changes in one step (`work`, `exchange`).
"""

import errno
import os
import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path

from harnessgen.disk.texts import text_of

__all__ = ["CopyRefused", "text_of", "write_copy"]


class CopyRefused(Exception):
    """A copy is not written: it would go over a file that is there, or out of the folder that it was given."""


def write_copy(folder: Path, texts: Mapping[Path, str], *, force: bool = False) -> list[Path]:
    """Write each text to its path, all or none; nothing over a file or outside `folder` unless with `force`.

    A file that holds the text already is left alone. Folders are made. The paths written are returned.

    Raises:
        CopyRefused: a path is taken, or lies outside; nothing was written.
        OSError: a path cannot be written; nothing was written.
    """
    wanted = {path: text for path, text in texts.items() if not _holds(path, text)}
    if not force:
        outside = [path for path in wanted if not path.resolve().is_relative_to(folder.resolve())]
        if outside:
            raise CopyRefused(f"{_listed(outside)} would be written outside {folder}{os.sep}")
        taken = [path for path in wanted if os.path.lexists(path)]
        if taken:
            raise CopyRefused(f"{_listed(taken)} would be overwritten")
    _write_all(wanted, force=force)
    return list(wanted)


def _holds(path: Path, text: str) -> bool:
    try:
        return path.is_file() and path.read_bytes().decode("utf-8-sig") == text
    except (OSError, ValueError):
        return False


def _listed(paths: Sequence[Path]) -> str:
    return ", ".join(map(str, paths))


def _place_new(temporary: Path, path: Path) -> None:
    """Give a written file its name; fails where a file has come there since."""
    try:
        path.hardlink_to(temporary)
    except OSError as error:
        # Some disks (of cameras, of sticks) know no second name of a file.
        if error.errno not in (errno.EPERM, errno.EOPNOTSUPP, errno.ENOSYS) or os.path.lexists(path):
            raise
        temporary.rename(path)


def _write_all(texts: Mapping[Path, str], *, force: bool) -> None:
    """Write all texts beside their places first, so that a full disk leaves none."""
    temporary: dict[Path, str] = {}
    made: list[Path] = []
    try:
        for path, text in texts.items():
            path.parent.mkdir(parents=True, exist_ok=True)
            handle, temporary[path] = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name[:100]}.")
            with os.fdopen(handle, "wb") as file:
                file.write(text.encode("utf-8"))
                file.flush()
                os.fsync(handle)
            # mkstemp makes private files; a design gets the permissions of an ordinary new file.
            umask = os.umask(0)
            os.umask(umask)
            Path(temporary[path]).chmod(0o666 & ~umask)
        for path, name in temporary.items():
            if force:
                Path(name).replace(path)
            else:
                _place_new(Path(name), path)
                made.append(path)
    except BaseException:
        for path in made:
            path.unlink(missing_ok=True)
        raise
    finally:
        for name in temporary.values():
            Path(name).unlink(missing_ok=True)
