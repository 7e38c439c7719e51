"""`harnessgen --changes`: the packaged list of changes, with the present version on top."""

import re
from importlib import resources

import pytest

from harnessgen import __version__
from harnessgen.cli.main import main


def test_the_list_of_changes_is_printed(capsys: pytest.CaptureFixture[str]) -> None:
    """The whole list, and nothing else; the status is 0."""
    with pytest.raises(SystemExit) as stopped:
        main(["--changes"])
    assert stopped.value.code == 0
    printed = capsys.readouterr().out
    assert printed == resources.files("harnessgen").joinpath("CHANGES.md").read_text(encoding="utf-8")


def test_the_first_version_of_the_list_is_this_one() -> None:
    """A version is not given out with the list of an older one."""
    versions = re.findall(
        r"^## (\S+?),? ", resources.files("harnessgen").joinpath("CHANGES.md").read_text(), re.MULTILINE
    )
    assert versions[0] == __version__
