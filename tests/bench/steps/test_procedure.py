"""The first test procedure of the flat six and of small designs, step by step."""

from collections.abc import Iterator
from itertools import combinations

import pytest

from harnessgen.bench.setup.step import Block, Phase, Procedure, Step
from harnessgen.bench.simulation.unpowered import METAL_POINT
from harnessgen.bench.steps import continuity
from harnessgen.bench.steps.procedure import procedure_of
from tests.documents.small_designs import CHANGE_OVER, LAMP, SMALL, TWO_SUPPLIES
from tests.line import FLAT_SIX, edited, physics_of


def procedure(text: str = FLAT_SIX) -> Procedure:
    physics = physics_of(text)
    return procedure_of(physics.network, physics)


def blocks_of(found: Procedure, phase: Phase, section: str = "") -> list[Block]:
    return [block for block in found.blocks if block.setup.phase is phase and block.setup.section == section]


def between(steps: tuple[Step, ...]) -> Iterator[tuple[str, str]]:
    for step in steps:
        if step.a is not None and step.b is not None:
            yield step.a.name, step.b.name


@pytest.mark.parametrize("text", [FLAT_SIX, *SMALL.values()])
def test_power_comes_after_everything_without_it(text: str) -> None:
    """Phases keep the safe order within a section, and no unpowered block follows a powered one."""
    found = procedure(text)
    powered = [block.setup.phase.is_powered for block in found.blocks]
    assert powered == sorted(powered)
    order = list(Phase)
    for section in {block.setup.section for block in found.blocks}:
        phases = [order.index(block.setup.phase) for block in found.blocks if block.setup.section == section]
        assert phases == sorted(phases)


@pytest.mark.parametrize("text", [FLAT_SIX, *SMALL.values()])
def test_every_wire_is_passed_by_a_continuity_reading(text: str) -> None:
    """Each wire of each section lies on the way of at least one reading from place to place."""
    physics = physics_of(text)
    found = procedure_of(physics.network, physics)
    steps = [step for block in found.blocks if block.setup.phase is Phase.CONTINUITY for step in block.steps]
    assert {mark for step in steps for mark in step.covers} == {wire.mark for wire in physics.network.wires}


def test_steps_are_numbered_once() -> None:
    """Every step has its own number, which begins with its block's."""
    found = procedure()
    numbers = [step.number for step in found.steps]
    assert len(set(numbers)) == len(numbers)
    assert all(step.number.startswith(f"{block.number}.") for block in found.blocks for step in block.steps)


def test_no_tip_goes_to_a_splice_and_both_can_be_reached() -> None:
    """What is touched are cavities, landed terminals, posts and bare metal, each with how it is reached."""
    physics = physics_of(FLAT_SIX)
    for step in procedure_of(physics.network, physics).steps:
        for place in (step.a, step.b):
            if place is not None:
                assert place.designator not in physics.network.design.splices
                assert place.reach


@pytest.mark.parametrize("text", [FLAT_SIX, *SMALL.values()])
def test_a_cavity_is_only_touched_while_its_connector_is_apart(text: str) -> None:
    """No tip goes to a cavity of a connector that the setup leaves plugged in; a clamp goes round a wire outside it."""
    physics = physics_of(text)
    design = physics.network.design
    for block in procedure_of(physics.network, physics).blocks:
        for step in block.steps:
            for place in (step.a, step.b):
                name = place.designator if place is not None else ""
                if name in design.connectors or name[:-1] in design.disconnects:
                    assert {name, name[:-1]} & set(block.setup.apart), f"{step.number} {place}"


def test_continuity_of_the_plenum_section() -> None:
    """From the disconnect's half to each injector, two cavities each; nothing else."""
    (block,) = blocks_of(procedure(), Phase.CONTINUITY, "B")
    feeds = [(f"C10p/{1 if n < 24 else 2}", f"C{n}/1") for n in range(21, 27)]
    returns = [(f"C10p/{3 if n < 24 else 4}", f"C{n}/2") for n in range(21, 27)]
    assert sorted(between(block.steps)) == sorted(feeds + returns)
    assert all(step.expected.low == 0.0 and 0.3 < (step.expected.high or 0.0) < 0.4 for step in block.steps)


