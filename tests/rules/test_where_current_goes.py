"""Current in loads that are off, and what a chafed return turns on: hand-worked, on either side of each bound."""

import pytest

from harnessgen.evidence.finding import Severity
from tests.line import examine_text, only, told

SNEAK = """\
format: 2
harness: {{title: Lamps, number: LN-1, revision: A}}
route: {{battery: {{block: 300, horn: 900}}}}
supplies: {{BAT: {{voltage: 13.5 V, resistance: 20 mohm, at: battery}}}}
grounds: {{G1: {{at: block}}}}
fuses: {{F1: {{rating: 10 A, at: battery, terminal: ring-m5}}}}
switches: {{SW1: {{at: battery}}, SW2: {{at: battery}}}}
loads:
  E1: {{kind: resistor, resistance: 18 ohm, at: horn}}
  E2: {{kind: resistor, resistance: 18 ohm, at: horn}}
  E3: {{kind: resistor, resistance: {ohm} ohm, at: horn}}
circuits:
  10: {{from: BAT, to: F1, color: RD, size: 1.5 mm2}}
  11: {{from: F1, to: SW1, color: RD, size: 1.5 mm2}}
  12: {{from: F1, to: SW2, color: RD, size: 1.5 mm2}}
  13: {{from: SW1, to: E1/1, color: GN, size: 1.5 mm2}}
  14: {{from: SW2, to: E2/1, color: GY, size: 1.5 mm2}}
  15: {{from: E1/1, to: E3/1, color: GY, size: 1.5 mm2}}
  16: {{from: E3/2, to: E2/1, color: GY, size: 1.5 mm2}}
  90: {{from: E1/2, to: G1, color: BK, size: 1.5 mm2}}
  91: {{from: E2/2, to: G1, color: BK, size: 1.5 mm2}}
states:
  left: {{on: SW1, off: E2}}
  right: {{on: SW2}}
"""


@pytest.mark.parametrize(("ohm", "is_told"), [(1700, True), (1860, False)])
def test_a_back_feed_above_a_hundredth_is_told(ohm: int, is_told: bool) -> None:
    """E2 alone has 13.5 V over 18 ohm; through E3 it has 13.5 V over R + 18 ohm, a hundredth of it at R = 1782 ohm."""
    text = SNEAK.format(ohm=ohm)
    if not is_told:
        assert told(text) == []
        return
    finding = only(text)
    assert (finding.rule, finding.subject) == ("sneak-path", "E2")
    assert finding.message == "E2 carries current in state left, which lists it as off."
    carries, bound = finding.numbers
    assert carries.value == pytest.approx(13.5 / (ohm + 18), rel=0.005)
    assert bound.value == pytest.approx(0.01 * 13.5 / 18, rel=0.005)


CHAFE = """\
format: 2
harness: {{title: Valve, number: VN-1, revision: A}}
route: {{battery: {{block: 300, horn: 900}}}}
supplies: {{BAT: {{voltage: 13.5 V, resistance: 20 mohm, at: battery}}}}
grounds: {{G1: {{at: block}}}}
fuses: {{F1: {{rating: 10 A, at: battery, terminal: ring-m5}}}}
drivers: {{Q1: {{resistance: 10 mohm, at: block, direct: {{ground: G1}}}}}}
loads: {{Y1: {{kind: resistor, resistance: {ohm} ohm, at: horn}}}}
circuits:
  10: {{from: BAT, to: F1, color: RD, size: 2.5 mm2}}
  11: {{from: F1, to: Y1/1, color: RD, size: 2.5 mm2}}
  31: {{from: Y1/2, to: Q1, color: BU, size: 2.5 mm2}}
states: {{rest: {{on: []}}, works: {{on: Q1}}}}
"""


@pytest.mark.parametrize(("ohm", "is_told"), [(2.0, True), (1.2, True), (1.13, False)])
def test_a_chafed_return_is_a_hazard_while_no_fuse_opens(ohm: float, is_told: bool) -> None:
    """10 A hold 11 A for ever (ISO 8820-3, 110 %, from memory); battery, output, fuse and wires add some 60 mohm."""
    notes = [each for each in examine_text(CHAFE.format(ohm=ohm)).findings if each.severity is Severity.NOTE]
    assert [(each.rule, each.subject) for each in notes] == ([("return-to-ground-hazard", "31")] if is_told else [])
    if is_told:
        (number,) = notes[0].numbers
        assert number.name == "F1 carries"
        assert number.value == pytest.approx(13.5 / (ohm + 0.06), rel=0.01)
        assert "turns on Y1 in state rest, and no fuse opens" in notes[0].message


NUMBER = """\
format: 2
harness: {{title: Horn, number: HN-4, revision: A, splice: barrel-large}}
route: {{battery: {{block: 300, horn: 900}}}}
supplies: {{BAT: {{voltage: 13.5 V, resistance: 20 mohm, at: battery}}}}
grounds: {{G1: {{at: block}}}}
fuses: {{F1: {{rating: 10 A, at: battery, terminal: ring-m5}}}}
loads: {{H1: {{kind: motor, power: 40 W, at: horn}}, H2: {{kind: motor, power: 40 W, at: horn}}}}
splices: {{S1: {{at: battery, offset: 50, toward: horn}}}}
circuits:
  10: {{from: BAT, to: F1, color: RD, size: 1.5 mm2}}
  11:
    color: RD
    size: 1.5 mm2
    runs: [{{from: F1, to: S1}}, {{from: S1, to: H1/1}}, {runs}]
  {other}
  90: {{from: H1/2, to: G1, color: BK, size: 1.5 mm2}}
states: {{horn: {{on: []}}}}
"""


def test_one_number_is_one_net() -> None:
    """Three runs that meet in a splice are one net; a run of the same number behind a load is another, told there."""
    one = NUMBER.format(runs="{from: S1, to: H2/1}", other="91: {from: H2/2, to: G1, color: BK, size: 1.5 mm2}")
    assert told(one) == []
    two = NUMBER.format(runs="{from: H2/2, to: G1}", other="91: {from: S1, to: H2/1, color: RD, size: 1.5 mm2}")
    finding = only(two)
    assert (finding.rule, finding.subject) == ("duplicate-circuit", "11")
    assert finding.place.line == two[: two.index("{from: H2/2")].count("\n") + 1
