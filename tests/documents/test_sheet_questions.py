"""The questions of a person at the bench, answered by the sheet alone at every step, on a phone and on paper.

Which connector is apart, where do the two tips go, what should it read, what if not, is it safe now.
"""

import io
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pypdf
import pytest

from harnessgen.bench.need import Need
from harnessgen.bench.proof import Proof
from harnessgen.bench.setup.connector_half import Half
from harnessgen.bench.setup.step import Phase
from harnessgen.documents.pages.page import page_title
from harnessgen.documents.pages.procedure import procedure_page
from harnessgen.documents.pages.procedure_steps import pointer_words, rows_of
from harnessgen.documents.paper.procedure import procedure_pdf
from harnessgen.network.network import Network
from harnessgen.schedules.results.status import Status
from tests.bench.proving import SOME, fitted_of, proofs_of, text_of
from tests.documents.pages.browser import needs_browser, seen_in

PHONE = 390
_CAVITY = re.compile(r"\b([A-Z]+\d+[ps]?)/(\w+)")


@needs_browser
@pytest.mark.parametrize("name", SOME)
def test_every_step_of_every_page_answers(name: str, tmp_path: Path) -> None:
    """In a browser, by what is visible of the block and of the step's own row."""
    held = fitted_of(text_of(name)).halves
    proofs = proofs_of(text_of(name)).proofs
    found = seen_in([page_of(name, proof) for proof in proofs], tmp_path, PHONE)
    assert found["over"] <= 0, "a page runs out of the screen"
    blocks = [(proof, block) for proof in proofs for block in proof.procedure.blocks]
    assert len(found["blocks"]) == len(blocks)
    for (proof, block), shown in zip(blocks, found["blocks"], strict=True):
        where = f"{name}, {proof.need.value}, {shown['title']}"
        assert is_safe_said(shown, block.setup.phase), where
        assert len(shown["steps"]) == len(list(rows_of(block))), where
        for step in shown["steps"]:
            answers(step, shown, held, f"{where}: {step['step']['text']}")


def page_of(name: str, proof: Proof) -> str:
    network = proofs_of(text_of(name)).network
    return procedure_page(network, page_title(network, "Test"), Status(), proof.procedure)


@needs_browser
@pytest.mark.parametrize(
    ("said", "instead"), [("if not: ", ""), ("BATTERY ON; apart: ", "apart: "), ("<figcaption>C1:", "<figcaption>X1:")]
)
def test_a_sheet_that_leaves_a_question_open_fails(said: str, instead: str, tmp_path: Path) -> None:
    """The same with an answer taken out of the page of the flat six under power."""
    held = fitted_of(text_of("flat-six")).halves
    (proof,) = [each for each in proofs_of(text_of("flat-six")).proofs if each.need is Need.POWERED]
    page = page_of("flat-six", proof)
    assert said in page
    found = seen_in([page.replace(said, instead)], tmp_path, PHONE)
    with pytest.raises(AssertionError):
        all_answer(proof, found["blocks"], held)


def all_answer(proof: Proof, blocks: list[dict[str, Any]], held: Mapping[str, Half]) -> None:
    """Every question of every step of one sheet."""
    for block, shown in zip(proof.procedure.blocks, blocks, strict=True):
        assert is_safe_said(shown, block.setup.phase)
        for step in shown["steps"]:
            answers(step, shown, held, shown["title"])


def is_safe_said(shown: dict[str, Any], phase: Phase) -> bool:
    """Whether the battery is said to be on or off, and what can hurt in this block."""
    battery = "BATTERY ON" if phase.is_powered else "attery off"
    return battery in shown["stand"] and bool(shown["cautions"]) and all(shown["cautions"]) and all(shown["setup"])


def answers(step: dict[str, Any], shown: dict[str, Any], held: Mapping[str, Half], where: str) -> None:
    """Each question of one row."""
    assert step["step"]["text"], where
    assert step["ok"]["boxes"] == 1, where
    text = " ".join(each["text"] for each in step.values())
    assert "if not: " in text, f"{where}: nothing is said of a reading that does not come out"
    if "one tip" not in step:
        # A look, or an output that is worked: what is looked at or done, and what is right or happens.
        assert all(each["text"] for heading, each in step.items() if heading not in ("ok", "reading")), where
        return
    assert step["should show"]["text"].partition("if not: ")[0].strip(), where
    assert step["reading"]["boxes"] == 1, where
    for heading in ("one tip", "other tip"):
        tip = step[heading]["text"]
        assert tip, f"{where}: {heading}"
        places = [each for each in _CAVITY.findall(tip) if each[0] in held]
        for connector, cavity in places:
            assert is_apart(connector, held, shown["stand"]), f"{where}: {connector} is not said to be apart"
            drawn = [face["drawn"] for face in shown["faces"] if face["caption"].startswith(f"{connector}:")]
            assert drawn, f"{where}: no face of {connector}"
            assert cavity in drawn[0], f"{where}: the face of {connector} has no {cavity}"
        if not places:
            told = "\n".join(line for line in (*shown["setup"], tip))
            name = tip.splitlines()[0]
            assert f"{name}:" in told or len(tip.splitlines()) > 1, f"{where}: how {name} is reached"


def is_apart(connector: str, held: Mapping[str, Half], stand: str) -> bool:
    """Whether the line of what stands how names a connector, or its disconnect, as apart."""
    apart = stand.partition("apart: ")[2].partition(";")[0].rstrip(".").split(", ")
    return connector in apart or (held[connector].disconnect or connector) in apart


@pytest.mark.parametrize("name", SOME)
def test_every_step_on_paper_answers(name: str) -> None:
    """The same on paper, by the text of the pages: how the harness stands, tips, reading, and what else it is."""
    held = fitted_of(text_of(name)).halves
    proofs = proofs_of(text_of(name))
    for proof in proofs.proofs:
        text = printed(proofs.network, proof)
        for block in proof.procedure.blocks:
            assert block.setup.cautions
            assert plain(block.setup.title) in text
            for steps in rows_of(block):
                first = steps[0]
                assert first.points_to, (name, proof.need, first.number)
                for piece in (first.number, first.expected.words, pointer_words(steps)):
                    assert plain(piece) in text, (name, proof.need, first.number, piece)
                for place in (first.a, *(step.b for step in steps)):
                    assert place is None or plain(place.name) in text, (name, proof.need, first.number)
                    assert place is None or place.designator not in held or plain(f"{place.designator}:") in text
        assert text.count("Now:") == len(proof.procedure.blocks)


def printed(network: Network, proof: Proof) -> str:
    """The text of all pages without spaces."""
    pdf = procedure_pdf(network, page_title(network, "Test"), Status(), proof.procedure, "0123456789ab")
    return plain("".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages))


def plain(text: str) -> str:
    """Without spaces: a cell breaks its lines where its column is full."""
    return re.sub(r"\s", "", text)
