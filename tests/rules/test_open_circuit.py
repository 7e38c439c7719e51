"""Loads that get no current in the flat six: on which side the way ends and where, one finding for one cause."""

from tests.line import FLAT_SIX, beyond_notes, circuits, edited, examine_text, line_of, only, told, underlined

NO_STATE_OF_Q2 = (("on: [SW1, Q2]", "on: [SW1]"), ("on: [SW1, Q1, Q2]", "on: [SW1, Q1]"))


def test_a_fuse_without_its_feed_kills_its_bank() -> None:
    """The splice that fed both fuses is gone: three loads and one cause, which is told at the fuse."""
    text = edited(("to: [F1, F2], splice: S5, color", "to: F1, color"))
    finding = only(text)
    assert (finding.rule, finding.subject, finding.subjects) == ("open-circuit", "INJ4", ("INJ4", "INJ5", "INJ6"))
    assert (finding.place.line, underlined(text, finding)) == (line_of(text, "F2: {title"), "F2")
    assert finding.message == ("INJ4 gets current in no state: its feed ends at F2/in, and its return leads to G1.")
    assert [(place.line, words) for place, words in finding.see] == [
        (line_of(text, "INJ4: {at: right-1"), "INJ4 stands here")
    ]


def test_a_driver_that_no_state_turns_on_is_named() -> None:
    """Feed and return are wired; no state turns the output on."""
    text = edited(*NO_STATE_OF_Q2)
    finding = only(text)
    assert (finding.subjects, underlined(text, finding)) == (("INJ4", "INJ5", "INJ6"), "Q2")
    assert finding.message == (
        "INJ4 gets current in no state: BAT feeds it, and its return ends at Q2, which no state turns on."
    )


def test_a_driver_that_one_state_turns_on_is_enough() -> None:
    """One state with a complete path is enough."""
    boost = "works: [ECU, INJ1, INJ2, INJ3, INJ4, INJ5, INJ6]"
    assert told(edited(("on: [SW1, Q1, Q2]", "on: [SW1, Q1]"), (boost, "works: [ECU, INJ1, INJ2, INJ3]"))) == []


def test_what_a_dead_relay_switches_is_listed_with_its_coil() -> None:
    """A coil without feed: one finding at the relay, with the six loads behind its contact."""
    text = edited(("to: [K1/86, C1/2], splice: S6", "to: C1/2"))
    finding = only(text)
    assert (finding.subject, underlined(text, finding)) == ("K1", "K1")
    assert finding.subjects == ("K1", "INJ1", "INJ2", "INJ3", "INJ4", "INJ5", "INJ6")
    assert finding.message == (
        "The coil of K1 gets current in no state: its feed ends at K1/86, and its return leads to G1."
    )


def test_what_lacks_its_ground_is_told_as_that_alone() -> None:
    """A coil without ground is no open circuit besides, and the loads behind its contact are not either."""
    text = edited(("  91: {from: K1/85, to: G1, color: BK/WH, size: 0.75 mm2}\n", ""))
    finding = only(text)
    assert (finding.rule, finding.subject) == ("missing-ground", "K1")


STUD = (
    "relay coil, rating: 5 A, at: main-fuses, terminal: tab-6.3",
    "relay coil, rating: 5 A, at: main-fuses, terminal: ring-m5",
)
"""F3 with a stud in place of its tab, where a second wire has room."""


def test_a_cause_told_elsewhere_hides_no_other() -> None:
    """One bank hangs at a half without mate, the other lacks its feed: each is told, and no load twice."""
    text = edited(("to: [F1, F2], splice: S5, color", "to: F1, color"), STUD)
    text = edited(
        ("  90: {from: C1/1", "  40: {from: F3, to: C10s/5, color: RD, size: 1}\n  90: {from: C1/1"), text=text
    )
    assert [(rule, subject) for rule, _, subject in told(text)] == [
        ("open-circuit", "INJ4"),
        ("mate-mismatch", "C10/5"),
    ]


def test_a_switch_that_no_state_closes_is_told_with_all_it_feeds() -> None:
    """The ignition switch is on in no state: relay, bank loads and controller are dead, each cause told once."""
    text = edited(
        ("key-on: {on: SW1,", "key-on: {on: [],"),
        ("on: [SW1, Q1]", "on: Q1"),
        ("on: [SW1, Q2]", "on: Q2"),
        ("on: [SW1, Q1, Q2]", "on: [Q1, Q2]"),
    )
    (finding,) = examine_text(text).findings
    assert {"K1", "ECU", "INJ1"} <= set(finding.subjects)
    assert underlined(text, finding) == "SW1"
    assert finding.message.endswith(
        " gets current in no state: its feed ends at SW1, which no state turns on, and its return leads to G1."
    )


