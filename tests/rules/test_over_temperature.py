"""What the currents heat above its rating: insulation by its neighbours, coverings, contacts."""

import pytest

from harnessgen.explain.explain import explain
from tests.line import MAIN, examine_text, physics_of, underlined

DESIGN = """\
format: 2
harness: {{title: Heater, number: HT-1, revision: A}}
route: {{battery: {{block: 300, heater: {{length: 900, covering: {covering}}}}}}}
connectors: {{C1: {{part: {connector}, at: heater}}}}
supplies: {{BAT: {{voltage: 13.5 V, at: battery}}}}
grounds: {{G1: {{at: block}}}}
fuses: {{F1: {{rating: 40 A, at: battery, form: blade-large}}, F2: {{rating: 3 A, at: battery}}}}
loads:
  R1: {{resistance: {ohm} ohm, connector: C1}}
  E1: {{resistance: 100 ohm, at: heater}}
circuits:
  10: {{from: BAT, to: F1, color: RD, size: 10 mm2}}
  11: {{from: F1, to: R1/1, color: RD, size: {size}, wire: thin-wall-175}}
  12: {{from: BAT, to: F2, color: YE, size: 1 mm2}}
  13: {{from: F2, to: E1/1, color: YE, size: 0.5 mm2, wire: {family}}}
  90: {{from: R1/2, to: G1, color: BK, size: {size}, wire: thin-wall-175}}
  91: {{from: E1/2, to: G1, color: BN, size: 0.5 mm2, wire: {family}}}
limits: {{ambient: {ambient} degC, drop: 50 %}}
states: {{heat: {{on: []}}}}
"""

COOL = {
    "covering": "glass-10", "connector": "sealed-2-blade", "ohm": 2, "size": "2.5 mm2", "family": "thin-wall-175",
    "ambient": 40,
}  # fmt: skip


def design(**other: object) -> str:
    """The design with some of its values changed."""
    return DESIGN.format(**(COOL | other))


def explained(text: str, what: str, number: float) -> bool:
    """Whether the explanation of a thing derives a number of its finding."""
    things = explain(physics_of(text), {MAIN: text}, (), what)
    return any(each.result == pytest.approx(number, rel=1e-9) for thing in things for each in thing.derivations)


def test_the_design_is_clean_where_nothing_is_hot() -> None:
    """The near miss of all that follows: 7 A through 2.5 mm2."""
    found = [each for each in examine_text(design()).findings if each.rule == "over-temperature"]
    assert found == []


def test_a_covering_gets_as_hot_as_the_bundle_makes_it() -> None:
    """A glass sleeve stands what a polyamide conduit does not: wires of 175 degC near their rating."""
    hot = {"ohm": 0.55, "ambient": 115}
    text = design(covering="conduit-10", **hot)
    (found,) = [each for each in examine_text(text).findings if underlined(text, each) == "conduit-10"]
    covered = [each for each in physics_of(text).heat.in_state("heat") if each.bundle.covering is not None]
    inside = max(each.found.inner_degc for each in covered)
    assert (found.rule, found.subject) == ("over-temperature", "battery to heater")
    assert found.numbers[0].value == pytest.approx(inside)
    assert found.numbers[0].source.startswith(f"{inside - 125:.1f} K above what it stands, in state heat, from battery")
    assert explained(text, "battery to heater", inside)
    assert inside > found.numbers[1].value == 125.0
    assert [each for each in examine_text(design(**hot)).findings if each.subject == "battery to heater"] == []


def test_insulation_is_heated_by_what_lies_beside_it() -> None:
    """A thin signal wire of 125 degC among wires of 175 degC: told at its own size, with the heat of the others."""
    text = design(ohm=0.44, ambient=60, family="thin-wall-125")
    physics = physics_of(text)
    hottest, beside = physics.heat.hottest("13A"), physics.heat.loading("11A")
    assert hottest is not None
    assert beside is not None
    assert hottest.conductor_degc > 125.0
    assert beside.used < 1.0
    found = {each.subject: each for each in examine_text(text).findings if each.rule == "over-temperature"}
    assert found["13A"].message == "The wires beside 13A heat its insulation more than it stands."
    conductor = found["13A"].numbers[0]
    assert conductor.value == pytest.approx(hottest.conductor_degc)
    above = f"{hottest.conductor_degc - 125:.1f} K above the 125 degC that thin-wall-125 stands"
    assert conductor.source == f"{above}; hottest from battery to heater, in state heat, coldest, highest supply"
    assert explained(text, "13A", conductor.value)


def test_a_contact_is_heated_by_its_wire_and_its_resistance() -> None:
    """The same current through a contact of less resistance is silent; the figures are those of the derivation."""
    text = design(ohm=0.55, ambient=60)
    found = [each for each in examine_text(text).findings if each.subject == "C1/1"]
    assert [each.rule for each in found] == ["over-temperature"]
    contact, stands = found[0].numbers
    assert contact.value > stands.value == 140.0
    assert contact.source.startswith(f"{contact.value - 140:.1f} K above what it stands, in state heat: ")
    assert explained(text, "C1/1", contact.value)
    assert [each for each in examine_text(design(ohm=1.0, ambient=60)).findings if each.subject == "C1/1"] == []
