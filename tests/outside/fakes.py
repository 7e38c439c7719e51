"""Programs and libraries that do harm, in the place of those that are asked."""

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from harnessgen.outside.helper import end_helper


def fake_program(folder: Path, monkeypatch: pytest.MonkeyPatch, name: str, body: str) -> Path:
    """A program of this name that is found before any other: a script of Python with this body."""
    folder.mkdir(exist_ok=True)
    path = folder / name
    path.write_text(f"#!{sys.executable}\nimport os, sys, time\n{body}\n", encoding="utf-8")
    path.chmod(0o755)
    monkeypatch.setenv("PATH", str(folder), prepend=":")
    return path


@contextmanager
def fake_library(folder: Path, name: str, body: str) -> Iterator[None]:
    """A module of this name that the child process finds before the true one."""
    folder.mkdir(exist_ok=True)
    (folder / f"{name}.py").write_text(f"import os, sys, time\n{body}\n", encoding="utf-8")
    end_helper()
    sys.path.insert(0, str(folder))
    try:
        yield
    finally:
        sys.path.remove(str(folder))
        end_helper()


MISSING = "raise ImportError('not here')"
