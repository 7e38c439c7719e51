"""Clearance and completeness of the layout drawing of generated designs, of random routes and of odd ones."""

import re

import pytest

from harnessgen.drawings.layout.drawing import layout_sheets
from harnessgen.network.network import Network
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import TextMark
from harnessgen.sheets.sheet import STATIONERY, Sheet
from tests.drawings.generated import design_text, network_of
from tests.drawings.layout.routes import route_text
from tests.samples import sample, some
from tests.sheets.clearance import collisions

HEAD = "format: 2\nharness: {title: Odd harness, number: OD-1, revision: A}\n"
SUPPLY = "supplies: {BAT: {voltage: 13.8 V, at: p0}}\n"


def own_sheets(network: Network, sheets: tuple[Sheet, ...]) -> list[Sheet]:
    """The sheets of the sections, without those of the whole."""
    numbers = {f"{section.number}, layout" for section in network.sections.sections}
    return [sheet for sheet in sheets if sheet.block.number in numbers]


def assert_clear(sheets: tuple[Sheet, ...]) -> None:
    for sheet in sheets:
        assert [str(each) for each in collisions(sheet.all_marks, sheet.paper.frame)] == [], sheet.title


def assert_complete(network: Network, sheets: tuple[Sheet, ...]) -> None:
    """Each stretch is dimensioned once; each connector and half has one face; each reference leads somewhere."""
    own = own_sheets(network, sheets)
    marks = [mark for sheet in own for mark in sheet.marks]
    stretches = [f"{start} to {end}" for start, ends in network.design.route.items() for end in ends]
    dimensioned = [m.subject for m in marks if m.kind is MarkKind.DIMENSION_TEXT and not m.subject.endswith(" place")]
    assert sorted(dimensioned) == sorted(stretches)
    shown = {(number, m.subject) for number, sheet in enumerate(own) for m in sheet.marks if m.kind is MarkKind.FACE}
    halves = {half for name in network.design.disconnects for half in (f"{name}s", f"{name}p")}
    assert sorted(name for _, name in shown) == sorted({*network.design.connectors, *halves})
    assert_referred(sheets)


def assert_referred(sheets: tuple[Sheet, ...]) -> None:
    """A note that the route goes on stands on the sheet that it names too, for the same point."""
    for sheet in sheets:
        for mark in sheet.marks:
            if isinstance(mark, TextMark) and (found := re.fullmatch(r"route goes on, sheet (\d+)", mark.text)):
                other = next(each for each in sheets if each.block.sheet == int(found[1]))
                assert other is not sheet
                assert mark.subject in {each.subject for each in other.marks}


@pytest.mark.parametrize("first", some(range(0, 200, 20), 2))
def test_generated_designs_are_clear_and_complete(first: int) -> None:
    """200 designs, their long names, splices and disconnects included."""
    for seed in sample(range(first, first + 20), 6):
        network = network_of(design_text(seed))
        sheets = layout_sheets(network)
        assert_clear(sheets)
        assert_complete(network, sheets)


LARGE = [(0, 60, 3), (1, 60, 0), (2, 45, 2), (3, 30, 3)]


@pytest.mark.parametrize(("seed", "loads", "disconnects"), some(LARGE, [(3, 30, 3)]))
def test_large_designs_are_clear_and_complete(seed: int, loads: int, disconnects: int) -> None:
    """Of the 200 most are small; these have up to 60 loads and three disconnects one behind another."""
    network = network_of(design_text(seed, loads=loads, disconnects=disconnects))
    assert (len(network.design.loads), len(network.design.disconnects)) == (loads, disconnects)
    sheets = layout_sheets(network)
    assert_clear(sheets)
    assert_complete(network, sheets)


@pytest.mark.parametrize("first", some(range(0, 24, 6), 1))
def test_random_routes_are_clear_and_complete(first: int) -> None:
    """Deep and bushy trees with coverings, zones, loops and splices anywhere."""
    for seed in sample(range(first, first + 6), 4):
        network = network_of(route_text(seed, loops=True, fixings=True))
        sheets = layout_sheets(network)
        assert_clear(sheets)
        assert_complete(network, sheets)


@pytest.mark.parametrize("word", ["letter", "a3"])
def test_other_paper_is_clear_and_complete(word: str) -> None:
    """Each sheet is of the paper that was asked for, and nothing on it overlaps."""
    for seed in sample(range(8), 3):
        network = network_of(design_text(seed))
        sheets = layout_sheets(network, papers=STATIONERY[word].drawings)
        assert {sheet.paper for sheet in sheets} <= set(STATIONERY[word].drawings)
        assert_clear(sheets)
        assert_complete(network, sheets)


def spread(count: int) -> str:
    return ", ".join(f"S{i}: {{at: p0, offset: {10 + 9 * i}, toward: p1}}" for i in range(count))


