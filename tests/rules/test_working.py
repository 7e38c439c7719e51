"""What must work and what must not: hand-worked on either side of each bound, and relays followed through sequences."""

import pytest

from harnessgen.evidence.finding import Finding
from tests.line import examine_text, physics_of

LAMP = """\
format: 2
harness: {{title: Lamp, number: LN-1, revision: A}}
route: {{battery: {{block: 300, horn: 900}}}}
supplies: {{BAT: {{voltage: {volts}, resistance: 20 mohm, at: battery}}}}
grounds: {{G1: {{at: block}}}}
fuses: {{F1: {{rating: 7.5 A, at: battery}}}}
switches: {{SW1: {{at: battery}}}}
loads: {{E1: {{{figures}, at: horn}}}}
circuits:
  10: {{from: BAT, to: F1, color: RD, size: 1.5 mm2}}
  11: {{from: F1, to: SW1, color: RD, size: 1.5 mm2}}
  13: {{from: SW1, to: E1/1, color: GN, size: 1.5 mm2}}
  90: {{from: E1/2, to: G1, color: BK, size: 1.5 mm2}}
states:
  lit: {{on: SW1{more}}}
"""
OHM = "resistance: 120 ohm"


def told(text: str) -> list[Finding]:
    """Findings in the order of the report, the note on states and those on fuses left out."""
    return [each for each in examine_text(text).findings if each.rule != "return-to-ground-hazard"]


def lamp(figures: str, volts: str = "12 V", more: str = ", works: E1") -> list[Finding]:
    """What is told of the one lamp."""
    return told(LAMP.format(figures=figures, volts=volts, more=more))


@pytest.mark.parametrize(("rated", "is_told"), [("19.5 V", False), ("20.5 V", True)])
def test_less_than_three_fifths_of_the_rated_current_is_told(rated: str, is_told: bool) -> None:
    """12 V over 120 ohm is 0.1 A; at 20 V it would be 0.1667 A, of which three fifths are 0.1 A. Wires take 0.1 %."""
    found = lamp(f"{OHM}, rated-voltage: {rated}")
    assert [each.rule for each in found] == (["not-working"] if is_told else [])
    if is_told:
        carries, least = found[0].numbers
        assert carries.value == pytest.approx(12 / 120, rel=0.003)
        assert least.value == pytest.approx(0.6 * 20.5 / 120)


@pytest.mark.parametrize(("supply", "is_told"), [("9 V +/- 1.5 V", False), ("9 V +/- 2 V", True)])
def test_the_lowest_supply_decides(supply: str, is_told: bool) -> None:
    """A lamp made for 12 V needs 7.2 V: 7.5 V will do and 7 V will not."""
    found = lamp(f"{OHM}, rated-voltage: 12 V", supply)
    assert [each.rule for each in found] == (["not-working"] if is_told else [])


@pytest.mark.parametrize(("least", "is_told"), [("11.9 V", False), ("12.1 V", True)])
def test_less_than_the_volts_that_it_works_from_is_told(least: str, is_told: bool) -> None:
    """12 V, of which the wires take a hundredth at most."""
    found = lamp(f"{OHM}, works-from: {least}")
    assert [each.rule for each in found] == (["not-working"] if is_told else [])


def test_a_load_for_24_volts_has_enough_at_24() -> None:
    """Without a rated voltage it is made for the nominal voltage of its system."""
    assert lamp("kind: lamp, resistance: 57.6 ohm", "26 V") == []
    assert lamp("kind: lamp, resistance: 57.6 ohm", "13 V") == []


def test_a_12_volt_coil_at_27_volts_is_told() -> None:
    """The solenoid of the library stands 18 V."""
    (found,) = lamp("part: solenoid", "27 V")
    assert (found.rule, found.subject) == ("over-voltage", "E1")
    assert found.numbers[0].value == pytest.approx(27, rel=0.02)
    assert found.numbers[1].value == 18


@pytest.mark.parametrize(("volts", "is_told"), [("17.9 V", False), ("16 V +/- 2.5 V", True)])
def test_one_and_a_half_times_the_rated_voltage_is_stood(volts: str, is_told: bool) -> None:
    """18 V at 12 V, as ISO 16750-2, 4.3.1, has it (from memory)."""
    found = lamp(f"{OHM}, rated-voltage: 12 V", volts)
    assert [each.rule for each in found] == (["over-voltage"] if is_told else [])


