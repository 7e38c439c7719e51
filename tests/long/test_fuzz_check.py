"""Damaged designs in their thousands: `check` tells of each what is wrong, never fails, and never takes long."""

import json
import os
import random
import time
import unicodedata
from pathlib import Path

import pytest

from harnessgen.documents.data import findings_json
from harnessgen.documents.text import findings as findings_text
from harnessgen.run import check
from tests.long.mutations import damaged

pytestmark = pytest.mark.long
_DESIGNS = sorted((Path(__file__).parents[2] / "designs").glob("*.yaml"))
_SECONDS = float(os.environ.get("HARNESSGEN_FUZZ_SECONDS", "60"))
"""For each seed."""
_UNSEEN = ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp")
"""Categories of Unicode whose characters nobody sees."""
_MOST_SECONDS = 60.0
"""For one check: the slowest mends of a sound design take some ten, on a busy machine some more."""


@pytest.mark.parametrize("seed", range(8))
def test_a_damaged_design_is_told_of(seed: int) -> None:
    """Whatever is done to a shipped design, a check ends with a status and with findings that can be written."""
    chance = random.Random(seed)
    texts = [path.read_text(encoding="utf-8") for path in _DESIGNS]
    end, tried = time.monotonic() + _SECONDS, 0
    while time.monotonic() < end:
        text = damaged(chance.choice(texts), chance)
        began = time.monotonic()
        try:
            fault = fault_of(text)
        except Exception as error:
            raise AssertionError(f"seed {seed}, design {tried}:\n{text}") from error
        assert not fault, f"seed {seed}, design {tried}: {fault}\n{text}"
        assert time.monotonic() - began < _MOST_SECONDS, f"seed {seed}, design {tried}:\n{text}"
        tried += 1
    assert tried > 0


def fault_of(text: str) -> str:
    """What is wrong with how a design is told of; empty when nothing is."""
    checked = check("design.yaml", lambda name: text)
    findings, skipped = checked.examination.findings, checked.examination.not_examined
    written = findings_text.render(findings, checked.understood.texts, skipped)
    data = json.loads(findings_json.render(findings, skipped))
    if checked.exit_status == 2 and not findings:
        return "no design, and nothing is told"
    lines = text.count("\n") + text.count("\r") + 1
    for each in data["findings"]:
        if each["line"] is not None and not 1 <= each["line"] <= lines:
            return f"a finding in line {each['line']} of {lines}"
    unseen = {each for each in written if unicodedata.category(each) in _UNSEEN and each != "\n"}
    return f"a report with {unseen}" if unseen else ""
