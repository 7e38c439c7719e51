"""The documents of two small designs as files: `python -m tests.whole.golden_files` writes them again.

Texts that are read line by line are kept whole, so that a change of them can be read as a diff; pages, drawings
and PDF files are kept as hashes in `hashes.txt`. Previews are left out: they depend on the system's cairo library.
"""

import hashlib
from pathlib import Path

from harnessgen import run
from harnessgen.builder import build_files

FOLDER = Path(__file__).parent / "golden"
DESIGNS = sorted(path.stem for path in FOLDER.glob("*.yaml"))
_WHOLE = (".csv", ".txt", ".json", ".cir")


def built(name: str) -> dict[str, bytes]:
    """Every document of a golden design, previews apart, by name."""
    text = (FOLDER / f"{name}.yaml").read_text(encoding="utf-8")
    files = build_files(run.prove(run.examine_text(text))).files
    return {file: data for file, data in files.items() if not file.startswith("previews/")}


def golden(files: dict[str, bytes]) -> dict[str, bytes]:
    """What is kept of documents: those that can be read line by line, and one list with the hashes of all others."""
    kept = {file: data for file, data in files.items() if file.endswith(_WHOLE)}
    hashed = sorted(file for file in files if file not in kept)
    listed = "".join(f"{hashlib.sha256(files[file]).hexdigest()}  {file}\n" for file in hashed)
    return {**kept, "hashes.txt": listed.encode()}


def kept(name: str) -> dict[str, bytes]:
    """The golden files of a design as they are on the disk."""
    folder = FOLDER / name
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def regenerate() -> None:
    """Write the golden files of every design again, and remove those that no document has any more."""
    for name in DESIGNS:
        new = golden(built(name))
        for file in kept(name).keys() - new.keys():
            (FOLDER / name / file).unlink()
        for file, data in new.items():
            path = FOLDER / name / file
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(data)


if __name__ == "__main__":
    regenerate()
