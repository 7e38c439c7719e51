"""The smallest wires: clean as they are, not clean one size down, and least where that is said (by brute force)."""

import itertools
import math
import random
from functools import cache
from pathlib import Path

import pytest

from harnessgen.evidence.finding import Severity
from harnessgen.evidence.rule import Requirement
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.network.network import Network
from harnessgen.physics.physics import Physics
from harnessgen.remedies.sizing.resized_network import copper_mass, shelf_sizes, sized_network
from harnessgen.remedies.sizing.size import Sizing, smallest_sizes
from harnessgen.remedies.sizing.text import sized_texts
from harnessgen.rules.records import RULES
from tests.line import FLAT_SIX, MAIN, beyond_notes, edited, examine_text, physics_of
from tests.samples import some

FOLDER = Path(__file__).parents[3] / "designs"
DESIGNS = tuple(sorted(path.stem for path in FOLDER.glob("*.yaml") if path.stem != "trailer"))
"""The trailer alone takes as long as these five: `harnessgen size designs/trailer.yaml` is run by hand."""


def text_of(name: str) -> str:
    return (FOLDER / f"{name}.yaml").read_text(encoding="utf-8")


@cache
def sized(text: str) -> tuple[Network, Sizing]:
    network = physics_of(text).network
    return network, smallest_sizes(network, ())


def written(text: str, sizes: dict[str, ConductorSize]) -> str:
    return sized_texts(physics_of(text).network, MAIN, {MAIN: text}, sizes).get(MAIN, text)


@pytest.mark.parametrize("name", some(DESIGNS, ["twin-fans"]))
def test_the_sizes_written_into_the_design_are_clean_and_the_next_smaller_are_not(name: str) -> None:
    """The text with the sizes has every wire in its size, no error and no warning; remarks and order stay.

    Each wire's next smaller size written there brings the finding that the sizing names.
    """
    text = text_of(name)
    _, sizing = sized(text)
    sizes = {each.wire.mark: each.size for each in sizing.wires}
    new = written(text, sizes)
    assert {wire.mark: wire.size for wire in physics_of(new).network.wires} == sizes
    assert beyond_notes(examine_text(new).findings) == ()
    kept = [line for line in text.splitlines() if "size" not in line]
    assert [line for line in new.splitlines() if "size" not in line][: len(kept)] == kept
    assert sizing.mass_g < sizing.mass_before_g
    assert sizing.bound_g <= sizing.mass_g + 1e-6
    # One test with the above, so that a design is sized once.
    for each in sizing.wires:
        if each.below is None:
            assert each.size == shelf_sizes(each.wire)[0]
            continue
        found = beyond_notes(examine_text(written(text, {**sizes, each.wire.mark: each.below})).findings)
        assert {(one.rule, one.subject) for one in found} == {(one.rule, one.subject) for one in each.bound_by}
        assert found, each.wire.mark


