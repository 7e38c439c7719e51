"""The test procedure as a page with boxes to tick and blanks for the readings."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from itertools import groupby

from harnessgen.bench.half import Half, halves
from harnessgen.bench.section_net import cavity_reach
from harnessgen.bench.step import Block, Expected, Phase, Procedure, Reactions, Step, TouchPlace
from harnessgen.documents.face_picture import face_picture
from harnessgen.documents.page import LOCAL_CODES, PageTitle, render
from harnessgen.measures.designator import natural_key
from harnessgen.measures.frozen import frozen
from harnessgen.network.network import Network
from harnessgen.schedules.status import Status

MOST_FACES = 24
"""Connectors shown by a face view in one block; beyond that the cavity chart serves."""

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
    setup: object
    faces: tuple[_ShownFace, ...]
    legend: tuple[_Tip, ...]
    steps: tuple[_ShownStep, ...]
    count: int


def procedure_page(network: Network, title: PageTitle, status: Status, procedure: Procedure) -> str:
    """The procedure in order, grouped by section and phase, with a face view of each connector that tips go to."""
    held = halves(network)
    numbers = {section.letter: section.number for section in network.sections.sections}

    @cache
    def picture(designator: str) -> str:
        return face_picture(network, designator)

    def shown_faces(block: Block) -> Iterator[_ShownFace]:
        for name in _touched(block, held)[:MOST_FACES]:
            reach = cavity_reach(network, held, name, held[name].part.cavities[0])
            yield _ShownFace(picture(name), name, reach)

    blocks = tuple(
        _ShownBlock(
            block.number,
            block.setup.title,
            numbers.get(block.setup.section, "") or "whole harness",
            _kind(block.setup.phase),
            block.setup,
            tuple(shown_faces(block)),
            _legend(block, held),
            tuple(_shown(block, held)),
            len(block.steps),
        )
        for block in procedure.blocks
    )
    return render("procedure.html", title, status, blocks=blocks, procedure=procedure, rules=LOCAL_CODES)


def _kind(phase: Phase) -> str:
    if phase is Phase.LOOK:
        return "look"
    if phase in (Phase.STATES, Phase.OUTPUTS):
        return "work"
    return "read"


def _touched(block: Block, held: Mapping[str, Half]) -> list[str]:
    """Connectors that tips go to in a block, without the pictures of clamps and studs."""
    places = [place for step in block.steps for place in (step.a, step.b) if place is not None]
    return sorted({place.designator for place in places if place.designator in held}, key=natural_key)


def _legend(block: Block, held: Mapping[str, Half]) -> tuple[_Tip, ...]:
    """Places on no wire that many steps share, such as the metal beside a ground point: their reach is said once."""
    places = (place for step in block.steps for place in (step.a, step.b) if place is not None and not place.wires)
    counted = Counter(_tip(place, held, ()) for place in places)
    return tuple(tip for tip, count in counted.items() if tip.reach and count >= _OFTEN)


def _shown(block: Block, held: Mapping[str, Half]) -> Iterator[_ShownStep]:
    legend = _legend(block, held)
    if block.setup.phase is not Phase.ISOLATION:
        for step in block.steps:
            yield _row([step], held, legend)
        return
    for _, steps in groupby(block.steps, key=lambda step: (step.a, step.b is not None and bool(step.b.wires))):
        yield _row(list(steps), held, legend)


def _row(steps: Sequence[Step], held: Mapping[str, Half], legend: tuple[_Tip, ...]) -> _ShownStep:
    first = steps[0]
    targets = tuple((step.number, _tip(step.b, held, legend)) for step in steps if step.b is not None)
    wants_reading = first.instrument is not None
    return _ShownStep(
        first.number if len(steps) == 1 else f"{first.number} to {steps[-1].number}",
        first.action if len(steps) == 1 else first.action.partition(" to ")[0],
        _tip(first.a, held, legend) if first.a is not None else None,
        targets,
        first.expected.words,
        range_text(first.expected, first.instrument.decimals if first.instrument is not None else 2),
        first.expected.unit if wants_reading else "",
        first.reactions,
    )


def _tip(place: TouchPlace, held: Mapping[str, Half], legend: tuple[_Tip, ...]) -> _Tip:
    whole = _Tip(place.name, "" if place.designator in held else place.reach)
    return _Tip(place.name, "") if whole in legend else whole


def range_text(expected: Expected, decimals: int) -> str:
    """Between which readings a step passes; empty where it is judged by words or for information."""
    low, high, unit = expected.low, expected.high, expected.unit
    if low is not None and high is not None:
        if low == -high:
            return f"at most {high:.{decimals}f} {unit}, either way"
        return f"{low:.{decimals}f} to {high:.{decimals}f} {unit}"
    if low is not None:
        return f"above {low / 1e6:g} Mohm" if unit == "ohm" and low >= 1e6 else f"above {low:.{decimals}f} {unit}"
    return f"below {high:.{decimals}f} {unit}" if high is not None else ""