LONG = "p" * 60
AT_P0 = ", ".join(f"S{i}: p0" for i in range(50))
ODD = {
    "one stretch": "route: {p0: {p1: 900 mm}}\n",
    "no length": "route: {p0: {p1: 0, p2: 0.5}, p1: {p3: 25000}}\n",
    "star": f"route: {{p0: {{{', '.join(f'q{i}: {30 + 13 * i}' for i in range(25))}}}}}\n",
    "many splices": f"route: {{p0: {{p1: 600, p2: 100}}}}\nsplices: {{{spread(14)}}}\n",
    "too many splices": f"route: {{p0: {{p1: 600, p2: 100}}}}\nsplices: {{{spread(40)}}}\n",
    "splices at a point": f"route: {{p0: {{p1: 600, p2: 100}}}}\nsplices: {{{AT_P0}}}\n",
    "long names": f"route: {{p0: {{{LONG}: {{length: 100, build: +10/-0}}}}}}\n"
    f"connectors: {{{'C' * 60}: {{part: sealed-2, at: {LONG}, mate: {'very ' * 60}}}}}\n",
    "200 ways in a row": "route: {p0: {p1: 300}}\nconnectors: {C1: {part: big, at: p1}}\nparts: {connectors: {big: "
    "{title: b, ways: 200, contact: pin-2.8, rating: 120 degC}}}\n",
    "100 connectors at a point": "route: {p0: {p1: 300}}\n"
    f"connectors: {{{', '.join(f'C{i}: {{part: sealed-2, at: p1}}' for i in range(100))}}}\n",
    "round": "route: {p0: {p1: 300}}\nconnectors: {C1: {part: big, at: p1, half: pins}}\nparts: {connectors: {big: "
    "{title: b, ways: 7, rows: 3, shape: round, contact: pin-2.8, rating: 120 degC}}}\n",
    "huge disconnect": "route: {p0: {cut: 600}, cut: {p2: 100}}\n"
    "disconnects: {X1: {part: big, at: cut, socket-side: p0}}\n"
    "parts: {connectors: {big: {title: b, ways: 200, rows: 8, contact: pin-2.8, rating: 120 degC, cavities: "
    f"[{', '.join(f'A-{i:03}' for i in range(200))}]}}}}}}\n",
    "two trees": "route: {p0: {p1: 600}, q0: {q1: 500, q2: 300}}\n",
    "two disconnects at a point": "route: {p0: {cut: 600}, cut: {p2: 100, p3: 200}}\ndisconnects: "
    "{X1: {part: sealed-6, at: cut, socket-side: p0}, X2: {part: sealed-4, at: cut, socket-side: p0}}\n"
    "splices: {S1: cut, S2: {at: cut, offset: 20, toward: p2}}\nconnectors: {C9: {part: sealed-2, at: cut}}\n",
}


@pytest.mark.parametrize("name", ODD)
def test_odd_designs_are_clear(name: str) -> None:
    """Designs at the edge of sense still give a legible sheet."""
    network = network_of(HEAD + ODD[name] + SUPPLY)
    sheets = layout_sheets(network)
    assert_clear(sheets)
    assert_complete(network, sheets)


def test_a_long_route_goes_on_on_further_sheets() -> None:
    """A comb of 120 stretches is parted; every stretch stands on one sheet, every reference leads to the other part."""
    teeth = "".join(f"  p{i}: {{p{i + 1}: {200 + i % 7 * 30}, x{i}: 160}}\n" for i in range(60))
    network = network_of(f"{HEAD}route:\n{teeth}{SUPPLY}")
    sheets = layout_sheets(network)
    assert len(sheets) > 1
    assert sum("part 2 of" in sheet.block.title for sheet in sheets) == 1
    assert_clear(sheets)
    assert_complete(network, sheets)


def test_charts_without_room_stand_on_a_sheet_of_their_own() -> None:
    """A design with many connectors refers from its route to the sheet that shows them."""
    network = network_of(HEAD + ODD["100 connectors at a point"] + SUPPLY)
    route, *charts = layout_sheets(network)
    noted = {mark.text for mark in route.marks if isinstance(mark, TextMark)}
    assert f"sheets {', '.join(str(sheet.block.sheet) for sheet in charts)}" in noted
    assert {mark.kind for sheet in charts for mark in sheet.marks} >= {MarkKind.FACE, MarkKind.TABLE_TEXT}


@pytest.mark.parametrize("seed", some([129, 158, 514, 758, 1131, 1348, 1381], [158]))
def test_routes_that_once_collided_are_clear(seed: int) -> None:
    """A dimension on a break, on a splice or on nothing; a bundle or a long breakout that was overlooked."""
    assert_clear(layout_sheets(network_of(route_text(seed))))
