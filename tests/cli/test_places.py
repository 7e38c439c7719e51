"""`harnessgen place` as a person meets it."""

import json
from pathlib import Path

import pytest

from harnessgen.cli.main import main
from tests.line import FLAT_SIX


@pytest.fixture
def design(tmp_path: Path) -> str:
    path = tmp_path / "six.yaml"
    path.write_text(FLAT_SIX, encoding="utf-8")
    return str(path)


def test_the_places_are_printed_and_written_to_a_copy(
    design: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What moves, the gain, the method; the copy is clean and the design stays."""
    copy = tmp_path / "new" / "copy.yaml"
    assert main(["place", design, "--write", str(copy)]) == 0
    captured = capsys.readouterr()
    assert "S5  fusebox, 60 mm towards relay" in captured.out
    assert "copper" in captured.out
    assert "Proved" in captured.out
    assert captured.err == f"Wrote {copy}.\n"
    assert Path(design).read_text(encoding="utf-8") == FLAT_SIX
    assert main(["check", str(copy)]) == 0
    capsys.readouterr()
    assert main(["place", str(copy)]) == 0
    assert "Today's places stay" in capsys.readouterr().out


def test_the_design_itself_is_not_overwritten(design: str, capsys: pytest.CaptureFixture[str]) -> None:
    """A copy in its place is refused."""
    assert main(["place", design, "--write", design]) == 2
    assert "would be overwritten" in capsys.readouterr().err


def test_json_holds_moves_and_figures(design: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Every key is there, and the copper after is no more than before."""
    assert main(["place", design, "--for", "diameter", "--format", "json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["for"] == "diameter"
    assert told["after"]["thickest_bundle_mm"] <= told["before"]["thickest_bundle_mm"]
    assert {"name", "from", "to"} == set(told["moves"][0])


def test_a_faulty_file_gets_no_places(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Its findings are told instead; a file that is not there is status 2."""
    path = tmp_path / "bad.yaml"
    path.write_text(FLAT_SIX.replace("from: BAT, to: F10", "from: BAT, to: F99"), encoding="utf-8")
    assert main(["place", str(path)]) == 1
    assert "mend the file first" in capsys.readouterr().err
    assert main(["place", str(tmp_path / "none.yaml")]) == 2
