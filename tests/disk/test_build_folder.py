"""A build owns what it wrote alone: things of ten kinds in and around its folder are there after everything it does."""

import errno
import json
import os
import resource
from collections.abc import Callable
from pathlib import Path

import pytest

from harnessgen.disk import build_folder, exchange
from harnessgen.disk.build_folder import BuildFolder
from harnessgen.disk.manifest import MANIFEST, manifest_in
from harnessgen.disk.work import FolderRefused
from tests.disk.kinds import FIRST, KINDS, SECOND, build, documents, snapshot


@pytest.fixture(autouse=True)
def synced(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Names of what was brought to the disk, which is not waited for here."""
    names: list[str] = []
    monkeypatch.setattr(os, "fsync", lambda handle: names.append(str(Path(f"/proc/self/fd/{handle}").readlink())))
    return names


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "shop").mkdir()
    (tmp_path / "shop" / "bystander.txt").write_text("not ours")
    return tmp_path / "shop" / "six"


def test_the_manifest_names_every_file_with_its_hash(folder: Path) -> None:
    """SHA-256 of each, as another program (sha256sum) would have it; what is missing stands there with the reason."""
    with BuildFolder(folder) as held:
        held.write(FIRST, {"circuit drawing": "no dot"})
    told = json.loads((folder / MANIFEST).read_text())
    assert set(told["files"]) == set(FIRST)
    # Of no bytes at all: FIPS 180-4, as every published list of test vectors has it.
    assert told["files"]["empty.txt"] == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"
    assert told["missing"] == {"circuit drawing": "no dot"}
    assert documents(folder) == FIRST


def test_every_file_and_folder_is_on_the_disk_before_the_exchange(folder: Path, synced: list[str]) -> None:
    """Files first, then the folders that name them, then the folders in which sets change places."""
    build(folder, FIRST)
    work = folder.with_name(".six.harnessgen")
    wanted = [f"{work}/writing/{name}" for name in (*FIRST, MANIFEST)]
    assert synced[: len(wanted)] == wanted
    assert set(synced[len(wanted) :]) == {
        *(f"{work}/writing{name}" for name in ("", "/states", "/states/boost", "/test")), str(work), str(folder.parent)
    }  # fmt: skip
    assert synced[-1] == str(folder.parent)


def test_a_second_build_replaces_the_first_whole(folder: Path) -> None:
    """What is not written any more is gone, folders too, and nothing is left beside it; again gives the same."""
    build(folder, FIRST)
    build(folder, SECOND)
    assert documents(folder) == SECOND
    assert not (folder / "states" / "boost").exists()
    assert sorted(each.name for each in folder.parent.iterdir()) == ["bystander.txt", "six"]
    before = snapshot(folder)
    build(folder, SECOND)
    assert snapshot(folder) == before


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("is_built", [False, True])
def test_what_is_not_ours_is_refused_and_stays(folder: Path, kind: str, is_built: bool) -> None:
    """Refused with its name in the message, and every byte as before; with force every one of them is there too."""
    folder.mkdir()
    if is_built:
        build(folder, FIRST)
    before_it = snapshot(folder)
    KINDS[kind](folder)
    (folder.parent / "around").mkdir()
    KINDS[kind](folder.parent / "around")
    before = snapshot(folder.parent)
    theirs = {name: held for name, held in snapshot(folder).items() if before_it.get(name) != held}
    with pytest.raises(FolderRefused, match="Nothing was written"):
        build(folder, SECOND)
    assert snapshot(folder.parent) == before
    if kind == "edited document" and not is_built:
        with pytest.raises(FolderRefused, match=r"cut-list\.csv"):
            build(folder, SECOND, force=True)
        assert snapshot(folder.parent) == before
        return
    remarks = build(folder, SECOND, force=True)
    after = snapshot(folder)
    if kind == "edited document":
        assert remarks == ["cut-list.csv was changed since the last build: kept as cut-list.csv.changed-1."]
        theirs = {"cut-list.csv.changed-1": theirs["cut-list.csv"]}
    assert theirs.items() <= after.items()
    assert {name: after[name][1] for name in SECOND} == SECOND
    assert set(after) - set(theirs) - set(SECOND) <= {MANIFEST, "states", "states/left", "test"}
    around = {name: held for name, held in before.items() if not name.startswith("six")}
    assert {name: held for name, held in snapshot(folder.parent).items() if not name.startswith("six")} == around


def test_all_kinds_at_once_outlive_three_forced_builds(folder: Path) -> None:
    """Again and again, with another set each time."""
    build(folder, FIRST)
    for put in KINDS.values():
        put(folder)
    theirs = {name: held for name, held in snapshot(folder).items() if name.partition("/")[0] not in
              ("cut-list.csv", "states", "test", "empty.txt", MANIFEST)}  # fmt: skip
    for files in (SECOND, FIRST, SECOND):
        build(folder, files, force=True)
        after = snapshot(folder)
        assert theirs.items() <= after.items()
        assert after["cut-list.csv.changed-1"][1] == b"one, and what I measured\n"
        assert {name: after[name][1] for name in files} == files
    assert "empty.txt" not in snapshot(folder)


@pytest.mark.parametrize("name", ["../outside.txt", "/etc/hostname", "states/../../outside.txt", "./a", ""])
def test_a_manifest_that_leads_out_of_its_folder_is_none_of_ours(folder: Path, name: str) -> None:
    """Nothing is deleted on its word, with force neither."""
    build(folder, FIRST)
    told = json.loads((folder / MANIFEST).read_text())
    told["files"][name] = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"
    text = json.dumps({**told, "files": dict(sorted(told["files"].items()))}, indent=1) + "\n"
    assert manifest_in(text.encode()) is None
    (folder / MANIFEST).write_text(text)
    (folder.parent / "outside.txt").write_bytes(b"")
    before = snapshot(folder.parent)
    for force in (False, True):
        with pytest.raises(FolderRefused):
            build(folder, SECOND, force=force)
        assert snapshot(folder.parent) == before


def test_a_link_in_the_place_of_a_folder_of_ours_is_not_followed(folder: Path) -> None:
    """Documents that would go through it are refused, with force too."""
    build(folder, FIRST)
    (folder / "test").rename(folder.parent / "elsewhere")
    (folder / "test").symlink_to("../elsewhere")
    before = snapshot(folder.parent)
    for force in (False, True):
        with pytest.raises(FolderRefused, match="test"):
            build(folder, SECOND, force=force)
        assert snapshot(folder.parent) == before


def test_a_folder_or_a_pipe_in_the_place_of_a_file_is_refused(folder: Path) -> None:
    """By its name, before anything is written."""
    build(folder, FIRST)
    (folder / "cut-list.csv").unlink()
    (folder / "cut-list.csv").mkdir()
    (folder / "new.svg").mkdir()
    os.mkfifo(folder / "pipe")
    before = snapshot(folder)
    for force in (False, True):
        with pytest.raises(FolderRefused, match=r"cut-list\.csv"):
            build(folder, SECOND, force=force)
        assert snapshot(folder) == before


def test_an_old_build_is_told_what_it_is(folder: Path) -> None:
    """A folder of the version before, which only listed names, is neither taken nor deleted."""
    folder.mkdir()
    for name in ("cut-list.csv", "files.txt"):
        (folder / name).write_text("cut-list.csv\n")
    with pytest.raises(FolderRefused, match=r"earlier version.*only files\.txt"):
        build(folder, SECOND)


def test_an_empty_folder_is_taken_with_its_permissions(folder: Path) -> None:
    """Somebody made it for the build."""
    folder.mkdir(mode=0o700)
    build(folder, FIRST)
    assert folder.stat().st_mode & 0o777 == 0o700
    assert documents(folder) == FIRST


def test_paths_that_are_no_folder_of_their_own(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file, a link, a file as parent, the root, a NUL, the folder that one is in and those above: plain refusals."""
    shop = folder.parent
    (shop / "link").symlink_to("real")
    (shop / "real").mkdir()
    inner = shop / "a" / "b"
    inner.mkdir(parents=True)
    monkeypatch.chdir(inner)
    names = ["../../bystander.txt", "../../link", "../../bystander.txt/six", "/", "a\0b", ".", "..", "", "../b",
             "/dev/null", "/dev/null/x", "x" * 300]  # fmt: skip
    before = snapshot(shop)
    for name in names:
        with pytest.raises(FolderRefused) as told:
            build(Path(name), FIRST)
        assert "Errno" not in str(told.value), name
        assert snapshot(shop) == before, name
    build(Path("../c/d/../e"), FIRST)
    assert documents(shop / "a" / "c" / "e") == FIRST
    build(Path(), FIRST, force=True)
    build(Path(), SECOND, force=True)
    assert documents(inner) == SECOND
    assert list(Path.cwd().iterdir())


def test_folders_made_for_a_build_that_writes_nothing_go_again(folder: Path) -> None:
    """An error between leaves no trace."""
    before = snapshot(folder.parent)
    with pytest.raises(ZeroDivisionError), BuildFolder(folder / "deep" / "er"):
        raise ZeroDivisionError
    assert snapshot(folder.parent) == before


def test_the_second_of_two_builds_says_so(folder: Path) -> None:
    """In this process and in another one; afterwards the way is free."""
    with BuildFolder(folder) as held:
        with pytest.raises(FolderRefused, match="Another build"):
            build(folder, SECOND)
        assert in_another_process(lambda: build(folder, SECOND)) == 3
        held.write(FIRST, {})
    assert documents(folder) == FIRST
    assert in_another_process(lambda: build(folder, SECOND)) == 0
    assert documents(folder) == SECOND


def in_another_process(work: Callable[[], object]) -> int:
    """Status of a copy of this process that does the work: 0, 3 where it is refused, 4 for anything else."""
    child = os.fork()
    if not child:
        status = 4
        try:
            work()
            status = 0
        except FolderRefused:
            status = 3
        finally:
            os._exit(status)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def test_somebody_elses_folder_of_the_name_of_ours_is_left_alone(folder: Path) -> None:
    """The build works in a folder beside; one that no build made is refused, even an innocent one."""
    beside = folder.with_name(".six.harnessgen")
    beside.mkdir()
    (beside / "ready").mkdir()
    (beside / "ready" / "mine.txt").write_text("mine")
    before = snapshot(folder.parent)
    with pytest.raises(FolderRefused, match="in the way"):
        build(folder, FIRST)
    assert snapshot(folder.parent) == before


@pytest.mark.parametrize("force", [False, True])
def test_a_full_disk_leaves_the_former_set(folder: Path, monkeypatch: pytest.MonkeyPatch, force: bool) -> None:
    """Whichever file it is that finds no room, and nothing temporary is left."""
    build(folder, FIRST)
    if force:
        (folder / "mine.txt").write_text("mine")
    before = snapshot(folder.parent)
    real = exchange.write_new
    for last in range(len(SECOND) + 1):
        written = []

        def write(path: Path, content: bytes, written: list[Path] = written, last: int = last) -> None:
            written.append(path)
            if len(written) > last:
                path.write_bytes(content[:1])
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), str(path))
            real(path, content)

        monkeypatch.setattr(exchange, "write_new", write)
        with pytest.raises(FolderRefused, match="no space left on device"):
            build(folder, SECOND, force=force)
        assert snapshot(folder.parent) == before


def test_a_limit_of_the_system_on_the_size_of_files_leaves_the_former_set(folder: Path) -> None:
    """The real error of the system, not a played one."""
    build(folder, FIRST)
    before = snapshot(folder.parent)

    def limited() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))
        build(folder, {**SECOND, "large.pdf": bytes(5000)})

    assert in_another_process(limited) == 3
    assert snapshot(folder.parent) == before


def test_what_comes_into_the_folder_during_the_exchange_is_kept(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The former folder with it goes beside the new one, and the build says where."""
    build(folder, FIRST)
    real = build_folder.exchanged

    def exchanged(one: Path, other: Path) -> bool:
        (folder / "late.txt").write_text("mine")
        (folder / "cut-list.csv").write_text("edited late")
        return real(one, other)

    monkeypatch.setattr(build_folder, "exchanged", exchanged)
    (remark,) = build(folder, SECOND)
    assert "six.kept-1" in remark
    assert documents(folder) == SECOND
    assert documents(folder.with_name("six.kept-1")) == {"late.txt": b"mine", "cut-list.csv": b"edited late"}
