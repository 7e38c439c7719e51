"""The test procedure as PDF on A4: block by block its cautions, setup, faces and steps, with boxes and blanks."""

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from functools import cache
from itertools import groupby

from harnessgen.bench.half import Half, halves
from harnessgen.bench.section_net import cavity_reach
from harnessgen.bench.step import Block, Phase, Procedure, Reactions, Step, TouchPlace
from harnessgen.documents.face_picture import face_picture
from harnessgen.documents.page import LOCAL_CODES, PageTitle
from harnessgen.documents.paper import Line, Picture, Round, rounds_pdf
from harnessgen.documents.procedure_html import MOST_FACES, range_text
from harnessgen.measures.designator import natural_key
from harnessgen.network.network import Network
from harnessgen.schedules.status import Status
from harnessgen.schedules.table import Cell, Column, Table, tick_column
from harnessgen.sheets.sheet import PAPERS, Paper

_BOX = "\u25a1"
_WHOLE = "whole harness"
_BLANK = "______"
_SIGN_OFF = "Serial ________________   Meter ________________   Tested by ________________   Date ________________"
_TIPS = ("what", "one tip", "other tip", "should show", "passes", "reading")


def procedure_pdf(
    network: Network,
    title: PageTitle,
    status: Status,
    procedure: Procedure,
    design: str,
    paper: Paper = PAPERS["A4 portrait"],
) -> bytes:
    """The procedure in the order in which it is safe; `design` is the design's hash.

    Raises:
        PaperUnavailable: typst or the lettering is missing.
    """
    numbers = {section.letter: section.number for section in network.sections.sections}
    rounds = [_contents(procedure, numbers), *_blocks(network, procedure)]
    cautions = (*procedure.preface, LOCAL_CODES)
    return rounds_pdf(title, status, rounds, design, paper, cautions)


def _contents(procedure: Procedure, numbers: Mapping[str, str]) -> Round:
    columns = (Column("block", "block"), Column("phase", "phase"), Column("of", "of"), Column("steps", "steps"))
    rows = tuple(
        (str(each.number), each.setup.title, numbers.get(each.setup.section) or _WHOLE, str(len(each.steps)), None)
        for each in procedure.blocks
    )
    notes = (*(f"Not tested here: {each}" for each in procedure.not_tested), _SIGN_OFF)
    table = Table("contents", "Phases", (*columns, tick_column()), rows, notes)
    return Round(table)


def _blocks(network: Network, procedure: Procedure) -> Iterator[Round]:
    held = halves(network)

    @cache
    def picture(name: str) -> Picture:
        svg = face_picture(network, name)
        size = re.search(r'width="([0-9.]+)mm" height="([0-9.]+)mm"', svg)
        assert size is not None  # every SVG of ours says its size in millimetres
        reach = cavity_reach(network, held, name, held[name].part.cavities[0])
        return Picture(svg, float(size[1]), float(size[2]), f"{name}: {reach}")

    for block in procedure.blocks:
        lines = [Line(each.name, each.text) for each in block.setup.cautions]
        lines += [Line("", each) for each in block.setup.lines]
        lines += [Line(name, reach) for name, reach in _legend(block, held).items()]
        faces = tuple(picture(name) for name in _touched(block, held)[:MOST_FACES])
        yield Round(_table(block), tuple(lines), faces)


def _places(block: Block) -> Iterator[TouchPlace]:
    for step in block.steps:
        yield from (place for place in (step.a, step.b) if place is not None)


def _touched(block: Block, held: Mapping[str, Half]) -> list[str]:
    return sorted({place.designator for place in _places(block) if place.designator in held}, key=natural_key)


def _legend(block: Block, held: Mapping[str, Half]) -> dict[str, str]:
    """How each place that no face shows is reached, the most used first."""
    counted = Counter(
        (place.name, place.reach) for place in _places(block) if place.reach and place.designator not in held
    )
    return {name: reach for (name, reach), _ in counted.most_common()}


def _table(block: Block) -> Table:
    phase, name = block.setup.phase, f"{block.number} {block.setup.title}"
    step, tick = Column("step", "step"), tick_column("ok", "ok")
    if phase is Phase.LOOK:
        seen = (step, Column("look", "look at"), Column("right", "right when"), tick)
        rows = tuple((each.number, each.action, each.expected.words, None) for each in block.steps)
        return Table("block", name, seen, rows)
    if phase in (Phase.STATES, Phase.OUTPUTS):
        done = (step, Column("do", "do"), Column("happens", "what happens"), Column("reading", "reading"), tick)
        return Table("block", name, done, tuple(map(_work, block.steps)))
    columns = (step, *(Column(each.replace(" ", "_"), each) for each in _TIPS), tick)
    return Table("block", name, columns, tuple(_readings(block)))


def _work(step: Step) -> tuple[Cell, ...]:
    do = f"{step.action}; clamp {step.a.name}" if step.a is not None else step.action
    happens = [step.expected.words]
    passes = _passes(step)
    if passes:
        happens.append(f"passes from {passes}")
    if step.reactions is not None:
        happens += _reactions(step.reactions)
    return (step.number, do, "; ".join(each for each in happens if each), _reading(step), None)


def _reactions(reactions: Reactions) -> list[str]:
    words = [f"MUST WORK or be fed: {', '.join(reactions.work) or 'none'}"]
    words.append(f"MUST NOT STIR: {', '.join(reactions.rest) or 'none'}")
    if reactions.unchanged:
        words.append(f"goes on as before: {', '.join(reactions.unchanged)}")
    return words


def _readings(block: Block) -> Iterator[tuple[Cell, ...]]:
    """One row a step; in isolation the steps from one place share a row, each with a box of its own."""
    if block.setup.phase is not Phase.ISOLATION:
        for step in block.steps:
            yield _row([step])
        return
    # Tips to metal that is no part of a wire pass otherwise, so they have a row of their own.
    for _, steps in groupby(block.steps, key=lambda step: (step.a, step.b is not None and bool(step.b.wires))):
        yield _row(list(steps))


def _row(steps: list[Step]) -> tuple[Cell, ...]:
    first = steps[0]
    one = first.a.name if first.a is not None else ""
    names = [step.b.name for step in steps if step.b is not None]
    number, action, other = first.number, first.action, ", ".join(names)
    if len(steps) > 1:
        number, action = f"{first.number} to {steps[-1].number}", first.action.partition(" to ")[0]
        other = " ".join(f"{_BOX}\u00a0{name}" for name in names)
    return (number, action, one, other, first.expected.words, _passes(first), _reading(first), None)


def _passes(step: Step) -> str:
    return range_text(step.expected, step.instrument.decimals if step.instrument is not None else 2)


def _reading(step: Step) -> str:
    return f"{_BLANK} {step.expected.unit}".rstrip() if step.instrument is not None else ""
