"""A state that passes in a moment is no steady load."""

import pytest

from harnessgen.evidence.finding import Severity
from harnessgen.run import examine_text

LAMPS = """\
format: 2
harness: {title: Fog lamps, number: FL-1, revision: A, wire: thin-wall-125}
route:
  battery: {fuse: {length: 150 mm, covering: conduit-10}}
  fuse: {lamp: 1200 mm, block: 400 mm}
supplies: {BAT: {voltage: 13.5 V, resistance: 8 mohm, at: battery, terminal: ring-m8}}
grounds: {G1: {at: block}}
fuses: {F1: {rating: 15 A, at: fuse, terminal: tab-6.3}}
switches: {SW1: {at: fuse, terminal: tab-6.3}}
loads: {E1: {kind: lamp, power: 55 W, at: lamp, terminal: tab-6.3}}
circuits:
  10: {from: BAT, to: F1, color: RD, size: 2.5 mm2}
  11: {from: F1, to: SW1, color: RD, size: 1.5 mm2}
  12: {from: SW1, to: E1/1, color: RD/WH, size: 1.5 mm2}
  90: {from: E1/2, to: G1, color: BK, size: 1.5 mm2}
states:
  on: [SW1]
"""


def serious(text: str) -> set[str]:
    return {each.rule for each in examine_text(text).examination.findings if each.severity is not Severity.NOTE}


@pytest.mark.parametrize("moment", ["cold: {on: SW1, cold: E1, lasts: 200 ms}", "cold: {on: SW1, cold: E1}"])
def test_the_inrush_of_a_lamp_is_no_overload(moment: str) -> None:
    """Ten times the current of a filament for a moment hurts no wire, contact or fuse that is right for it."""
    assert serious(LAMPS) == set()
    assert serious(f"{LAMPS}  {moment}\n") == set()


def test_what_lasts_is_judged_in_full() -> None:
    """The same load in a state that lasts is found, at whatever the state is called."""
    heavy = LAMPS.replace("power: 55 W", "power: 200 W")
    assert "fuse-too-small" in serious(heavy)
    assert "fuse-too-small" in serious(heavy.replace("on: [SW1]", "on: {on: SW1, lasts: 2 min}"))
    assert "fuse-too-small" not in serious(heavy.replace("on: [SW1]", "on: {on: SW1, lasts: 20 s}"))
