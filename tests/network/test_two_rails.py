"""Two rails behind a disconnect each, joined by a link of one shared feed, and banks that reach over both rails."""

import pytest

from harnessgen.bench.proof import proofs_of
from harnessgen.explain.explain import explain
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.network.network import Network
from harnessgen.physics.physics import Physics
from harnessgen.remedies.sizing.text import sized_texts
from harnessgen.rules.protection.return_to_ground_hazard import check
from harnessgen.schedules.wires.splice_schedule import splice_rows
from tests.network.test_bank import network_of
from tests.network.test_shared_feed import expected, wires_of

EXAMPLE = """\
format: 2
harness: {title: Two rails on one feed, number: R-2, revision: A, splice: barrel-hot}
zones: {bay: 90 degC}
route:
  fuses: {hub: {length: 500 mm, zone: bay}, ecu: 1000 mm}
  hub: {c10: 300 mm, c20: 400 mm}
  c10: {l1: 90 mm}
  l1: {left-1: 70 mm, l2: 120 mm}
  l2: {left-2: 80 mm}
  c20: {r1: 100 mm}
  r1: {right-1: 60 mm, r2: 110 mm}
  r2: {right-2: 75 mm}
connectors: {C1: {part: header-26, at: ecu}}
disconnects:
  C10: {part: sealed-6, at: c10, socket-side: hub}
  C20: {part: sealed-6, at: c20, socket-side: hub}
splices: {S1: l1, S2: r1, S3: {at: l1, offset: 40 mm, toward: l2}, S4: {at: r1, offset: 40 mm, toward: r2}}
supplies: {BAT: {voltage: 13.8 V, at: fuses}}
grounds: {G1: {at: ecu}}
fuses: {F1: {rating: 7.5 A, at: fuses}}
drivers: {Q1: {terminals: {out: C1/14, ground: C1/1}}, Q2: {terminals: {out: C1/15, ground: C1/1}}}
circuits:
  20: {from: BAT, to: F1, color: RD, size: 1.5 mm2}
  90: {from: C1/1, to: G1, color: BK, size: 1.5 mm2}
feeds:
  rails:
    circuit: 21
    from: F1
    through: C10/1
    color: RD/YE
    trunk-size: 1.5 mm2
    leg-size: 0.5 mm2
    splices: {S1: {}, S2: {from: S1, through: [C10/4, C20/1], size: 1 mm2}}
banks:
  one:
    load: injector-saturated
    connector: {part: sealed-2, first: C21}
    loads:
      INJ1: left-1
      INJ2: {at: right-1, feed: {splice: S2}, return: {through: [C10/5, C20/2]}}
    feed: {shared: rails, splice: S1}
    return: {circuit: 31, to: C1/14, through: C10/2, splice: S3, color: BU, trunk-size: 0.75 mm2, leg-size: 0.5 mm2}
  two:
    load: injector-saturated
    connector: {part: sealed-2, first: C23}
    loads:
      INJ3: {at: left-2, feed: {splice: S1}, return: {through: [C10/3, C20/4]}}
      INJ4: right-2
    feed: {shared: rails, splice: S2}
    return: {circuit: 32, to: C1/15, through: C20/3, splice: S4, color: GN, trunk-size: 0.75 mm2, leg-size: 0.5 mm2}
states: {idle: {off: [INJ1, INJ2, INJ3, INJ4]}, boost: {on: [Q1, Q2]}}
"""

