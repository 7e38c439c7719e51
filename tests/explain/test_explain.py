"""Every name of every design is explained, and what is printed elsewhere is what the explanation derives."""

import json
import math
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from harnessgen.catalogue import RULES
from harnessgen.documents.data import explanation_json as explain_json
from harnessgen.documents.data.solution_json import solution_json
from harnessgen.documents.text import explanation as explain_text
from harnessgen.documents.text.rules import page_designs
from harnessgen.drawings.charts.fuse_chart import chart_marks
from harnessgen.evidence.derivation import Derivation, Evaluated, Solved
from harnessgen.evidence.rule import Requirement, Rule
from harnessgen.explain.explain import explain, explainers
from harnessgen.explain.thing import Thing
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.physics import Physics
from harnessgen.rules.protection.guards import guards
from harnessgen.schedules.wires.cut_list import cut_rows
from harnessgen.sheets.box import Box
from harnessgen.sheets.marks import TextMark
from tests.line import MAIN, edited, examine_text, physics_of
from tests.samples import some

FOLDER = Path(__file__).parents[2] / "designs"
DESIGNS = sorted(path.stem for path in FOLDER.glob("*.yaml"))
SOME = some(DESIGNS, ["ignition-sensors", "twin-fans"])
AREA = Box(0.0, 0.0, 130.0, 85.0)
FAULTY = sorted((FOLDER / "faulty").glob("*.yaml"))


@cache
def walked(name: str) -> tuple[Physics, dict[str, tuple[Thing, ...]]]:
    text = (FOLDER / f"{name}.yaml").read_text(encoding="utf-8")
    physics = physics_of(text)
    findings = examine_text(text).findings
    texts = {MAIN: text}
    return physics, {what: explain(physics, texts, findings, what) for what in explainers(physics, texts)}


def derivations(name: str) -> Iterator[Derivation]:
    for things in walked(name)[1].values():
        for thing in things:
            yield from thing.derivations


@pytest.mark.parametrize("name", SOME)
def test_every_name_is_explained_in_both_forms(name: str) -> None:
    """Wires, devices, cavities, states and all else: text and JSON come out, and say the name."""
    physics, things = walked(name)
    network = physics.network
    design = network.design
    asked = {*network.wire_of, *design.devices, *design.connectors, *design.splices, *design.states, *design.circuits}
    asked |= {str(node) for node, record in network.electrical.nodes.items() if record.kind == "cavity"}
    assert asked <= things.keys()
    for what, found in things.items():
        assert found, what
        assert f" {what}" in explain_text.render(found).splitlines()[0]
        assert json.loads(explain_json.render(found))["things"][0]["name"] == what


@pytest.mark.parametrize("name", SOME)
def test_each_number_comes_out_again(name: str) -> None:
    """A formula gives its result from its own inputs; equations leave nothing over beside their largest term."""
    count = 0
    for each in derivations(name):
        count += 1
        assert each.sources, each.title
        if isinstance(each, Evaluated):
            assert each.again() == pytest.approx(each.result, rel=1e-12, abs=1e-15), each.title
            continue
        for balance in each.balances:
            size = max((abs(value) for _, value in balance.terms), default=0.0)
            assert abs(balance.residual) <= 1e-6 * size + 1e-9, each.title
    assert count > 100


@pytest.mark.parametrize("name", SOME)
def test_documents_print_the_numbers_that_are_explained(name: str) -> None:
    """Cut list and solved states have the lengths and currents of the derivations."""
    physics, things = walked(name)
    of = {
        (what, each.title): each.result for what, found in things.items() for one in found for each in one.derivations
    }
    for section in physics.network.sections.sections:
        for row in cut_rows(physics.network, physics, section):
            assert row.cut_mm == pytest.approx(of[row.mark, f"cut length of {row.mark}"], abs=1e-6)
            assert row.needed_mm == pytest.approx(of[row.mark, f"needed length of {row.mark}"], abs=1e-6)
    checked = 0
    for state, point in physics.points.items():
        for element in json.loads(solution_json(physics.network, point))["elements"]:
            title = f"current of {element['name']} in {state}, as stated"
            if (element["name"], title) in of:
                checked += 1
                # Nine digits are printed, and no more than nine decimals of an ampere.
                assert abs(element["ampere"]) == pytest.approx(of[element["name"], title], rel=5.1e-9, abs=5.1e-10)
    assert checked > 10


