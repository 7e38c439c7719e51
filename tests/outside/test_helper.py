"""Typesetter and picture maker in the child process: whatever they do there, the caller goes on with one exception."""

from dataclasses import replace
from pathlib import Path

import pytest

from harnessgen.builder import Built, Wishes, build_files
from harnessgen.documents.paper import paper
from harnessgen.outside import helper
from harnessgen.outside.helper import end_helper
from harnessgen.outside.program import OutsideProgramFailed
from harnessgen.run import examine_text, prove
from harnessgen.sheets import preview
from harnessgen.sheets.preview import PreviewUnavailable, png_bytes
from tests.documents.small_designs import LAMP
from tests.outside.fakes import MISSING, fake_library
from tests.samples import some

SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="10mm" height="10mm"></svg>'

HARM = {
    "raises": ("def svg2png(**_): raise KeyError('a\\nb')", r"failed \(KeyError: "),
    "prints rubbish and returns it": ("def svg2png(**_):\n print('x' * 99999)\n return b'x'", "no such file"),
    "returns nothing": ("def svg2png(**_): return b''", "no such file"),
    "returns no bytes": ("def svg2png(**_): return None", r"failed \(TypeError"),
    "ends the process": ("def svg2png(**_): os._exit(0)", "ended without an answer"),
    "exits": ("def svg2png(**_): sys.exit(3)", "ended without an answer"),
    "crashes": ("def svg2png(**_): os.abort()", "ended without an answer"),
    "is missing": (MISSING, "not installed; install it"),
    "crashes when loaded": ("os.abort()", "ended without an answer"),
}


@pytest.fixture(scope="module")
def whole() -> Built:
    return build_files(prove(examine_text(LAMP)), Wishes(previews=True))


@pytest.mark.parametrize("how", some(HARM, ("raises", "prints rubbish and returns it", "crashes", "is missing")))
def test_harm_is_one_exception_in_one_line(tmp_path: Path, how: str) -> None:
    """Then the next picture is asked for as if nothing had been."""
    body, words = HARM[how]
    with fake_library(tmp_path, "cairosvg", body):
        for _ in range(2):
            with pytest.raises(PreviewUnavailable, match=words) as told:
                png_bytes(SVG)
            assert len(str(told.value).splitlines()) == 1
            assert "install" in str(told.value)
    assert png_bytes(SVG).startswith(b"\x89PNG")


def test_what_a_library_prints_is_in_no_answer(tmp_path: Path) -> None:
    """From Python or below it: the answer is the picture alone."""
    body = "def svg2png(**_):\n print('rubbish', flush=True)\n os.write(1, b'more')\n return b'\\x89PNG and all'"
    with fake_library(tmp_path, "cairosvg", body):
        assert png_bytes(SVG) == png_bytes(SVG) == b"\x89PNG and all"


def test_one_child_does_all(tmp_path: Path) -> None:
    """It is started once for a build, and gone behind it."""
    end_helper()
    png_bytes(SVG)
    (first,) = helper._running
    png_bytes(SVG)
    assert helper._running == [first]
    end_helper()
    assert first.poll() is not None
    build_files(prove(examine_text(LAMP)))
    assert helper._running == []


def test_a_child_that_was_killed_is_started_anew() -> None:
    """By whomever, as where memory ran out: at most the document that was being made is lost."""
    png_bytes(SVG)
    helper._running[0].kill()
    helper._running[0].wait()
    assert png_bytes(SVG).startswith(b"\x89PNG")


def test_a_module_in_the_present_folder_is_not_loaded(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The folder of a design may hold anything, under any name."""
    (tmp_path / "cairosvg.py").write_text("raise RuntimeError('loaded')", encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    end_helper()
    assert png_bytes(SVG).startswith(b"\x89PNG")


def test_a_typesetter_that_hangs_costs_the_paper_and_is_waited_for_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, whole: Built
) -> None:
    """All else has the same bytes, and previews are made by the next child; the remark says how long it was."""
    monkeypatch.setattr(paper, "TYPESETTER", replace(paper.TYPESETTER, limit_s=2.0))
    with fake_library(tmp_path, "typst", f"open({str(tmp_path / 'asked')!r}, 'a').write('x')\ntime.sleep(60)"):
        made = build_files(prove(examine_text(LAMP)), Wishes(previews=True))
    assert (tmp_path / "asked").read_text() == "x"
    assert made.files == {name: held for name, held in whole.files.items() if not name.endswith(".pdf")}
    assert made.remarks[0] == "The PDF documents are missing: typst gave no answer within 2 s and was ended"
    assert made.crashes == ()


def test_a_picture_maker_that_hangs_costs_the_previews(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, whole: Built
) -> None:
    monkeypatch.setattr(preview, "PICTURE_MAKER", replace(preview.PICTURE_MAKER, limit_s=2.0))
    with fake_library(tmp_path, "cairosvg", "def svg2png(**_): time.sleep(60)"):
        made = build_files(prove(examine_text(LAMP)), Wishes(previews=True))
    assert made.files == {name: held for name, held in whole.files.items() if not name.endswith(".png")}
    assert "gave no answer within 2 s" in made.remarks[0]
    assert made.crashes == ()


def test_what_is_overdue_is_asked_again_in_the_next_build(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with monkeypatch.context() as patched, fake_library(tmp_path, "cairosvg", "time.sleep(60)"):
        patched.setattr(preview, "PICTURE_MAKER", replace(preview.PICTURE_MAKER, limit_s=1.0))
        for _ in range(2):
            with pytest.raises(OutsideProgramFailed, match="was ended"):
                png_bytes(SVG)
    assert png_bytes(SVG).startswith(b"\x89PNG")
