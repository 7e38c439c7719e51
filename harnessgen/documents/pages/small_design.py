"""A complete small design for the reference page: it is read as it stands, and a check has nothing to say on it."""

SMALL_DESIGN = """\
# Two driving lamps on a relay, worked by a switch in the cabin.
format: 2
harness: {title: Driving lamps of a small van, number: DL-2, revision: A, date: 2026-11-20, wire: thin-wall-125}

zones: {engine-bay: 75 degC, cabin: 45 degC}
route:                                  # from: {to: length}, as measured in the vehicle
  battery: {fuses: {length: 150 +/- 5 mm, zone: engine-bay}}
  fuses:
    relay: 120 +/- 5 mm
    wing: 260 +/- 5 mm
    firewall: {length: 480 +/- 8 mm, covering: conduit-10}
    front: {length: 900 +/- 10 mm, covering: conduit-10}
  firewall: {switch: {length: 640 +/- 8 mm, zone: cabin}}
  front: {lamp-left: 210 +/- 5 mm, lamp-right: 780 +/- 8 mm}
connectors:                             # the harness side, with what each is plugged into
  C1: {part: sealed-2, at: lamp-left, mate: left lamp}
  C2: {part: sealed-2, at: lamp-right, mate: right lamp}
splices: {S1: {at: front, offset: 50, toward: lamp-left}}
supplies: {BAT: {voltage: 13.8 V, resistance: 8 mohm, at: battery, terminal: ring-m8}}
grounds: {G1: {at: wing, terminal: ring-m8}}
fuses: {F1: {rating: 10 A, at: fuses}, F2: {rating: 3 A, at: fuses}}
relays: {K1: {part: plug-in-make, at: relay}}
switches: {SW1: {title: lamp switch, at: switch}}
loads:
  E1: {title: left lamp, kind: lamp, power: 35 W, connector: C1}
  E2: {title: right lamp, kind: lamp, power: 35 W, connector: C2}
circuits:                               # number printed on the wires: from one end to another
  10: {from: BAT, to: F1, color: RD, size: 2.5 mm2}
  11: {from: F1, to: K1/30, color: RD/WH, size: 2.5 mm2}
  12: {from: K1/87, to: [E1/1, E2/1], splice: S1, color: YE, size: 1.5 mm2}
  20: {from: BAT, to: F2, color: RD/BK, size: 0.75 mm2}
  21: {from: F2, to: SW1, color: RD/BU, size: 0.75 mm2}
  22: {from: SW1, to: K1/86, color: GN, size: 0.75 mm2}
  90: {from: E1/2, to: G1, color: BK, size: 1.5 mm2}
  91: {from: E2/2, to: G1, color: BK/WH, size: 1.5 mm2}
  92: {from: K1/85, to: G1, color: BN, size: 0.75 mm2}
states:
  off: {off: [E1, E2]}
  lit: {on: SW1, title: both lamps lit}
"""
