"""Feeds and returns that banks share, by an example written out wire by wire."""

import pytest

from harnessgen.design.reading.read import read_files
from harnessgen.design.understand import understand
from harnessgen.lengths.wire_length import wire_length
from tests.network.test_bank import network_of

EXAMPLE = """\
format: 2
harness: {title: Two banks on one feed, number: B-2, revision: A, splice: barrel-hot}
zones: {bay: 90 degC}
route:
  fuses: {c10: {length: 900 mm, zone: bay}, ecu: 1000 mm}
  c10: {b1: 90 mm}
  b1: {left-1: 70 mm, b2: 120 mm}
  b2: {left-2: 80 mm, b3: 110 mm}
  b3: {left-3: 60 mm, left-4: 200 mm}
connectors: {C1: {part: header-26, at: ecu}}
disconnects: {C10: {part: sealed-4, at: c10, socket-side: fuses}}
splices: {S1: b1, S2: b3, S3: {at: b1, offset: 40 mm, toward: b2}, S4: b2}
supplies: {BAT: {voltage: 13.8 V, at: fuses}}
grounds: {G1: {at: ecu}}
fuses: {F1: {rating: 7.5 A, at: fuses}}
drivers: {Q1: {terminals: {out: C1/14, ground: C1/1}}, Q2: {terminals: {out: C1/15, ground: C1/1}}}
circuits:
  20: {from: BAT, to: F1, color: RD, size: 1.5 mm2}
  90: {from: C1/1, to: G1, color: BK, size: 1.5 mm2}
feeds:
  rail:
    circuit: 21
    from: F1
    through: C10/1
    color: RD/YE
    trunk-size: 1.5 mm2
    leg-size: 0.5 mm2
    splices: {S1: {}, S2: {from: S1, size: 1 mm2, slack: 10 mm}}
banks:
  odd:
    load: injector-saturated
    connector: {part: sealed-2, first: C21}
    loads: {INJ1: left-1, INJ3: {at: left-3, feed: {splice: S2, color: RD/GN, size: 0.75 mm2}}}
    feed: {shared: rail, splice: S1}
    return: {circuit: 31, to: C1/14, through: C10/3, splice: S3, color: BU/WH, trunk-size: 0.75 mm2, leg-size: 0.5 mm2}
  even:
    load: injector-saturated
    connector: {part: sealed-2, first: C23}
    loads: {INJ2: {at: left-2, feed: {splice: S1}}, INJ4: left-4}
    feed: {shared: rail, splice: S2, leg-size: 0.75 mm2}
    return: {circuit: 32, to: C1/15, through: C10/4, splice: S4, color: BU/RD, trunk-size: 0.75 mm2, leg-size: 0.5 mm2}
states: {boost: {on: [Q1, Q2]}}
"""

# mark, end, end, way along the route, what the ends and the slack add, colour, size: from the route above, with 14 mm
# inside sealed-4, 12 mm inside sealed-2, 16 mm inside header-26, 15 mm overlap in a splice. Trunk first, then the link,
# then the legs bank by bank, in the order of the loads.
SHARED = """\
21A  F1/out   C10s/1   900   0+14      RD/YE  1.5
21B  C10p/1   S1       90    14+15     RD/YE  1.5
21C  S1       S2       230   15+15+10  RD/YE  1
21D  S1       C21/1    70    15+12     RD/YE  0.5
21E  S2       C22/1    60    15+12     RD/GN  0.75
21F  S1       C23/1    200   15+12     RD/YE  0.75
21G  S2       C24/1    200   15+12     RD/YE  0.75
"""


def wires_of(text: str, circuit: str) -> list[tuple[str, str, str, str, str, float]]:
    """Mark, ends, colour, size and needed length of each wire of a circuit."""
    network = network_of(text)
    return [
        (wire.mark, str(wire.a), str(wire.b), str(wire.colour), str(wire.size), wire_length(network, wire).needed_mm)
        for wire in network.wires
        if wire.circuit == circuit
    ]


def expected(rows: str) -> list[tuple[str, str, str, str, str, float]]:
    """The same, of rows written by hand."""
    parts = (row.split() for row in rows.splitlines())
    return [
        (mark, a, b, colour, f"{size} mm2", float(way) + sum(map(float, more.split("+"))))
        for mark, a, b, way, more, colour, size in parts
    ]


def test_a_shared_feed_is_expanded_wire_by_wire() -> None:
    """Trunk through the disconnect, a link between the splices, and legs of two banks from either splice."""
    assert wires_of(EXAMPLE, "21") == expected(SHARED)


def test_the_returns_of_the_banks_stay_apart() -> None:
    """Each bank has its own return, as without a shared feed."""
    network = network_of(EXAMPLE)
    assert [wire.mark for wire in network.wires if wire.circuit == "31"] == ["31A", "31B", "31C", "31D"]
    assert network.net_of["S3"] != network.net_of["S4"]
    assert network.net_of["S1"] == network.net_of["S2"]


