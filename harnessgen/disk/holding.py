"""What a folder holds: files that a build wrote and nobody changed, and everything else."""

import os
import stat
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from harnessgen.disk.manifest import MANIFEST, Manifest, hash_of, manifest_in

_KINDS = ((stat.S_ISLNK, "link"), (stat.S_ISFIFO, "pipe"), (stat.S_ISSOCK, "socket"), (stat.S_ISREG, "file"))
_LARGEST_MANIFEST = 16 * 1024 * 1024


@dataclass(slots=True)
class Holding:
    """Things in a folder by their names in it (with `/`).

    `ours` are files as a build wrote them, `changed` are names of ours that are something else now, `others` is what no
    build wrote, each with its kind in a word.
    """

    manifest: Manifest
    ours: list[str] = field(default_factory=list)
    changed: list[str] = field(default_factory=list)
    others: dict[str, str] = field(default_factory=dict)

    @property
    def is_ours(self) -> bool:
        """Whether there is nothing in it but what a build wrote."""
        return not self.changed and not self.others


def holding_of(folder: Path) -> Holding:
    """What `folder` holds; links are not followed.

    Raises:
        OSError: it cannot be read.
    """
    manifest = _manifest_of(folder)
    holding = Holding(manifest if manifest is not None else Manifest())
    folders = holding.manifest.folders
    for path, name in _within(folder, folder, folders):
        if name == MANIFEST and manifest is not None:
            holding.ours.append(name)
        elif name in holding.manifest.hashes:
            known = holding.manifest.hashes[name]
            (holding.ours if _hash(path) == known else holding.changed).append(name)
        elif name not in folders or _kind(path) != "folder":
            holding.others[name] = _kind(path)
    return holding


def _within(top: Path, folder: Path, known: frozenset[str]) -> Iterator[tuple[Path, str]]:
    """Everything below a folder, but that what lies in a folder of somebody else's is not told one by one."""
    for path in sorted(folder.iterdir()):
        name = path.relative_to(top).as_posix()
        yield path, name
        if name in known and _kind(path) == "folder":
            yield from _within(top, path, known)


def _kind(path: Path) -> str:
    mode = path.lstat().st_mode
    if stat.S_ISDIR(mode):
        return "folder"
    return next((word for is_kind, word in _KINDS if is_kind(mode)), "device")


def _hash(path: Path) -> str:
    """Hash of a regular file, or nothing where it is none."""
    content = _bytes_of(path)
    return hash_of(content) if content is not None else ""


def _bytes_of(path: Path) -> bytes | None:
    if not stat.S_ISREG(path.lstat().st_mode):
        return None
    # Between the look and the opening it may have become a link or a pipe.
    handle = os.open(path, os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0))
    with os.fdopen(handle, "rb") as file:
        return file.read()


def _manifest_of(folder: Path) -> Manifest | None:
    path = folder / MANIFEST
    try:
        content = _bytes_of(path) if path.lstat().st_size <= _LARGEST_MANIFEST else None
    except FileNotFoundError:
        return None
    return manifest_in(content) if content is not None else None


def remove_ours(folder: Path) -> Holding:
    """Delete what a build wrote in `folder`, the manifest last, and the folder if that leaves it empty; what it held.

    Everything else stays where it is.

    Raises:
        OSError: something cannot be deleted.
    """
    holding = holding_of(folder)
    for name in sorted(holding.ours, key=lambda each: each == MANIFEST):
        if name == MANIFEST:
            # Folders go before the manifest, by which the next run knows them, if this one is ended here.
            _remove_emptied(folder, holding.manifest)
            if not holding.is_ours:
                continue
        (folder / name).unlink()
    if holding.is_ours:
        folder.rmdir()
    return holding


def _remove_emptied(folder: Path, manifest: Manifest) -> None:
    for name in sorted(manifest.folders, key=len, reverse=True):
        path = folder / name
        if path.is_dir() and not path.is_symlink() and not any(path.iterdir()):
            path.rmdir()
