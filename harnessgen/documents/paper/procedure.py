"""The test procedure as PDF on A4: block by block its cautions, setup, faces and steps, with boxes and blanks."""

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from typing import Any

from harnessgen.bench.setup.connector_half import Half, halves
from harnessgen.bench.setup.section_nets import cavity_reach
from harnessgen.bench.setup.step import Block, Phase, Procedure, Reactions, Step
from harnessgen.documents.pages.face_picture import face_picture
from harnessgen.documents.pages.page import LOCAL_CODES, PageTitle
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
from harnessgen.documents.paper.paper import Line, Picture, Round, rounds_pdf
from harnessgen.network.network import Network
from harnessgen.schedules.results.status import Status
from harnessgen.schedules.results.undetected import missed_table
from harnessgen.schedules.tables.table import Column, Table, tick_column
from harnessgen.sheets.sheet import PAPERS, Paper

_BOX = "\u25a1"
_NOW = "Now"
_WHOLE = "whole harness"
_BLANK = "______"
_SIGN_OFF = "Serial ________________   Instrument ________________   Tested by ________________   Date ________________"


def procedure_pdf(
    network: Network,
    title: PageTitle,
    status: Status,
    procedure: Procedure,
    design: str,
    paper: Paper = PAPERS["A4 portrait"],
    tables: Sequence[Table[Any]] = (),
) -> bytes:
    """The procedure in the order in which it is safe; `design` is the design's hash.

    `tables` stand behind the steps that need them: what is entered in an output test.

    Raises:
        PaperUnavailable: typst or the lettering is missing, or typst fails or does not end.
    """
    numbers = {section.letter: section.number for section in network.sections.sections}
    rounds = [_contents(procedure, numbers), *_blocks(network, procedure)]
    rounds += [Round(each) for each in (*tables, missed_table(procedure)) if each.rows]
    cautions = (*procedure.preface, LOCAL_CODES)
    return rounds_pdf(title, status, rounds, design, paper, cautions)


def _contents(procedure: Procedure, numbers: Mapping[str, str]) -> Round:
    columns: tuple[Column[Block], ...] = (
        Column("block", "block", lambda block: str(block.number)),
        Column("phase", "phase", lambda block: block.setup.title),
        Column("of", "of", lambda block: numbers.get(block.setup.section) or _WHOLE),
        Column("steps", "steps", lambda block: str(len(block.steps))),
        tick_column(),
    )
    notes = (*procedure.finds, *(f"Not tested here: {each}" for each in procedure.not_tested), _SIGN_OFF)
    return Round(Table("contents", "Phases", columns, tuple(procedure.blocks), notes))


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
        lines = [Line(_NOW, stand_words(block.setup))]
        lines += [Line(each.name, each.text) for each in block.setup.cautions]
        lines += [Line("", each) for each in (*block.setup.lines, *block.setup.meter_lines)]
        lines += [Line(name, reach) for name, reach in _legend(block, held).items()]
        faces = tuple(picture(name) for name in touched(block, held))
        yield Round(_table(block), tuple(lines), faces)


def _legend(block: Block, held: Mapping[str, Half]) -> dict[str, str]:
    """How each place that no face shows is reached, the most used first."""
    counted: Counter[tuple[str, str]] = Counter()
    for place, count in reaches(block, held).items():
        counted[place.name, place.reach] += count
    return {name: reach for (name, reach), _ in counted.most_common()}


def _happens(step: Step) -> str:
    happens = [step.expected.words]
    passes = passes_words(step)
    if passes:
        happens.append(f"passes from {passes}")
    if step.reactions is not None:
        happens += _reactions(step.reactions)
    return "; ".join(each for each in happens if each)


def _reactions(reactions: Reactions) -> list[str]:
    words = [f"MUST WORK or be fed: {', '.join(reactions.work) or 'none'}"]
    words.append(f"MUST NOT STIR: {', '.join(reactions.rest) or 'none'}")
    if reactions.unchanged:
        words.append(f"goes on as before: {', '.join(reactions.unchanged)}")
    return words


def _other_tip(steps: tuple[Step, ...]) -> str:
    """The other tip; of several steps each target has a box of its own."""
    names = [step.b.name for step in steps if step.b is not None]
    return ", ".join(names) if len(steps) == 1 else " ".join(f"{_BOX}\u00a0{name}" for name in names)


def _reading(step: Step) -> str:
    return f"{_BLANK} {step.expected.unit}".rstrip() if step.instrument is not None else ""


_TICK = tick_column("ok", "ok")
_LOOKED_AT: tuple[Column[Step], ...] = (
    Column("step", "step", lambda step: step.number),
    Column("look", "look at", lambda step: step.action),
    Column("right", "right when", lambda step: step.expected.words),
    Column("if_not", "if not", lambda step: pointer_words([step])),
    _TICK,
)
_WORKED: tuple[Column[Step], ...] = (
    Column("step", "step", lambda step: step.number),
    Column("do", "do", lambda step: f"{step.action}; clamp {step.a.name}" if step.a is not None else step.action),
    Column("happens", "what happens", _happens),
    Column("if_not", "if not", lambda step: pointer_words([step])),
    Column("reading", "reading", _reading),
    _TICK,
)
_MEASURED: tuple[Column[tuple[Step, ...]], ...] = (
    Column("step", "step", number_words),
    Column("what", "what", action_words),
    Column("one_tip", "one tip", lambda steps: steps[0].a.name if steps[0].a is not None else ""),
    Column("other_tip", "other tip", _other_tip),
    Column("should_show", "should show", lambda steps: steps[0].expected.words),
    Column("passes", "passes", lambda steps: passes_words(steps[0])),
    Column("if_not", "if not", pointer_words),
    Column("reading", "reading", lambda steps: _reading(steps[0])),
    _TICK,
)
"""Steps that share an action, a first tip and a reading to expect are one row."""


def _table(block: Block) -> Table[Any]:
    phase, name = block.setup.phase, f"{block.number} {block.setup.title}"
    if phase is Phase.LOOK:
        return Table("block", name, _LOOKED_AT, tuple(block.steps))
    if phase in (Phase.STATES, Phase.OUTPUTS):
        return Table("block", name, _WORKED, tuple(block.steps))
    return Table("block", name, _MEASURED, tuple(rows_of(block)))
