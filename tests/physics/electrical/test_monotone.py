"""What physics forbids, whatever the harness: a thicker wire that heats itself, a load that gives current back."""

import math
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.parts.library import packaged_parts
from harnessgen.physics.heat.harness import StretchHeat
from harnessgen.physics.heat.published_tables import Lying, Published, published
from harnessgen.physics.nodal.solution import Resistor, assemble
from harnessgen.physics.physics import Physics
from harnessgen.remedies.sizing.resized_network import resized, shelf_sizes
from tests.line import physics_of
from tests.physics.nodal.networks import OHMS, Drawn, drawn_networks
from tests.samples import examples, sample

DESIGNS = sorted((Path(__file__).parents[3] / "designs").glob("*.yaml"))
FAMILIES = packaged_parts().wires


@cache
def physics_in(path: Path) -> Physics:
    return physics_of(path.read_text(encoding="utf-8"))


@cache
def loaded_in(path: Path) -> tuple[tuple[StretchHeat, int], ...]:
    """Every wire of a design in every stretch and state in which it carries something."""
    heat = physics_in(path).heat
    return tuple(
        (stretch, index)
        for state in heat.durations_s
        for stretch in heat.in_state(state)
        for index, current in enumerate(stretch.currents_a)
        if current > 0.01
    )


@settings(deadline=None, max_examples=examples(200))
@given(st.sampled_from(sample(DESIGNS, 3)), st.data(), st.floats(0.5, 3.0))
def test_a_thicker_wire_never_heats_itself_at_its_current(path: Path, data: st.DataObject, more: float) -> None:
    """Any loaded wire of any design, among its neighbours, in its covering and its time, in any two sizes in turn.

    With its neighbours cold it is never hotter at all. Beside hot ones it may be, since these lie deeper in a thicker
    bundle and warm it: but by no more than bundle diameters are rough (see `shared_heat`). All start at the ambient,
    since thick copper keeps the heat that it starts with.
    """
    heat = physics_in(path).heat
    stretch, index = data.draw(st.sampled_from(loaded_in(path)))
    bundle = stretch.bundle
    sizes = shelf_sizes(bundle.wires[index])
    at = data.draw(st.integers(0, len(sizes) - 2))
    starts = tuple(bundle.ambient_degc for _ in stretch.starts_degc)
    loaded = tuple(more * each for each in stretch.currents_a)
    alone = tuple(current if number == index else 0.0 for number, current in enumerate(loaded))

    def found(currents: tuple[float, ...]) -> list[tuple[float, ...]]:
        tried = replace(stretch, currents_a=currents, starts_degc=starts)
        both = (resized(bundle.wires[index], size) for size in sizes[at : at + 2])
        return [heat.exchanged(tried, index, wire).found.conductors_degc for wire in both]

    thin, thick = found(alone)
    assert thick[index] <= thin[index] + 1e-9
    thin, thick = found(loaded)
    rough = 0.08 if bundle.covering is None else 0.16
    if math.isfinite(thin[index]):
        assert thick[index] <= thin[index] + rough * (thin[index] - bundle.ambient_degc) + 1e-9


@pytest.mark.parametrize("name", sorted(FAMILIES))
def test_a_thicker_wire_never_drops_more_at_its_current(name: str) -> None:
    """In every packaged family more copper has less resistance by length, and so less drop at any current."""
    sizes = sorted(FAMILIES[name].sizes.values(), key=lambda each: each.area_mm2.value)
    ohms = [each.resistance_ohm_per_m.value for each in sizes]
    assert ohms == sorted(ohms, reverse=True)
    assert len(set(ohms)) == len(ohms)


@settings(deadline=None, max_examples=examples(80))
@given(st.sampled_from(DESIGNS), st.data(), st.floats(0.1, 60.0))
def test_a_hotter_zone_never_raises_an_allowed_current(path: Path, data: st.DataObject, hotter: float) -> None:
    """Any loaded wire of any design by the heat balance, for ever and for a time, the others as they are."""
    heat = physics_in(path).heat
    stretch, index = data.draw(st.sampled_from(loaded_in(path)))
    bundle = replace(stretch.bundle, ambient_degc=stretch.bundle.ambient_degc + hotter)
    starts = tuple(max(each, bundle.ambient_degc) for each in stretch.starts_degc)
    before = heat.allowed_a(stretch, index)
    after = heat.allowed_a(replace(stretch, bundle=bundle, starts_degc=starts), index)
    assert after <= before * (1.0 + 1e-9)


@settings(deadline=None, max_examples=examples(200))
@given(
    st.sampled_from(("boat-table", "aircraft-curves", "space-derating")),
    st.sampled_from([ConductorSize("AWG", str(size)) for size in (22, 20, 18, 16, 14, 12, 10, 8)]),
    st.sampled_from((75.0, 90.0, 105.0, 125.0, 150.0, 200.0)),
    st.floats(-20.0, 120.0),
    st.floats(0.0, 60.0),
    st.integers(1, 30),
)
def test_a_hotter_zone_never_raises_what_a_table_allows(
    method: str, size: ConductorSize, rating: float, ambient: float, hotter: float, count: int
) -> None:
    """Where a table says something at both temperatures."""
    found = [
        published(method, "", Lying(size, rating, each, count, count, 0.0, method == "space-derating"))
        for each in (ambient, ambient + hotter)
    ]
    cool, warm = found
    assume(isinstance(cool, Published) and isinstance(warm, Published))
    assert isinstance(cool, Published)
    assert isinstance(warm, Published)
    assert warm.allowed_a <= cool.allowed_a * (1.0 + 1e-9)


@settings(deadline=None, max_examples=examples(200))
@given(drawn_networks(), st.data(), OHMS)
def test_a_load_more_never_lowers_the_current_of_its_feed(drawn: Drawn, data: st.DataObject, ohm: float) -> None:
    """Any network between a supply and ground, and a resistor more between any two of its nodes."""
    node = st.integers(0, drawn.node_count - 1)
    more = Resistor(data.draw(node), data.draw(node), ohm)
    before, after = (
        assemble(drawn.node_count, resistors, drawn.fixed).solve().supplied_a[0]
        for resistors in (drawn.resistors, [*drawn.resistors, more])
    )
    assert after >= before - 1e-9 * max(abs(before), 1e-9)
    assert math.isfinite(after)