def test_feed_and_return_that_are_never_on_together_are_told() -> None:
    """Both ways are closed in some state, and in none together."""
    text = edited(
        ("on: [SW1, Q1]", "on: Q1"),
        ("works: [ECU, INJ1, INJ2, INJ3], off", "off"),
        ("on: [SW1, Q1, Q2]", "on: [SW1, Q2]"),
    )
    finding = only(text)
    assert finding.message == "INJ1 gets current in no state: no state closes K1 and Q1 together."
    assert (finding.subjects, underlined(text, finding)) == (("INJ1", "INJ2", "INJ3"), "Q1")


def test_a_bank_on_one_splice_is_bridged() -> None:
    """Feed and return share a splice, so the loads lie on one net; the finding points at the second use of it."""
    text = edited(("C10/3, splice: S2", "C10/3, splice: S1"))
    (finding,) = [each for each in examine_text(text).findings if each.rule == "open-circuit"]
    assert finding.message == "Both terminals of INJ1 are joined at S1, so that no current flows through it."
    assert (finding.subjects, underlined(text, finding)) == (("INJ1", "INJ2", "INJ3"), "S1")
    assert finding.place.line == line_of(text, "return: {circuit: 31")


def test_a_short_is_not_told_again_as_dead_loads() -> None:
    """A short that pulls the relay's voltage down kills the bank; it is told once, as a short."""
    text = edited(circuits("16: {from: F3, to: G1, color: RD, size: 1 mm2}"), STUD)
    assert [rule for rule, *_ in told(text)] == ["short-circuit"]


def test_what_works_beside_a_short_is_not_told_dead() -> None:
    """The wire that a short is laid to also feeds the controller: without it that would be dead, and it is not."""
    text = edited(
        ("drivers:\n", "drivers:\n  Q3: {terminals: {out: C1/2, ground: C1/1}}\n"),
        ("  boost: {on: [SW1, Q1, Q2]", "  purge: {on: [SW1, Q3]}\n  boost: {on: [SW1, Q1, Q2]"),
    )
    assert [(rule, subject) for rule, _, subject in told(text)] == [("short-circuit", "15C")]


def test_the_contact_that_leads_on_is_named_not_the_nearest() -> None:
    """Of two contacts that no state closes, the one behind which ground lies is where the return ends."""
    text = edited(
        *NO_STATE_OF_Q2,
        ("switches:\n", "switches:\n  SW9: {at: c10}\n"),
        circuits("40: {from: S6, to: SW9/out, color: RD, size: 1}"),
    )
    nearer = text.replace("{from: S6, to: SW9/out", "{from: C10s/4, to: SW9/in")
    for each in (text, nearer):
        (message,) = [one.message for one in examine_text(each).findings if one.rule == "open-circuit"]
        assert "its return ends at Q2, which no state turns on." in message


def test_without_states_everything_counts_as_on() -> None:
    """A design that declares no state is examined with everything on."""
    whole = FLAT_SIX[: FLAT_SIX.index("states:")]
    assert told(whole) == []
    finding = only(whole.replace("to: [K1/86, C1/2], splice: S6", "to: C1/2"))
    assert finding.message == (
        "The coil of K1 gets no current with everything on: its feed ends at K1/86, and its return leads to G1."
    )


def test_a_sensor_needs_a_listener_and_no_supply() -> None:
    """A sensor that makes its own voltage is whole between the two sides of its input, and dead when one side hangs."""
    devices = """loads:
  CRK: {kind: sensor, resistance: 860 ohm, at: block}
  IN1: {part: signal-input, terminals: {1: C1/20, 2: C1/21}}
  ECU"""
    text = edited(
        ("loads:\n  ECU", devices),
        circuits(
            "51: {from: CRK/1, to: C1/20, color: GY, size: 1}", "52: {from: CRK/2, to: C1/21, color: WH, size: 1}"
        ),
    )
    assert told(text) == []
    dead = text.replace("CRK/2, to: C1/21", "CRK/2, to: B9").replace("drivers:\n", "buses: {B9: {at: ecu}}\ndrivers:\n")
    dead = dead.replace("terminals: {1: C1/20, 2: C1/21}", "at: ecu").replace("to: C1/20", "to: IN1/1")
    assert {each.subject for each in examine_text(dead).findings if each.rule == "open-circuit"} == {"CRK", "IN1"}


def test_a_feed_that_starts_at_ground_feeds_nothing() -> None:
    """The injectors lie on a loop through the ground wire of the controller, and both their sides are at ground."""
    text = edited(("10: {from: BAT, to: F10", "10: {from: G1, to: F10"))
    (finding,) = beyond_notes(examine_text(text).findings)
    assert (finding.rule, finding.subjects) == ("open-circuit", ("INJ1", "INJ2", "INJ3", "INJ4", "INJ5", "INJ6"))
    assert "both its terminals lead to ground at G1" in finding.message
    assert underlined(text, finding) == "G1"
    assert [each.words for each in finding.proposals] == ["BAT in place of G1"]
    assert finding.place.line == line_of(text, "10: {from: G1")
