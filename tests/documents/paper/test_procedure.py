"""The test procedure on paper: every step of it, in order, with its places and its limits."""

import io
import re

import pypdf
import pytest

from harnessgen.bench.steps.procedure import procedure_of
from harnessgen.documents.pages.page import page_title
from harnessgen.documents.paper.procedure import procedure_pdf
from harnessgen.evidence.finding import Finding, Severity
from harnessgen.schedules.results.status import Status, status_of
from harnessgen.source.place import NOWHERE
from tests.documents.small_designs import CHANGE_OVER, LAMP
from tests.line import physics_of

ERROR = status_of([Finding("wire-overload", Severity.ERROR, "21A", NOWHERE, "Wire 21A carries too much.")])


def printed(text: str, status: Status | None = None) -> bytes:
    physics = physics_of(text)
    procedure = procedure_of(physics.network, physics)
    title = page_title(physics.network, "Test procedure")
    return procedure_pdf(physics.network, title, status or Status(), procedure, "0123456789ab")


def pages_of(pdf: bytes) -> list[str]:
    return [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages]


@pytest.mark.parametrize("text", [LAMP, CHANGE_OVER])
def test_every_step_is_printed(text: str) -> None:
    """The number of each step stands on a page, or lies in a row of several (`3.2 to 3.4`), and nothing else does."""
    physics = physics_of(text)
    wanted = {step.number for step in procedure_of(physics.network, physics).steps}
    whole = " ".join("\n".join(pages_of(printed(text))).split())
    found: set[str] = set()
    for first, last in re.findall(r"\b(\d+\.\d+)(?: to (\d+\.\d+))?", whole):
        block, low = first.split(".")
        high = last.split(".")[1] if last.startswith(f"{block}.") else low
        found |= {f"{block}.{number}" for number in range(int(low), int(high) + 1)}
    assert wanted <= found


def test_cautions_and_local_codes_are_printed() -> None:
    """What can hurt is said on paper as on the page: battery off, local codes, who signs."""
    whole = "\n".join(pages_of(printed(LAMP)))
    for piece in ("Battery off:", "Local codes come first", "Tested by", "design 0123456789ab"):
        assert piece in whole


def test_a4_stamped_and_the_same_every_time() -> None:
    """A4 upright; NOT RELEASED on every page while an error stands; byte-identical on repetition."""
    pdf = printed(LAMP, ERROR)
    box = pypdf.PdfReader(io.BytesIO(pdf)).pages[0].mediabox
    assert float(box.width) == pytest.approx(595.28, abs=0.01)
    assert float(box.height) == pytest.approx(841.89, abs=0.01)
    assert all("NOT RELEASED" in page for page in pages_of(pdf))
    assert printed(LAMP, ERROR) == pdf