SEEDS = (0, 2, 3, 4, 5, 6, 7, 9)
"""Each takes seconds, nearly all of it for trying all choices."""
SMALL = """\
format: 2
harness: {{title: Small, number: S-1, revision: A, wire: bench-4, splice: barrel-large}}
units: {{length: mm, temperature: degC}}
route:
  battery: {{fuse: {{length: 100}}}}
  fuse: {{fork: {{length: {trunk}}}}}
  fork: {{one: {{length: {one}}}, two: {{length: {two}}}, body: {{length: 200}}}}
connectors:
  C1: {{part: sealed-2-wide, at: one, mate: lamp one}}
  C2: {{part: sealed-2-wide, at: two, mate: lamp two}}
splices: {{S1: {{at: fork, part: barrel-large}}, S2: {{at: fork, part: barrel-large}}}}
supplies: {{BAT: {{voltage: 12 V, resistance: 20 mohm, at: battery, terminal: ring-m8}}}}
grounds: {{G1: {{at: body, resistance: 2 mohm, terminal: ring-m8}}}}
fuses: {{F1: {{rating: {fuse} A, at: fuse, direct: {{in: B1}}}}}}
buses: {{B1: {{at: fuse, terminal: ring-m8}}}}
loads:
  E1: {{resistance: {first} ohm, connector: C1}}
  E2: {{resistance: {second} ohm, connector: C2}}
circuits:
  1: {{from: BAT, to: B1, color: RD, size: 2.5 mm2, cut: 180 mm}}
  2: {{from: F1, to: [C1/1, C2/1], splice: S1, color: GN, size: 2.5 mm2}}
  3: {{from: G1, to: [C1/2, C2/2], splice: S2, color: BK, size: 2.5 mm2}}
states: {{on: {{title: both lamps}}}}
limits: {{drop: {drop} %, unfused-length: 1 m, lamp-inrush: 1}}
parts:
  wires:
    bench-4:
      title: four sizes
      system: mm2
      rating: 125 degC
      sizes:
        0.5: {{area: 0.5 mm2, resistance: 37.1 mohm/m, diameter: 1.6 mm}}
        1: {{area: 1 mm2, resistance: 18.5 mohm/m, diameter: 2.1 mm}}
        2.5: {{area: 2.5 mm2, resistance: 7.6 mohm/m, diameter: 3.0 mm}}
"""


def small(seed: int) -> str:
    draw = random.Random(seed)
    return SMALL.format(
        trunk=draw.randrange(500, 4000, 100),
        one=draw.randrange(300, 3000, 100),
        two=draw.randrange(300, 3000, 100),
        fuse=draw.choice((5, 7.5, 10)),
        first=draw.choice((4, 6, 10, 20)),
        second=draw.choice((4, 6, 10, 20)),
        drop=draw.choice((4, 6, 8, 10)),
    )


# The quickest first, since the first that tells of something ends the trial.
QUICK = ("wire-too-small", "terminal-misfit", "seal-misfit", "excess-drop", "wire-overload")
ORDERED = sorted(
    (rule for rule in RULES if rule.severity is not Severity.NOTE and rule.check),
    key=lambda rule: QUICK.index(rule.name) if rule.name in QUICK else len(QUICK),
)


def is_clean(network: Network) -> bool:
    """Whether no rule tells of an error or a warning."""
    physics = Physics(network)
    subjects = {Requirement.NETWORK: network, Requirement.PHYSICS: physics}
    found = (finding for rule in ORDERED for finding in rule.load_check()(subjects[rule.need]))
    return all(finding.severity is Severity.NOTE for finding in found)


def least_by_trying_all(network: Network) -> float | None:
    """Copper of the lightest sizes that no error and no warning stands against, of all that there are; in g."""
    shelves = [shelf_sizes(wire) for wire in network.wires]
    lengths = Physics(network).lengths
    masses = [
        [
            copper_mass(wire.mark, wire.family.sizes[size.label].area_mm2.value, lengths[wire.mark].cut_mm).result
            for size in own
        ]
        for wire, own in zip(network.wires, shelves, strict=True)
    ]
    weighed = sorted(
        (math.fsum(own[index] for own, index in zip(masses, sizes, strict=True)), sizes)
        for sizes in itertools.product(*(range(len(own)) for own in shelves))
    )

    def sized_by(sizes: tuple[int, ...]) -> Network:
        chosen = zip(network.wires, shelves, sizes, strict=True)
        return sized_network(network, {wire.mark: own[index] for wire, own, index in chosen})

    return next((mass for mass, sizes in weighed if is_clean(sized_by(sizes))), None)


