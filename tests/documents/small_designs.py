"""Small designs for tests of documents and bench: each is odd in its own way."""

LAMP = """\
format: 2
harness: {title: One lamp, number: LP-1, revision: A}
route: {battery: {switch: 400 mm, ground: 900 mm}, switch: {lamp: 600 mm}}
connectors: {C1: {part: sealed-2, at: lamp}}
supplies: {BAT: {voltage: 12.6 V, at: battery}}
grounds: {G1: {at: ground}}
fuses: {F1: {rating: 5 A, at: battery}}
switches: {SW1: {at: switch}}
loads: {E1: {kind: lamp, power: 21 W, connector: C1}}
circuits:
  10: {from: BAT, to: F1, color: RD, size: 1 mm2}
  11: {from: F1, to: SW1, color: RD/WH, size: 1 mm2}
  12: {from: SW1, to: C1/1, color: GN, size: 0.75 mm2}
  90: {from: C1/2, to: G1, color: BK, size: 0.75 mm2}
states: {dark: {}, light: {on: SW1}}
"""
"""An ideal supply and an ideal ground point: both are voltage sources in a netlist."""

CHANGE_OVER = """\
format: 2
harness: {title: Two lamps in turn, number: LP-2, revision: A}
route: {battery: {relay: 300 mm}, relay: {lamp-1: 500 mm, lamp-2: 700 mm, ground: 200 mm}}
connectors: {C1: {part: sealed-2, at: lamp-1}, c1: {part: sealed-2, at: lamp-2}}
splices: {S1: {at: relay, offset: 50 mm, toward: ground}}
supplies: {BAT: {voltage: 13.8 V, resistance: 10 mohm, at: battery}}
grounds: {G1: {at: ground, resistance: 3 mohm}}
fuses: {F1: {rating: 10 A, at: battery}, F2: {rating: 3 A, at: battery}}
relays: {K1: {part: plug-in-change-over, at: relay}}
switches: {SW1: {at: battery}}
loads:
  E1: {kind: lamp, resistance: 8 ohm, connector: C1}
  E2: {kind: lamp, resistance: 9 ohm, connector: c1}
circuits:
  10: {from: BAT, to: F1, color: RD, size: 1 mm2}
  11: {from: F1, to: K1/30, color: RD/WH, size: 1 mm2}
  12: {from: K1/87, to: C1/1, color: GN, size: 0.75 mm2}
  13: {from: K1/87a, to: c1/1, color: YE, size: 0.75 mm2}
  14: {from: BAT, to: F2, color: RD, size: 0.75 mm2}
  15: {from: F2, to: SW1, color: RD, size: 0.75 mm2}
  16: {from: SW1, to: K1/86, color: BU, size: 0.75 mm2}
  90:
    color: BK
    size: 0.75 mm2
    runs:
      - {from: C1/2, to: S1}
      - {from: c1/2, to: S1}
      - {from: K1/85, to: S1}
      - {from: S1, to: G1}
states: {at-rest: {}, pulled: {on: SW1}}
"""
"""Two connectors that differ by the case of a letter, which SPICE does not see; a relay that changes over."""

TWO_SUPPLIES = """\
format: 2
harness: {title: Two batteries side by side, number: TB-1, revision: A}
units: {length: in, size: AWG}
route: {first: {bus: 30, load: 60}, bus: {second: 40, ground: 12}}
connectors: {C1: {part: sealed-2-blade, at: load}}
splices: {S1: {at: bus, part: barrel-large}}
supplies:
  BAT1: {voltage: 12.9 V, resistance: 12 mohm, at: first, terminal: ring-m8}
  BAT2: {voltage: 12.4 V, resistance: 20 mohm, at: second, terminal: ring-m8}
grounds: {G1: {at: ground, resistance: 1 mohm}}
switches: {SW1: {at: bus}}
loads: {R1: {kind: resistor, resistance: 3.3 ohm, connector: C1}}
circuits:
  10: {from: BAT1, to: S1, color: RD, size: 12, wire: cross-linked-125}
  11: {from: BAT2, to: S1, color: RD, size: 12, wire: cross-linked-125}
  12: {from: S1, to: SW1, color: RD/WH, size: 12, wire: cross-linked-125}
  13: {from: SW1, to: C1/1, color: RD/BU, size: 14, wire: cross-linked-125}
  14: {from: C1/2, to: G1, color: BK, size: 14, wire: cross-linked-125}
states: {apart: {}, working: {on: SW1}}
"""
"""One supply charges the other; lengths in inches; the load is dead while the switch is off."""

SMALL = {"lamp": LAMP, "change-over": CHANGE_OVER, "two supplies": TWO_SUPPLIES}
