"""Small designs for tests of physics: a bank of three injectors on one output, and single loads."""

BANK = """\
format: 2
harness: {title: One bank, number: B-1, revision: A}
zones: {bay: 90 degC}
route:
  fuses: {relay: 200 mm, bank: {length: 900 mm, zone: bay}, ecu: 1000 mm}
  bank: {left-1: {length: 70 mm, zone: bay}, left-2: {length: 180 mm, zone: bay}, left-3: {length: 300 mm, zone: bay}}
connectors: {C1: {part: header-26, at: ecu}}
splices: {S1: bank, S2: bank, S3: fuses}
supplies: {BAT: {voltage: 13.8 V, resistance: 10 mohm, at: fuses}}
grounds: {G1: {at: ecu, resistance: 2 mohm}}
fuses: {F1: {rating: 10 A, at: fuses}}
relays: {K1: {part: plug-in-make, at: relay}}
switches: {SW1: {at: relay}}
drivers: {Q1: {current: 5 A, resistance: 100 mohm, clamp: 50 V, terminals: {out: C1/14, ground: C1/1}}}
circuits:
  20: {from: BAT, to: [F1, SW1], splice: S3, color: RD, size: 2.5 mm2}
  21: {from: SW1, to: K1/86, color: RD, size: 0.75 mm2}
  22: {from: F1, to: K1/30, color: RD, size: 1.5 mm2}
  91: {from: K1/85, to: G1, color: BK, size: 0.75 mm2}
  90: {from: C1/1, to: G1, color: BK, size: 1.5 mm2}
banks:
  left:
    load: injector
    connector: {part: sealed-2, first: C21}
    loads: {INJ1: {at: left-1, title: cylinder 1}, INJ2: {at: left-2, title: cylinder 2}, INJ3: {at: left-3, title: cylinder 3}}
    feed: {circuit: 30, from: K1/87, splice: S1, color: RD/YE, trunk-size: 1 mm2, leg-size: 0.5 mm2}
    return: {circuit: 31, to: C1/14, splice: S2, color: BU/WH, trunk-size: 1 mm2, leg-size: 0.5 mm2}
parts:
  loads:
    injector:
      title: injector
      kind: coil
      resistance: 12 ohm +/- 5 %
      inductance: 14 mH
      dead-time: {6: 4.5 ms, 8: 2.9 ms, 10: 1.9 ms, 12: 1.35 ms, 14: 1.05 ms, 16: 0.85 ms, 18: 0.7 ms}
      flow-match: 2 %
states:
  steady: {on: [SW1, Q1]}
  boost: {on: [SW1, Q1], speed: 6000 rpm, pulse: {Q1: {width: 12 ms}}}
"""  # noqa: E501

LOADS = """\
format: 2
harness: {title: Loads, number: L-1, revision: A}
zones: {bay: 95 degC}
route: {battery: {block: 300 mm, front: {length: 4 m, zone: bay}}}
splices: {S1: front, S2: front}
supplies: {BAT: {voltage: 13.5 V, resistance: 20 mohm, at: battery}}
grounds: {G1: {at: block}}
fuses: {F1: {rating: 30 A, at: battery}}
loads:
  M1: {kind: motor, power: 120 W, at-voltage: 13.5 V, stall: 0.4 ohm, at: front}
  M2: {kind: motor, power: 60 W, at: front}
  H1: {kind: lamp, power: 55 W, at: front}
  P1: {title: converter, power: 60 W, keeps: power, at: front}
  L1: {title: valve, kind: coil, resistance: 10 ohm +/- 10 %, inductance: 30 mH, at: front}
circuits:
  10: {from: BAT, to: F1, color: RD, size: 4 mm2}
  11: {from: F1, to: [M1/1, M2/1, H1/1, P1/1, L1/1], splice: S1, color: RD, size: 4 mm2}
  90:
    color: BK
    size: 4 mm2
    runs:
      - {from: G1, to: S2}
      - {from: S2, to: M1/2}
      - {from: S2, to: M2/2}
      - {from: S2, to: H1/2}
      - {from: S2, to: P1/2}
      - {from: S2, to: L1/2}
states:
  running: {title: all running}
  stalled: {stalled: [M1, M2], lasts: 3 s}
  switch-on: {cold: H1, lasts: 100 ms}
  cranking: {supply: cranking, lasts: 10 s}
  charging: {voltage: {BAT: 14.4 V +/- 0.3}}
"""


def changed(text: str, *changes: tuple[str, str]) -> str:
    """The text with each first part replaced by its second; every part has to stand there."""
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    return text