def test_a_shared_feed_with_one_splice_needs_no_more_than_its_name() -> None:
    """With one splice for all, a bank names the feed alone."""
    one = (
        EXAMPLE.replace("splices: {S1: {}, S2: {from: S1, size: 1 mm2, slack: 10 mm}}", "splices: {S1: {}}")
        .replace(", feed: {splice: S2, color: RD/GN, size: 0.75 mm2}}", "}")
        .replace("{at: left-2, feed: {splice: S1}}", "left-2")
        .replace("feed: {shared: rail, splice: S1}", "feed: rail")
        .replace("feed: {shared: rail, splice: S2, leg-size: 0.75 mm2}", "feed: {shared: rail}")
    )
    assert [(mark, a, b) for mark, a, b, *_ in wires_of(one, "21")] == [
        ("21A", "F1/out", "C10s/1"),
        ("21B", "C10p/1", "S1"),
        ("21C", "S1", "C21/1"),
        ("21D", "S1", "C22/1"),
        ("21E", "S1", "C23/1"),
        ("21F", "S1", "C24/1"),
    ]


def test_a_shared_return_is_the_mirror_of_a_shared_feed() -> None:
    """Loads of two banks that return through one ground splice each, joined by a link to one trunk."""
    text = EXAMPLE.replace(
        "banks:\n",
        "returns: {floor: {circuit: 95, to: G1, through: C10/2, color: BK, trunk-size: 1.5"
        " mm2, leg-size: 0.75 mm2, splices: {S3: {}, S4: S3}}}\nbanks:\n",
    )
    lines = [
        "    return: {shared: floor, splice: S3}"
        if "circuit: 31" in line
        else "    return: {shared: floor, splice: S4}"
        if "circuit: 32" in line
        else line
        for line in text.splitlines()
    ]
    found = [(mark, a, b, size) for mark, a, b, _, size, _ in wires_of("\n".join(lines), "95")]
    assert found == [
        ("95A", "G1", "C10s/2", "1.5 mm2"),
        ("95B", "C10p/2", "S3", "1.5 mm2"),
        ("95C", "S3", "S4", "1.5 mm2"),
        ("95D", "S3", "C21/2", "0.75 mm2"),
        ("95E", "S3", "C22/2", "0.75 mm2"),
        ("95F", "S4", "C23/2", "0.75 mm2"),
        ("95G", "S4", "C24/2", "0.75 mm2"),
    ]


FAULTS = {
    "two ends of the trunk": (
        "S2: {from: S1, size: 1 mm2, slack: 10 mm}",
        "S2: {size: 1 mm2}",
        "The trunk of rail can meet one splice; S1 and S2 name no from.",
    ),
    "a splice fed from itself": (
        "S2: {from: S1, size",
        "S2: {from: S2, size",
        "The links of rail run in a ring through S2, so no trunk reaches it.",
    ),
    "no end of the trunk": (
        "S1: {}, S2",
        "S1: {from: S2}, S2",
        "The links of rail run in a ring through S1, so no trunk reaches it.",
    ),
    "a splice of another circuit": ("S2: {from: S1, size", "S2: {from: S4, size", "S4 is no splice of rail."),
    "a bank on a splice of another circuit": (
        "{shared: rail, splice: S1}",
        "{shared: rail, splice: S3}",
        "S3 is no splice of rail.",
    ),
    "a leg on a splice of another circuit": (
        "feed: {splice: S2, color",
        "feed: {splice: S4, color",
        "S4 is no splice of rail.",
    ),
    "nothing says which splice": (
        "{shared: rail, splice: S1}",
        "rail",
        "rail has the splices S1 and S2, and nothing says which of them the legs of INJ1 meet.",
    ),
    "a feed that is not there": ("{shared: rail, splice: S1}", "rial", "There is no shared feed called rial."),
    "a splice for a leg of a bank's own return": (
        "INJ4: left-4",
        "INJ4: {at: left-4, return: {splice: S3}}",
        "INJ4 names a splice for its leg, and the circuit of bank even is not shared.",
    ),
    "one splice in two feeds": (
        "feeds:\n",
        "feeds:\n  other: {circuit: 29, from: F1, color: RD, trunk-size: 1 mm2, splices: {S2: {}}}\n",
        "S2 is a splice of other and of rail, so the two would be one circuit.",
    ),
    "a feed that no bank shares": (
        "feeds:\n",
        "feeds:\n  other: {circuit: 29, from: F1, color: RD, trunk-size: 1 mm2, splices: {S4: {}}}\n",
        "No bank has feed: other, so circuit 29 leads to no load.",
    ),
    "a way through where there is no link": (
        "splices: {S1: {}",
        "splices: {S1: {through: C10/2}",
        "S1 has no link that could pass C10/2: the trunk ends there.",
    ),
    "a wire from a splice to itself": (
        "circuits:\n",
        "circuits:\n  50: {from: S1, to: S1, color: RD, size: 1 mm2}\n",
        "Circuit 50 has a wire from S1 to itself.",
    ),
}


@pytest.mark.parametrize("name", FAULTS)
def test_a_fault_of_a_shared_feed_is_told_where_it_stands(name: str) -> None:
    """Each with a line of the file, and a remedy; a reference that is wrong is underlined itself."""
    old, new, message = FAULTS[name]
    assert EXAMPLE.count(old) == 1
    faults = understand(read_files("bank.yaml", lambda _: EXAMPLE.replace(old, new))).faults
    assert message in [fault.message for fault in faults]
    (fault,) = [fault for fault in faults if fault.message == message]
    assert fault.place.line > 1
    assert fault.mend
