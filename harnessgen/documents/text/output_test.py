"""The pulses of an output test for a person at a terminal, with where each number comes from on request."""

import textwrap
from collections.abc import Iterator, Sequence

from harnessgen.bench.steps.output_pulses import CAUTIONS, PulsePlan
from harnessgen.evidence.derivation import Evaluated
from harnessgen.schedules.results.output_test import output_test_table
from harnessgen.schedules.tables.table import Medium, cell_text

_WIDTH = 110


def render(plans: Sequence[PulsePlan], number: str) -> str:
    """What to enter for each output of the harness with this number, then the sums behind it."""
    lines = [f"Output test of {number}", ""]
    for plan in plans:
        lines += [*_plan_lines(plan), ""]
    for caution in CAUTIONS:
        lines += textwrap.wrap(f"{caution.name}: {caution.text}", _WIDTH)
    lines.append("")
    for note in output_test_table(plans).notes:
        lines += textwrap.wrap(note, _WIDTH)
    return "\n".join(lines) + "\n"


def _plan_lines(plan: PulsePlan) -> Iterator[str]:
    table = output_test_table([plan])
    shown = {
        column.key: cell_text(column, cell) + (f" {column.unit}" if column.unit and cell is not None else "")
        for column in table.columns
        for cell in [column.cell_on(Medium.CSV, plan)]
    }
    yield f"{plan.output}, with {plan.sees}, at {shown['speed']}:"
    if plan.meanwhile:
        yield f"  on meanwhile: {plan.meanwhile}"
    if not plan.on_ms:
        yield f"  {plan.shows}: {plan.excess}"
        return
    yield f"  enter: {shown['on']} on in every {shown['period']} ({shown['duty']})"
    yield f"  number: {shown['pulses']} pulses, {shown['lasts']}"
    yield f"  shows: {plan.shows}"
    if plan.peak_a is not None:
        yield f"  output: {shown['peak']} peak, {shown['rms']} RMS; its limits: {shown['limits']}"
        yield f"  on at most: {shown['longest'] or 'nothing keeps its limits'}"
    yield from (f"  {line}" for each in _sums(plan) for line in _sum_lines(each))


def _sums(plan: PulsePlan) -> Iterator[Evaluated]:
    yield plan.period
    yield plan.count
    if plan.coil is not None:
        yield from (plan.coil.power, plan.coil.pulse, plan.coil.burst)
        if plan.coil.rise is not None:
            yield plan.coil.rise


def _sum_lines(each: Evaluated) -> Iterator[str]:
    inputs = ", ".join(f"{one.symbol} = {one.value:.4g} {one.unit}".rstrip(" 1") for one in each.inputs)
    yield f"{each.title}: {each.formula} = {each.result:.4g} {each.unit} ({inputs})".replace(" 1 (", " (")
