"""The test procedure as PDF on A4: block by block its cautions, setup, faces and steps, with boxes and blanks."""

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from functools import cache

from harnessgen.bench.half import Half, halves
from harnessgen.bench.section_net import cavity_reach
from harnessgen.bench.step import Block, Phase, Procedure, Reactions, Step
from harnessgen.documents.face_picture import face_picture
from harnessgen.documents.page import LOCAL_CODES, PageTitle
from harnessgen.documents.paper import Line, Picture, Round, rounds_pdf
from harnessgen.documents.procedure_steps import (
    action_words,
    number_words,
    passes_words,
    pointer_words,
    reaches,
    rows_of,
    stand_words,
    touched,
)
from harnessgen.network.network import Network
from harnessgen.schedules.missed_table import missed_table
from harnessgen.schedules.status import Status
from harnessgen.schedules.table import Cell, Column, Table, tick_column
from harnessgen.sheets.sheet import PAPERS, Paper

_BOX = "\u25a1"
_NOW = "Now"
_WHOLE = "whole harness"
_BLANK = "______"
_SIGN_OFF = "Serial ________________   Instrument ________________   Tested by ________________   Date ________________"
_TIPS = ("what", "one tip", "other tip", "should show", "passes", "if not", "reading")
_IF_NOT = Column("if_not", "if not")


def procedure_pdf(
    network: Network,
    title: PageTitle,
    status: Status,
    procedure: Procedure,
    design: str,
    paper: Paper = PAPERS["A4 portrait"],
    tables: Sequence[Table] = (),
) -> bytes:
    """The procedure in the order in which it is safe; `design` is the design's hash.

    `tables` stand behind the steps that need them: what is entered in an output test.

    Raises:
        PaperUnavailable: typst or the lettering is missing.
    """
    numbers = {section.letter: section.number for section in network.sections.sections}
    rounds = [_contents(procedure, numbers), *_blocks(network, procedure)]
    rounds += [Round(each) for each in (*tables, missed_table(procedure)) if each.rows]
    cautions = (*procedure.preface, LOCAL_CODES)
    return rounds_pdf(title, status, rounds, design, paper, cautions)


def _contents(procedure: Procedure, numbers: Mapping[str, str]) -> Round:
    columns = (Column("block", "block"), Column("phase", "phase"), Column("of", "of"), Column("steps", "steps"))
    rows = tuple(
        (str(each.number), each.setup.title, numbers.get(each.setup.section) or _WHOLE, str(len(each.steps)), None)
        for each in procedure.blocks
    )
    notes = (*procedure.finds, *(f"Not tested here: {each}" for each in procedure.not_tested), _SIGN_OFF)
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


def _table(block: Block) -> Table:
    phase, name = block.setup.phase, f"{block.number} {block.setup.title}"
    step, tick = Column("step", "step"), tick_column("ok", "ok")
    if phase is Phase.LOOK:
        seen = (step, Column("look", "look at"), Column("right", "right when"), _IF_NOT, tick)
        rows = tuple(
            (each.number, each.action, each.expected.words, pointer_words([each]), None) for each in block.steps
        )
        return Table("block", name, seen, rows)
    if phase in (Phase.STATES, Phase.OUTPUTS):
        done = (
            step,
            Column("do", "do"),
            Column("happens", "what happens"),
            _IF_NOT,
            Column("reading", "reading"),
            tick,
        )
        return Table("block", name, done, tuple(map(_work, block.steps)))
    columns = (step, *(Column(each.replace(" ", "_"), each) for each in _TIPS), tick)
    return Table("block", name, columns, tuple(map(_row, rows_of(block))))


def _work(step: Step) -> tuple[Cell, ...]:
    do = f"{step.action}; clamp {step.a.name}" if step.a is not None else step.action
    happens = [step.expected.words]
    passes = passes_words(step)
    if passes:
        happens.append(f"passes from {passes}")
    if step.reactions is not None:
        happens += _reactions(step.reactions)
    return (step.number, do, "; ".join(each for each in happens if each), pointer_words([step]), _reading(step), None)


def _reactions(reactions: Reactions) -> list[str]:
    words = [f"MUST WORK or be fed: {', '.join(reactions.work) or 'none'}"]
    words.append(f"MUST NOT STIR: {', '.join(reactions.rest) or 'none'}")
    if reactions.unchanged:
        words.append(f"goes on as before: {', '.join(reactions.unchanged)}")
    return words


def _row(steps: tuple[Step, ...]) -> tuple[Cell, ...]:
    """One row; of several steps each target has a box of its own."""
    first = steps[0]
    one = first.a.name if first.a is not None else ""
    names = [step.b.name for step in steps if step.b is not None]
    other = ", ".join(names) if len(steps) == 1 else " ".join(f"{_BOX}\u00a0{name}" for name in names)
    return (
        number_words(steps),
        action_words(steps),
        one,
        other,
        first.expected.words,
        passes_words(first),
        pointer_words(steps),
        _reading(first),
        None,
    )


def _reading(step: Step) -> str:
    return f"{_BLANK} {step.expected.unit}".rstrip() if step.instrument is not None else ""
