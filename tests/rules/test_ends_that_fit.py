"""Wires in what they end in: copper in terminals, insulation in seals, one wire to a cavity; both bounds of each."""

import pytest

from tests.line import on_studs, only, told, underlined

ENDS = """\
format: 2
harness: {{title: Horn, number: HN-3, revision: A, wire: {family}}}
route: {{battery: {{block: 300, horn: 900}}}}
connectors: {{C1: {{part: {part}, at: horn{seal}}}}}
supplies: {{BAT: {{voltage: 13.5 V, resistance: 20 mohm, at: battery}}}}
grounds: {{G1: {{at: block}}}}
fuses: {{F1: {{rating: 3 A, at: battery, terminal: ring-m5}}}}
loads: {{H1: {{kind: motor, power: 6 W, connector: C1}}}}
circuits:
  10: {{from: BAT, to: F1, color: RD, size: {other}}}
  11: {{from: F1, to: H1/1, color: RD, size: {size}}}
  90: {{from: H1/2, to: G1, color: BK, size: {other}}}
states: {{horn: {{on: []}}}}
"""


def ends(part: str, size: str, other: str, family: str = "thin-wall-125", seal: str = "") -> str:
    """The horn with a connector, a size of its feed and one of its other wires."""
    return ENDS.format(part=part, size=size, other=other, family=family, seal=f", seal: {seal}" if seal else "")


@pytest.mark.parametrize(
    ("size", "takes_mm2", "word"),
    [("1.5 mm2", 2.5, "thin"), ("2.5 mm2", None, ""), ("6 mm2", None, ""), ("10 mm2", 6.0, "thick")],
)
def test_copper_in_a_terminal(size: str, takes_mm2: float | None, word: str) -> None:
    """A 6.3 mm blade takes 2.5 to 6 mm2 (common practice): both bounds fit, the next size beyond each does not."""
    text = ends("sealed-2-blade", size, "2.5 mm2")
    if takes_mm2 is None:
        assert [each for each in told(text) if each[0] == "terminal-misfit"] == []
        return
    findings = [each for each in told(text) if each[2] == "11A"]
    assert [rule for rule, _, _ in findings] == ["terminal-misfit"]
    if word == "thin":
        finding = only(text)
        assert finding.message == "Wire 11A is too thin to be crimped into what it ends in."
        assert [each.value for each in finding.numbers] == [1.5, takes_mm2]
        assert underlined(text, finding) == size


@pytest.mark.parametrize(
    ("size", "seal", "closes_mm", "word"),
    [
        # Over the insulation by ISO 6722-1 (from memory): 0.5 mm2 has 1.6 mm, 1.5 mm2 has 2.4 mm.
        # The seal closes on 1.2 to 2.4 mm, the thick one on 2.2 to 3.1 mm (common practice).
        ("1.5 mm2", "seal-1.5", None, ""),
        ("0.5 mm2", "seal-1.5", None, ""),
        ("0.5 mm2", "seal-1.5-thick", 2.2, "thin"),
    ],
)
def test_insulation_in_a_seal(size: str, seal: str, closes_mm: float | None, word: str) -> None:
    """A wire as thick as the seal's upper bound fits; one below the lower bound of the thicker seal does not."""
    text = ends("sealed-2", size, "1.5 mm2", seal=seal)
    found = [each for each in told(text) if each[0] == "seal-misfit"]
    if closes_mm is None:
        assert found == []
        return
    assert [subject for _, _, subject in found] == ["11A"]
    finding = only(text)
    assert finding.message == f"Wire 11A is too {word} over its insulation for the seal in its cavity."
    assert [each.value for each in finding.numbers] == [1.6, closes_mm]
    assert "at least, seal-1.5-thick at C1/1" in finding.numbers[1].source


def test_a_boat_cable_is_too_thick_for_the_common_seal() -> None:
    """16 AWG boat cable is 2.9 mm over its insulation (from memory), half a millimetre more than the seal's 2.4 mm."""
    finding = only(ends("sealed-2", "16 AWG", "18 AWG", "boat-105", "seal-1.5-thick, cavities: {1: {seal: seal-1.5}}"))
    assert (finding.rule, finding.subject) == ("seal-misfit", "11A")
    assert [each.value for each in finding.numbers] == [2.9, 2.4]
    assert finding.numbers[1].source.startswith("at most, seal-1.5 at C1/1")


def test_a_cavity_takes_one_wire() -> None:
    """A second feed into the same cavity is told at its own end and points at the first; in a splice it is silent."""
    plain = ends("sealed-2", "1.5 mm2", "1.5 mm2")
    second = "  12: {from: F1, to: C1/1, color: WH, size: 1.5 mm2}\n"
    double = on_studs(plain.replace("  90:", second + "  90:"))
    found = [each for each in told(double) if each[0] == "double-filled-cavity"]
    assert [subject for _, _, subject in found] == ["C1/1"]
    finding = only(on_studs(double))
    assert finding.message == "C1/1 holds 2 wires, 11A and 12A; a cavity takes one."
    assert double[finding.place.start : finding.place.end] == "C1/1"
    assert finding.place.line == double[: double.index(second)].count("\n") + 1
    assert told(plain) == []
