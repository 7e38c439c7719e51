"""The list of limits that a circuit may set is what the stages ask a circuit for."""

import re
from pathlib import Path

import pytest

from harnessgen.design.limits.table import CHOICES, DEFAULT_LIMITS, OF_A_CIRCUIT, Limits
from harnessgen.measures.quantity import Quantity
from harnessgen.source.key import keys_of
from harnessgen.source.kind import Reading, Refusal
from harnessgen.source.place import NOWHERE
from harnessgen.source.reader import Scalar

PACKAGE = Path(__file__).parents[3] / "harnessgen"
# Asked by a name that is chosen between two.
CHOSEN = {"unfused-length", "unfused-length-covered", "smallest-size", "smallest-size-engine"}


def test_every_limit_that_a_wire_is_asked_for_may_be_set_by_its_circuit() -> None:
    """Read from the source: each call of `limit` that is handed a wire's own table."""
    asked: set[str] = set()
    for path in PACKAGE.rglob("*.py"):
        text = path.read_text(encoding="utf-8")
        asked |= set(re.findall(r'limit\(\s*"([a-z-]+)",\s*(?:\*tables|\*ends|\w+\.limits,\s*\w+\.)', text))
    assert asked | CHOSEN == OF_A_CIRCUIT - CHOICES.keys()
    assert DEFAULT_LIMITS.keys() | CHOICES.keys() >= OF_A_CIRCUIT


@pytest.mark.parametrize("name", ["sample-crimps", "service-loops", "least-reterminations"])
@pytest.mark.parametrize("written", ["75 %", "1.5", "-1"])
def test_a_count_is_a_whole_number(name: str, written: str) -> None:
    """`sample-crimps: 75 %` was read as one crimp."""
    _, declared = keys_of(Limits)[name]
    with pytest.raises(Refusal):
        declared.kind.read(Scalar(written, NOWHERE), Reading())
    value = declared.kind.read(Scalar("2", NOWHERE), Reading())
    assert value == Quantity(2.0)
