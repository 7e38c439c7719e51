"""The only place, with the records, that touches the disk: texts of design files in, built files out."""

import os
import tempfile
from collections.abc import Mapping
from pathlib import Path

from harnessgen.design.read import UnreadableFile

MANIFEST = "files.txt"
"""Lists what a build wrote, so that the next one takes away what it does not write any more."""


def text_of(name: str) -> str:
    """Text of the file `name` (UTF-8).

    Raises:
        UnreadableFile: there is no such file, or it is no text.
    """
    try:
        return Path(name).read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise UnreadableFile(f"it is no UTF-8 text (byte {error.start})") from error
    except OSError as error:
        raise UnreadableFile((error.strerror or str(error)).lower(), _beside(Path(name))) from error


def _beside(path: Path) -> list[str]:
    """Names of the design files in the folder of `path`."""
    try:
        return sorted(each.name for each in path.parent.iterdir() if each.suffix in (".yaml", ".yml"))
    except OSError:
        return []


def write_all(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write every file under `folder`, each whole or not at all, and take away what an earlier build left there.

    Raises:
        OSError: the folder cannot be written.
    """
    folder.mkdir(parents=True, exist_ok=True)
    for name in _earlier(folder):
        if name not in files:
            (folder / name).unlink(missing_ok=True)
    for name, content in files.items():
        _write(folder / name, content)
    _write(folder / MANIFEST, "".join(f"{name}\n" for name in sorted(files)).encode())
    for path in sorted(folder.rglob("*"), reverse=True):
        if path.is_dir() and not any(path.iterdir()):
            path.rmdir()


def write_texts(texts: Mapping[Path, str]) -> None:
    """Write each text to its path, whole or not at all; folders are made.

    Raises:
        OSError: a path cannot be written.
    """
    for path, text in texts.items():
        _write(path, text.encode("utf-8"))


def _earlier(folder: Path) -> list[str]:
    """Names that an earlier build's list gives, as far as they lie inside the folder."""
    manifest = folder / MANIFEST
    if not manifest.is_file():
        return []
    names = manifest.read_text(encoding="utf-8").splitlines()
    return [name for name in names if name and (folder / name).resolve().is_relative_to(folder.resolve())]


def _write(path: Path, content: bytes) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
        # mkstemp makes private files; documents are for everyone whom the umask lets read.
        umask = os.umask(0)
        os.umask(umask)
        Path(temporary).chmod(0o666 & ~umask)
        Path(temporary).replace(path)
    except BaseException:
        Path(temporary).unlink(missing_ok=True)
        raise