def test_isolation_tries_every_pair_that_shares_something() -> None:
    """Two feeds and two returns share the disconnect: six pairs, and each net against bare metal."""
    block, _ = blocks_of(procedure(), Phase.ISOLATION, "B")
    found = {frozenset(pair) for pair in between(block.steps)}
    cavities = [f"C10p/{number}" for number in range(1, 5)]
    pairs = {frozenset((a, b)) for a in cavities for b in cavities if a != b}
    assert found == pairs | {frozenset((a, "metal at G1")) for a in cavities}
    assert all((step.expected.low, step.expected.high) == (1e6, None) for step in block.steps)


def test_isolation_of_nets_that_share_nothing_is_not_asked_for() -> None:
    """10 runs from battery to fuse box, 15 from key to controller: no connector and no stretch in common."""
    block, _ = blocks_of(procedure(), Phase.ISOLATION, "A")
    actions = [step.action for step in block.steps]
    assert "circuit 10 to 13" in actions
    assert not any(action in ("circuit 10 to 15", "circuit 15 to 10") for action in actions)
    assert len(set(actions)) == len(actions)


def test_each_net_is_tried_against_all_that_are_still_in_the_clip() -> None:
    """Four nets: the first against three and metal, and so on; every pair, and each to metal, is tried once."""
    _, block = blocks_of(procedure(), Phase.ISOLATION, "B")
    assert [step.b.name for step in block.steps if step.b is not None] == [
        "the clip",
        "the clip",
        "the clip",
        "metal at G1",
    ]
    tried = [frozenset((step.a.node, other)) for step in block.steps if step.a is not None for other in step.joined]
    touched = [step.a.node for step in block.steps if step.a is not None]
    assert len(tried) == len(set(tried))
    assert set(tried) == {frozenset(pair) for pair in combinations([*touched, METAL_POINT], 2)}


def test_a_section_of_many_nets_has_no_steps_for_each_pair(monkeypatch: pytest.MonkeyPatch) -> None:
    """Beyond the stated number of pairs the steps grow with the nets, not with their square."""
    monkeypatch.setattr(continuity, "MOST_PAIRS", 5)
    pairs, joined = blocks_of(procedure(), Phase.ISOLATION, "B")
    assert [step.b.name for step in pairs.steps if step.b is not None] == ["metal at G1"] * 4
    assert len(joined.steps) == 4


def test_a_bank_read_through_its_loads() -> None:
    """Three injectors of 12 ohm side by side read 4.02 ohm with their leads at 20 degC; with one open it is no pass.

    By hand: legs of 12 + 0.010 (contacts) + 0.0371 * (207 + 147, 325 + 265, 443 + 383 mm) + 0.004 (crimps)... two
    injectors alone are 6.0 ohm, far outside the 5 % of the coils and the error of the meter.
    """
    (block,) = blocks_of(procedure(), Phase.THROUGH_LOADS, "B")
    step = block.steps[0]
    assert list(between((step,))) == [("C10p/1", "C10p/3")]
    legs = [12.0 + 0.010 + 0.002 + 0.0371 * mm / 1000 for mm in (207 + 147, 325 + 265, 443 + 383)]
    trunks = 0.002 + 0.0247 * (159 + 219) / 1000
    ohm = trunks + 1 / sum(1 / leg for leg in legs)
    assert step.expected.value == pytest.approx(ohm, rel=1e-9)
    low, high = step.expected.low, step.expected.high
    assert low is not None
    assert high is not None
    assert low < 4.0 * 0.95 < 4.0 * 1.05 < high
    two_left = trunks + 1 / (1 / legs[0] + 1 / legs[1])
    four_of_them = trunks + 1 / (sum(1 / leg for leg in legs) + 1 / 12)
    assert two_left > high
    assert four_of_them < low


def test_no_ohms_across_electronics() -> None:
    """The controller's own supply input is never read through, though both its cavities are there."""
    steps = [step for block in procedure().blocks if block.setup.phase is Phase.THROUGH_LOADS for step in block.steps]
    assert steps
    assert not any("ECU" in step.action for step in steps)


