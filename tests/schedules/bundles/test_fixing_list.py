"""The list of clips, tape and grommets, and what of them is to be bought."""

import math

import pytest

from harnessgen.physics.physics import Physics
from harnessgen.schedules.bundles.bundle_list import bundle_rows, bundle_table
from harnessgen.schedules.bundles.covering_list import covering_rows, covering_table
from harnessgen.schedules.bundles.fixing_list import FixingRow, fixing_rows, fixing_table
from harnessgen.schedules.collection import schedules_of
from harnessgen.schedules.parts_to_buy import buy_rows
from tests.design.reading.test_files import GOOD
from tests.line import FLAT_SIX, edited, physics_of
from tests.schedules.reading import keyed

C10 = "c10: {length: 910 +/- 10, build: +20/-0, covering: conduit-10}"
LEFT_3 = "left-3: {length: 178 +/- 3, build: +5/-0}"
BARE = "\n".join(
    line.removesuffix(",") + "}" * line.endswith("13,") + "}" * line.endswith("-0,")
    for line in FLAT_SIX.split("\n")
    if not line.strip().startswith(("clips:", "tape:", "grommets:"))
)
"""The flat six without what is fixed on it."""


def tried(c10: str = "", left: str = "", *more: tuple[str, str]) -> Physics:
    changes = [(C10, C10.replace("covering", f"{c10}, covering"))] if c10 else []
    changes += [(LEFT_3, LEFT_3.replace("build", f"{left}, build"))] if left else []
    return physics_of(edited(*changes, *more, text=BARE))


def rows_of(physics: Physics, section: int = 0) -> tuple[FixingRow, ...]:
    return fixing_rows(physics.network, physics.network.sections.sections[section])


def test_each_thing_has_a_row_with_its_place() -> None:
    """In the order of the stretch, with the tolerance, the datum, and the bundle that it goes around."""
    keys = (
        "clips: {title: lined clip, at: [250 +/- 5, {at: 300, from: c10}]}, tape: {part: cloth-19, length: 40}, "
        "grommets: {GR8: {at: 60 +/- 5, from: c10, bore: 13, hole: 40, title: bulkhead}}"
    )
    physics = tried(keys)
    told = [(row.kind, row.name, row.place, row.datum, row.around_mm) for row in rows_of(physics)]
    assert told == [
        ("tape", "cloth-19", "to 40", "fusebox", 12.0),
        ("clip", "", "250 +/- 5", "fusebox", 12.0),
        ("clip", "", "300", "c10", 12.0),
        ("grommet", "GR8", "60 +/- 5", "c10", 12.0),
    ]
    section = physics.network.sections.sections[0]
    table = fixing_table(physics.network, rows_of(physics), section)
    assert "bulkhead, grommet, bore 13 mm, for a hole of 40 mm" in [cells["what"] for cells in keyed(table)]


@pytest.mark.parametrize(
    ("tape", "covers_mm", "turns"),
    [
        ("cloth-19", 178.0, 178.0 / 9.5),
        ("{part: cloth-19, at: 60}", 19.0, 2.0),
        ("{part: cloth-19, at: 60, length: 38}", 38.0, 4.0),
        ("{part: cloth-19, length: 38, lap: 0}", 38.0, 2.0),
    ],
)
def test_tape_is_a_helix_around_the_bundle(tape: str, covers_mm: float, turns: float) -> None:
    """Two wires of 1.6 mm are 3.2 mm across: each turn is the root of (pi 3.2)^2 and the square of its advance."""
    (row,) = rows_of(tried(left=f"tape: {tape}"), 1)
    assert row.covers_mm == covers_mm
    advance_mm = covers_mm / turns
    helix_mm = turns * math.sqrt((math.pi * 3.2) ** 2 + advance_mm**2)
    assert row.cut_mm is not None
    assert helix_mm <= row.cut_mm < helix_mm + 5.0
    assert row.cut_mm % 5.0 == 0.0


def test_clips_without_a_place_are_counted() -> None:
    """910 mm at 300 mm take three between the ends (see the schedule of bundles)."""
    physics = tried("clips: 300 mm")
    (row,) = rows_of(physics)
    assert (row.kind, row.place, row.count) == ("clip", "every 300", 3)
    bought = {(each.kind, each.part): each.needed for each in buy_rows(physics.network, physics)}
    assert bought["clip", "for 12 mm"] == 3


def test_what_is_to_be_bought_is_the_sum_of_the_lists() -> None:
    """Clips by the bundle that they hold, tape in metres with scrap, grommets by their sizes."""
    physics = tried(
        "clips: {at: [300, 600]}, grommets: {GR8: {at: 60, bore: 13}, GR9: {at: 90, bore: 13}}",
        "clips: {at: [100]}, tape: [{part: cloth-19, length: 40}, {part: cloth-19, at: 120}]",
    )
    bought = {(each.kind, each.part, each.what): each for each in buy_rows(physics.network, physics)}
    assert bought["clip", "for 12 mm", "clip"].needed == 2
    assert bought["clip", "for 4 mm", "clip"].needed == 1
    assert bought["grommet", "", "grommet, bore 13 mm"].needed == 2
    tape = bought["tape", "cloth-19", "polyester cloth tape 19 mm"]
    assert tape.needed * 1000 == sum(row.cut_mm or 0.0 for row in rows_of(physics, 1))
    assert tape.why == "2 places, scrap 5 %"


def test_the_other_schedules_say_them_too() -> None:
    """A grommet is slid on before the housing that it does not pass is filled; bundles name tape and grommets."""
    grommet = "tape: [{part: cloth-19, length: 40}, {part: cloth-19, at: 100}], grommets: {GR8: {at: 60, bore: 10}}"
    physics = tried(left=grommet)
    network = physics.network
    section = network.sections.sections[1]
    row = next(each for each in rows_of(physics, 1) if each.name == "GR8")
    assert row.goes_on == "from left-3, before C23 is filled"
    bundles = bundle_table(bundle_rows(network, section), section, has_fixed=True)
    assert {cells["fixed"] for cells in keyed(bundles)} == {"", "2 x cloth-19, GR8"}
    notes = covering_table(network, covering_rows(network, section), section).notes
    assert "Tape stands in the list of clips, tape and grommets." in notes
    assert "fixing-list" in schedules_of(network, physics).by_kind


def test_placed_clips_count_their_ties() -> None:
    """Clips at 305 and 610 of 910 mm: no part is above 12 in (304.8 mm) but the two of 305, which take a tie each."""
    physics = tried("clips: {at: [305, 610]}")
    network = physics.network
    row = {each.bundle.name: each for each in bundle_rows(network, network.sections.sections[0])}["fusebox to c10"]
    assert (row.clips, row.ties) == (2, 2)


def test_a_design_in_inches_has_the_tape_in_inches() -> None:
    """The place as on the drawing; 19 mm around 2 x 2.4 mm take 2 turns of 17.81 mm: 40 mm, 1 10/16 in rounded up."""
    text = GOOD.replace("format: 2", "format: 2\nunits: {length: in}") + "states: {horn: {on: []}}\n"
    text = text.replace("horn: 900 mm", "horn: {length: 36, tape: {part: cloth-19, at: 4 1/2 +/- 1/4}}")
    physics = physics_of(text)
    table = fixing_table(physics.network, rows_of(physics), physics.network.sections.sections[0])
    (cells,) = keyed(table)
    expected = {"place": "4 1/2 +/- 1/4", "datum": "battery", "around_mm": 4.8, "cut_mm": 40.0, "cut_in": "1 5/8"}
    assert {key: cells[key] for key in expected} == expected
