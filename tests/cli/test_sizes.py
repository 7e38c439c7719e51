"""`harnessgen size` as a person meets it."""

import json
from pathlib import Path

import pytest

from harnessgen.cli.main import main
from tests.line import FLAT_SIX

FANS = (Path(__file__).parents[2] / "designs" / "twin-fans.yaml").read_text(encoding="utf-8")


def written(folder: Path, text: str, name: str = "fans.yaml") -> str:
    folder.mkdir(exist_ok=True)
    (folder / name).write_text(text, encoding="utf-8")
    return str(folder / name)


def test_the_sizes_are_printed_and_written_to_a_copy(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A line for each wire, which of the two it is, and a copy that a check finds clean; the design stays."""
    design, copy = written(tmp_path, FANS), tmp_path / "new" / "copy.yaml"
    assert main(["size", design, "--write", str(copy)]) == 0
    captured = capsys.readouterr()
    assert "11A   16 mm2" in captured.out
    assert "Least copper: proved." in captured.out
    assert "Local codes" in captured.out
    assert captured.err == f"Wrote {copy}.\n"
    assert Path(design).read_text(encoding="utf-8") == FANS
    assert main(["check", str(copy)]) == 0
    assert "no errors, no warnings" in capsys.readouterr().out
    assert main(["size", str(copy), "--format", "json"]) == 0
    again = json.loads(capsys.readouterr().out)
    assert all(wire["size"] == wire["size_before"] for wire in again["wires"])
    assert again["is_least_proved"] is True


@pytest.mark.long
def test_a_design_is_not_written_over(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The copy is a copy; included files go with it, to another folder."""
    circuits = FANS[FANS.index("circuits:") : FANS.index("states:")]
    main_text = FANS.replace(circuits, "").replace("format: 2\n", "format: 2\ninclude: wires.yaml\n")
    written(tmp_path, "format: 2\n" + circuits, "wires.yaml")
    design = written(tmp_path, main_text)
    assert main(["size", design, "--write", design]) == 2
    assert main(["size", design, "--write", str(tmp_path / "copy.yaml")]) == 2
    assert "would be overwritten" in capsys.readouterr().err
    assert main(["size", design, "--write", str(tmp_path / "new" / "fans.yaml")]) == 0
    assert main(["check", str(tmp_path / "new" / "fans.yaml")]) == 0
    assert (tmp_path / "new" / "fans.yaml").read_text(encoding="utf-8").startswith(main_text)
    assert "size: 0.35 mm2" in (tmp_path / "new" / "wires.yaml").read_text(encoding="utf-8")


@pytest.mark.long
def test_a_design_with_faults(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Errors that no size mends are named above the proof, with status 1; a broken file is told, and not sized."""
    sneak = FLAT_SIX.replace("right-bank: {on: [SW1, Q2]", "right-bank: {on: [SW1, Q1, Q2]")
    assert main(["size", written(tmp_path, sneak)]) == 1
    out = capsys.readouterr().out
    assert "Stands with these sizes too: error, sneak-path" in out
    assert "NOT RELEASED" in out
    assert main(["size", written(tmp_path, FANS.replace("size: 6 mm2", "size: 7 mm2"))]) == 1
    assert "No sizes were sought" in capsys.readouterr().err
    assert main(["size", str(tmp_path / "none.yaml")]) == 2
