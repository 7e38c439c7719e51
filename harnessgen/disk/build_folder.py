"""The folder that a build writes: it lands there whole or not at all, and nothing of anybody else's is touched."""

import os
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType
from typing import Self

from harnessgen.disk.exchange import exchanged, sync, write_set
from harnessgen.disk.holding import Holding, holding_of
from harnessgen.disk.manifest import MANIFEST, Manifest, hash_of, manifest_bytes, manifest_of
from harnessgen.disk.work import FolderRefused, WorkFolder

_OLD_LIST = "files.txt"
"""The list of an earlier version of this program; it has no hashes, so nothing is deleted on its word."""
_NAMED = 5
"""Things that a refusal names; the others are counted."""


class BuildFolder:
    """An output folder, held for one build from before it calculates until its files are there.

    Without `force` a folder that holds anything but a former build, unchanged, is refused. With it the files of the
    build are replaced one by one in such a folder, and a file of a former build that was changed is kept beside its
    new version.
    """

    def __init__(self, folder: Path, *, force: bool = False) -> None:
        """Take note of the folder, by the name that people know it by.

        Raises:
            FolderRefused: no folder can have that name.
        """
        self.shown = folder
        with _told(folder):
            self.folder = _absolute(folder)
        self.force = force
        self.remarks: list[str] = []
        self._work = WorkFolder(self.folder)
        self._made: list[Path] = []

    def __enter__(self) -> Self:
        """Take hold of the folder, and put in order what a build that was ended left beside it.

        Raises:
            FolderRefused: it holds other things, another build writes there, it is no folder, or it cannot be made.
        """
        with _told(self.shown):
            self._refuse_no_folder()
            try:
                self._make_parents()
                self._work.__enter__()
            except BaseException:
                self._remove_parents()
                raise
            try:
                self._refuse_others()
            except BaseException:
                self.__exit__(None, None, None)
                raise
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Let go of the folder; nothing temporary is left."""
        self._work.__exit__(kind, error, trace)
        self._remove_parents()
        self.remarks += [f"Kept in {kept}: what was put into the folder during the build." for kept in self._work.kept]

    def write(self, files: Mapping[str, bytes], missing: Mapping[str, str]) -> None:
        """Put the files and their manifest in place; `missing` are documents that could not be made, with the reason.

        Raises:
            FolderRefused: what does not belong to a build appeared there since, or it cannot be written.
        """
        manifest = manifest_of(files, missing)
        whole = {**files, MANIFEST: manifest_bytes(manifest)}
        with _told(self.shown):
            self._refuse_others()
            if self._is_exchanged():
                self._exchange(whole)
            else:
                self._replace_each(whole, manifest)

    def _is_exchanged(self) -> bool:
        if not self.folder.exists():
            return True
        return not _is_within(self.folder) and holding_of(self.folder).is_ours

    def _exchange(self, files: Mapping[str, bytes]) -> None:
        work, folder = self._work, self.folder
        write_set(work.writing, files)
        if folder.exists():
            work.writing.chmod(folder.stat().st_mode & 0o7777 | 0o700)
        work.writing.rename(work.ready)
        sync(work.path)
        if not folder.exists() or not any(folder.iterdir()):
            # In one step too: it fails where something has come into the folder.
            work.ready.rename(folder)
        elif not exchanged(work.ready, folder):
            folder.rename(work.former)
            work.ready.rename(folder)
        sync(work.path)
        sync(folder.parent)

    def _refuse_no_folder(self) -> None:
        folder, shown = self.folder, self.shown
        if not folder.name:
            raise FolderRefused(f"{shown} is no folder for documents; nothing was written. Name a folder of their own.")
        if folder.is_symlink():
            raise FolderRefused(
                f"{shown} is a link to {folder.readlink()}; nothing was written. Name the folder itself."
            )
        if folder.exists() and not folder.is_dir():
            raise FolderRefused(f"{shown} is no folder; nothing was written. Name another one.")
        if folder.exists() and os.path.ismount(folder):
            raise FolderRefused(f"A disk is mounted at {shown}; nothing was written. Name a folder below it.")
        if not self.force and folder.exists() and _is_within(folder):
            raise FolderRefused(
                f"{shown} is the folder that you are in, and a build replaces its folder whole; nothing was written. "
                "Name a folder of its own, or let it write its files one by one with --force."
            )

    def _refuse_others(self) -> None:
        """Refuse a folder with things of somebody else's, unless it was asked to write among them."""
        if self.force or not self.folder.exists():
            return
        holding = holding_of(self.folder)
        if holding.is_ours:
            return
        found = [f"{name} ({kind})" for name, kind in holding.others.items()]
        found = [f"{name} (changed)" for name in holding.changed] + found
        if _OLD_LIST in holding.others and not holding.ours:
            remedy = (
                f"If it is a build of an earlier version, which kept no record of what it wrote (only {_OLD_LIST}), "
                "move or delete the folder and build again; otherwise name another folder."
            )
        else:
            remedy = (
                "Name another folder, or take these things out; --force writes the documents beside them and keeps "
                "what was changed."
            )
        raise FolderRefused(
            f"{self.shown} holds what no build wrote, or what was changed since: {_some(found)}. "
            f"Nothing was written. {remedy}"
        )

    def _replace_each(self, files: Mapping[str, bytes], manifest: Manifest) -> None:
        """Replace our files one by one among those of others; what is not ours, or was changed, stays."""
        folder, holding = self.folder, holding_of(self.folder)
        self._refuse_taken(files, holding)
        write_set(self._work.writing, files)
        for name in holding.changed:
            if name in files and not _is_equal(folder / name, files[name]):
                kept = _free(folder / name)
                (folder / name).rename(kept)
                self.remarks.append(f"{name} was changed since the last build: kept as {kept.relative_to(folder)}.")
        for name in files:
            path = folder / name
            if _is_equal(path, files[name]):
                continue
            path.parent.mkdir(parents=True, exist_ok=True)
            (self._work.writing / name).replace(path)
        for name in holding.ours:
            if name not in files:
                (folder / name).unlink()
        stale = [name for name in holding.changed if name not in files]
        if stale:
            self.remarks.append(f"Changed since the last build, no document of this one, and kept: {_some(stale)}.")
        for name in sorted(holding.manifest.folders - manifest.folders, key=len, reverse=True):
            path = folder / name
            if path.is_dir() and not path.is_symlink() and not any(path.iterdir()):
                path.rmdir()
        sync(folder)

    def _refuse_taken(self, files: Mapping[str, bytes], holding: Holding) -> None:
        """Refuse where something of somebody else's has the name of a document, or of a folder of documents."""
        taken = []
        for name in files:
            path = self.folder / name
            parents = [self.folder / parent for parent in Path(name).parents[:-1]]
            if any(os.path.lexists(each) and (each.is_symlink() or not each.is_dir()) for each in parents) or (
                os.path.lexists(path)
                and (path.is_symlink() or not path.is_file() or name in holding.others)
                and not _is_equal(path, files[name])
            ):
                taken.append(name)
        if taken:
            raise FolderRefused(
                f"{self.shown} has things that no build wrote where documents would go: {_some(taken)}. "
                "Nothing was written, and --force does not overwrite them: move them, or name another folder."
            )

    def _make_parents(self) -> None:
        for parent in reversed(self.folder.parents):
            if not parent.exists():
                parent.mkdir()
                self._made.append(parent)

    def _remove_parents(self) -> None:
        """Delete the folders that were made for a build that wrote nothing."""
        for parent in reversed(self._made):
            if parent.is_dir() and not any(parent.iterdir()):
                parent.rmdir()