def test_mated_bank_from_output_to_fuse() -> None:
    """With the disconnect mated, the controller's cavity reads the bank through to the empty holder of its fuse."""
    (block,) = blocks_of(procedure(), Phase.THROUGH_LOADS)
    assert list(between(block.steps)) == [("C1/14", "F1/out"), ("C1/15", "F2/out")]
    assert {"F1", "F2", "K1"} <= set(block.setup.out)
    by_itself = blocks_of(procedure(), Phase.THROUGH_LOADS, "B")[0].steps[0].expected.value
    assert by_itself is not None
    assert block.steps[0].expected.value is not None
    # 21A and 31A come on top, 24.7 mohm/m over 1084 and 1940 mm, a tab's 2 mohm and two contacts of 5 mohm.
    added = 0.0247 * (1.084 + 1.940) + 0.002 + 0.010
    assert block.steps[0].expected.value == pytest.approx(by_itself + added, rel=1e-9)


def test_feeds_are_dead_with_the_key_off_and_live_with_it_on() -> None:
    """At the open disconnect the feeds follow the key; the returns carry nothing and are not listed."""
    block = blocks_of(procedure(), Phase.FEEDS)[0]
    values = {(step.action, step.a.name): step.expected for step in block.steps if step.a is not None}
    for cavity in ("C10s/1", "C10s/2"):
        assert values["every switch off", cavity].words == "dead"
        assert values["SW1 on", cavity].value == pytest.approx(13.8, abs=0.01)
    assert not any(name in ("C10s/3", "C10s/4") for _, name in values)
    ground = [step for step in block.steps if step.b is not None and step.b.name == "C1/1"]
    assert [step.a.name for step in ground if step.a is not None] == ["BAT post"]
    assert {"C10", "C1", "C21", "C26"} <= set(block.setup.apart)


def test_beyond_the_disconnect_each_feed_is_read_once() -> None:
    """With the disconnect mated every injector's feed cavity reads battery volts, the injector unplugged."""
    block = blocks_of(procedure(), Phase.FEEDS)[1]
    assert [step.a.name for step in block.steps if step.a is not None] == [f"C{number}/1" for number in range(21, 27)]
    assert {step.action for step in block.steps} == {"SW1 on"}


def test_a_return_at_rest_is_near_supply_volts() -> None:
    """With its output off a return rests near 13.8 V through its loads; a return on ground would read dead."""
    (block,) = blocks_of(procedure(), Phase.RETURNS_AT_REST)
    live = [step for step in block.steps if step.action == "SW1 on"]
    assert [step.a.name for step in live if step.a is not None] == ["C1/14", "C1/15"]
    for step in live:
        assert step.expected.low is not None
        assert step.expected.low > 13.0


def test_each_output_moves_its_own_bank_and_no_other() -> None:
    """Q1 works INJ1 to INJ3 and must not stir INJ4 to INJ6; the controller goes on as before."""
    (block,) = blocks_of(procedure(), Phase.OUTPUTS)
    first = block.steps[0].reactions
    assert first is not None
    assert first.work == ("INJ1", "INJ2", "INJ3")
    assert first.rest == ("INJ4", "INJ5", "INJ6")
    assert first.unchanged == ("ECU",)
    assert "every 200 ms" in block.steps[0].action
    assert any("120000 / 600" in line for line in block.setup.lines)


def test_a_swapped_return_changes_what_must_move() -> None:
    """Expected reactions come from the solution: with the two returns exchanged Q1 works the other bank."""
    text = edited(("to: C1/14,", "to: C1/99,"), ("to: C1/15,", "to: C1/14,"))
    text = text.replace("to: C1/99,", "to: C1/15,")
    (block,) = blocks_of(procedure(text), Phase.OUTPUTS)
    assert block.steps[0].reactions is not None
    assert block.steps[0].reactions.work == ("INJ4", "INJ5", "INJ6")


def test_the_current_of_an_output_is_that_of_the_solution() -> None:
    """The clamp round 31A reads what the solved state left-bank gives, between loads 5 % high and low."""
    physics = physics_of(FLAT_SIX)
    step = blocks_of(procedure_of(physics.network, physics), Phase.OUTPUTS)[0].steps[1]
    assert step.a is not None
    assert step.a.wires == ("31A",)
    amperes = abs(physics.points["left-bank"].amperes["31A"])
    low, high = step.expected.low, step.expected.high
    assert step.expected.value == pytest.approx(amperes, rel=1e-9)
    assert low is not None
    assert high is not None
    assert low < amperes / 1.05 < amperes / 0.95 < high
    assert high < 4 / 3 * amperes
    assert low > 2 / 3 * amperes


