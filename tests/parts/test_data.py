"""The packaged parts: each says where it comes from, names only what exists, and could be made of metal and plastic."""

from collections.abc import Iterator, Mapping
from dataclasses import fields
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

import harnessgen.parts
from harnessgen.evidence.publication import Standing
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.parts.library import Parts, PartsFile, packaged_parts
from harnessgen.parts.part import Part
from harnessgen.source.container import RecordOf
from harnessgen.source.kind import Reading
from harnessgen.source.reader import read_tree

PARTS = packaged_parts()
KINDS = [each.name for each in fields(Parts) if "key" in each.metadata]
FAMILIES = [(kind, name) for kind in KINDS for name in getattr(PARTS, kind)]
DATA = Path(harnessgen.parts.__file__).parent / "data"
FILES = sorted(DATA.rglob("*.yaml"))


def family_of(kind: str, name: str) -> Part:
    family = getattr(PARTS, kind)[name]
    assert isinstance(family, Part)
    return family


def rows_of(family: Part) -> Iterator[tuple[str, Part]]:
    """Rows inside a family: wire sizes, fuse ratings, pin assignments."""
    for each in fields(family):
        value = getattr(family, each.name)
        if isinstance(value, Mapping):
            yield from ((name, row) for name, row in value.items() if isinstance(row, Part))


@pytest.mark.parametrize(("kind", "name"), FAMILIES)
def test_every_row_says_where_it_comes_from(kind: str, name: str) -> None:
    """Each family has a source, and a row without one of its own has its family's."""
    family = family_of(kind, name)
    assert family.name == name
    assert len(family.source) > 10, f"{kind} {name} has no source"
    for label, row in rows_of(family):
        origin = family.origin(row)
        assert origin.document, f"{kind} {name} {label} has no source"
        assert row.source or row.standing == "published", f"{kind} {name} {label} has a standing and no source"


def test_what_was_recalled_is_not_called_published() -> None:
    """A source that speaks of memory or recollection for a figure that a verdict rests on is marked so."""
    for kind, name in FAMILIES:
        family = family_of(kind, name)
        for label, part in [("", family), *rows_of(family)]:
            recalled = "as recalled" in part.source.partition(";")[0] or "from memory" in part.source.partition(";")[0]
            if recalled:
                assert part.publication.standing is Standing.FROM_MEMORY, f"{kind} {name} {label}"


def test_every_name_inside_the_parts_exists() -> None:
    """Contacts and seals of connectors, terminals of fuse forms, tabs of relays."""
    for connector in PARTS.connectors.values():
        assert connector.contact in PARTS.contacts, connector.name
        assert not connector.seal or connector.seal in PARTS.seals, connector.name
        assert len(connector.cavities) == connector.ways, connector.name
        assert connector.ways % connector.rows == 0 or connector.shape == "round", connector.name
        assert set(connector.pins) <= set(connector.cavities), connector.name
        for cavity, pin in connector.pins.items():
            assert not pin.return_ or pin.return_ in connector.cavities, f"{connector.name}/{cavity}"
    for form in PARTS.fuses.values():
        assert form.contact in PARTS.contacts, form.name
    for relay in PARTS.relays.values():
        assert set(relay.tabs) == set(relay.terminals), relay.name
        assert set(relay.tabs.values()) <= set(PARTS.contacts), relay.name


def test_connectors_reach_from_one_way_to_sixty() -> None:
    """The library has the smallest and the largest that a small harness needs."""
    ways = sorted(each.ways for each in PARTS.connectors.values())
    assert (ways[0], ways[-1]) == (1, 60)


@pytest.mark.parametrize("name", list(PARTS.wires))
def test_a_thicker_wire_has_more_copper_less_resistance_and_more_diameter(name: str) -> None:
    """From size to size of a family; and the copper fits inside the insulation."""
    family = PARTS.wires[name]
    sizes = sorted(
        (ConductorSize(family.system, label).nominal_area_mm2, figures) for label, figures in family.sizes.items()
    )
    for (_, thin), (_, thick) in pairwise(sizes):
        assert thin.area_mm2.value < thick.area_mm2.value
        assert thin.resistance_ohm_per_m.value > thick.resistance_ohm_per_m.value
        assert thin.diameter_mm.value < thick.diameter_mm.value
    for nominal_mm2, figures in sizes:
        assert 0.87 <= figures.area_mm2.value / nominal_mm2 <= 1.20, figures.name
        copper_mm = 2 * (figures.area_mm2.value / 3.141592653589793) ** 0.5
        assert 1.1 * copper_mm < figures.diameter_mm.value < 2.6 * copper_mm, figures.name


