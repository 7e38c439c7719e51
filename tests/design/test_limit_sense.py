"""The list of limits that a circuit may set is what the stages ask a circuit for."""

import re
from pathlib import Path

from harnessgen.design.limit_sense import OF_A_CIRCUIT
from harnessgen.design.limits import DEFAULT_LIMITS

PACKAGE = Path(__file__).parents[2] / "harnessgen"
# Asked by a name that is chosen between two.
CHOSEN = {"unfused-length", "unfused-length-covered", "smallest-size", "smallest-size-engine"}


def test_every_limit_that_a_wire_is_asked_for_may_be_set_by_its_circuit() -> None:
    """Read from the source: each call of `limit` that is handed a wire's own table."""
    asked: set[str] = set()
    for path in PACKAGE.rglob("*.py"):
        text = path.read_text(encoding="utf-8")
        asked |= set(re.findall(r'limit\(\s*"([a-z-]+)",\s*(?:\*tables|\*ends|\w+\.limits,\s*\w+\.)', text))
    assert asked | CHOSEN == OF_A_CIRCUIT
    assert DEFAULT_LIMITS.keys() >= OF_A_CIRCUIT