def test_what_says_nothing_at_more_than_18_volts_is_named() -> None:
    """Nobody knows what it stands, so it has not passed."""
    text = LAMP.format(figures=OHM, volts="27 V", more=", works: E1")
    assert [(each.rule, each.subject) for each in examine_text(text).not_examined] == [("over-voltage", "E1")]


@pytest.mark.parametrize(("positive", "is_told"), [(1, False), (2, True)])
def test_the_wrong_way_round_is_told(positive: int, is_told: bool) -> None:
    """Terminal 1 is fed."""
    found = lamp(f"{OHM}, positive: {positive}")
    assert [each.rule for each in found] == (["reversed-polarity"] if is_told else [])


def test_a_load_in_no_list_is_named() -> None:
    """It has not passed; one that is off in a state is in a list."""
    unlisted = examine_text(LAMP.format(figures=OHM, volts="12 V", more=""))
    assert [(each.rule, each.subject) for each in unlisted.not_examined] == [("not-working", "E1")]
    listed = LAMP.format(figures=OHM, volts="12 V", more="") + "  dark: {off: E1}\n"
    assert examine_text(listed).not_examined == ()


def test_a_load_that_no_wire_feeds_is_told_once() -> None:
    """As an open circuit, and not as not working too."""
    text = LAMP.format(figures=OHM, volts="12 V", more=", works: E1")
    cut = "\n".join(line for line in text.split("\n") if not line.startswith("  13:"))
    assert [each.rule for each in told(cut)] == ["open-circuit"]


def test_to_work_and_to_be_off_in_one_state_is_a_fault() -> None:
    """One of the two is meant."""
    (found,) = told(LAMP.format(figures=OHM, volts="12 V", more=", works: E1, off: E1"))
    assert (found.rule, found.subject) == ("bad-value", "lit")


@pytest.mark.parametrize("after", ["lit", "dark, parked: no}\n  dark: {after: lit"])
def test_states_that_follow_each_other_in_a_circle_are_a_fault(after: str) -> None:
    """None of them comes first; a state that follows itself is the smallest circle."""
    found = told(LAMP.format(figures=OHM, volts="12 V", more=f", works: E1, after: {after}"))
    assert {each.rule for each in found} == {"bad-value"}


def test_a_state_that_is_not_there_is_a_fault_with_a_near_name() -> None:
    """`after` names a state."""
    (found,) = told(LAMP.format(figures=OHM, volts="12 V", more=", works: E1, after: lid"))
    assert found.rule == "unknown-reference"
    assert "lit" in found.mend


HOLDING = """\
format: 2
harness: {{title: Holding relay, number: HR-1, revision: A}}
route: {{battery: {{block: 300, horn: 900}}}}
supplies: {{BAT: {{voltage: 13.5 V, resistance: 20 mohm, at: battery}}}}
grounds: {{G1: {{at: block}}}}
fuses: {{F1: {{rating: 7.5 A, at: battery}}}}
switches: {{SW1: {{at: battery}}, SW2: {{at: battery}}}}
relays: {{K1: {{part: plug-in-make, at: battery}}}}
loads: {{E1: {{part: lamp-10, at: horn}}}}
circuits:
  10: {{from: BAT, to: F1, color: RD, size: 1.5 mm2}}
  11: {{from: F1, to: SW2, color: RD, size: 1.5 mm2}}
  12: {{from: {feed}, to: K1/30, color: RD, size: 1 mm2}}
  13: {{from: SW2, to: SW1, color: RD, size: 1 mm2}}
  14: {{from: SW1, to: K1/86, color: GN, size: 1 mm2}}
  15: {{from: K1/87, to: K1/86, color: GN, size: 1 mm2}}
  16: {{from: K1/87, to: E1/1, color: GY, size: 1 mm2}}
  90: {{from: E1/2, to: G1, color: BK, size: 1 mm2}}
  92: {{from: K1/85, to: G1, color: BK, size: 1 mm2}}
states:
  rest: {{on: SW2, off: E1}}
  start: {{on: [SW1, SW2], works: E1}}
  run: {{on: SW2, after: start, works: E1}}
  stop: {{parked: yes, after: run, {off}}}
"""