@pytest.mark.parametrize("name", list(PARTS.wires))
def test_a_wire_conducts_as_copper_does(name: str) -> None:
    """Highest resistance times area lies 1 to 20 % above 1/58 ohm mm2/m (IEC 60028): strands, lay, tin, tolerance.

    The FAA's own figures for a gauge of 24 (28.40 ohm per 1000 ft, 475 circular mils) lie 30 % above.
    """
    for label, figures in PARTS.wires[name].sizes.items():
        share = figures.resistance_ohm_per_m.value * figures.area_mm2.value * 58.0
        highest = 1.31 if (name, label) == ("aircraft-150", "24") else 1.20
        assert 1.01 < share < highest, f"{name} {label}: {share}"


def test_a_larger_fuse_has_less_resistance() -> None:
    """From rating to rating of a form; and it drops 0.02 to 0.15 V at its rating (common practice, no source)."""
    for form in PARTS.fuses.values():
        ratings = sorted((float(label), rating.resistance_ohm.value) for label, rating in form.ratings.items())
        for (_, small), (_, large) in pairwise(ratings):
            assert small > large, form.name
        for rating_a, ohm in ratings:
            assert 0.02 < rating_a * ohm < 0.15, f"{form.name} {rating_a}"


def test_ranges_are_ranges() -> None:
    """What a contact, seal or splice takes has a lower and a higher end, and heat-shrink shrinks."""
    for contact in PARTS.contacts.values():
        assert contact.from_mm2.value < contact.to_mm2.value, contact.name
    for splice in PARTS.splices.values():
        assert splice.from_mm2.value < splice.to_mm2.value, splice.name
    for seal in PARTS.seals.values():
        assert seal.from_mm.value < seal.to_mm.value, seal.name
    for covering in PARTS.coverings.values():
        if covering.recovered_mm is not None:
            assert covering.recovered_mm.value <= 0.51 * covering.inside_mm.value, covering.name


def test_the_standard_seal_of_a_connector_fits_some_wire_of_its_contact() -> None:
    """Contact and seal of a sealed connector are for one range of wires: some thin-wall size fits both."""
    sizes = PARTS.wires["thin-wall-125"].sizes.values()
    for connector in PARTS.connectors.values():
        if connector.seal:
            contact, seal = PARTS.contacts[connector.contact], PARTS.seals[connector.seal]
            assert any(
                contact.from_mm2.value <= size.area_mm2.value <= contact.to_mm2.value
                and seal.from_mm.value <= size.diameter_mm.value <= seal.to_mm.value
                for size in sizes
            ), connector.name


def test_loads_have_what_their_kind_needs() -> None:
    """A coil has an inductance, a motor stalls at more current than it runs with, a filament is cold before it is hot."""
    for load in PARTS.loads.values():
        assert (load.inductance_h is not None) == (load.kind == "coil"), load.name
        assert (load.stall_ohm is not None) == (load.kind == "motor"), load.name
        assert (load.cold_ohm is not None) == (load.kind == "lamp"), load.name
        for starting in (load.stall_ohm, load.cold_ohm):
            has_leds = load.kind == "lamp" and load.keeps == "current"
            assert has_leds or starting is None or starting.value < load.resistance_ohm.value / 2, load.name


@pytest.mark.parametrize("file", FILES, ids=lambda file: str(file.relative_to(DATA)))
def test_every_file_has_the_form_that_a_design_includes(file: Path) -> None:
    """A data file is a parts file of the format without a fault, small enough to read."""
    text = file.read_text(encoding="utf-8")
    tree = read_tree(file.name, text)
    reading = Reading()
    assert tree.root is not None
    read: Any = RecordOf(PartsFile).read(tree.root, reading)
    assert (tree.faults, reading.faults, read.format) == ((), [], "2")
    assert len(text.splitlines()) <= 60


def test_the_library_holds_all_that_its_files_hold() -> None:
    """Nothing that stands in a data file is missing on the shelf."""
    held = set()
    for file in FILES:
        tree = read_tree(file.name, file.read_text(encoding="utf-8"))
        assert tree.root is not None
        read: Any = RecordOf(PartsFile).read(tree.root, Reading())
        held |= {(kind, name) for kind in KINDS for name in getattr(read.parts, kind)}
    assert held == set(FAMILIES)