# mark, end, end, way along the route, what the ends add, colour, size: from the route above, with 14 mm inside
# sealed-6, 12 mm inside sealed-2, 16 mm inside header-26, 15 mm overlap in a splice. The link leaves the left rail
# through C10 and enters the right one through C20, so it is three wires.
FEED = """\
21A  F1/out   C10s/1   800   0+14    RD/YE  1.5
21B  C10p/1   S1       90    14+15   RD/YE  1.5
21C  S1       C10p/4   90    15+14   RD/YE  1
21D  C10s/4   C20s/1   700   14+14   RD/YE  1
21E  C20p/1   S2       100   14+15   RD/YE  1
21F  S1       C21/1    70    15+12   RD/YE  0.5
21G  S2       C22/1    60    15+12   RD/YE  0.5
21H  S1       C23/1    200   15+12   RD/YE  0.5
21I  S2       C24/1    185   15+12   RD/YE  0.5
"""
ONE = """\
31A  C1/14    C10s/2   1800  16+14   BU     0.75
31B  C10p/2   S3       130   14+15   BU     0.75
31C  S3       C21/2    110   15+12   BU     0.5
31D  S3       C10p/5   130   15+14   BU     0.5
31E  C10s/5   C20s/2   700   14+14   BU     0.5
31F  C20p/2   C22/2    160   14+12   BU     0.5
"""
TWO = """\
32A  C1/15    C20s/3   1900  16+14   GN     0.75
32B  C20p/3   S4       140   14+15   GN     0.75
32C  S4       C20p/4   140   15+14   GN     0.5
32D  C20s/4   C10s/3   700   14+14   GN     0.5
32E  C10p/3   C23/2    290   14+12   GN     0.5
32F  S4       C24/2    145   15+12   GN     0.5
"""


@pytest.mark.parametrize(("circuit", "rows"), [("21", FEED), ("31", ONE), ("32", TWO)])
def test_two_rails_are_expanded_wire_by_wire(circuit: str, rows: str) -> None:
    """Trunk, link of three wires, and legs that stay on their rail or pass both disconnects."""
    assert wires_of(EXAMPLE, circuit) == expected(rows)


def test_a_link_takes_a_length_for_each_of_its_wires() -> None:
    """From the end at S1 on: out through C10, over to C20, and in."""
    text = EXAMPLE.replace("C20/1], size: 1 mm2", "C20/1], size: 1 mm2, have: [125 mm, 735 mm, 130 mm]")
    network = network_of(text)
    found = {mark: network.wire_of[mark].cut_mm for mark in ("21B", "21C", "21D", "21E", "21F")}
    assert {mark: length.value if length else None for mark, length in found.items()} == {
        "21B": None,
        "21C": 125.0,
        "21D": 735.0,
        "21E": 130.0,
        "21F": None,
    }


def test_the_sections_hold_what_lies_on_their_side() -> None:
    """Both rails and the engine bay are sections of their own; the link's middle wire belongs to the bay."""
    network = network_of(EXAMPLE)
    section = {wire.mark: wire.section for wire in network.wires}
    assert section["21A"] == section["21D"] == section["31E"] == section["32D"]
    assert section["21B"] == section["21C"] == section["21F"] == section["32E"]
    assert section["21E"] == section["21G"] == section["31F"] == section["32B"]
    assert len({section[mark] for mark in ("21A", "21B", "21E")}) == 3


def schedule(network: Network, splice: str) -> list[tuple[str, str, str]]:
    """Wires of a splice with the side that they leave on and their other end, as the schedule prints them."""
    rows = (row for section in network.sections.sections for row in splice_rows(network, section))
    return [(row.mark, row.leaves_towards, row.other_end) for row in rows if row.splice == splice]


def test_the_splice_schedule_reads_right() -> None:
    """S1 has the trunk and the link on the side of C10, both legs on their own sides; S2 has the link alone there."""
    network = network_of(EXAMPLE)
    assert schedule(network, "S1") == [
        ("21B", "c10", "C10p/1"),
        ("21C", "c10", "C10p/4"),
        ("21H", "l2", "C23/1"),
        ("21F", "left-1", "C21/1"),
    ]
    assert schedule(network, "S2") == [
        ("21E", "c20", "C20p/1"),
        ("21I", "r2", "C24/1"),
        ("21G", "right-1", "C22/1"),
    ]


