"""The covering list: each covered stretch once, cut longer by what the covering loses."""

from pathlib import Path

import pytest

from harnessgen.schedules.bundles.covering_list import CoveringRow, covering_rows, covering_table
from tests.line import FLAT_SIX, edited, physics_of
from tests.schedules.reading import keyed


def rows_of(text: str, section: int = 0) -> dict[str, CoveringRow]:
    network = physics_of(text).network
    return {row.stretch: row for row in covering_rows(network, network.sections.sections[section])}


def test_a_stretch_has_one_piece_though_a_splice_sits_on_it() -> None:
    """b1 to lb1 holds splices, and has one piece of 160 mm; every covered stretch of the design is there."""
    rows = rows_of(FLAT_SIX, 1)
    assert rows["b1 to lb1"].covers_mm == rows["b1 to lb1"].cut_mm == 160.0
    assert len(rows_of(FLAT_SIX)) + len(rows) == FLAT_SIX.count("covering:")


def test_a_piece_is_rounded_up_to_the_step() -> None:
    """118 mm of a sleeve that loses nothing is cut at 120 mm, the next whole step of 5 mm."""
    row = rows_of(FLAT_SIX, 1)["lb1 to lb2"]
    assert (row.covers_mm, row.loses, row.cut_mm) == (118.0, 0.0, 120.0)


@pytest.mark.parametrize(("covering", "why"), [("braid-12", "10 %"), ("shrink-12.7", "10 %"), ("glass-10", "none")])
def test_what_shortens_is_cut_longer(covering: str, why: str) -> None:
    """What loses a tenth (common practice, no source) is cut so that 910 mm stay: 1011.1 mm, up to 1015 mm."""
    old = "c10: {length: 910 +/- 10, build: +20/-0, covering: conduit-10}"
    row = rows_of(edited((old, old.replace("conduit-10", covering))))["fusebox to c10"]
    assert (row.why, row.cut_mm) == (why, 910.0 if why == "none" else 1015.0)
    assert row.cut_mm * (1 - row.loses) >= row.covers_mm


def test_loops_and_movement_are_covered_too() -> None:
    """Slack, drip loop and movement of a stretch lengthen its piece; a built length takes the place of all."""
    old = "c10: {length: 910 +/- 10, build: +20/-0, covering: conduit-10}"
    long = old.replace("covering", "slack: 30, drip-loop: 40, movement: 15, covering")
    assert rows_of(edited((old, long)))["fusebox to c10"].covers_mm == 995.0
    built = old.replace("build: +20/-0", "built: 950")
    assert rows_of(edited((old, built)))["fusebox to c10"].covers_mm == 950.0


def test_a_sleeve_says_before_what_it_goes_on_and_slit_conduit_does_not() -> None:
    """glass-10 is closed and a 2-way housing takes 24 mm; slit conduit goes on over everything, at any time."""
    assert rows_of(FLAT_SIX, 1)["lb1 to lb2"].goes_on == "from lb2, before C22, C23 are filled"
    assert rows_of(FLAT_SIX)["fusebox to c10"].goes_on == ""
    network = physics_of(FLAT_SIX).network
    section = network.sections.sections[0]
    table = covering_table(network, covering_rows(network, section), section)
    assert [column.key for column in table.columns if column.is_tick] == ["done"]


PLAIN = "parts: {coverings: {wrap: {title: wrap, inside: 17 mm, wall: 1 mm, rating: 125 degC%s}}}\n"


@pytest.mark.parametrize(
    ("more", "slides", "cut_mm"),
    [("", True, 910.0), (", closed: no", False, 910.0), (", shortening: 30 %", True, 1300.0)],
)
def test_a_part_of_the_design_says_how_it_goes_on(more: str, slides: bool, cut_mm: float) -> None:
    """Shortening and whether it opens are keys of the part; one that says nothing is taken to be closed."""
    old = "c10: {length: 910 +/- 10, build: +20/-0, covering: conduit-10}"
    network = physics_of(edited((old, old.replace("conduit-10", "wrap"))) + PLAIN % more).network
    section = network.sections.sections[0]
    row = next(each for each in covering_rows(network, section) if each.covering == "wrap")
    assert (bool(row.goes_on), row.cut_mm) == (slides, cut_mm)


def test_a_design_in_inches_has_inches_beside_the_millimetres() -> None:
    """6 in of heat-shrink that loses a tenth: 169.3 mm, cut at 170 mm, 6 3/4 in."""
    text = (Path(__file__).parents[3] / "designs" / "v8-second-injectors.yaml").read_text(encoding="utf-8")
    old = "main-fuse: {length: 6 +/- 1/4, zone: trunk, covering: conduit-13"
    assert old in text
    text = text.replace(old, old.replace("conduit-13", "shrink-12.7"))
    network = physics_of(text).network
    section = network.sections.sections[0]
    table = covering_table(network, covering_rows(network, section), section)
    (row,) = [each for each in keyed(table) if each["stretch"] == "battery to main-fuse"]
    assert [row[key] for key in ("covers_mm", "covers_in", "cut_mm", "cut_in")] == [
        152.4,
        "6",
        170.0,
        "6 3/4",
    ]
