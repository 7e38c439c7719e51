"""Things of ten kinds that a person may have in and around an output folder, and what a folder holds as one value."""

import os
import socket
import stat
from pathlib import Path

from harnessgen.disk.build_folder import BuildFolder

FIRST = {"cut-list.csv": b"one\n", "states/boost/network.cir": b"* one\n", "test/bench.html": b"<p>1", "empty.txt": b""}
SECOND = {
    "cut-list.csv": b"two\n",
    "states/left/network.cir": b"* two\n",
    "test/bench.html": b"<p>2",
    "new.svg": b"<svg/>",
}


def build(folder: Path, files: dict[str, bytes], *, force: bool = False) -> list[str]:
    """Write a set as a build does; the remarks."""
    with BuildFolder(folder, force=force) as held:
        held.write(files, {})
    return held.remarks


def snapshot(folder: Path) -> dict[str, tuple[str, bytes]]:
    """Everything below a folder: kind, permissions and content by name, empty folders and links too."""
    found = {}
    for path in sorted(folder.rglob("*")):
        mode = path.lstat().st_mode
        content = b""
        if stat.S_ISREG(mode):
            content = path.read_bytes()
        elif stat.S_ISLNK(mode):
            content = os.fsencode(path.readlink())
        found[path.relative_to(folder).as_posix()] = (stat.filemode(mode), content)
    return found


def documents(folder: Path) -> dict[str, bytes]:
    """Names and contents of the regular files of a folder, the manifest apart."""
    found = {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    found.pop("manifest.json", None)
    return found


def _repository(at: Path) -> None:
    for name in ("objects/pack", "refs/heads", "refs/tags"):
        (at / ".git" / name).mkdir(parents=True)
    (at / ".git" / "HEAD").write_text("ref: refs/heads/main\n")


def _hidden(at: Path) -> None:
    (at / ".notes").write_text("mine")


def _empty_folders(at: Path) -> None:
    (at / "photos" / "2026" / "left").mkdir(parents=True)


def _links(at: Path) -> None:
    (at / "to-a-file").symlink_to("../bystander.txt")
    (at / "to-a-folder").symlink_to("..")
    (at / "to-nothing").symlink_to("gone")


def _read_only(at: Path) -> None:
    (at / "signed.pdf").write_bytes(b"%PDF")
    (at / "signed.pdf").chmod(0o444)


def _pipe_and_socket(at: Path) -> None:
    os.mkfifo(at / "pipe")
    with socket.socket(socket.AF_UNIX) as listening:
        before = Path.cwd()
        # The name of a socket is short, so it is bound from its folder.
        os.chdir(at)
        try:
            listening.bind("socket")
        finally:
            os.chdir(before)


def _letters(at: Path) -> None:
    (at / "Kabelbaum größe 線束.txt").write_text("mine")
    (at / os.fsdecode(b"\xff\xfe")).mkdir()


def _old_list(at: Path) -> None:
    (at / "files.txt").write_text("../bystander.txt\n../../x\n/etc/hostname\ncut-list.csv\n")


def _edited(at: Path) -> None:
    (at / "cut-list.csv").write_bytes(b"one, and what I measured\n")


def _nested_build(at: Path) -> None:
    build(at / "other-harness", {"cut-list.csv": b"other\n", "states/run/network.cir": b"* other"})


KINDS = {
    "git repository": _repository,
    "hidden file": _hidden,
    "empty folders": _empty_folders,
    "links": _links,
    "read-only file": _read_only,
    "pipe and socket": _pipe_and_socket,
    "letters": _letters,
    "list of an old build": _old_list,
    "edited document": _edited,
    "build of another design": _nested_build,
}
