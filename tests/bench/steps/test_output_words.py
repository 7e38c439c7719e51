"""What the sheet says of an output that is held on."""

from harnessgen.bench.steps.procedure import procedure_of
from harnessgen.run import examine_text
from tests.line import FLAT_SIX

PUMP = """\
format: 2
harness: {title: Pump, number: P-1, revision: A}
route: {battery: {relay: 200 mm, block: 300 mm}, relay: {ecu: 900 mm, pump: 700 mm}}
connectors: {C1: {part: sealed-4, at: ecu}, C2: {part: sealed-2, at: pump}}
supplies: {BAT: {voltage: 13.8 V, at: battery, terminal: ring-m8}}
grounds: {G1: {at: block}}
fuses: {F1: {rating: 10 A, at: battery}}
relays: {K1: {part: plug-in-make, at: relay}}
drivers: {Q1: {current: 1 A, terminals: {out: C1/1, ground: C1/2}}}
loads: {M1: {kind: motor, power: 60 W, connector: C2}}
circuits:
  10: {from: BAT, to: F1, color: RD, size: 1.5 mm2}
  11: {from: F1, to: [K1/30, K1/86], splice: S1, color: RD, size: 1.5 mm2}
  12: {from: K1/87, to: C2/1, color: RD, size: 1.5 mm2}
  20: {from: K1/85, to: C1/1, color: BU, size: 0.75 mm2}
  90: {from: C1/2, to: G1, color: BK, size: 1.5 mm2}
  91: {from: C2/2, to: G1, color: BK, size: 1.5 mm2}
splices: {S1: {at: battery, offset: 60 mm, toward: relay}}
states: {run: [Q1]}
"""


def held(text: str) -> list[str]:
    checked = examine_text(text)
    assert checked.network is not None
    assert checked.physics is not None, [each.message for each in checked.examination.findings]
    steps = procedure_of(checked.network, checked.physics).steps
    return [step.expected.words for step in steps if "hold Q1" in step.action]


def test_a_relay_between_hides_the_load_from_the_output() -> None:
    """The output carries the coil's current, so that the load's ohms would contradict the reading beside them."""
    (words,) = held(PUMP)
    assert words.startswith("0.15 A")
    assert "together" not in words


def test_a_bank_is_told_with_its_ohms() -> None:
    """Three injectors of 12 ohm side by side are 4 ohm."""
    (words,) = held(FLAT_SIX)
    assert "its loads together 4.00 ohm" in words