@pytest.mark.parametrize("seed", some(SEEDS, 2))
def test_least_copper_is_what_trying_all_gives(seed: int) -> None:
    """Seven wires of three sizes, all 2187 choices in the order of their copper: the first clean one weighs as much."""
    network, sizing = sized(small(seed))
    least = least_by_trying_all(network)
    if least is None:
        assert sizing.left
        return
    assert sizing.left == ()
    assert sizing.bound_g <= least + 1e-3
    assert sizing.mass_g >= least - 1e-3
    if sizing.is_least:
        assert sizing.mass_g == pytest.approx(least, abs=1e-3)


@pytest.mark.parametrize("seed", [101, 104])
def test_a_load_that_keeps_its_power_brings_no_false_proof(seed: int) -> None:
    """Its current falls where wires get thicker, so that what holds for resistors proves nothing: seed 104 shows it."""
    kept = "E1: {keeps: power, power: 30 W, at-voltage: 12 V, lowest-voltage: 6 V, connector: C1}\n  #"
    network, sizing = sized(small(seed).replace("E1: {resistance: ", kept))
    least = least_by_trying_all(network)
    assert least is not None
    assert sizing.bound_g <= least + 1e-3
    assert sizing.mass_g >= least - 1e-3
    assert not sizing.is_least or sizing.mass_g == pytest.approx(least, abs=1e-3)


def test_a_gap_is_owned_up_to() -> None:
    """Least is claimed only where the bound has come up to what was found; else the bound stands below it."""
    for seed in SEEDS:
        _, sizing = sized(small(seed))
        assert sizing.is_least == (sizing.bound_g >= sizing.mass_g - 1e-3)
        assert 0.0 < sizing.bound_g <= sizing.mass_g + 1e-6


def test_most_small_designs_are_proved() -> None:
    """The proof is no rare thing: of the designs above most have it."""
    assert sum(sized(small(seed))[1].is_least for seed in SEEDS) > len(SEEDS) / 2


@pytest.mark.long
def test_what_no_size_mends_stays_and_the_rest_is_sized() -> None:
    """A state that lists working loads as off is told with the sizes; the wires are sized as before."""
    text = edited(("right-bank: {on: [SW1, Q2]", "right-bank: {on: [SW1, Q1, Q2]"))
    network = physics_of(text).network
    before = {(each.rule, *each.subjects) for each in beyond_notes(examine_text(text).findings)}
    sizing = smallest_sizes(network, ())
    assert {each[0] for each in before} == {"sneak-path"}
    assert {(each.rule, *sorted(each.subjects)) for each in sizing.left} == {
        (each[0], *sorted(each[1:])) for each in before
    }
    assert sizing.is_least
    assert sizing.mass_g == pytest.approx(sized(FLAT_SIX)[1].mass_g)


def test_sizes_by_mark_are_added_to_those_that_are_listed() -> None:
    """A block and a flow mapping of sizes grow at their ends; the remark behind the last entry stays with it."""
    for listed, grown in (
        ("sizes:\n  15A: 1 mm2\n  15B: 1 mm2   # coil\n", "  15B: 1 mm2   # coil\n  12A: 1 mm2\n"),
        ("sizes: {15A: 1 mm2}\n", "sizes: {15A: 1 mm2, 12A: 1 mm2}\n"),
    ):
        text = FLAT_SIX + listed
        sizes = {wire.mark: wire.size for wire in physics_of(text).network.wires} | {"12A": ConductorSize("mm2", "1")}
        new = written(text, sizes)
        assert grown in new
        assert {wire.mark: wire.size for wire in physics_of(new).network.wires} == sizes


def test_a_size_by_mark_names_a_wire_and_a_size_that_there_is() -> None:
    """A mark that no wire has, and a size that its family does not come in, are told at the entry."""
    (unknown,) = examine_text(FLAT_SIX + "sizes: {15X: 1 mm2}\n").findings
    assert (unknown.rule, unknown.subject) == ("unknown-reference", "15X")
    (unmade,) = examine_text(FLAT_SIX + "sizes: {15A: 1.1 mm2}\n").findings
    assert (unmade.rule, unmade.subject) == ("bad-value", "15A")
