"""The order in which a file lists its things changes no number and no finding."""

import random
from pathlib import Path
from typing import Any

import pytest
import yaml

from harnessgen.evidence.finding import Finding
from harnessgen.physics.electrical.conditions import Case
from tests.line import examine_text, physics_of
from tests.samples import some

DESIGNS = Path(__file__).parents[2] / "designs"
NAMES = sorted(path.stem for path in DESIGNS.glob("*.yaml"))


def turned(value: Any, chance: random.Random, path: tuple[str, ...] = ()) -> Any:
    """The same with the entries of every mapping in another order.

    The loads of a bank stay: their connectors are numbered, and their wires lettered, in the order of the list.
    """
    if isinstance(value, list):
        return [turned(each, chance, (*path, "")) for each in value]
    if not isinstance(value, dict):
        return value
    names = list(value)
    if not (path[:1] == ("banks",) and path[-1] == "loads"):
        chance.shuffle(names)
    return {name: turned(value[name], chance, (*path, name)) for name in names}


def shuffled(text: str, seed: int) -> str:
    """A design with every mapping in another order."""
    given = turned(yaml.load(text, Loader=yaml.BaseLoader), random.Random(seed))
    return str(yaml.safe_dump(given, sort_keys=False, width=1000))


def told(text: str) -> list[tuple[Any, ...]]:
    """What the rules find, without the places in the file."""

    def one(finding: Finding) -> tuple[Any, ...]:
        numbers = tuple((each.name, each.unit, round(each.value, 6)) for each in finding.numbers)
        return finding.rule, finding.severity.value, finding.subject, sorted(finding.subjects), finding.message, numbers

    return sorted(one(each) for each in examine_text(text).findings)


@pytest.mark.parametrize("seed", some([1, 2], 1))
@pytest.mark.parametrize("name", some(NAMES, ["flat-six", "small-boat", "twin-fans"]))
def test_the_order_of_the_file_changes_nothing(name: str, seed: int) -> None:
    """Every mapping of every shipped design shuffled: lengths, volts, currents, temperatures and findings stay."""
    text = (DESIGNS / f"{name}.yaml").read_text(encoding="utf-8")
    again_text = shuffled(text, seed)
    one, other = physics_of(text), physics_of(again_text)
    assert {wire.mark for wire in other.network.wires} == {wire.mark for wire in one.network.wires}
    for mark, length in one.lengths.items():
        assert other.lengths[mark].cut_mm == pytest.approx(length.cut_mm, rel=1e-12)
    for state in one.network.design.states:
        for case in Case:
            point, again = one.point_in(state, case), other.point_in(state, case)
            assert again.pulled_in == point.pulled_in
            assert again.volts == pytest.approx(point.volts, rel=1e-9, abs=1e-9, nan_ok=True)
            assert again.amperes == pytest.approx(point.amperes, rel=1e-9, abs=1e-9)
        for element, current in one.currents[state].items():
            found = other.currents[state][element]
            figures = (current.peak_a, current.mean_a, current.rms_a)
            assert (found.peak_a, found.mean_a, found.rms_a) == pytest.approx(figures, rel=1e-9, abs=1e-9)
    for wire in one.network.wires:
        hottest, again_hottest = one.heat.hottest(wire.mark), other.heat.hottest(wire.mark)
        assert hottest is not None
        assert again_hottest is not None
        assert again_hottest.conductor_degc == pytest.approx(hottest.conductor_degc, abs=1e-6)
        assert other.allowed[wire.mark].allowed_a == pytest.approx(one.allowed[wire.mark].allowed_a, rel=1e-9)
    assert told(again_text) == told(text)


@pytest.mark.parametrize("path", sorted((DESIGNS / "faulty").glob("*.yaml")), ids=lambda path: path.stem)
def test_a_fault_is_told_wherever_it_stands(path: Path) -> None:
    """Every mapping of every faulty design shuffled: the same findings with the same numbers."""
    text = path.read_text(encoding="utf-8")
    assert told(text) != []
    assert told(shuffled(text, 1)) == told(text)
