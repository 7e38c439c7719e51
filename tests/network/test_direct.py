"""Bus bars, terminals that sit on something directly, terminals that fit a part, and sensors with a signal."""

import pytest

from harnessgen.design.reading.read import read_files
from harnessgen.design.understand import understand
from harnessgen.network.network import Network, build_network
from harnessgen.physics.physics import Physics

BOX = """\
format: 2
harness: {title: Fuse box, number: FB-1, revision: A}
route: {battery: {box: 300, sender: 900, ecu: 700}}
connectors:
  C1: {part: header-26, at: ecu}
  C2: {part: sealed-3, at: sender}
  C3: {part: sealed-1, at: sender}
supplies:
  BAT: {voltage: 12 V, at: battery, terminal: ring-m8}
  V5: {voltage: 5 V, cavity: C1/1}
grounds:
  G1: {at: battery}
  G2: {cavity: C1/2}
buses: {B1: {at: box}, B2: {at: box}}
fuses:
  F1: {rating: 5 A, at: box, direct: {in: B2}}
  F2: {rating: 40 A, form: blade-large, at: box}
relays: {K1: {part: plug-in-make-50, at: box, direct: {30: B1, 87: B2}}}
switches:
  SW1: {at: box}
  SW2: {title: oil pressure switch, terminals: {in: C3/1}, direct: {out: G1}}
loads:
  E1: {kind: lamp, resistance: 12 ohm, at: box}
  N1: {part: throttle-sensor, terminals: {1: C2/1, 2: C2/2, signal: C2/3}}
  IN1: {part: signal-input, terminals: {1: C1/3, 2: C1/2}}
circuits:
  10: {from: BAT, to: F2, color: RD, size: 6}
  11: {from: F2, to: B1, color: RD, size: 6}
  12: {from: B1, to: SW1, color: RD, size: 0.75}
  13: {from: SW1, to: K1/86, color: RD, size: 0.75}
  14: {from: K1/85, to: G1, color: BK, size: 0.75}
  20: {from: F1, to: E1/1, color: GN, size: 0.75}
  21: {from: E1/2, to: SW2, color: BU, size: 0.75}
  40: {from: V5, to: N1/1, color: WH, size: 0.5}
  41: {from: G2, to: N1/2, color: BN, size: 0.5}
  42: {from: N1/signal, to: IN1/1, color: GY, size: 0.5}
states:
  off: {on: SW2, off: E1}
  key-on: {on: [SW1, SW2]}
"""


def network_of(text: str) -> Network:
    result = understand(read_files("box.yaml", lambda name: text))
    assert result.faults == ()
    assert result.expanded is not None
    network = build_network(result.expanded, result.parts)
    assert network.faults == ()
    return network


def test_what_sits_on_a_bus_bar_or_a_ground_needs_no_wire() -> None:
    """Relay contacts and a fuse on bars, a switch through its own body: one node each, and current through all."""
    network = network_of(BOX)
    ends = {each.name: (each.a, each.b) for each in network.electrical.elements}
    assert ends["K1 30-87"] == ("B1", "B2")
    assert ends["F1"] == ("B2", "F1/out")
    assert ends["SW2"] == ("C3/1 mate", "G1")
    points = Physics(network).points
    assert points["off"].amperes["E1"] == 0.0
    # 12 V over 12 ohm and a few milliohms of wire, fuses and switch.
    assert points["key-on"].amperes["E1"] == pytest.approx(1.0, rel=0.02)


def test_a_wire_to_a_terminal_that_needs_none_is_told() -> None:
    """The wire belongs on the bar; the terminal's name says which."""
    text = BOX.replace("to: SW1, color", "to: F1, color")
    result = understand(read_files("box.yaml", lambda name: text))
    assert result.expanded is not None
    (fault,) = build_network(result.expanded, result.parts).faults
    assert (fault.message, fault.mend) == ("F1/in sits directly on B2; no wire leads to it.", "write B2")


def test_a_terminal_is_direct_or_behind_a_cavity() -> None:
    """Both at once, a bar that is not there, and a terminal that the device does not have."""

    def told(old: str, new: str) -> list[str]:
        assert BOX.count(old) == 1
        text = BOX.replace(old, new)
        return [each.message for each in understand(read_files("box.yaml", lambda name: text)).faults]

    assert told("direct: {out: G1}", "direct: {in: G1}") == ["SW2/in stands behind C3/1 and sits on G1 too."]
    assert told("direct: {in: B2}", "direct: {in: B3}") == ["There is no bus bar, ground point or supply called B3."]
    assert told("direct: {in: B2}", "direct: {inn: B2}") == ["F1 has no terminal inn."]


def test_a_fuse_or_relay_gives_the_terminal_that_fits_it() -> None:
    """Tabs of a relay differ; a fuse form has one; a device that names its own is believed."""
    network = network_of(BOX)
    at = {str(end): contact.name for wire in network.wires for end in wire.ends if (contact := network.contact_at(end))}
    assert (at["K1/86"], at["F1/out"], at["F2/in"], at["B1"]) == ("tab-6.3", "tab-6.3", "tab-8", "ring-m6")
    own = network_of(BOX.replace("form: blade-large, at: box", "form: blade-large, terminal: tab-9.5, at: box"))
    contact = own.contact_at(own.wire_of["10A"].b)
    assert contact is not None
    assert contact.name == "tab-9.5"


def test_the_signal_of_a_sensor_lies_half_way() -> None:
    """Track of 2.5 kohm on either side of the wiper, loaded by the input's 100 kohm."""
    network = network_of(BOX)
    ends = {each.name: (each.a, each.b) for each in network.electrical.elements}
    assert ends["N1"] == ("C2/1 mate", "C2/3 mate")
    assert ends["N1 signal"] == ("C2/3 mate", "C2/2 mate")
    point = Physics(network).points["off"]
    below = 1 / (1 / 2500 + 1 / 100_000)
    assert point.volts["C1/3"] == pytest.approx(5 * below / (2500 + below), rel=1e-4)


def test_only_a_sensor_has_a_signal() -> None:
    """A lamp with a third terminal is told so."""
    text = BOX.replace("N1: {part: throttle-sensor,", "N1: {part: lamp-5,")
    faults = understand(read_files("box.yaml", lambda name: text)).faults
    assert [each.message for each in faults] == ["N1 has a terminal signal, and is no sensor."]
