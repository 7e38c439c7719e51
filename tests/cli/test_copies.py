"""A copy of a design goes over nothing and nowhere but where it was sent."""

import errno
import os
from pathlib import Path

import pytest

from harnessgen.cli.copies import written
from tests.disk.kinds import snapshot


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """A design that includes a file beside it and one of the shop."""
    (tmp_path / "jobs").mkdir()
    (tmp_path / "jobs" / "six.yaml").write_text("main\n")
    (tmp_path / "jobs" / "legs.yaml").write_text("legs\n")
    (tmp_path / "parts.yaml").write_text("parts\n")
    return tmp_path


def copied(shop: Path, copy: str, *, force: bool = False, **changed: str) -> bool:
    jobs = shop / "jobs"
    texts = {
        (jobs / "six.yaml").as_posix(): changed.get("six", "main, smaller\n"),
        (jobs / "legs.yaml").as_posix(): changed.get("legs", "legs\n"),
        (jobs / ".." / "parts.yaml").as_posix(): changed.get("parts", "parts\n"),
    }
    return written((jobs / "six.yaml").as_posix(), texts, shop / copy, force=force)


def test_a_copy_beside_its_design_shares_what_it_includes(shop: Path) -> None:
    """Files that the copy finds where it looks for them are not written."""
    before = snapshot(shop)
    assert copied(shop, "jobs/small.yaml")
    after = snapshot(shop)
    assert after.pop("jobs/small.yaml")[1] == b"main, smaller\n"
    assert after == before


@pytest.mark.parametrize(
    ("copy", "changed"),
    [
        ("jobs/six.yaml", {}),
        ("jobs/small.yaml", {"legs": "legs, smaller"}),
        ("jobs/small.yaml", {"parts": "parts, smaller"}),
        ("other/deep/six.yaml", {}),
        ("taken/six.yaml", {}),
        ("link/six.yaml", {}),
        ("folder.yaml", {}),
    ],
)
def test_what_would_be_overwritten_or_go_elsewhere_is_refused(
    shop: Path, copy: str, changed: dict[str, str], capsys: pytest.CaptureFixture[str]
) -> None:
    """The design itself, an include that is there, one outside, another file, a link to nothing, a folder."""
    (shop / "taken").mkdir()
    (shop / "taken" / "legs.yaml").write_text("of another job")
    (shop / "link").mkdir()
    (shop / "link" / "six.yaml").symlink_to("../jobs/nothing.yaml")
    (shop / "folder.yaml").mkdir()
    before = snapshot(shop)
    assert not copied(shop, copy, **changed)
    assert snapshot(shop) == before
    told = capsys.readouterr().err
    assert "would be" in told
    assert "Nothing was written" in told
    assert copied(shop, copy, force=True, **changed) == (copy != "folder.yaml")


def test_a_copy_for_another_folder_takes_its_includes_along(shop: Path) -> None:
    """The one of the shop is found there too, so it is not written."""
    assert copied(shop, "new/six.yaml")
    assert (shop / "new" / "six.yaml").read_text() == "main, smaller\n"
    assert (shop / "new" / "legs.yaml").read_text() == "legs\n"
    assert (shop / "new" / "six.yaml").stat().st_mode == (shop / "parts.yaml").stat().st_mode


@pytest.mark.parametrize("last", [0, 1])
def test_a_full_disk_leaves_no_half_of_a_copy(
    shop: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], last: int
) -> None:
    """Neither file is there where the second one finds no room."""
    before = snapshot(shop)
    calls = []

    def fsync(handle: int) -> None:
        calls.append(handle)
        if len(calls) > last:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", fsync)
    assert not copied(shop, "new/six.yaml")
    assert "no space left on device" in capsys.readouterr().err
    assert {name: held for name, held in snapshot(shop).items() if name != "new"} == before
