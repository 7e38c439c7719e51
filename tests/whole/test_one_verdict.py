"""Every command and every paper says the same of one file: findings, releases, exit status."""

import html
import io
import json
import re
from pathlib import Path
from typing import Any

import pypdf
import pytest

from harnessgen.cli.main import main
from harnessgen.disk import text_of
from harnessgen.run import check
from harnessgen.schedules.results.status import status_of
from tests.samples import some

FOLDER = Path(__file__).parents[2] / "designs"
PATHS = [*sorted(FOLDER.glob("*.yaml")), *sorted((FOLDER / "faulty").glob("*.yaml"))]
FEW = [each for each in PATHS if each.stem in ("lamp-misspelled", "lamp-one-number-twice")]
ACCEPTED = (
    "\naccept:\n  - {rule: wire-overload, subject: 90A, state: hot, up-to: 15 A, limit: 13 A, reason: short runs}\n"
)


def ids(told: dict[str, Any]) -> list[tuple[str, str, bool]]:
    """Which findings are told, at which severity, and whether they are accepted."""
    return [(each["id"], each["severity"], each["accepted"] is not None) for each in told["findings"]]


def plain(text: str) -> str:
    """Letters and figures alone: paper and page break their lines where they like."""
    return re.sub(r"\W+", "", html.unescape(text))


def of_pdf(data: bytes) -> str:
    """The text of a PDF."""
    return "".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages)


@pytest.mark.parametrize("path", some(PATHS, FEW), ids=lambda path: path.stem)
def test_all_say_the_same_of_one_file(path: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Check in text and JSON, the built lists, the proof, what is explained, page and paper."""
    said_alike(path, tmp_path, capsys)


def test_all_say_the_same_of_what_is_accepted(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A file with an acceptance: page and paper print state and figure with the reason."""
    path = tmp_path / "accepted.yaml"
    path.write_text((FOLDER / "faulty" / "fan-thin-feed.yaml").read_text(encoding="utf-8") + ACCEPTED, encoding="utf-8")
    folder = said_alike(path, tmp_path, capsys)
    words = plain("in state hot, up to 15 A, against 13 A: short runs")
    assert words in plain((folder / "cut-list.html").read_text(encoding="utf-8"))
    assert words in plain((folder / "findings.txt").read_text(encoding="utf-8"))
    assert words in plain(of_pdf((folder / "cut-list.pdf").read_bytes()))


def said_alike(path: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    """The folder of the build, after all was held against what `check` says in JSON."""

    def run(*arguments: str) -> tuple[int, str]:
        capsys.readouterr()
        status = main([arguments[0], str(path), *arguments[1:]])
        return status, capsys.readouterr().out

    status, out = run("check", "--format", "json")
    told = json.loads(out)
    checked = check(path.as_posix(), text_of)
    verdict = status_of(checked.examination.findings, checked.examination.not_examined)
    assert ids(told) == [
        (each.id, each.severity.value, each.accepted is not None) for each in checked.examination.findings
    ]
    assert status == checked.exit_status == (1 if told["summary"]["errors"] else 0)
    text_status, text = run("check")
    assert text_status == status
    assert verdict.release_words in text
    for each in checked.examination.findings:
        assert plain(each.message) in plain(text)
    folder = tmp_path / "built"
    build_status, build_text = run("build", "-o", str(folder))
    assert build_status == status
    assert text.strip() in build_text
    assert run("prove")[0] == status
    if checked.physics is None:
        assert not folder.exists()
        return folder
    assert (folder / "findings.txt").read_text(encoding="utf-8").strip() == text.strip()
    built = json.loads((folder / "findings.json").read_text(encoding="utf-8"))
    assert built == told
    page = (folder / "cut-list.html").read_text(encoding="utf-8")
    paper = of_pdf((folder / "cut-list.pdf").read_bytes())
    for written in (page, paper):
        assert plain(verdict.words) in plain(written) or not (verdict.banner or verdict.standing)
        assert plain(verdict.banner) in plain(written)
        assert verdict.banner != "" or "NOTRELEASED" not in plain(written)
        for each in checked.examination.findings:
            assert plain(each.message) in plain(written)
    things = {each["subject"] for each in told["findings"] if each["subject"]}
    for name in sorted(things)[:1]:
        explained_status, explained = run("explain", name, "--format", "json")
        if explained_status == 2:
            continue
        about = [each["id"] for each in told["findings"] if name in (each["subject"], *each["subjects"])]
        (thing, *_) = json.loads(explained)["things"]
        assert [each["id"] for each in thing["findings"]] == about
    return folder