def test_every_injector_gets_its_current_through_the_link() -> None:
    """What flows in the link is what the two injectors of the right rail take; the trunk carries all four."""
    physics = Physics(network_of(EXAMPLE))
    amperes = physics.points["boost"].amperes
    right = amperes["INJ2"] + amperes["INJ4"]
    assert amperes["21D"] == pytest.approx(right)
    assert amperes["21A"] == pytest.approx(right + amperes["INJ1"] + amperes["INJ3"])
    assert amperes["31A"] == pytest.approx(-amperes["INJ1"] - amperes["INJ2"])


def test_the_shared_feed_is_explained_by_its_name() -> None:
    """Trunk, link and the legs at each splice, bank by bank."""
    (thing,) = explain(Physics(network_of(EXAMPLE)), {"bank.yaml": EXAMPLE}, (), "rails")
    facts = {fact.what: fact.value for fact in thing.facts}
    assert thing.noun == "shared feed"
    assert facts["banks that share it"] == "one and two"
    assert [what for what in facts if what.startswith(("trunk ", "link "))] == [
        "trunk 21A",
        "trunk 21B",
        "link 21C",
        "link 21D",
        "link 21E",
    ]
    assert facts["legs at S1"] == "one: 21F to INJ1; two: 21H to INJ3"
    assert facts["legs at S2"] == "one: 21G to INJ2; two: 21I to INJ4"


@pytest.mark.parametrize(
    ("marks", "old", "new"),
    [
        (("21C", "21D", "21E"), "C20/1], size: 1 mm2}", "C20/1], size: 1.5 mm2}"),
        (("21F", "21G", "21H", "21I"), "leg-size: 0.5 mm2\n    splices", "leg-size: 1.5 mm2\n    splices"),
    ],
    ids=["link", "legs"],
)
def test_a_size_is_written_where_the_file_gives_it(marks: tuple[str, ...], old: str, new: str) -> None:
    """The size of a link stands at its splice, that of the legs of both banks at the shared feed."""
    sizes = dict.fromkeys(marks, ConductorSize("mm2", "1.5"))
    texts = sized_texts(network_of(EXAMPLE), "bank.yaml", {"bank.yaml": EXAMPLE}, sizes)
    assert texts == {"bank.yaml": EXAMPLE.replace(old, new)}


def test_a_link_without_a_size_of_its_own_is_sized_with_the_trunk() -> None:
    """One place sizes trunk and link; a link alone is listed by its marks."""
    text = EXAMPLE.replace("C20/1], size: 1 mm2", "C20/1]")
    network = network_of(text)
    large = ConductorSize("mm2", "2.5")
    both = sized_texts(
        network, "bank.yaml", {"bank.yaml": text}, dict.fromkeys(("21A", "21B", "21C", "21D", "21E"), large)
    )
    assert both["bank.yaml"] == text.replace("trunk-size: 1.5 mm2", "trunk-size: 2.5 mm2")
    alone = sized_texts(network, "bank.yaml", {"bank.yaml": text}, {"21E": large})
    assert alone["bank.yaml"].startswith(text)
    assert "  21E: 2.5 mm2\n" in alone["bank.yaml"]


def test_every_joint_of_both_rails_is_shown_by_a_step() -> None:
    """The proof of the whole: no fault of a wire of the shared feed is left without a step."""
    network = network_of(EXAMPLE)
    undetected = proofs_of(network, Physics(network)).untested
    assert not [fault.name for fault in undetected if fault.subject.startswith("21")]


def test_a_chafed_return_turns_on_its_own_bank_alone() -> None:
    """The link's drop drives some 2 mA through the other bank, 0.2 % of what an injector works with: it is off."""
    found = {each.subject: each.message for each in check(Physics(network_of(EXAMPLE)))}
    assert "turns on INJ1 and INJ2 in state" in found["31"]
    assert "turns on INJ3 and INJ4 in state" in found["32"]
