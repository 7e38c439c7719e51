"""The command line as a person meets it."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from harnessgen.cli.main import main

DESIGNS = Path(__file__).parents[2] / "designs"
FLAT_SIX = DESIGNS / "flat-six.yaml"
SMALL = Path(__file__).parents[1] / "whole" / "golden" / "injector-bank.yaml"


def run(*arguments: str, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "harnessgen", *arguments]
    return subprocess.run(command, capture_output=True, text=True, cwd=cwd, timeout=120, check=False)


def test_a_good_design_exits_with_0(capsys: pytest.CaptureFixture[str]) -> None:
    """The flat six passes its own rules."""
    assert main(["check", str(FLAT_SIX)]) == 0
    assert "no errors, no warnings" in capsys.readouterr().out


def test_an_error_exits_with_1_and_is_told_with_its_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """An unknown key is an error of the file, not a reason to stop reading it."""
    design = tmp_path / "six.yaml"
    design.write_text(FLAT_SIX.read_text().replace("number: FS-210", "numbr: FS-210"))
    assert main(["check", str(design)]) == 1
    out = capsys.readouterr().out
    assert "numbr is no key of the title block." in out
    assert "did you mean number?" in out
    assert f"{design.as_posix()}:7:3" in out


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (None, "cannot be read"),
        ("", "holds no design"),
        ("format: 2\nroute: {a: b: c}\n", "cannot be read here"),
        ("format: 2\n", "has no route"),
    ],
)
def test_no_design_exits_with_2(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], text: str | None, words: str
) -> None:
    """Unreadable, empty, broken, or without a route: there is nothing to work with."""
    design = tmp_path / "six.yaml"
    if text is not None:
        design.write_text(text)
    assert main(["check", str(design)]) == 2
    assert words in " ".join(capsys.readouterr().out.split())


def test_a_crash_of_a_rule_exits_with_2_and_without_a_traceback(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A rule that fails by itself is a fault of ours, and no verdict."""
    import harnessgen.rules.continuity.short_circuit as rule

    def fail(physics: object) -> None:
        raise ZeroDivisionError("none of the builder's business")

    monkeypatch.setattr(rule, "check", fail)
    assert main(["check", str(FLAT_SIX)]) == 2
    captured = capsys.readouterr()
    assert "short-circuit" in captured.err
    assert "fault of the program" in captured.err
    assert "Traceback" not in captured.err + captured.out


def test_json_is_one_object_for_all_designs(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Two designs give one report; each finding names its file."""
    design = tmp_path / "six.yaml"
    design.write_text(FLAT_SIX.read_text().replace("number: FS-210", "numbr: FS-210"))
    assert main(["check", "--format", "json", str(FLAT_SIX), str(design)]) == 1
    report = json.loads(capsys.readouterr().out)
    errors = [finding for finding in report["findings"] if finding["severity"] == "error"]
    assert [(each["file"], each["rule"]) for each in errors] == [(design.as_posix(), "unknown-key")]


def test_build_says_what_it_wrote_and_writes_the_same_again(tmp_path: Path) -> None:
    """A second build leaves byte-identical files; a folder with other things is refused at once, and stays."""
    first = run("build", str(SMALL), "-o", str(tmp_path / "six"))
    assert first.returncode == 0, first.stderr
    files = {path.relative_to(tmp_path): path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()}
    told = json.loads((tmp_path / "six" / "manifest.json").read_text())
    assert {f"six/{name}" for name in (*told["files"], "manifest.json")} == set(map(str, files))
    assert told["missing"] == {}
    assert all(name in first.stdout for name in told["files"])
    assert not any(name.startswith("previews/") for name in told["files"])
    assert run("build", str(SMALL), "-o", str(tmp_path / "six")).returncode == 0
    again = {path.relative_to(tmp_path): path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()}
    assert again == files
    (tmp_path / "six" / "notes.txt").write_text("mine")
    refused = run("build", str(SMALL), "-o", str(tmp_path / "six"))
    assert refused.returncode == 2
    assert "notes.txt (file)" in refused.stderr
    assert "--force" in refused.stderr
    again = {path.relative_to(tmp_path): path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()}
    assert again == {**files, Path("six/notes.txt"): b"mine"}


def test_documents_of_a_faulty_harness_say_not_for_build(tmp_path: Path) -> None:
    """Errors stamp every document rather than hide it."""
    design = tmp_path / "six.yaml"
    leg = "INJ1: {at: left-1, title: cylinder 1"
    design.write_text(SMALL.read_text().replace(leg, leg + ", feed: {cut: 50 mm}"))
    result = run("build", str(design), "-o", str(tmp_path / "six"))
    assert result.returncode == 1
    for path in (tmp_path / "six").rglob("*"):
        if path.suffix in (".html", ".svg", ".csv"):
            assert "NOT RELEASED" in path.read_text(encoding="utf-8"), path


def test_schema_and_rules_print() -> None:
    """The schema is JSON, and each rule explains itself; a rule that is not there is told with the nearest name."""
    schema = run("schema")
    assert json.loads(schema.stdout)["$schema"].endswith("2020-12/schema")
    assert "leg-too-short" in run("rules").stdout
    assert "What it catches" in run("rules", "leg-too-short").stdout
    unknown = run("rules", "leg-to-short")
    assert unknown.returncode == 2
    assert "leg-too-short" in unknown.stderr


def test_build_draws_a_state_on_request(tmp_path: Path) -> None:
    """A second circuit drawing with the currents of the state; an unknown state is told, with status 2."""
    result = run("build", str(SMALL), "--annotate", "boost", "-o", str(tmp_path / "six"))
    assert result.returncode == 0
    assert "2.19 A" in (tmp_path / "six" / "circuit-in-boost.svg").read_text(encoding="utf-8")
    assert "2.19 A" not in (tmp_path / "six" / "circuit.svg").read_text(encoding="utf-8")
    result = run("build", str(SMALL), "--annotate", "left-on", "-o", str(tmp_path / "none"))
    assert result.returncode == 2
    assert "no state left-on" in result.stderr
    assert "boost" in result.stderr
    assert not (tmp_path / "none").exists()


def test_the_command_line_starts_without_a_solver() -> None:
    """No numerical library is loaded before a command asks for it, so that its threads can still be set."""
    code = "import sys, harnessgen.cli.main; print(*{'numpy', 'scipy', 'networkx'} & set(sys.modules))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == []
