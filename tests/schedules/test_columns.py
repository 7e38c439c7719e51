"""Every schedule of the complete designs, on every medium, cell by cell against facts that are gathered another way.

Twelve columns once were swapped with their neighbours, and the strip length was 0 at every ring; no test found it.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from harnessgen.bench.setup.installed import Fitted
from harnessgen.bench.steps.output import outputs_of
from harnessgen.bench.steps.output_pulses import pulse_plans, speeds_of
from harnessgen.cutting.plan import cut_plan
from harnessgen.network.network import HarnessSection
from harnessgen.physics.physics import Physics
from harnessgen.schedules.collection import Schedules, SectionSchedules, schedules_of
from harnessgen.schedules.results.limits import limit_rows, limits_table
from harnessgen.schedules.results.output_test import output_test_table
from harnessgen.schedules.results.volts import fuel_table, volts_table
from harnessgen.schedules.tables.table import Cell, Column, Medium, Table
from harnessgen.schedules.wires.cut_list import CutEnd
from harnessgen.schedules.wires.cutting_plan import cutting_table
from harnessgen.schedules.wires.recut_list import recut_rows, recut_table
from tests.cutting.test_plan import STOCK
from tests.line import FLAT_SIX, physics_of
from tests.physics.small_designs import BANK
from tests.schedules import facts
from tests.schedules.printed import MEDIA, check
from tests.schedules.wires.test_recut_list import SHORT

FOLDER = Path(__file__).parents[2] / "designs"
DESIGNS = sorted(path.stem for path in FOLDER.glob("*.yaml"))

Case = tuple[Table[Any], list[facts.Facts], list[str]]
"""A schedule, what it has to say, and the keys that tell its rows apart."""


@cache
def physics(name: str) -> Physics:
    return physics_of((FOLDER / f"{name}.yaml").read_text(encoding="utf-8"))


@cache
def schedules(name: str) -> Schedules:
    return schedules_of(physics(name).network, physics(name))


def sections(name: str) -> Iterator[tuple[HarnessSection, SectionSchedules]]:
    yield from zip(physics(name).network.sections.sections, schedules(name).sections, strict=True)


def cut_lists(name: str) -> Iterator[Case]:
    """Both ends of every wire: strip length from the terminal's record, colour in words by IEC 60757, lengths."""
    for section, own in sections(name):
        wires = [each for each in physics(name).network.wires if each.section == section.letter]
        yield own.cut, [facts.cut_facts(physics(name), each) for each in wires], ["mark"]
        yield own.sheet, [row for each in wires for row in facts.sheet_facts(physics(name), each)], ["label"]


def splices_and_cavities(name: str) -> Iterator[Case]:
    """The wires of each joint and cavity by the electrical graph, the side of a barrel by the way in the route."""
    network = physics(name).network
    for section, own in sections(name):
        yield own.splices, facts.splice_facts(network, section.letter), ["splice", "mark"]
        yield own.cavities, facts.cavity_facts(network, section.letter), ["connector", "cavity", "mark"]


def coverings_and_fixings(name: str) -> Iterator[Case]:
    """What covers each stretch and what is fixed on it; what has to go on before something else is finished."""
    network = physics(name).network
    for section, own in sections(name):
        yield own.coverings, facts.covering_facts(network, section.letter), ["stretch"]
        yield own.order, facts.order_facts(network, section.letter), ["thing", "place"]
        yield (
            own.fixings,
            facts.fixing_facts(network, section.letter),
            ["stretch", "kind", "name", "place", "datum"],
        )


def bundles_and_masses(name: str) -> Iterator[Case]:
    """Copper by area and length, fill by the squares of the diameters, sums over the stretches and over the wires."""
    for section, own in sections(name):
        keys = {each.key for each in own.bundles.columns}
        rows = facts.bundle_facts(physics(name).network, section.letter)
        # Where no section has tape or grommets there is no column for them.
        yield own.bundles, [{key: row[key] for key in row if key in keys} for row in rows], ["stretch"]
    yield schedules(name).mass, facts.mass_facts(physics(name)), ["section"]


def crimps_and_parts(name: str) -> Iterator[Case]:
    """Crimps and pieces counted end by end and device by device, wire summed by its kind."""
    yield schedules(name).samples, facts.sample_facts(physics(name).network), ["terminal", "size", "family"]
    yield schedules(name).buy, facts.buy_facts(physics(name)), ["kind", "part", "what"]


def volts(name: str) -> Iterator[Case]:
    """Currents of the operating point; volts that add up from the supply to ground."""
    table = volts_table(physics(name).network, physics(name))
    yield table, facts.volts_facts(physics(name)), ["state", "case", "load"]


def output_tests(name: str) -> Iterator[Case]:
    """Period, time on, number of pulses and what they heat, for every output that works coils."""
    outputs = outputs_of(Fitted(physics(name).network, physics(name))) if physics(name).network.design.supplies else ()
    plans = pulse_plans(outputs, speeds_of(outputs))
    yield output_test_table(plans), facts.pulse_facts(plans), ["output", "meanwhile", "with", "speed"]


