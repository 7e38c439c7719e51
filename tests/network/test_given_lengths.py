"""`have` and `cut` of trunks, links, legs and runs: one length for each wire where they pass disconnects."""

import pytest

from harnessgen.design.reading.read import read_files
from harnessgen.design.understand import understand
from harnessgen.lengths.wire_length import wire_length
from harnessgen.network.network import build_network
from harnessgen.physics.physics import Physics
from harnessgen.rules.reach.leg_too_short import check
from tests.network.test_bank import EXAMPLE as BANK
from tests.network.test_bank import network_of
from tests.network.test_shared_feed import EXAMPLE as SHARED

OWN_TRUNK = BANK.replace(
    "splice: S1, color: RD/YE, trunk-size: 0.75 mm2,",
    "splice: S1, color: RD/YE, trunk-size: 0.75 mm2, cut: [930 mm, 121 mm],",
)
SHARED_TRUNK = SHARED.replace(
    "trunk-size: 1.5 mm2\n", "trunk-size: 1.5 mm2\n    have: [918 +/- 2 mm, 125 mm]\n"
).replace("size: 1 mm2, slack: 10 mm}", "size: 1 mm2, slack: 10 mm, cut: 275 mm}")
SHARED_RETURN = SHARED.replace(
    "banks:\n",
    "returns: {floor: {circuit: 95, to: G1, through: C10/2, color: BK, trunk-size: 1.5 mm2, cut: [1930 mm, 150 mm],"
    " splices: {S3: {}, S4: {to: S3, have: 121 mm}}}}\nbanks:\n",
)


def given(text: str, circuit: str) -> list[tuple[str, float | None, bool]]:
    """Mark, given length and whether it was measured, of each wire of a circuit."""
    network = network_of(text)
    found = [wire for wire in network.wires if wire.circuit == circuit]
    return [
        (wire.mark, wire.cut_mm.value if wire.cut_mm else None, wire_length(network, wire).is_measured)
        for wire in found
    ]


def test_the_trunk_of_a_bank_has_a_length_for_each_of_its_wires() -> None:
    """From the outer end, so from F1: 21A to the disconnect, 21B to the splice; the legs have none."""
    assert given(OWN_TRUNK, "21") == [
        ("21A", 930.0, False),
        ("21B", 121.0, False),
        ("21C", None, False),
        ("21D", None, False),
        ("21E", None, False),
    ]


def test_a_shared_trunk_and_its_links_have_lengths() -> None:
    """The trunk was measured, the link is cut already."""
    assert given(SHARED_TRUNK, "21")[:4] == [
        ("21A", 918.0, True),
        ("21B", 125.0, True),
        ("21C", 275.0, False),
        ("21D", None, False),
    ]


def test_a_shared_return_counts_from_its_outer_end() -> None:
    """95A lies at G1, 95B behind the disconnect, 95C is the link."""
    lines = [
        "    return: {shared: floor, splice: S3}"
        if "circuit: 31" in line
        else "    return: {shared: floor, splice: S4}"
        if "circuit: 32" in line
        else line
        for line in SHARED_RETURN.splitlines()
    ]
    assert given("\n".join(lines), "95")[:4] == [
        ("95A", 1930.0, False),
        ("95B", 150.0, False),
        ("95C", 121.0, True),
        ("95D", None, False),
    ]


def test_a_leg_and_a_run_through_a_disconnect_have_a_length_for_each_wire() -> None:
    """A circuit of its own through C10, and a leg that passes it."""
    text = BANK.replace(
        "circuits:\n",
        "circuits:\n  41: {from: S2, to: F2, through: C10/2, color: RD, size: 1 mm2, cut: [160 mm, 940 mm]}\n",
    ).replace("fuses: {F1", "fuses: {F2: {rating: 5 A, at: fuses}, F1")
    assert given(text, "41") == [("41A", 160.0, False), ("41B", 940.0, False)]


@pytest.mark.parametrize(
    ("text", "message", "line"),
    [
        (
            OWN_TRUNK.replace("cut: [930 mm, 121 mm]", "cut: 930 mm"),
            "Circuit 21 passes a disconnect, so it is 2 wires; one cut length is given.",
            "cut: 930 mm",
        ),
        (
            SHARED_TRUNK.replace("cut: 275 mm", "cut: [275 mm, 30 mm]"),
            "Circuit 21 passes no disconnect from S1 to S2, so it is one wire; 2 cut lengths are given.",
            "cut: [275 mm",
        ),
    ],
    ids=["too few", "too many"],
)
def test_another_number_of_lengths_is_a_fault(text: str, message: str, line: str) -> None:
    """It is told at the lengths, with what to write."""
    understood = understand(read_files("bank.yaml", lambda _: text))
    assert understood.expanded is not None
    (fault,) = build_network(understood.expanded, understood.parts).faults
    assert fault.message == message
    assert line in text.splitlines()[fault.place.line - 1]
    assert "list" in fault.mend


def test_a_trunk_that_is_too_short_is_told_at_its_own_length() -> None:
    """21B needs 90 + 14 + 15 = 119 mm; cut to 110 mm it is too short, and its length of the two is underlined."""
    text = OWN_TRUNK.replace("121 mm]", "110 mm]")
    (finding,) = check(Physics(network_of(text)))
    assert finding.subject == "21B"
    row = text.splitlines()[finding.place.line - 1]
    assert row[finding.place.column - 1 :].startswith("110 mm")
