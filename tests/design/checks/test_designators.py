"""One designator names one thing, whatever kinds of device the two are."""

import pytest

from harnessgen.design.reading.read import read_files
from harnessgen.design.understand import understand

HORN = """\
format: 2
harness: {title: Horn harness, number: HN-1, revision: A}
route: {battery: {block: 300 mm, horn: 900 mm}}
supplies: {BAT: {voltage: 13.5 V, at: battery}}
grounds: {G1: {at: block}}
buses: {B1: {at: battery}}
fuses: {F1: {rating: 10 A, at: battery, direct: {in: B1}}}
loads: {H1: {kind: motor, power: 60 W, at: horn}}
circuits:
  10: {from: BAT, to: B1, color: RD, size: 1.5 mm2}
  11: {from: F1, to: H1/1, color: RD, size: 1.5 mm2}
  90: {from: H1/2, to: G1, color: BK, size: 1.5 mm2}
"""


def test_the_horn_is_good() -> None:
    """What the next test breaks has no fault."""
    assert understand(read_files("horn.yaml", lambda name: HORN)).faults == ()


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ("switches: {F1: {at: horn}}", "F1 is a switch here and a fuse elsewhere."),
        ("switches: {G1: {at: horn}}", "G1 is a switch here and a ground point elsewhere."),
        ("switches: {B1: {at: horn}}", "B1 is a switch here and a bus bar elsewhere."),
        ("cables: {H1: {circuits: [10]}}", "H1 is a cable here and a load elsewhere."),
    ],
)
def test_two_devices_of_different_kinds_cannot_share_one(line: str, message: str) -> None:
    """The second is told, and where the first stands."""
    faults = understand(read_files("horn.yaml", lambda name: f"{HORN}{line}\n")).faults
    assert [each.message for each in faults if each.rule == "duplicate-designator"] == [message]
