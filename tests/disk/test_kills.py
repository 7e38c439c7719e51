"""A build that is ended at any step: the former set is complete or the new one is, and the next build tidies up."""

import os
import signal
import sys
from pathlib import Path

import pytest

from harnessgen.disk import build_folder
from harnessgen.disk.build_folder import BuildFolder
from harnessgen.disk.manifest import MANIFEST, manifest_in, manifest_of
from tests.disk.kinds import FIRST, SECOND, build, documents, snapshot

STEPS = ("open", "os.rename", "os.mkdir", "os.rmdir", "os.remove", "os.chmod", "ctypes.dlsym", "fcntl.lockf")
"""What the interpreter reports before it asks the system for it: all that changes a disk, and what comes between."""


@pytest.fixture(autouse=True)
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """A kill, unlike a loss of power, loses nothing that was written, so nothing has to wait for the disk."""
    monkeypatch.setattr(os, "fsync", lambda handle: None)


def killed_at(step: int, folder: Path, files: dict[str, bytes]) -> bool:
    """Whether a build in a copy of this process was killed just before so many steps, and not done before."""
    child = os.fork()
    if not child:
        count = 0

        def hook(event: str, _: object) -> None:
            nonlocal count
            if event in STEPS:
                count += 1
                if count > step:
                    os.kill(os.getpid(), signal.SIGKILL)

        status = 1
        try:
            sys.addaudithook(hook)
            build(folder, files)
            status = 0
        finally:
            os._exit(status)
    status = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    assert status in (0, -signal.SIGKILL)
    return status != 0


@pytest.mark.parametrize("can_exchange", [True, False])
@pytest.mark.parametrize("former", [None, {}, FIRST], ids=["no folder", "empty folder", "former build"])
def test_killed_before_every_step(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, former: dict[str, bytes] | None, can_exchange: bool
) -> None:
    """Every single step of a build in turn; on systems without an exchange the next start brings the set back."""
    if not can_exchange:
        monkeypatch.setattr(build_folder, "exchanged", lambda one, other: False)
    seen = []
    for step in range(1000):
        shop = tmp_path / f"shop-{step}"
        shop.mkdir()
        (shop / "bystander.txt").write_text("not ours")
        folder = shop / "six"
        if former == {}:
            folder.mkdir()
        elif former:
            build(folder, former)
        was_killed = killed_at(step, folder, SECOND)
        if not can_exchange:
            with BuildFolder(folder):
                pass
        found = documents(folder) if folder.is_dir() else None
        assert found in (former, SECOND), step
        if found:
            manifest = manifest_in((folder / MANIFEST).read_bytes())
            assert manifest is not None
            assert manifest == manifest_of(found, {})
        seen.append(found == SECOND)
        build(folder, FIRST)
        assert documents(folder) == FIRST
        assert sorted(each.name for each in shop.iterdir()) == ["bystander.txt", "six"]
        if not was_killed:
            break
    assert seen == sorted(seen)
    # It was killed at many steps with the former set in place, and at some with the new one.
    assert seen.count(False) > 15
    assert seen.count(True) > 3


def test_what_was_put_in_after_a_kill_is_kept(tmp_path: Path) -> None:
    """A folder that was taken out by a build that was killed, and that somebody has written in."""
    folder = tmp_path / "six"
    build(folder, FIRST)
    beside = tmp_path / ".six.harnessgen"
    for step in range(1000):
        assert killed_at(step, folder, SECOND)
        if documents(folder) == SECOND:
            break
        build(folder, FIRST)
    (beside / "ready" / "mine.txt").write_text("mine")
    remarks = build(folder, FIRST)
    assert "six.kept-1" in remarks[0]
    assert documents(tmp_path / "six.kept-1")["mine.txt"] == b"mine"
    assert sorted(snapshot(tmp_path)["six.kept-1"][0]) == sorted("drwxr-xr-x")
