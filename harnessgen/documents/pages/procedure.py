"""The test procedure as a page with boxes to tick and blanks for the readings."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from typing import Any

from harnessgen.bench.setup.connector_half import Half, halves
from harnessgen.bench.setup.section_nets import cavity_reach
from harnessgen.bench.setup.step import Block, Phase, Procedure, Reactions, Step, TouchPlace
from harnessgen.documents.pages.face_picture import face_picture
from harnessgen.documents.pages.page import LOCAL_CODES, PageTitle, render
from harnessgen.documents.pages.procedure_steps import (
    action_words,
    number_words,
    passes_words,
    pointer_words,
    reaches,
    rows_of,
    stand_words,
    touched,
)
from harnessgen.documents.pages.tables import shown_table
from harnessgen.measures.frozen import frozen
from harnessgen.network.network import Network
from harnessgen.schedules.results.status import Status
from harnessgen.schedules.results.undetected import missed_table
from harnessgen.schedules.tables.table import Table
from harnessgen.sheets.sheet import PAPERS, Paper

_OFTEN = 3


@frozen
class _Tip:
    """Where a tip goes: the place, and how it is reached where the block's faces do not say it."""

    name: str
    reach: str


@frozen
class _ShownStep:
    """One row: of several steps from one place (isolation) each has its number and its own box."""

    number: str
    action: str
    a: _Tip | None
    targets: tuple[tuple[str, _Tip], ...]
    expected: str
    passes: str
    unit: str
    reactions: Reactions | None
    points_to: str


@frozen
class _ShownFace:
    picture: str
    designator: str
    reach: str


@frozen
class _ShownBlock:
    number: int
    title: str
    place: str
    kind: str
    stand: str
    setup: object
    faces: tuple[_ShownFace, ...]
    legend: tuple[_Tip, ...]
    steps: tuple[_ShownStep, ...]
    count: int


def procedure_page(
    network: Network,
    title: PageTitle,
    status: Status,
    procedure: Procedure,
    paper: Paper = PAPERS["A4 portrait"],
    tables: Sequence[Table[Any]] = (),
) -> str:
    """The procedure in order, grouped by section and phase, with a face view of each connector that tips go to.

    `tables` stand behind the steps that need them: what is entered in an output test.
    """
    held = halves(network)
    numbers = {section.letter: section.number for section in network.sections.sections}

    @cache
    def picture(designator: str) -> str:
        return face_picture(network, designator)

    def shown_faces(block: Block) -> Iterator[_ShownFace]:
        for name in touched(block, held):
            reach = cavity_reach(network, held, name, held[name].part.cavities[0])
            yield _ShownFace(picture(name), name, reach)

    blocks = tuple(
        _ShownBlock(
            block.number,
            block.setup.title,
            numbers.get(block.setup.section, "") or "whole harness",
            _kind(block.setup.phase),
            stand_words(block.setup),
            block.setup,
            tuple(shown_faces(block)),
            legend,
            tuple(_row(steps, held, legend) for steps in rows_of(block)),
            len(block.steps),
        )
        for block, legend in ((each, _legend(each, held)) for each in procedure.blocks)
    )
    return render(
        "procedure.html",
        title,
        status,
        blocks=blocks,
        procedure=procedure,
        tables=[shown_table(each) for each in (*tables, missed_table(procedure)) if each.rows],
        rules=LOCAL_CODES,
        page_size=paper.css,
    )


def _kind(phase: Phase) -> str:
    if phase is Phase.LOOK:
        return "look"
    if phase in (Phase.STATES, Phase.OUTPUTS):
        return "work"
    return "read"


def _legend(block: Block, held: Mapping[str, Half]) -> tuple[_Tip, ...]:
    """Places on no wire that many steps share, such as the metal beside a ground point: their reach is said once."""
    counted: Counter[_Tip] = Counter()
    for place, count in reaches(block, held).items():
        if not place.wires:
            counted[_Tip(place.name, place.reach)] += count
    return tuple(tip for tip, count in counted.items() if count >= _OFTEN)


def _row(steps: Sequence[Step], held: Mapping[str, Half], legend: tuple[_Tip, ...]) -> _ShownStep:
    first = steps[0]
    targets = tuple((step.number, _tip(step.b, held, legend)) for step in steps if step.b is not None)
    return _ShownStep(
        number_words(steps),
        action_words(steps),
        _tip(first.a, held, legend) if first.a is not None else None,
        targets,
        first.expected.words,
        passes_words(first),
        first.expected.unit if first.instrument is not None else "",
        first.reactions,
        pointer_words(steps),
    )


def _tip(place: TouchPlace, held: Mapping[str, Half], legend: tuple[_Tip, ...]) -> _Tip:
    whole = _Tip(place.name, "" if place.designator in held else place.reach)
    return _Tip(place.name, "") if whole in legend else whole
