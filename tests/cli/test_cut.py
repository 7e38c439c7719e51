"""`harnessgen cut` as a person meets it."""

import json
from pathlib import Path

import pytest

from harnessgen.cli.main import main
from harnessgen.documents.pages.small_design import SMALL_DESIGN
from tests.cutting.test_plan import STOCK
from tests.line import FLAT_SIX


def written(folder: Path, text: str = FLAT_SIX + STOCK) -> str:
    design = folder / "six.yaml"
    design.write_text(text, encoding="utf-8")
    return str(design)


def test_the_plan_is_printed_with_every_gap(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Each kind of wire has its spools and a line with bounds and gap; what to buy stands below."""
    assert main(["cut", written(tmp_path), "--copies", "5"]) == 0
    out = capsys.readouterr().out
    assert out.startswith("Cutting plan for 5 copies, FS-210\n")
    kinds = [line for line in out.splitlines() if line.startswith("thin-wall-175") and line.endswith(" m")]
    assert len(kinds) == out.count("gap 0: proved best") + out.count("may be best or not") == 15
    assert "off-1 (1.32 m)\n    1100 21A #1, 170 21B #1\n    left 50 mm, scrap" in out
    assert "1 x spool as reel, 100 m in all, cost 24.5" in out


def test_the_plan_as_json(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Every cut of every copy is there, and every kind of wire has its bound and gap."""
    assert main(["cut", written(tmp_path), "--copies", "3", "--format", "json"]) == 0
    plan = json.loads(capsys.readouterr().out)
    assert (plan["copies"], plan["for_build"], plan["harness"]) == (3, True, "FS-210")
    cuts = [cut for kind in plan["wires"] for spool in kind["spools"] for cut in spool["cuts"]]
    cuts += [cut for kind in plan["wires"] for cut in kind["by_the_metre"]]
    assert len(cuts) == sum(kind["cuts"] for kind in plan["wires"]) == len({(c["wire"], c["copy"]) for c in cuts})
    for kind in plan["wires"]:
        proof = kind["proof"]
        assert proof["gap"] == pytest.approx(proof["plan"] - proof["bound"])
        assert proof["gap_share"] == 0.0


def test_a_faulty_harness_says_so_above_its_plan(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Errors stand: the plan says NOT RELEASED, and the exit status is 1; a broken file gives no plan."""
    leg = "INJ1: {at: left-1, title: cylinder 1"
    short = (FLAT_SIX + STOCK).replace(leg, leg + ", feed: {cut: 150}")
    assert main(["cut", written(tmp_path, short)]) == 1
    assert capsys.readouterr().out.startswith("NOT RELEASED FOR ")
    assert main(["cut", written(tmp_path, short), "--format", "json"]) == 1
    assert json.loads(capsys.readouterr().out)["for_build"] is False
    assert main(["cut", written(tmp_path, FLAT_SIX + STOCK.replace("0.75 mm2", "0.77 mm2"))]) == 1
    captured = capsys.readouterr()
    assert "No 0.77 mm2 wire is made in thin-wall-175." in captured.out
    assert "There is no plan" in captured.err
    assert main(["cut", str(tmp_path / "none.yaml")]) == 2


def test_copies_are_a_whole_number(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Neither none nor half a harness is cut."""
    for text in ("0", "1.5", "-1", "many", "1001"):
        with pytest.raises(SystemExit) as stopped:
            main(["cut", written(tmp_path), "--copies", text])
        assert stopped.value.code == 2
    assert "no number of copies" in capsys.readouterr().err


@pytest.mark.long
def test_a_build_holds_the_plan_where_there_is_stock(tmp_path: Path) -> None:
    """With stock in the design the build has the plan as a list and a page; without it there is none."""
    main(["build", written(tmp_path), "-o", str(tmp_path / "with")])
    rows = (tmp_path / "with" / "cutting-plan.csv").read_text(encoding="utf-8").splitlines()
    assert rows[0].startswith("family,size,colour,spool,stock_mm,mark,copy,cut_mm")
    assert any(",off-1,1320,21A,1,1100," in row for row in rows)
    page = (tmp_path / "with" / "cutting-plan.html").read_text(encoding="utf-8")
    assert "Wire to buy" in page
    assert "How good the cutting plan is" in page
    main(["build", written(tmp_path, SMALL_DESIGN), "-o", str(tmp_path / "without")])
    assert (tmp_path / "without" / "cut-list.csv").exists()
    assert not (tmp_path / "without" / "cutting-plan.csv").exists()
