"""Designs written by someone who had README and FORMAT alone: the sound ones pass, each fault is named."""

import json
from pathlib import Path

import pytest

from harnessgen.cli.main import main

DESIGNS = Path(__file__).parent / "fabricator"

SOUND = ("eight-sound", "fan", "lights", "tap", "ext", "rails")

FAULTY = {
    "ring-dup": "orphan-cavity",
    "duty10": "fuse-too-small",
    "hot-zone": "over-temperature",
    "wire-to-self": "missing-ground",
    "key-typo": "unknown-key",
    "forgot-ground": "orphan-cavity",
}
"""For each spoilt design, an error that must be among those found."""


def test_every_design_is_used() -> None:
    """None of the files lies here unread."""
    assert {path.stem for path in DESIGNS.glob("*.yaml")} == {*SOUND, *FAULTY}


@pytest.mark.parametrize("name", SOUND)
def test_a_sound_design_passes(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    """No error, whatever else is remarked."""
    assert main(["check", str(DESIGNS / f"{name}.yaml")]) == 0, capsys.readouterr().out


@pytest.mark.parametrize("name", FAULTY)
def test_a_fault_is_named(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    """The error is found under the rule that names it, and the check fails."""
    assert main(["check", str(DESIGNS / f"{name}.yaml"), "--format", "json"]) == 1
    found = json.loads(capsys.readouterr().out)["findings"]
    assert FAULTY[name] in {each["rule"] for each in found if each["severity"] == "error"}
