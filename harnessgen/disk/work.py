"""The folder beside an output folder that a build works in: a lock, the new set while it is written, the old one after.

Beside `six` it is `.six.harnessgen`. Whatever moment a build is ended at, the next one finds in it what is to be done:

    lock      held by the build that runs; made first and deleted last
    writing   a new set, not complete yet
    ready     a new set that is complete, or, once it is in its place, the former one
    former    the former set where both cannot change places in one step

A build is refused where such a folder is there that no build made.
"""

import errno
import os
import shutil
import stat
import threading
from pathlib import Path
from types import TracebackType
from typing import Self

from harnessgen.disk.exchange import sync
from harnessgen.disk.holding import remove_ours

try:
    import fcntl
except ImportError:  # Without such locks on a system, builds at the same time are not told apart.
    fcntl = None  # type: ignore[assignment]

_MOST_TRIES = 100
"""How often a folder that another build takes away is made again."""
_LOCK, _WRITING, _READY, _FORMER = "lock", "writing", "ready", "former"
_MARK = b"a build of harnessgen works here\n"

_held: set[Path] = set()
"""Folders that this process works for: its own locks do not keep it out."""
_held_guard = threading.Lock()


class FolderRefused(Exception):
    """The documents were not put into the folder: it holds what no build wrote, or another build writes there.

    Or the folder is none, or cannot be written (a full disk, no permission). The message says what is the matter and
    what can be done. What the folder held is as it was, but that `force` may have replaced some of its documents.
    """


class WorkFolder:
    """The lock of an output folder, and places for the sets; entering it puts in order what a former build left."""

    def __init__(self, folder: Path) -> None:
        """`folder` is the output folder, absolute."""
        self.folder = folder
        self.path = folder.parent / f".{folder.name}.harnessgen"
        self.writing, self.ready, self.former = (self.path / name for name in (_WRITING, _READY, _FORMER))
        self.kept: list[Path] = []
        """Folders with what turned out not to be of a build, put beside the output folder."""
        self._lock: int | None = None

    def __enter__(self) -> Self:
        """Take the lock.

        Raises:
            FolderRefused: another build holds it, or a folder of somebody else's is there.
            OSError: the folder cannot be made.
        """
        with _held_guard:
            if self.folder in _held:
                raise FolderRefused(_busy(self.folder))
            _held.add(self.folder)
        try:
            self._take()
            self._recover()
        except BaseException:
            self._release()
            raise
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Delete what is left of the work, and the lock."""
        try:
            self._recover()
        except OSError:
            # What cannot be deleted now, the next build deletes; the set in its place is complete.
            pass
        finally:
            self._release()

    def _take(self) -> None:
        tries = 0
        while self._lock is None:
            tries += 1
            try:
                self.path.mkdir(exist_ok=True)
                self._refuse_foreign()
                handle = os.open(self.path / _LOCK, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o666)
            except FileExistsError:
                raise FolderRefused(_in_the_way(self.path)) from None
            except FileNotFoundError:
                # Some file systems (of the kernel, of a lost server) answer so for ever.
                if not self.folder.parent.is_dir() or tries == _MOST_TRIES:
                    raise
                # Another build has just ended and taken the folder away.
                continue
            self._lock = _locked(handle, self.folder)
            if not _is_same(handle, self.path / _LOCK):
                os.close(handle)
                self._lock = None
        os.pwrite(self._lock, _MARK, 0)

    def _refuse_foreign(self) -> None:
        """Refuse where the folder is not of a build: a build writes its lock first and deletes it last."""
        names = {each.name for each in self.path.iterdir()}
        lock = self.path / _LOCK
        is_ours = not self.path.is_symlink() and names <= {_LOCK, _WRITING, _READY, _FORMER}
        if names and is_ours:
            try:
                is_ours = stat.S_ISREG(lock.lstat().st_mode) and _MARK.startswith(lock.read_bytes()[:1000])
            except FileNotFoundError:
                # Another build may just have ended.
                is_ours = not any(self.path.iterdir())
        if not is_ours:
            raise FolderRefused(_in_the_way(self.path))

    def _recover(self) -> None:
        """Put in order what this build, or one that was ended, has left here: the set in its place stays complete."""
        if self.former.exists():
            if not os.path.lexists(self.folder):
                self.former.rename(self.folder)
                sync(self.folder.parent)
            else:
                self._take_away(self.former)
        if self.ready.exists():
            self._take_away(self.ready)
        if self.writing.exists():
            # Never was in its place, so nobody else wrote in it.
            shutil.rmtree(self.writing)

    def _take_away(self, path: Path) -> None:
        """Delete a set; what turns out not to be of a build goes beside the output folder."""
        if remove_ours(path).is_ours:
            return
        for number in range(1, 1000):
            kept = self.folder.with_name(f"{self.folder.name}.kept-{number}")
            if not kept.exists() and not kept.is_symlink():
                path.rename(kept)
                self.kept.append(kept)
                return

    def _release(self) -> None:
        try:
            if self._lock is not None:
                if not any(each.name != _LOCK for each in self.path.iterdir()):
                    (self.path / _LOCK).unlink()
                os.close(self._lock)
                self._lock = None
            if self.path.is_dir() and not any(self.path.iterdir()):
                self.path.rmdir()
        except OSError:
            # What cannot be deleted now, the next build deletes.
            pass
        finally:
            with _held_guard:
                _held.discard(self.folder)


def _is_same(handle: int, path: Path) -> bool:
    """Whether the open file is still the one of that name."""
    try:
        return os.path.samestat(os.fstat(handle), path.stat())
    except FileNotFoundError:
        return False


def _locked(handle: int, folder: Path) -> int:
    """The open file, locked; it is closed where another build holds it."""
    if fcntl is None:
        return handle
    try:
        # Of the process, not of the file: the copies that a proof runs on other cores do not hold it.
        fcntl.lockf(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as error:
        os.close(handle)
        if error.errno in (errno.EACCES, errno.EAGAIN):
            raise FolderRefused(_busy(folder)) from error
        raise
    return handle


def _in_the_way(path: Path) -> str:
    return f"{path} is in the way, and no build made it; nothing was written. Move it, or write to another folder."


def _busy(folder: Path) -> str:
    return f"Another build is writing to {folder}; nothing was written. Wait until it has ended, and build again."