@contextmanager
def _told(folder: Path) -> Iterator[None]:
    """What the disk refuses is told as a refusal of the folder."""
    try:
        yield
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        at = f" ({error.filename})" if error.filename and str(error.filename) != str(folder) else ""
        raise FolderRefused(f"{folder} cannot be written: {why}{at}.") from error


def _absolute(folder: Path) -> Path:
    """The folder by its full name; its last part is not followed where it is a link, so that it can be refused."""
    try:
        if "\0" in str(folder):
            raise ValueError
        if folder.name in ("", ".."):
            return folder.resolve()
        return folder.parent.resolve() / folder.name
    except (ValueError, RuntimeError) as error:
        raise FolderRefused(f"{str(folder)!r} is no name of a folder; nothing was written.") from error


def _is_within(folder: Path) -> bool:
    """Whether the program runs in this folder, or below it: it would be taken from under a person at a terminal."""
    try:
        return Path.cwd().is_relative_to(folder)
    except FileNotFoundError:
        return False


def _is_equal(path: Path, content: bytes) -> bool:
    return not path.is_symlink() and path.is_file() and hash_of(path.read_bytes()) == hash_of(content)


def _free(path: Path) -> Path:
    """A name beside `path` that nothing has."""
    names = (path.with_name(f"{path.name}.changed-{number}") for number in range(1, 100_000))
    return next(each for each in names if not os.path.lexists(each))


def _some(names: Sequence[str]) -> str:
    shown = ", ".join(names[:_NAMED])
    return shown if len(names) <= _NAMED else f"{shown} and {len(names) - _NAMED} more"