@pytest.mark.parametrize("path", FAULTY, ids=lambda path: path.stem)
def test_findings_print_the_numbers_that_are_explained(path: Path) -> None:
    """What a finding on current says is carried, and lost on a way, is among the derivations of its subject."""
    text = path.read_text(encoding="utf-8")
    examined = examine_text(text)
    if examined.not_examined:
        return
    physics = physics_of(text)
    for finding in examined.findings:
        told = explain(physics, {MAIN: text}, examined.findings, finding.subject)
        if finding.rule not in ("wire-overload", "fuse-too-small", "driver-overload"):
            continue
        results = [each.result for thing in told for each in thing.derivations]
        carries = finding.numbers[0].value
        assert any(result == pytest.approx(carries, rel=1e-9) for result in results), finding.rule
        assert finding in told[0].findings


@pytest.mark.parametrize("name", SOME)
def test_fuses_and_their_charts_print_what_is_derived(name: str) -> None:
    """Both shorts, what it holds, what each wire stands, opens and has left: the rules' own numbers, each derived."""
    physics, things = walked(name)
    for guard in guards(physics):
        fuse, least = guard.protects.fuse.name, guard.wires[0] if guard.wires else None
        results = [each.result for thing in things[fuse] for each in thing.derivations]
        wanted = [guard.currents.near.current_a, guard.currents.far.current_a]
        if least is not None:
            wanted += [least.must_a, least.for_ever_a]
            if math.isfinite(least.margin):
                wanted += [least.opens_s, least.margin, least.heating.k2s2_a2s, least.stands_s]
            # The words above the chart have the same numbers.
            marks = [mark for mark in chart_marks(guard, AREA) if isinstance(mark, TextMark)]
            (said,) = [mark for mark in marks if " stands " in mark.text and mark.text.startswith("holds ")]
            assert f"stands {least.for_ever_a:.1f} A" in said.text
            # Every packaged family's short-time limit and fuse's times are from memory.
            assert "on figures from memory" in said.text
        for value in wanted:
            assert any(result == pytest.approx(value, rel=1e-9) for result in results), (fuse, value)


@pytest.mark.parametrize("name", SOME)
def test_a_wire_tells_its_heat_its_drop_and_its_shorts(name: str) -> None:
    """The hottest stretch, what each state loses in it, and its fuse; hand-made sums of the solved networks."""
    physics, things = walked(name)
    for mark, wire in physics.network.wire_of.items():
        (thing,) = [each for each in things[mark] if each.noun == "wire"]
        facts: dict[str, str] = {fact.what: fact.value for fact in thing.facts}
        hottest = physics.heat.hottest(mark)
        assert hottest is not None
        assert facts["hottest"].startswith(f"{hottest.conductor_degc:.1f} degC")
        assert f"{wire.family.rating_degc.value - hottest.conductor_degc:.1f} K are left" in facts["hottest"]
        assert {"protected by", "has to stand what passes", "before any fuse"} & facts.keys()
        of = {each.title: each.result for each in thing.derivations}
        for state, point in physics.points.items():
            element = next(each for each in physics.network.electrical.elements if each.wire is wire)
            across = abs(point.volts[element.a] - point.volts[element.b])
            if abs(point.amperes[mark]) > 1e-6:
                assert of[f"drop in {mark} in {state}, as stated"] == pytest.approx(across, rel=1e-6, abs=1e-9)


STATED = {
    ("relay-unsettled", "coil gets"): "0 V: nothing of a network that never rests",
    ("unfused-feed", "at most"): "a limit",
    ("fuse-too-large", "fuse"): "the rating that the design gives",
    ("breaking-capacity", "breaks"): "published for the form",
    ("fuse-nuisance", "has to hold"): "the moment after the start that is looked at",
    ("table-out-of-domain", "ambient"): "a zone's",
    ("table-out-of-domain", "at most"): "where the table ends",
    ("contact-overload", "allowed"): "the design's",
    ("over-temperature", "ambient"): "a zone's",
    ("over-temperature", "stands"): "a family's",
    ("driver-overload", "at most"): "the design's",
    ("uneven-bank", "flow match"): "a family's",
    ("over-voltage", "stands"): "the part's",
    ("reversed-polarity", "at most"): "the drop of a wire",
    ("parked-drain", "at most"): "what a parked vehicle may lose",
    ("sensor-ground", "sensor"): "the resistance that its part states",
    ("sensor-ground", "beside it"): "the resistance that its part states",
}
"""Numbers of findings that nobody computes."""
ELECTRICAL = [
    rule for rule in RULES if rule.need is Requirement.PHYSICS and rule.check and ".rules.reach" not in rule.check
]


