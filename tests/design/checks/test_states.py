"""States that make no sense are told at their place."""

import pytest

from harnessgen.design.reading.read import read_files
from harnessgen.design.understand import understand
from tests.line import MAIN, text_of
from tests.physics.small_designs import BANK, LOADS, changed

BOOST = "pulse: {Q1: {width: 12 ms}}"


def told(text: str) -> list[tuple[str, str]]:
    """Rule and message of each fault."""
    return [(each.rule, each.message) for each in understand(read_files(MAIN, text_of({MAIN: text}))).faults]


ALL_VOLTS = "{6: 4.5 ms, 8: 2.9 ms, 10: 1.9 ms, 12: 1.35 ms, 14: 1.05 ms, 16: 0.85 ms, 18: 0.7 ms}"
CHARGING = "voltage: {BAT: 14.4 V +/- 0.3}"

# Text, what is changed in it, the rule and the message.
BROKEN = [
    (BANK, "boost: {on: [SW1, Q1]", "boost: {on: [SW1]", "bad-value", "Q1 is pulsed in boost and is not on there."),
    (BANK, BOOST, "pulse: {Q1: {width: 30 ms}}", "bad-value",
     "Q1 is on for 30 ms of every 20 ms in boost: it is never off."),
    (BANK, BOOST, "pulse: {Q1: {width: 1 ms, duty: 5 %}}", "missing-key", "The pulse of Q1 has a duty and a width."),
    (BANK, BOOST, "pulse: {Q1: {period: 1 ms}}", "missing-key", "The pulse of Q1 has neither duty nor width."),
    (BANK, " speed: 6000 rpm,", "", "missing-key", "Nothing says how often Q1 is pulsed in boost."),
    (BANK, BOOST, "pulse: {Q7: 5 %}", "unknown-reference", "There is no driver called Q7."),
    (BANK, "clamp: 50 V", "drive: {peak: 1 A, hold: 4 A}", "bad-value", "Q1 holds 4 A after a peak of 1 A."),
    (BANK, ALL_VOLTS, "{12: 1.3 ms}", "bad-value", "The dead time of injector is given for one voltage only."),
    (BANK, BOOST, f"{BOOST}, stalled: INJ1", "bad-value", "INJ1 is listed as stalled in boost, and is a coil."),
    (LOADS, "cold: H1", "cold: M1", "bad-value", "M1 is listed as cold in switch-on, and is a motor."),
    (LOADS, CHARGING, "voltage: {BATT: 14.4 V}", "unknown-reference", "There is no supply called BATT."),
    (LOADS, "voltage: 13.5 V", "voltage: 27 V", "bad-value",
     "BAT has 27 V; the range for cranking is that of a 12 V system."),
]  # fmt: skip


@pytest.mark.parametrize(("text", "old", "new", "rule", "message"), BROKEN)
def test_a_state_that_makes_no_sense_is_told(text: str, old: str, new: str, rule: str, message: str) -> None:
    """One wrong thing gives one fault that names it."""
    assert told(changed(text, (old, new))) == [(rule, message)]


@pytest.mark.parametrize("text", [BANK, LOADS])
def test_states_that_make_sense_are_silent(text: str) -> None:
    """Durations, conditions, voltages, speeds, pulses, stalled motors and cold lamps are taken without a word."""
    assert told(text) == []


def test_a_system_of_another_voltage_gives_its_own_range() -> None:
    """With the state's voltage of the supply, or the design's limit, a condition holds for 24 V too."""
    other = changed(LOADS, ("voltage: 13.5 V", "voltage: 27 V"))
    assert told(changed(other, ("supply: cranking", "supply: cranking, voltage: {BAT: 18 V}"))) == []
    assert told(changed(other, ("states:\n", "limits: {supply-cranking: 18 V +0/-2}\nstates:\n"))) == []


def test_a_duty_alone_may_stand_for_the_pulse() -> None:
    """`Q1: 85 %` is a duty; the speed gives the period, and pulses per cycle divide it."""
    text = changed(BANK, (BOOST, "pulse: {Q1: {duty: 85 %, per-cycle: 2}}"))
    design = understand(read_files(MAIN, text_of({MAIN: text}))).written
    assert design is not None
    assert design.states["boost"].period_s_of("Q1") == pytest.approx(0.010)
    assert told(changed(BANK, (BOOST, "pulse: {Q1: 85 %}"))) == []
