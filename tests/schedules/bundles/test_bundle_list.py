"""The schedule of bundles, and the mass of the whole."""

import math

import pytest

from harnessgen.schedules.bundles.bundle_list import bundle_rows, bundle_table, mass_rows
from harnessgen.schedules.collection import schedules_of
from tests.line import FLAT_SIX, edited, physics_of


def test_every_stretch_with_a_wire_has_its_row() -> None:
    """23 stretches of the flat six hold wires, whether splices part them or not."""
    network = physics_of(FLAT_SIX).network
    rows = [row for section in network.sections.sections for row in bundle_rows(network, section)]
    assert len(rows) == len({row.bundle.name for row in rows}) == sum(map(len, network.design.route.values()))


def test_clips_and_ties_are_the_fewest() -> None:
    """910 mm at 609.6 mm (24 in) takes one clip between its ends, and each half of 455 mm a tie (12 in)."""
    network = physics_of(FLAT_SIX).network
    row = {each.bundle.name: each for each in bundle_rows(network, network.sections.sections[0])}["fusebox to c10"]
    assert (row.clips, row.ties) == (1, 2)
    near = edited(("c10: {length: 910 +/- 10,", "c10: {length: 910 +/- 10, clips: 300 mm,"))
    network = physics_of(near).network
    row = {each.bundle.name: each for each in bundle_rows(network, network.sections.sections[0])}["fusebox to c10"]
    assert (row.clips, row.ties) == (3, 0)


def test_a_twisted_stretch_says_its_layers() -> None:
    """Four equal wires lie in one layer."""
    network = physics_of(edited(("c10: {length: 910 +/- 10,", "c10: {length: 910 +/- 10, lay-length: 80 mm,"))).network
    row = {each.bundle.name: each for each in bundle_rows(network, network.sections.sections[0])}["fusebox to c10"]
    assert row.lay == "4"


def test_the_mass_is_that_of_all_cut_wire() -> None:
    """Copper of the whole: area times cut length times 8.89 g/cm3 (IEC 60028), summed here wire by wire."""
    physics = physics_of(FLAT_SIX)
    network = physics.network
    rows = mass_rows(network, physics, tuple(bundle_rows(network, each) for each in network.sections.sections))
    by_hand = math.fsum(
        wire.figures.area_mm2.value * physics.lengths[wire.mark].cut_mm * 8.89e-3 for wire in network.wires
    )
    assert rows[-1].section == "whole harness"
    assert rows[-1].copper_g == pytest.approx(by_hand)
    assert rows[-1].total_g == pytest.approx(math.fsum(row.total_g for row in rows[:-1]))


def test_the_tables_stand_with_the_others() -> None:
    """One table of bundles for each section, one of masses, in files and on the page."""
    physics = physics_of(FLAT_SIX)
    schedules = schedules_of(physics.network, physics)
    assert len(schedules.by_kind["bundles"]) == 2
    assert {"bundles", "mass"} <= {table.key for table in schedules.for_page(on_bench=False)}
    section = physics.network.sections.sections[0]
    assert any(
        "1.2 times the root" in note for note in bundle_table(bundle_rows(physics.network, section), section).notes
    )