def test_a_coil_that_stands_only_pulses_is_not_held_on() -> None:
    """A 2.5 ohm coil would take 70 W: it is pulsed, its current is not read, and the procedure says so."""
    loads = "\nparts:\n  loads:\n    quick: {title: low-resistance injector, kind: coil, resistance: 2.5 ohm}\n"
    text = FLAT_SIX.replace("load: injector-saturated", "load: quick") + loads
    found = procedure(text)
    (block,) = blocks_of(found, Phase.OUTPUTS)
    assert all("pulse" in step.action for step in block.steps)
    assert any("Q1 and Q2" in line and "25 W" in line for line in found.not_tested)


def test_switches_alone_have_their_states() -> None:
    """A design without outputs is tried switch by switch: which lamp lights, which must not."""
    (block,) = blocks_of(procedure(CHANGE_OVER), Phase.STATES)
    assert [step.reactions.work for step in block.steps if step.reactions is not None] == [("E2",), ("E1",)]
    assert not blocks_of(procedure(CHANGE_OVER), Phase.OUTPUTS)
    assert "K1 pulls in" in block.steps[1].expected.words
    assert any(caution.name == "Filament lamps" for caution in block.setup.cautions)


def test_a_cold_filament_is_not_measured_by_its_working_resistance() -> None:
    """A lamp that takes 7 ohm at work reads far less when cold: closed is right, whatever it reads below."""
    (block,) = blocks_of(procedure(LAMP), Phase.THROUGH_LOADS, "A")
    (step,) = block.steps
    assert step.expected.low == 0.0
    assert "cold filament" in step.expected.words


def test_cautions_stand_where_they_matter() -> None:
    """Battery off without power; fuel and ignition with it where coils are; neither word in a lamp's harness."""
    found = procedure()
    for block in found.blocks:
        names = {caution.name for caution in block.setup.cautions}
        if block.setup.phase.is_powered:
            assert {"Ignition", "Fuel", "Live parts"} <= names
        else:
            assert "Battery off" in names
    (outputs,) = blocks_of(found, Phase.OUTPUTS)
    assert "Dry running" in {caution.name for caution in outputs.setup.cautions}
    for isolation in blocks_of(found, Phase.ISOLATION, "A"):
        assert "Electronics" in {caution.name for caution in isolation.setup.cautions}
    lamp = {caution.name for block in procedure(LAMP).blocks for caution in block.setup.cautions}
    assert not {"Fuel", "Ignition", "Dry running"} & lamp
    assert "Rules" in lamp


def test_the_drop_of_a_good_path_is_its_current_times_its_resistance() -> None:
    """Ohm's law between the continuity and the drop step of a path; a joint of 0.2 ohm more lies outside the band."""
    (continuity_block,) = blocks_of(procedure(), Phase.CONTINUITY, "B")
    (drop,) = blocks_of(procedure(), Phase.DROP, "B")
    assert list(between(drop.steps)) == list(between(continuity_block.steps))
    for closed, loaded in zip(continuity_block.steps, drop.steps, strict=True):
        ampere = float(loaded.action.rpartition(", ")[2].removesuffix(" A"))
        ohm, volts = closed.expected.value, loaded.expected.value
        low, high = loaded.expected.low, loaded.expected.high
        assert ohm is not None and volts is not None and low is not None and high is not None  # noqa: PT018
        assert volts == pytest.approx(ohm * ampere, rel=1e-9)
        assert low < volts < high < (ohm + 0.2) * ampere


def test_two_supplies_are_both_named() -> None:
    """With two supplies there is no one battery to scale by: each is read first at the volts of the design."""
    block = blocks_of(procedure(TWO_SUPPLIES), Phase.FEEDS)[0]
    assert any("BAT1 12.90 V, BAT2 12.40 V" in line for line in block.setup.meter_lines)
    assert all("(B" not in step.expected.words for step in block.steps)


def test_a_harness_without_a_supply_has_no_powered_steps() -> None:
    """Without a supply the procedure ends with the unpowered phases and says why."""
    text = LAMP.replace("supplies: {BAT: {voltage: 12.6 V, at: battery}}\n", "").replace("from: BAT", "from: F2/out")
    text = text.replace("fuses: {", "fuses: {F2: {rating: 10 A, at: battery}, ")
    found = procedure(text)
    assert not any(block.setup.phase.is_powered for block in found.blocks)
    assert any("no supply" in line for line in found.not_tested)