def fuel_and_cutting(_: str) -> Iterator[Case]:
    """A bank of injectors with dead times; five copies of the flat six cut from a shelf."""
    bank, stocked = physics_of(BANK), physics_of(FLAT_SIX + STOCK)
    plan = cut_plan(stocked.network, stocked, 5)
    yield fuel_table(bank), facts.fuel_facts(bank), ["state", "load"]
    yield cutting_table(plan), facts.cutting_facts(plan), ["mark", "copy"]


def limits_and_remedies(_: str) -> Iterator[Case]:
    """Limits with their values by the table of limits; each remedy of a wire that is too short."""
    network = physics("flat-six").network
    yield limits_table(limit_rows(network)), facts.limit_facts(network), ["limit"]
    short = physics_of(SHORT)
    yield recut_table(recut_rows(short.network, short)), facts.recut_facts(short), ["mark", "remedy", "how"]


OF_A_DESIGN = [
    cut_lists, splices_and_cavities, coverings_and_fixings, bundles_and_masses, crimps_and_parts, volts, output_tests,
]  # fmt: skip
OTHERS = [("", fuel_and_cutting), ("", limits_and_remedies)]
EVERY = [*((name, cases) for name in DESIGNS for cases in OF_A_DESIGN), *OTHERS]


def named(value: object) -> str:
    return str(getattr(value, "__name__", value))


@pytest.mark.parametrize(("name", "cases"), EVERY, ids=named)
def test_every_cell_is_that_of_its_heading(name: str, cases: Callable[[str], Iterator[Case]]) -> None:
    """File, page and paper say under each heading what the model has there; no column is missing or unknown."""
    for table, expected, ids in cases(name):
        check(table, expected, ids)


def is_found(table: Table[Any], expected: list[facts.Facts], ids: list[str]) -> bool:
    """Whether the check fails."""
    try:
        check(table, expected, ids)
    except AssertionError:
        return True
    return False


def altered(table: Table[Any]) -> Iterator[tuple[str, Table[Any]]]:
    """The schedule with one mistake: neighbours' cells or headings swapped, a column left out or off the paper."""
    columns = list(table.columns)
    media = MEDIA.get(table.key, (Medium.CSV, Medium.PAGE, Medium.PAPER))

    def but(*changed: tuple[int, Column[Any]]) -> Table[Any]:
        new = dict(changed)
        return replace(table, columns=tuple(new.get(at, each) for at, each in enumerate(columns)))

    def cells(column: Column[Any]) -> list[list[Cell]]:
        # Nothing and an empty text are printed alike.
        found = [[column.cell_on(medium, row) for row in table.rows] for medium in media if medium in column.on]
        return [["" if cell is None else cell for cell in of_medium] for of_medium in found]

    shown = [at for at, each in enumerate(columns) if not each.is_tick and any(cells(each))]
    for one, two in pairwise(shown):
        a, b = columns[one], columns[two]
        if cells(a) != cells(b):
            yield f"cells of {a.key} and {b.key}", but((one, replace(a, get=b.get)), (two, replace(b, get=a.get)))
    for at in shown:
        column = columns[at]
        if any(cell != "" for medium in cells(column) for cell in medium):
            yield f"no {column.key}", replace(table, columns=tuple(each for each in columns if each is not column))
            if Medium.PAPER in media and Medium.PAPER in column.on:
                yield f"no {column.key} on paper", but((at, replace(column, on=column.on & ~Medium.PAPER)))


@pytest.mark.parametrize(
    ("name", "cases"),
    [*(("trailer", each) for each in OF_A_DESIGN[:-1]), ("flat-six", output_tests), *OTHERS],
    ids=named,
)
def test_a_swapped_or_missing_column_is_found(name: str, cases: Callable[[str], Iterator[Case]]) -> None:
    """In every schedule, whichever two neighbours change places and whichever column is left out."""
    count = 0
    for table, expected, ids in cases(name):
        for words, changed in altered(table):
            count += 1
            assert is_found(changed, expected, ids), f"{table.key}: {words}"
    assert count >= 12


def test_a_strip_length_of_nothing_at_every_ring_is_found() -> None:
    """Both in the list with a row for each wire and in that of the bench."""
    found = set()
    for table, expected, ids in cut_lists("flat-six"):
        rows = tuple(_stripped_of_nothing(row) for row in table.rows)
        if rows != table.rows:
            assert is_found(replace(table, rows=rows), expected, ids)
            found.add(table.key)
    assert found == {"cut-list", "cut-sheet"}


def _stripped_of_nothing(row: Any) -> Any:
    def end(each: CutEnd) -> CutEnd:
        return replace(each, strip_mm=0.0) if each.terminal.startswith("ring") else each

    if hasattr(row, "end"):
        return replace(row, end=end(row.end))
    return replace(row, end_1=end(row.end_1), end_2=end(row.end_2))