@pytest.mark.parametrize("rule", ELECTRICAL, ids=lambda rule: rule.name)
def test_every_number_of_a_rule_is_derived_or_stated(rule: Rule) -> None:
    """The design on the rule's page: each number of its finding is that of a derivation evaluated again, or stated."""
    text, _ = page_designs(rule.page_text())
    examined, physics = examine_text(text), physics_of(text)
    (finding,) = examined.findings
    told = explain(physics, {MAIN: text}, examined.findings, finding.subject)
    results = [
        each.again() if isinstance(each, Evaluated) else each.result for thing in told for each in thing.derivations
    ]
    for number in finding.numbers:
        if (rule.name, number.name) not in STATED:
            assert any(result == pytest.approx(number.value, rel=1e-9) for result in results), number.name


def test_a_load_has_feed_and_return_apart() -> None:
    """The volts of an injector under the lowest supply, by hand: what the supply has is what all parts take."""
    physics, things = walked("flat-six")
    (injector,) = things["INJ1"]
    of = {each.title: each.result for each in injector.derivations}
    (drop,) = [each for each in physics.drops_in("boost", Case.WEAK) if each.load == "INJ1"]
    across = of["volts across INJ1 in boost, hottest, lowest supply"]
    taken = (
        across
        + drop.inside_v
        + of["drop in the feed of INJ1 in boost, hottest, lowest supply"]
        + of["drop in the return of INJ1 in boost, hottest, lowest supply"]
    )
    assert taken == pytest.approx(13.8, abs=1e-9)


def test_a_fuse_says_what_a_short_does_and_what_its_wires_stand() -> None:
    """F1 of the flat six: 13.8 V over its loop gives 245 A (worked in `test_protection`); 135 % of 5 A for ever."""
    (fuse,) = walked("flat-six")[1]["F1"]
    facts = {fact.what: fact for fact in fuse.facts}
    assert facts["short right behind it"].value == "245 A"
    assert facts["may hold for ever"].value == "6.75 A"
    assert "from memory" in facts["breaks"].source
    near, margin = (
        next(each for each in fuse.derivations if each.title.startswith(title))
        for title in ("current of F1 in a short at", "margin in time of 21C behind F1")
    )
    assert near.result == pytest.approx(245, abs=1)
    assert isinstance(margin, Evaluated)
    assert margin.result == pytest.approx(margin.inputs[0].value / margin.inputs[1].value)
    # Round the loop: 13.8 V, of which 245 A take 1.96 V in the 8 mohm of the battery.
    (loop, _) = [each for each in fuse.derivations if each.title.startswith("volts that the loop of a short")]
    assert isinstance(loop, Solved)
    terms = dict(loop.balances[0].terms)
    assert (terms["BAT without load"], terms["inside BAT"]) == (13.8, pytest.approx(-0.008 * near.result))
    assert facts["guards least"].value.startswith("21C, 0.5 mm2")
    assert any(each.title.startswith("k2S2 of 21C") for each in fuse.derivations)
    (coils,) = walked("flat-six")[1]["F3"]
    assert "91A" in next(fact.value for fact in coils.facts if fact.what == "its current runs through too")


def test_a_grommet_says_what_goes_through_it_and_what_it_goes_on_before() -> None:
    """Place, wires, the bundle over its covering, the side it goes on from, and what does not pass its hole."""
    old = "c10: {length: 910 +/- 10, build: +20/-0, covering: conduit-10}"
    grommet = "grommets: {GR8: {at: 60 +/- 5, from: c10, bore: 13, hole: 40, title: bulkhead}}, covering"
    text = edited((old, old.replace("covering", grommet)))
    physics = physics_of(text)
    (thing,) = explain(physics, {MAIN: text}, (), "GR8")
    facts = {fact.what: fact.value for fact in thing.facts}
    assert (thing.noun, thing.title) == ("grommet", "bulkhead")
    assert facts["on"] == "fusebox to c10, 60 +/- 5 mm from c10"
    assert facts["bundle in it"] == "12 mm over conduit-10"
    assert facts["wires through it"] == "21A, 31A, 22A, 32A"
    assert facts["goes on"] == "from c10, before C10s is finished"
    assert facts["through its hole towards c10"] == "all that is finished"
    assert facts["through its hole towards fusebox"].startswith("not C1 (")
    (number,) = thing.derivations
    assert number.result == pytest.approx(1.9 * (1 + 2**0.5), abs=0.01)
