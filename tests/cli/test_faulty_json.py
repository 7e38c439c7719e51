"""What a program reads when the file itself is faulty: the findings, in the form that it asked for."""

import json
from pathlib import Path

import pytest

from harnessgen.cli.main import main
from tests.line import FLAT_SIX


@pytest.mark.parametrize("command", ["check", "prove", "cut"])
def test_findings_come_in_the_form_that_was_asked_for(
    command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A key that no circuit has."""
    design = tmp_path / "six.yaml"
    design.write_text(FLAT_SIX.replace("color:", "colour:", 1), encoding="utf-8")
    assert main([command, str(design), "--format", "json"]) == 1
    told = json.loads(capsys.readouterr().out)
    assert [each["rule"] for each in told["findings"]] == ["unknown-key"]
