"""Which test file runs which lines of the package, and how long it takes: measured once and kept in a file."""

import hashlib
import json
import os
import sys
from collections.abc import Iterable
from pathlib import Path

from tests.mutation.alone import alone

# For each test file: seconds, and for each module of the package the lines that were run.
Covered = dict[str, tuple[float, dict[str, list[int]]]]


def covered(root: Path, parts: Iterable[str], folders: Iterable[str], kept: Path) -> Covered:
    """The map of the test files in some folders; a file is measured again when it, or any module, has changed."""
    parts = tuple(parts)
    package = _digest(root, root.glob("harnessgen/**/*.py")) + " ".join(parts)
    before = json.loads(kept.read_text()) if kept.exists() else {}
    if before.get("package") != package:
        before = {"package": package, "files": {}}
    files: dict[str, list[object]] = {}
    for path in _test_files(root, folders):
        name = path.relative_to(root).as_posix()
        own = _digest(root, [path])
        held = before["files"].get(name)
        if held is None or held[0] != own:
            began = _used_s()
            lines = alone(lambda path=path: _lines(root, parts, path), 900.0)
            held = [own, round(_used_s() - began, 2), lines or {}]
            print(f"{name}: {held[1]:.1f} s, {len(held[2])} modules", file=sys.stderr, flush=True)
        files[name] = held
        before["files"][name] = held
        kept.parent.mkdir(parents=True, exist_ok=True)
        kept.write_text(json.dumps(before))
    return {name: (float(held[1]), dict(held[2])) for name, held in files.items()}  # type: ignore[arg-type, call-overload]


def _used_s() -> float:
    """Processor time of all processes that ended; a busy machine makes no difference to it."""
    used = os.times()
    return used.children_user + used.children_system


def _test_files(root: Path, folders: Iterable[str]) -> list[Path]:
    found = []
    for each in folders:
        path = root / each
        found += [path] if path.is_file() else sorted(path.rglob("test_*.py"))
    return list(dict.fromkeys(found))


def _digest(root: Path, paths: Iterable[Path]) -> str:
    text = hashlib.sha256()
    for path in sorted(paths):
        text.update(path.relative_to(root).as_posix().encode() + path.read_bytes())
    return text.hexdigest()


def _lines(root: Path, parts: Iterable[str], path: Path) -> dict[str, list[int]]:
    """Lines of each module that one test file runs."""
    import coverage
    import pytest

    os.chdir(root)
    sys.path.insert(0, str(root))
    measured = coverage.Coverage(data_file=None, include=[f"{root}/harnessgen/{part}/*" for part in parts])
    measured.start()
    status = pytest.main(["-q", "-p", "no:cacheprovider", "--no-header", str(path)])
    measured.stop()
    if status not in (0, 5):
        raise RuntimeError(f"{path} fails without any mutant")
    data = measured.get_data()
    return {Path(file).relative_to(root).as_posix(): sorted(data.lines(file) or ()) for file in data.measured_files()}
