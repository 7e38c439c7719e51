"""`harnessgen explain` as a person meets it."""

import json
from pathlib import Path

import pytest

from harnessgen.cli.main import main
from tests.samples import some

SIX = str(Path(__file__).parents[2] / "designs" / "flat-six.yaml")


@pytest.mark.parametrize(
    "what",
    some(["21A", "F1", "INJ3", "C1/14", "C10/1", "S1", "K1", "Q1", "boost", "drop", "b1"], ["21A", "C1/14", "boost"]),
)
def test_one_thing_is_explained(what: str, capsys: pytest.CaptureFixture[str]) -> None:
    """The thing stands first; the same as JSON."""
    assert main(["explain", SIX, what]) == 0
    assert f" {what}" in capsys.readouterr().out.splitlines()[0]
    assert main(["explain", SIX, what, "--format", "json"]) == 0
    assert json.loads(capsys.readouterr().out)["things"][0]["name"] == what


def test_a_name_that_is_not_there(capsys: pytest.CaptureFixture[str]) -> None:
    """The nearest name is offered, with the status of what cannot be done."""
    assert main(["explain", SIX, "INJ33"]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert "is called INJ33; did you mean INJ3" in captured.err
    assert main(["explain", "none.yaml", "21A"]) == 2
