"""What has to be on before what: by the circle around the finished thing and the wires beside it."""

import pytest

from harnessgen.lengths.bundles.grommets import all_slides
from harnessgen.lengths.bundles.slide_order import SlideOn, sides_of, slides_on
from harnessgen.network.fixings import leg_at
from harnessgen.schedules.bundles.assembly_order import ANY_TIME, order_rows, order_table
from harnessgen.schedules.wires.cut_list import cut_rows
from tests.line import FLAT_SIX, edited, physics_of
from tests.schedules.reading import keyed

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
    told = next(cells for cells in keyed(table) if cells["place"] == "lb2 to left-3")
    assert told["before"] == (before or ANY_TIME)


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


@pytest.mark.parametrize(
    ("bore", "split", "before"),
    [
        (6.5, "no", "21E, 31E are crimped at C23"),
        (23.9, "no", "C23 is filled"),
        (24.0, "no", ""),
        (6.5, "yes", None),
    ],
)
def test_a_grommet_goes_on_before_what_it_does_not_pass(bore: float, split: str, before: str | None) -> None:
    """By the same circles as a sleeve; one that is slit is no constraint at all."""
    grommet = f"grommets: {{GR8: {{at: 90 mm, bore: {bore} mm, split: {split}}}}}, build"
    physics = physics_of(edited((LEFT_3, LEFT_3.replace("build", grommet))))
    section = physics.network.sections.sections[1]
    rows = [row for row in order_rows(physics.network, section) if row.thing == "grommet GR8"]
    assert [(row.before, row.side, row.inside_mm) for row in rows] == (
        [] if before is None else [(before, "left-3", bore)]
    )
    row = next(each for each in cut_rows(physics.network, physics, section) if each.mark == "21E")
    told = next(end.slide_on for end in (row.end_1, row.end_2) if end.place == "C23/1")
    assert ("grommet GR8 of lb2 to left-3" in told) is (before is not None and "crimped" in before)


def test_a_grommet_does_not_pass_a_splice_on_its_stretch() -> None:
    """S1 sits 40 mm along b1 to lb1: a grommet at 20 mm goes on from one side before S1 is crimped, or over C10."""
    stretch = "lb1: {length: 160 +/- 4, covering: glass-10, build: +10/-0}"
    grommet = stretch.replace("build", "grommets: {GR8: {at: 150 mm, bore: 13 mm}}, build")
    network = physics_of(edited((stretch, grommet))).network
    section = network.sections.sections[1]
    rows = {row.thing: row for row in order_rows(network, section)}
    passed = rows["grommet GR8"]
    assert passed.side in ("b1", "lb1")
    joints = [each for each in all_slides(network, section) if each.thing == "grommet GR8"]
    sides = sides_of(network, [leg_at([leg for leg in section.legs if leg.name == "b1 to lb1"], 150.0)],
                     covers_splices=False)  # fmt: skip
    assert {each.node for each in sides["b1"].obstacles if each.is_joint} == {"S1", "S2"}
    assert all(not each.is_joint for each in sides["lb1"].obstacles)
    assert [each.side for each in joints] == [passed.side]
