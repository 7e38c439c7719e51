"""Bank expansion, first by an example written out wire by wire, then for other numbers of loads."""

from dataclasses import dataclass

import pytest

from harnessgen.design.reading.read import read_files
from harnessgen.design.understand import understand
from harnessgen.lengths.wire_length import wire_length
from harnessgen.network.network import Network, build_network

EXAMPLE = """\
format: 2
harness: {title: One bank, number: B-1, revision: A, splice: barrel-hot}
zones: {bay: 90 degC}
route:
  fuses: {c10: {length: 910 mm, zone: bay}, ecu: 1000 mm}
  c10: {b1: 90 mm}
  b1: {left-1: 70 mm, b2: 118 mm}
  b2: {left-2: 70 mm, b3: 118 mm}
  b3: {left-3: 70 mm}
connectors: {C1: {part: header-26, at: ecu}}
disconnects: {C10: {part: sealed-4, at: c10, socket-side: fuses}}
splices: {S1: b1, S2: {at: b1, offset: 40 mm, toward: b2}}
supplies: {BAT: {voltage: 13.8 V, at: fuses}}
grounds: {G1: {at: ecu}}
fuses: {F1: {rating: 7.5 A, at: fuses}}
drivers: {Q1: {terminals: {out: C1/14, ground: C1/1}}}
circuits:
  20: {from: BAT, to: F1, color: RD, size: 1.5 mm2}
  90: {from: C1/1, to: G1, color: BK, size: 1.5 mm2}
banks:
  left:
    load: injector-saturated
    connector: {part: sealed-2, first: C21}
    loads: {INJ1: left-1, INJ3: left-2, INJ5: left-3}
    feed: {circuit: 21, from: F1, through: C10/1, splice: S1, color: RD/YE, trunk-size: 0.75 mm2, leg-size: 0.5 mm2}
    return: {circuit: 31, to: C1/14, through: C10/3, splice: S2, color: BU/WH, trunk-size: 0.75 mm2, leg-size: 0.5 mm2}
states: {boost: {on: [Q1]}}
"""

# mark, end, end, way along the route, what the ends add, colour, size: from the route above, with 14 mm inside
# sealed-4, 12 mm inside sealed-2, 16 mm inside header-26, 15 mm overlap in a splice.
WIRES = """\
20A  BAT      F1/in    0     0+0    RD     1.5
90A  C1/1     G1       0     16+0   BK     1.5
21A  F1/out   C10s/1   910   0+14   RD/YE  0.75
21B  C10p/1   S1       90    14+15  RD/YE  0.75
21C  S1       C21/1    70    15+12  RD/YE  0.5
21D  S1       C22/1    188   15+12  RD/YE  0.5
21E  S1       C23/1    306   15+12  RD/YE  0.5
31A  C1/14    C10s/3   1910  16+14  BU/WH  0.75
31B  C10p/3   S2       130   14+15  BU/WH  0.75
31C  S2       C21/2    110   15+12  BU/WH  0.5
31D  S2       C22/2    148   15+12  BU/WH  0.5
31E  S2       C23/2    266   15+12  BU/WH  0.5
"""


def network_of(text: str) -> Network:
    understood = understand(read_files("bank.yaml", lambda name: text))
    assert understood.faults == ()
    assert understood.expanded is not None
    network = build_network(understood.expanded, understood.parts)
    assert network.faults == ()
    return network


def test_the_example_is_expanded_wire_by_wire() -> None:
    """Fuse, trunk, C10s and C10p, splice, three legs, splice, back through C10, driver: marks, ends, lengths."""
    network = network_of(EXAMPLE)
    expected = []
    actual = []
    for row in WIRES.splitlines():
        mark, a, b, route, terms, colour, size = row.split()
        expected.append((mark, a, b, colour, f"{size} mm2", float(route) + sum(map(float, terms.split("+")))))
    for wire in network.wires:
        needed = wire_length(network, wire).needed_mm
        actual.append((wire.mark, str(wire.a), str(wire.b), str(wire.colour), str(wire.size), needed))
    assert actual == expected


def test_each_half_of_the_disconnect_belongs_to_the_section_on_its_side() -> None:
    """The pieces on the fuse's side are section A, those on the loads' side section B."""
    sections = {wire.mark: wire.section for wire in network_of(EXAMPLE).wires}
    assert {mark for mark, section in sections.items() if section == "A"} == {"20A", "90A", "21A", "31A"}
    assert set(sections.values()) == {"A", "B"}


def test_a_leg_remembers_its_bank_and_its_load() -> None:
    """What a bank's pattern made points at the load in the file, and says which pattern it came from."""
    network = network_of(EXAMPLE)
    leg = network.wire_of["21D"]
    assert (leg.bank, leg.run.load, leg.place.pattern) == ("left", "INJ3", "bank left, load INJ3")
    line = EXAMPLE.splitlines()[leg.place.line - 1]
    assert line[leg.place.column - 1 :].startswith("INJ3")


@dataclass(frozen=True)
class Made:
    text: str
    count: int
    is_divided: bool


