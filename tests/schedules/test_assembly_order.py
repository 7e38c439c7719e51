"""What has to be on before what: by the circle around the finished thing and the wires beside it."""

import pytest

from harnessgen.physics.slide_order import SlideOn, slides_on
from harnessgen.schedules.assembly_order import ANY_TIME, order_rows, order_table
from harnessgen.schedules.cut_list import cut_rows
from tests.line import FLAT_SIX, edited, physics_of

LEFT_3 = "left-3: {length: 178 +/- 3, build: +5/-0}"


def slide(text: str, stretch: str, section: int = 1) -> SlideOn:
    network = physics_of(text).network
    return next(each for each in slides_on(network, network.sections.sections[section]) if each.stretch == stretch)


def in_covering(inside: float) -> str:
    part = f"tube: {{title: sleeve, inside: {inside} mm, wall: 0.5 mm, rating: 200 degC}}"
    return edited(
        (LEFT_3, LEFT_3.replace("build", "covering: tube, build")),
        ("states:", f"parts: {{coverings: {{{part}}}}}\nstates:"),
    )


@pytest.mark.parametrize(
    ("inside", "before"),
    [
        (6.5, "21E, 31E are crimped at C23"),
        (6.7, "C23 is filled"),
        (23.9, "C23 is filled"),
        (24.0, ""),
    ],
)
def test_the_inside_decides_how_early_a_sleeve_goes_on(inside: float, before: str) -> None:
    """Beside one wire of 1.6 mm a sealed contact of 5 mm takes 6.6 mm (two circles side by side); the housing 24 mm."""
    network = physics_of(in_covering(inside)).network
    rows = order_rows(network, network.sections.sections[1])
    row = next(each for each in rows if each.place == "lb2 to left-3")
    assert (row.before, row.side, row.needed_mm) == (before, "left-3", 24.0)
    table = order_table(rows, network.sections.sections[1])
    told = next(cells for cells in table.rows if cells[2] == "lb2 to left-3")
    assert told[4] == (before or ANY_TIME)


def test_the_cut_list_says_it_for_each_end() -> None:
    """The tube that does not pass the contact stands at the ends in C23, and nowhere once it passes."""
    for inside, words in ((6.5, "seal-1.5; tube of lb2 to left-3"), (6.7, "seal-1.5")):
        physics = physics_of(in_covering(inside))
        rows = {row.mark: row for row in cut_rows(physics.network, physics, physics.network.sections.sections[1])}
        by_place = {end.place: end.slide_on for end in (rows["21E"].end_1, rows["21E"].end_2)}
        assert by_place["C23/1"] == words


def test_a_thing_of_unknown_size_is_never_passed() -> None:
    """A housing without a size blocks the widest sleeve."""
    own = "mine: {title: own, ways: 2, contact: pin-1.5, seal: seal-1.5, rating: 150 degC}"
    text = in_covering(60.0).replace("coverings: {tube", f"connectors: {{{own}}}, coverings: {{tube")
    text = text.replace("connector: {part: sealed-2, first: C21}", "connector: {part: mine, first: C21}")
    assert [each.node for each in slide(text, "lb2 to left-3").housings] == ["C23"]


def test_the_side_with_least_in_the_way_is_chosen() -> None:
    """glass-10 over c10 to b1 goes on from c10: a half of six ways is one housing, six injectors are many."""
    found = slide(FLAT_SIX, "c10 to b1")
    assert found.side == "c10"
    assert [each.node for each in found.blocked] == ["C10p"]


def test_slit_conduit_is_no_constraint_and_splice_sleeves_are() -> None:
    """Only closed tubes stand in the list, and the heat-shrink of each splice, on the side with the fewest wires."""
    network = physics_of(FLAT_SIX).network
    things = [row.thing for each in network.sections.sections for row in order_rows(network, each)]
    assert not [each for each in things if each.startswith("conduit")]
    assert [each for each in things if "heat-shrink of" in each] == [
        f"fluoropolymer heat-shrink of S{n}" for n in (5, 6, 1, 2, 3, 4)
    ]
