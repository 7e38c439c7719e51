"""Small designs for the tests of lengths."""

from harnessgen.lengths.wire_length import WireLength
from harnessgen.network.wires import Wire
from harnessgen.physics.physics import Physics
from tests.line import physics_of

FEED = """\
format: 2
harness: {title: Valve harness, number: VH-1, revision: A}
points: {}
route:
  battery: {block: 300, b1: 500 +/- 6}
  b1: {v1: 120 +/- 3, v2: 200 +/- 3}
connectors:
  C1: {part: sealed-2, at: v1}
  C2: {part: sealed-2, at: v2}
splices: {S1: {at: b1, offset: 40 mm, toward: battery}}
supplies: {BAT: {voltage: 13.5 V, resistance: 10 mohm, at: battery}}
grounds: {G1: {at: block}}
fuses: {F1: {rating: 10 A, at: battery}}
loads: {V1: {resistance: 12 ohm, connector: C1}, V2: {resistance: 12 ohm, connector: C2}}
circuits:
  10: {from: BAT, to: F1, color: RD, size: 1.5 mm2}
  20:
    color: RD/WH
    size: 1 mm2
    runs:
      - {from: F1, to: S1}
      - {from: S1, to: V1/1}
      - {from: S1, to: V2/1}
  31: {from: V1/2, to: G1, color: BK, size: 1 mm2}
  32: {from: V2/2, to: G1, color: BK, size: 1 mm2}
states: {running: {on: []}}
"""
"""A feed from a fuse to two valves behind a splice; 20B runs 40 mm back to b1 and 120 mm on to C1, 20C 200 mm to C2."""

ENDS_MM = 15 + 12
"""Overlap in the splice `barrel-small`, and the wire's end inside `sealed-2`."""


def changed(*changes: tuple[str, str], text: str = FEED) -> str:
    """The design with pieces of its text replaced, each of which stands there once."""
    for old, new in changes:
        assert text.count(old) == 1, f"{text.count(old)} times {old!r}"
        text = text.replace(old, new)
    return text


def measured(*changes: tuple[str, str]) -> Physics:
    """The physics of the design with its changes."""
    return physics_of(changed(*changes))


def length_of(physics: Physics, mark: str) -> WireLength:
    """The length of one wire."""
    return physics.lengths[mark]


def wire_of(physics: Physics, mark: str) -> Wire:
    """One wire, by its mark."""
    return physics.network.wire_of[mark]


def diameter_mm(physics: Physics, mark: str) -> float:
    """Diameter over the insulation of a wire."""
    return wire_of(physics, mark).figures.diameter_mm.value