def made(count: int, *, is_divided: bool, override: str = "") -> Made:
    """A bank of `count` loads in a row, 100 mm apart on a trunk that starts 90 mm behind `start`."""
    names = [f"L{number}" for number in range(1, count + 1)]
    route = [f"  b{number}: {{p{number}: 70, b{number + 1}: 100}}" for number in range(1, count + 1)]
    own = {2: override}
    loads = ", ".join(f"{name}: {{at: p{number}{own.get(number, '')}}}" for number, name in enumerate(names, 1))
    cavity = {"feed": "through: C10/1, ", "return": "through: C10/2, "} if is_divided else {"feed": "", "return": ""}
    split = "disconnects: {C10: {part: sealed-4, at: c10, socket-side: fuses}}\n" if is_divided else ""
    text = f"""\
format: 2
harness: {{title: One bank, number: B-1, revision: A}}
route:
  fuses: {{c10: 900}}
  c10: {{b1: 90}}
{chr(10).join(route)}
{split}splices: {{S1: b1, S2: {{at: b1, offset: 40, toward: b2}}}}
supplies: {{BAT: {{voltage: 13.8 V, at: fuses}}}}
grounds: {{G1: {{at: fuses}}}}
fuses: {{F1: {{rating: 10 A, at: fuses}}}}
switches: {{SW1: {{at: fuses}}}}
circuits: {{90: {{from: SW1/out, to: G1, color: BK, size: 1.5}}, 20: {{from: BAT, to: F1, color: RD, size: 1.5}}}}
banks:
  only:
    load: injector-saturated
    connector: {{part: sealed-2, first: C101}}
    loads: {{{loads}}}
    feed: {{circuit: 1, from: F1, {cavity["feed"]}splice: S1, color: RD, trunk-size: 1.5, leg-size: 0.5}}
    return: {{circuit: 2, to: SW1/in, {cavity["return"]}splice: S2, color: BU, trunk-size: 1.5, leg-size: 0.5}}
"""
    return Made(text, count, is_divided)


@pytest.mark.parametrize("is_divided", [False, True], ids=["whole", "divided"])
@pytest.mark.parametrize("count", range(2, 13))
def test_any_number_of_loads_expands_alike(count: int, is_divided: bool) -> None:
    """For 2 to 12 loads, with and without a disconnect: numbers of wires, connectors, lettering and leg lengths."""
    network = network_of(made(count, is_divided=is_divided).text)
    trunk = 2 if is_divided else 1
    for circuit, splice in (("1", "S1"), ("2", "S2")):
        own = [wire for wire in network.wires if wire.circuit == circuit]
        assert [wire.mark for wire in own] == [f"{circuit}{letter}" for letter in "ABCDEFGHIJKLMNOPQ"[: trunk + count]]
        legs = own[trunk:]
        ends = [(splice, f"C{100 + number}/{circuit}") for number in range(1, count + 1)]
        assert [(str(leg.a), str(leg.b)) for leg in legs] == ends
        at = 0 if circuit == "1" else 40
        ways = [abs((number - 1) * 100 - at) + 70 for number in range(1, count + 1)]
        assert [sum(part.length_mm for part in leg.way) for leg in legs] == ways
        assert sum(part.length_mm for wire in own[:trunk] for part in wire.way) == 990 + at
    assert len(network.design.connectors) == count


def test_what_a_leg_has_of_its_own_replaces_the_pattern() -> None:
    """Size, colour, slack, cavity and connector of one leg, and nothing of its neighbours."""
    override = ", connector: C7, feed: {size: 1, color: VT, slack: 20, cavity: 2}, return: {cavity: 1}"
    network = network_of(made(3, is_divided=True, override=override).text)
    feed, back = network.wire_of["1D"], network.wire_of["2D"]
    assert (str(feed.b), str(feed.size), str(feed.colour), feed.slack_mm.value) == ("C7/2", "1 mm2", "VT", 20.0)
    assert (str(back.b), str(back.size), str(back.colour), back.slack_mm.value) == ("C7/1", "0.5 mm2", "BU", 0.0)
    assert [str(network.wire_of[mark].b) for mark in ("1C", "1E")] == ["C101/1", "C103/1"]
    assert wire_length(network, feed).slack_mm == 20.0
    load = next(each for each in network.electrical.elements if each.name == "L2")
    assert (load.a, load.b) == ("C7/2 mate", "C7/1 mate")


def test_a_fixed_mark_stays_with_its_wire() -> None:
    """A leg that is added later takes a new letter; the marks that were printed keep their wires."""
    before = network_of(made(3, is_divided=True).text)
    marks = "\n".join(f"  {wire.mark}: [{wire.a}, {wire.b}]" for wire in before.wires)
    grown = made(4, is_divided=True).text.replace("L1: {at: p1}", "L0: {at: p4, connector: C99}, L1: {at: p1}", 1)
    grown = grown.replace(", L4: {at: p4}", "").replace("first: C101", "first: C100") + f"marks:\n{marks}\n"
    after = network_of(grown)
    ends = {wire.mark: (str(wire.a), str(wire.b)) for wire in after.wires}
    assert {mark: ends[mark] for mark in (wire.mark for wire in before.wires)} == {
        wire.mark: (str(wire.a), str(wire.b)) for wire in before.wires
    }
    assert {mark for mark in ends if ends[mark][1].startswith("C99/")} == {"1F", "2F"}
