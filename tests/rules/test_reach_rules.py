"""The rules on length beside leg-too-short: tight, slack, re-terminations, lifting away, finished bundles."""

import pytest

from harnessgen.evidence.finding import Finding, Severity
from harnessgen.rules.reach import (
    leg_slack,
    leg_tight,
    leg_too_short,
    lift_too_short,
    no_service_slack,
    tethered_section,
)
from tests.lengths.designs import changed
from tests.line import physics_of, underlined

RUN = "{from: S1, to: V1/1}"
TIGHT = ("b1: {v1: 120 +/- 3, v2: 200 +/- 3}", "b1: {v1: 120 +/- 4 mm (k=2), v2: 200 +/- 3}")


def having(length: str, *changes: tuple[str, str]) -> str:
    return changed((RUN, f"{{from: S1, to: V1/1, have: {length}}}"), *changes)


def applied(text: str, finding: Finding) -> str:
    """The text with the first proposal of a finding."""
    proposal = finding.proposals[0]
    return text[: proposal.place.start] + proposal.text + text[proposal.place.end :]


def test_a_tight_wire_is_told_with_its_probability() -> None:
    """187 mm needed, 2 mm in doubt at k = 1, 192 mm there: 2.5 sigmas are 0.62 % (table of the normal distribution)."""
    text = having("192 mm", TIGHT, ("battery: {block: 300, b1: 500 +/- 6}", "battery: {block: 300, b1: 500}"))
    assert leg_too_short.check(physics_of(text)) == []
    (finding,) = leg_tight.check(physics_of(text))
    assert (finding.severity, finding.subject, underlined(text, finding)) == (Severity.WARNING, "20B", "192 mm")
    probability, allowed = finding.numbers
    assert probability.value == pytest.approx(0.62, abs=0.005)
    assert allowed.value == pytest.approx(0.1)
    assert "closed form" in probability.source
    assert leg_tight.check(physics_of(applied(text, finding))) == []


def test_the_limit_decides_what_is_tight() -> None:
    """A design that lets one in a hundred pass is not told of 0.62 %; a single circuit may say so for itself."""
    exact = ("battery: {block: 300, b1: 500 +/- 6}", "battery: {block: 300, b1: 500}")
    lenient = ("states:", "limits: {short-probability: 1 %}\nstates:")
    own = ("color: RD/WH", "color: RD/WH\n    limits: {short-probability: 1 %}")
    for change in (lenient, own):
        assert leg_tight.check(physics_of(having("192 mm", TIGHT, exact, change))) == []


def test_bounds_that_cannot_be_short_are_not_tight() -> None:
    """At the end of every bound it still reaches, so it is not tight, whatever a normal tail says."""
    assert leg_tight.check(physics_of(having("190.5 mm"))) == []


def test_few_readings_are_tight_where_the_same_doubt_by_a_bound_is_not() -> None:
    """Three readings leave two degrees of freedom: k = 2 passes, the long tail of Student's distribution does not."""
    readings = ("b1: {v1: 120 +/- 3,", "b1: {v1: {readings: [118, 120, 122]},")
    physics = physics_of(having("190.5 mm", readings))
    assert leg_too_short.check(physics) == []
    (finding,) = leg_tight.check(physics)
    assert "simulation" in finding.numbers[0].source


def test_a_slack_wire_is_told_with_what_to_take_up() -> None:
    """187 mm needed and 3.5 mm in doubt: of 260 mm 69.5 may be taken up; 240 mm pass."""
    (finding,) = leg_slack.check(physics_of(having("260 mm")))
    assert finding.severity is Severity.NOTE
    assert finding.mend.startswith("take up 69.5 mm,")
    assert leg_slack.check(physics_of(having("240 mm"))) == []


def test_re_terminations_are_asked_for_at_every_crimped_end() -> None:
    """Asked for two, each crimped end without is told, and none in a splice; slack of the circuit serves as well."""
    asked = ("states:", "limits: {least-reterminations: 2}\nstates:")
    found = no_service_slack.check(physics_of(changed(asked)))
    assert {each.subject for each in found} == {"BAT", "F1/in", "F1/out", "C1/1", "C1/2", "C2/1", "C2/2", "G1"}
    own = ("C1: {part: sealed-2, at: v1}", "C1: {part: sealed-2, at: v1, service-loops: 2}")
    slack = ("31: {from: V1/2,", "31: {slack: 30 mm, from: V1/2,")
    left = no_service_slack.check(physics_of(changed(asked, own, slack)))
    assert {(each.subject, each.message.split()[1]) for each in left} == {
        ("BAT", "10A"), ("F1/in", "10A"), ("F1/out", "20A"), ("C2/1", "20C"), ("C2/2", "32A"), ("G1", "32A"),
    }  # fmt: skip
    assert no_service_slack.check(physics_of(changed())) == []


def test_a_finished_bundle_that_is_short_is_told() -> None:
    """120 mm and 3.5 in doubt against 118 mm, which the workmanship standard lets be longer only."""
    text = changed(("v1: 120 +/- 3", "v1: {length: 120 +/- 3, built: 118 mm}"))
    (finding,) = leg_too_short.check(physics_of(text))
    assert finding.message == "The bundle from b1 to v1 is 5.5 mm too short."
    assert underlined(text, finding) == "118 mm"
    assert leg_too_short.check(physics_of(applied(text, finding))) == []


LIFT = """\
format: 2
harness: {title: Plenum harness, number: PL-1, revision: A}
route: {battery: {block: 300, c10: 400}, c10: {v1: 120}}
disconnects: {C10: {part: sealed-4, at: c10, socket-side: battery, lift: 60 mm}}
supplies: {BAT: {voltage: 13.5 V, at: battery}}
grounds: {G1: {at: block}}
fuses: {F1: {rating: 10 A, at: battery}}
loads: {V1: {resistance: 12 ohm, at: v1}}
circuits:
  10: {from: BAT, to: F1, color: RD, size: 1.5 mm2}
  11: {from: F1, to: V1/1, through: C10/1, color: RD, size: 1.5 mm2}
  90: {from: V1/2, to: G1, through: C10/2, color: BK, size: 1.5 mm2}
states: {running: {on: []}}
"""


@pytest.mark.parametrize(("stretch", "slack"), [("c10: 400", "80 mm"), ("c10: {length: 400, slack: 30 mm}", "80 mm")])
def test_slack_that_is_offered_lets_the_part_be_lifted(stretch: str, slack: str) -> None:
    """What is missing is added where no slack stood, and to the slack that stands there."""
    text = LIFT.replace("c10: 400", stretch)
    (finding,) = lift_too_short.check(physics_of(text))
    assert finding.subject == "C10"
    assert finding.proposals[0].words == f"slack: {slack} from battery to c10"
    assert lift_too_short.check(physics_of(applied(text, finding))) == []
    assert tethered_section.check(physics_of(text)) == []
