"""A document that cannot be made costs only itself: the others are written, and the manifest says what is missing."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest

import harnessgen
from harnessgen import builder
from harnessgen.builder import DocumentCrash, Wishes, build_files
from harnessgen.cli.main import main
from harnessgen.run import Checked, examine_text, prove
from tests.documents.small_designs import CHANGE_OVER, LAMP
from tests.outside.fakes import MISSING, fake_library, fake_program

CRASHES = {
    "table_csv": ".csv",
    "tables_page": ".html",
    "tables_pdf": ".pdf",
    "procedure_page": ".html",
    "procedure_pdf": ".pdf",
    "solution_json": ".json",
    "netlist": ".cir",
    "sheets_pdf": ".pdf",
    "sheet_svg": ".svg",
    "schedules_of": "schedules",
    "volts_table": "volts at the loads",
    "pulse_plans": "",
    "coverage_table": "coverage",
    "limits_table": "",
}


@pytest.fixture(scope="module")
def proved() -> Checked:
    return prove(examine_text(LAMP))


def failing(*_: object, **__: object) -> None:
    raise ZeroDivisionError("none of the builder's business")


@pytest.mark.parametrize("name", CRASHES)
def test_a_crash_costs_what_it_crashes(proved: Checked, monkeypatch: pytest.MonkeyPatch, name: str) -> None:
    """For each thing that documents are made by: every other document has the same bytes, or is named as missing."""
    whole = build_files(proved)
    assert whole.missing == ()
    monkeypatch.setattr(builder, name, failing)
    made = build_files(proved)
    assert made.crashes
    assert all(CRASHES[name] in each.name and "ZeroDivisionError" in each.reason for each in made.crashes)
    assert made.files.items() <= whole.files.items()
    assert len(made.files) > 15
    groups = {each.name for each in made.missing} - set(whole.files)
    assert groups or set(whole.files) == set(made.files) | set(made.reasons)


def test_one_document_of_a_kind_costs_the_others_nothing(proved: Checked, monkeypatch: pytest.MonkeyPatch) -> None:
    """The second list fails; the first, the third and all others are there."""
    real: Callable[..., str] = builder.table_csv
    calls = []

    def second(*given: object) -> str:
        calls.append(given)
        return real(*given) if len(calls) != 2 else failing() or ""

    monkeypatch.setattr(builder, "table_csv", second)
    made = build_files(proved)
    assert len(made.missing) == 1
    assert len(calls) > 5
    monkeypatch.undo()
    whole = build_files(proved).files
    assert {**made.files, made.missing[0].name: whole[made.missing[0].name]} == whole


def test_the_command_names_the_missing_document_and_ends_with_2(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The others are on the disk, the manifest says why one is not, and there is no traceback."""
    design = tmp_path / "lamp.yaml"
    design.write_text(LAMP, encoding="utf-8")
    monkeypatch.setattr(builder, "netlist", failing)
    assert main(["build", str(design), "-o", str(tmp_path / "lamp")]) == 2
    told = capsys.readouterr()
    assert "network.cir" in told.err
    assert "fault of the program" in told.err
    assert "Traceback" not in told.out + told.err
    manifest = json.loads((tmp_path / "lamp" / "manifest.json").read_text())
    assert all(name.endswith("network.cir") for name in manifest["missing"])
    assert manifest["missing"]
    assert (tmp_path / "lamp" / "cut-list.pdf").is_file()
    with pytest.raises(DocumentCrash, match=r"network\.cir"):
        harnessgen.build(design, tmp_path / "lamp")


@pytest.mark.parametrize(
    ("dot", "libraries"), [("", MISSING), ("sys.exit(1)", "os._exit(1)"), ("print('rubbish')", "print('rubbish')")]
)
def test_another_program_that_is_missing_costs_its_documents(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    dot: str,
    libraries: str,
) -> None:
    """Without dot, typesetter and cairo: a remark for each, the status unchanged, and all are in the manifest."""
    design = tmp_path / "lamp.yaml"
    design.write_text(CHANGE_OVER, encoding="utf-8")
    status = main(["build", str(design), "-o", str(tmp_path / "whole"), "--previews"])
    whole = json.loads((tmp_path / "whole" / "manifest.json").read_text())["files"]
    assert any(name.endswith(".png") for name in whole)
    capsys.readouterr()

    monkeypatch.setenv("PATH", str(tmp_path))
    with (
        fake_library(tmp_path / "fakes", "typst", libraries),
        fake_library(tmp_path / "fakes", "cairosvg", libraries),
    ):
        if dot:
            fake_program(tmp_path / "bin", monkeypatch, "dot", dot)
        assert main(["build", str(design), "-o", str(tmp_path / "less"), "--previews"]) == status
    remarks = [line.strip() for line in capsys.readouterr().out.splitlines() if " missing: " in line]
    assert [line.partition(" missing: ")[0] for line in remarks] == [
        "The PDF documents are",
        "The circuit drawing is",
        "The PNG previews are",
    ]
    assert all("install" in line for line in remarks)
    manifest = json.loads((tmp_path / "less" / "manifest.json").read_text())
    lost = set(whole) - set(manifest["files"])
    assert {name for name in lost if not name.startswith(("circuit", "previews/circuit"))} <= set(manifest["missing"])
    assert "circuit drawing" in manifest["missing"]
    assert all(name.endswith((".pdf", ".png")) or name.startswith("circuit") for name in lost)


def test_previews_are_made_where_they_are_asked_for(proved: Checked) -> None:
    """They take longer than all other documents together, and hardly anybody looks at them."""
    assert not any(name.endswith(".png") for name in build_files(proved).files)
    wished = build_files(proved, Wishes(previews=True)).files
    assert {name for name in wished if name.endswith(".png")} == {
        f"previews/{name.removesuffix('.svg')}.png" for name in wished if name.endswith(".svg")
    }


def test_the_python_interface_refuses_as_the_command_does(tmp_path: Path) -> None:
    """A folder with something else; with force it writes beside it."""
    design = tmp_path / "lamp.yaml"
    design.write_text(LAMP, encoding="utf-8")
    (tmp_path / "lamp").mkdir()
    (tmp_path / "lamp" / "mine.txt").write_text("mine")
    with pytest.raises(harnessgen.FolderRefused, match=r"mine\.txt"):
        harnessgen.build(design, tmp_path / "lamp")
    assert [each.name for each in (tmp_path / "lamp").iterdir()] == ["mine.txt"]
    paths = harnessgen.build(design, tmp_path / "lamp", force=True)
    assert all(path.is_file() for path in paths)
    assert (tmp_path / "lamp" / "mine.txt").read_text() == "mine"