def test_a_relay_that_holds_itself_is_followed_from_state_to_state() -> None:
    """The start button is released in `run`, and the relay holds through its own contact, until the stop button."""
    text = HOLDING.format(feed="SW2", off="off: E1")
    points = physics_of(text).points
    assert {name: bool(point.pulled_in) for name, point in points.items()} == {
        "rest": False,
        "start": True,
        "run": True,
        "stop": False,
    }
    assert told(text) == []


def test_a_relay_that_nothing_lets_go_is_told_and_drains_the_battery() -> None:
    """Its contact is fed before the stop button: once closed it holds in every state, and while parked too."""
    found = told(HOLDING.format(feed="F1", off="works: E1"))
    assert [(each.rule, each.subject) for each in found] == [("parked-drain", "K1"), ("relay-stays-on", "K1")]
    assert found[0].numbers[0].value == pytest.approx(13.5 / 90, rel=0.01)


CHANGE_OVER = """\
format: 2
harness: {{title: Two lamps, number: TL-1, revision: A}}
route: {{battery: {{block: 300, horn: 900}}}}
supplies: {{BAT: {{voltage: 13.5 V, resistance: 20 mohm, at: battery}}}}
grounds: {{G1: {{at: block}}}}
fuses: {{F1: {{rating: 7.5 A, at: battery}}}}
switches: {{SW1: {{at: battery}}}}
relays: {{K1: {{part: plug-in-change-over, at: battery}}}}
loads: {{E1: {{part: lamp-10, at: horn}}, E2: {{part: lamp-10, at: horn}}}}
circuits:
  10: {{from: BAT, to: F1, color: RD, size: 1.5 mm2}}
  11: {{from: F1, to: SW1, color: RD, size: 1 mm2}}
  12: {{from: F1, to: K1/30, color: RD, size: 1 mm2}}
  13: {{from: SW1, to: K1/86, color: GN, size: 1 mm2}}
  14: {{from: K1/{one}, to: E1/1, color: GY, size: 1 mm2}}
  15: {{from: K1/{other}, to: E2/1, color: GY, size: 1 mm2}}
  90: {{from: E1/2, to: G1, color: BK, size: 1 mm2}}
  91: {{from: E2/2, to: G1, color: BK, size: 1 mm2}}
  92: {{from: K1/85, to: G1, color: BK, size: 1 mm2}}
states:
  low: {{works: E2, off: E1}}
  high: {{on: SW1, works: E1, off: E2}}
"""


def test_exchanged_contacts_are_told_in_place_of_the_loads() -> None:
    """87 closes with the coil, 87a opens (DIN 72552, from memory)."""
    assert told(CHANGE_OVER.format(one="87", other="87a")) == []
    found = told(CHANGE_OVER.format(one="87a", other="87"))
    assert [(each.rule, each.subject) for each in found] == [("exchanged-contacts", "K1")]


@pytest.mark.parametrize(
    ("block", "subject"),
    [
        ("splices: {S1: {at: horn}}", "S1"),
        ("connectors: {C1: {part: sealed-2, at: horn}}", "C1"),
        ("drivers: {Q1: {at: horn, direct: {ground: G1}}}", "Q1"),
    ],
)
def test_what_no_wire_uses_is_told(block: str, subject: str) -> None:
    """One finding for the thing."""
    text = LAMP.format(figures=OHM, volts="12 V", more=", works: E1").replace("\nloads:", f"\n{block}\nloads:")
    assert [(each.rule, each.subject) for each in told(text)] == [("without-wire", subject)]


def test_a_contact_that_nothing_uses_is_told() -> None:
    """The coil has its wires, and no wire leaves 87."""
    text = LAMP.format(figures=OHM, volts="12 V", more=", works: E1").replace(
        "\nloads:", "\nrelays: {K1: {part: plug-in-make, at: battery}}\nloads:"
    )
    coil = (
        "  14: {from: SW1, to: K1/86, color: GN, size: 1 mm2}\n"
        "  91: {from: K1/85, to: G1, color: BK, size: 1 mm2}\n"
        "  15: {from: F1, to: K1/30, color: RD, size: 1 mm2}\nstates:"
    )
    (found,) = told(text.replace("states:", coil))
    assert (found.rule, found.subject) == ("without-wire", "K1")
    assert "87" in found.message
