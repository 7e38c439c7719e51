"""The procedure as a page: every step with a box, a blank for each reading, and the faces that tips go to."""

import re

import pytest

from harnessgen.bench.setup.step import Expected, Phase
from harnessgen.bench.steps.procedure import procedure_of
from harnessgen.documents.pages.page import page_title
from harnessgen.documents.pages.procedure import procedure_page
from harnessgen.documents.pages.procedure_steps import range_text
from harnessgen.evidence.finding import Finding, Severity
from harnessgen.schedules.results.status import Status, status_of
from harnessgen.source.place import NOWHERE
from tests.documents.small_designs import LAMP, SMALL
from tests.line import FLAT_SIX, edited, physics_of


def page_of(text: str, status: Status | None = None) -> str:
    physics = physics_of(text)
    title = page_title(physics.network, "Test procedure")
    return procedure_page(physics.network, title, status or Status(), procedure_of(physics.network, physics))


def test_every_step_is_on_the_page() -> None:
    """Each step has its number, alone or inside a run of isolation steps, and a box of its own."""
    physics = physics_of(FLAT_SIX)
    found = procedure_of(physics.network, physics)
    page = page_of(FLAT_SIX)
    cells = re.findall(r'data-heading="step">([0-9.]+)(?: to ([0-9.]+))?<', page)
    shown: list[str] = []
    for first, last in cells:
        block, low = first.split(".")
        high = last.split(".")[1] if last else low
        shown += [f"{block}.{number}" for number in range(int(low), int(high) + 1)]
    assert shown == [step.number for step in found.steps]
    assert page.count('class="box"') >= len(shown) + len(found.blocks)


def test_every_reading_has_a_blank_with_its_unit() -> None:
    """Every row with a tip or a clamp has a line to write on, and the rows of one reading are as many as its steps."""
    physics = physics_of(FLAT_SIX)
    found = procedure_of(physics.network, physics)
    page = page_of(FLAT_SIX)
    blanks = page.count('<span class="fill">')
    assert blanks == page.count('data-heading="one tip"') + page.count("; clamp round")
    alone = [step for block in found.blocks if block.setup.phase is not Phase.ISOLATION for step in block.steps]
    isolation = {step.a for block in found.blocks if block.setup.phase is Phase.ISOLATION for step in block.steps}
    assert blanks >= sum(step.instrument is not None for step in alone) + len(isolation)


def test_the_faces_that_tips_go_to_are_shown_from_the_mating_side() -> None:
    """A block shows the face of each connector in it, as it looks at the person with the tip."""
    page = page_of(FLAT_SIX)
    assert "C10p, pin half, mating side" in page
    assert "C21, socket half, mating side" in page
    assert "wire side" not in page


def test_the_page_says_what_it_does_not_test() -> None:
    """A design without a supply has no step with power, and the page says so; local codes come first."""
    assert "Local codes" in page_of(FLAT_SIX)
    assert "Not tested here" not in page_of(FLAT_SIX)
    text = LAMP.replace("supplies: {BAT: {voltage: 12.6 V, at: battery}}\n", "").replace("from: BAT", "from: F2/out")
    page = page_of(text.replace("fuses: {", "fuses: {F2: {rating: 10 A, at: battery}, "))
    assert "Not tested here" in page
    assert "no step with power" in page


def test_a_harness_that_is_not_for_build_says_so_on_its_procedure() -> None:
    """The banner stands on the procedure too."""
    error = status_of([Finding("short-circuit", Severity.ERROR, "21A", NOWHERE, "Wire 21A shorts the battery.")])
    assert "NOT RELEASED" in page_of(FLAT_SIX, error)
    assert "NOT RELEASED" not in page_of(FLAT_SIX)


@pytest.mark.parametrize("text", [FLAT_SIX, *SMALL.values()])
def test_the_page_is_self_contained_and_repeats(text: str) -> None:
    """Nothing is fetched or run, links stay on the page, and the same design gives the same bytes."""
    page = page_of(text)
    assert not re.search(r"<(script|link|img|iframe) ", page)
    assert not re.search(r"""src=|href=(?!"#phase-[0-9]+">)|url\(|@import""", page)
    assert page == page_of(text)


def test_text_from_a_design_never_becomes_markup() -> None:
    """A title of a ground point with a tag in it stays text."""
    text = edited(("title: engine block rear", "title: 'block <b>rear</b> & more'"))
    page = page_of(text)
    assert "<b>rear" not in page
    assert "&lt;b&gt;rear&lt;/b&gt; &amp; more" in page


@pytest.mark.parametrize(
    ("expected", "text"),
    [
        (Expected("", None, "ohm", 1e6, None), "above 1 Mohm"),
        (Expected("", 0.02, "ohm", 0.0, 0.32), "0.0 to 0.3 ohm"),
        (Expected("", 0.0, "ohm", -1.0, 1.0), "at most 1.0 ohm, either way"),
        (Expected("", 5.0, "ohm", None, 9.0), "below 9.0 ohm"),
        (Expected("lights"), ""),
    ],
)
def test_ranges_in_words(expected: Expected, text: str) -> None:
    """A range is printed as the meter shows it."""
    assert range_text(expected, 1) == text
