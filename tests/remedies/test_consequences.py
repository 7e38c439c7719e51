"""One cause is told once: what is gone by its mend is left out, and what stands after it is told."""

from pathlib import Path

import pytest

from harnessgen.evidence.finding import Finding
from harnessgen.remedies.fixes import with_mends
from tests.line import MAIN, beyond_notes, circuits, edited, examine_text, line_of

COLLISION = ("to: C1/14, through: C10/3", "to: C1/14, through: C10/2")
WEAK_OUTPUT = ("Q2: {title: output B, current: 5 A", "Q2: {title: output B, current: 1 A")

DESIGNS = Path(__file__).parents[2] / "designs"
TRAILER = (DESIGNS / "trailer.yaml").read_text(encoding="utf-8")

CROSSED = """\
format: 2
harness: {title: Tail lamp, number: TL-1, revision: A}
route:
  battery: {block: 300, c10: 1500, sw: 100}
  c10: {lamp: 2500}
disconnects:
  C10: {part: sealed-4, at: c10, socket-side: battery}
supplies: {BAT: {voltage: 13.5 V, resistance: 8 mohm, at: battery}}
grounds: {G1: {at: block}}
fuses:
  F1: {rating: 5 A, at: battery}
switches: {SW1: {at: sw}}
loads: {E1: {kind: lamp, power: 21 W, at: lamp}}
circuits:
  10: {from: BAT, to: F1, color: RD, size: 1.5 mm2}
  11: {from: F1, to: SW1, color: RD/WH, size: 1 mm2}
  20: {color: GN, size: 1 mm2, runs: [{from: SW1, to: C10s/1}, {from: C10p/2, to: E1/1}]}
  90: {color: BK, size: 1 mm2, runs: [{from: E1/2, to: C10p/1}, {from: C10s/2, to: G1}]}
states:
  off: {off: E1}
  lit: {on: SW1}
"""


def mended(text: str) -> list[Finding]:
    """Errors and warnings of a design with their mends, as a check tells them."""
    return list(beyond_notes(with_mends(examine_text(text).findings, {MAIN: text}, examine_text)))


def subjects(text: str) -> list[tuple[str, str]]:
    """Rule and subject of each."""
    return [(each.rule, each.subject) for each in mended(text)]


def test_a_wrong_passage_is_told_once() -> None:
    """Two circuits through one cavity short the battery and turn a bank on: the doubled cavity alone is told."""
    text = edited(COLLISION)
    (finding,) = mended(text)
    assert (finding.rule, finding.subjects) == ("double-filled-cavity", ("C10s/2", "C10p/2"))
    assert finding.place.line == line_of(text, "from: F2, through: C10/2")
    assert finding.mend == (
        "C10/3 in place of C10/2 for circuit 22: no wire is there;"
        " or C10/3 in place of C10/2 for circuit 31: no wire is there"
    )
    told = {(each.rule, name) for each in finding.consequences for name in each.subjects or (each.subject,)}
    assert {("short-circuit", "31A"), ("sneak-path", "INJ1")} <= told
    assert {each.caused_by for each in finding.consequences} == {"double-filled-cavity:C10s/2"}
    assert mended(edited(("from: F2, through: C10/2", "from: F2, through: C10/3"), text=text)) == []


def test_an_independent_fault_beside_it_stands() -> None:
    """An output that is too small is no consequence of the doubled cavity, and both are told; either alone too."""
    assert subjects(edited(WEAK_OUTPUT)) == [("driver-overload", "Q2")]
    assert sorted(subjects(edited(COLLISION, WEAK_OUTPUT))) == [
        ("double-filled-cavity", "C10s/2"),
        ("driver-overload", "Q2"),
    ]


def test_an_independent_short_beside_it_stands() -> None:
    """A second short that the mend of the doubled cavity leaves is told besides it."""
    found = subjects(edited(COLLISION, circuits("99: {from: BAT, to: G1, color: RD, size: 2.5 mm2}")))
    assert ("double-filled-cavity", "C10s/2") in found
    assert ("short-circuit", "99A") in found


def test_a_return_in_a_taken_cavity_goes_back_to_its_own() -> None:
    """The cavity that lacks its wire, and what the wrong output turns on, go with the doubled one."""
    (finding,) = mended(edited(("to: C1/14, through", "to: C1/15, through")))
    assert (finding.rule, finding.subject) == ("double-filled-cavity", "C1/15")
    assert finding.mend.startswith("31A to C1/14 in place of C1/15: terminal out of Q1 has no wire yet")


def test_an_output_that_stands_behind_another_s_cavity() -> None:
    """The wire that finds nothing is told with the output that was meant for it."""
    text = edited(("{out: C1/14, ground: C1/1}", "{out: C1/15, ground: C1/1}"))
    (finding,) = mended(text)
    assert (finding.rule, finding.subject) == ("orphan-cavity", "C1/14")
    assert finding.mend.startswith("C1/14 in place of C1/15 for terminal out of Q1: ")


def test_a_shared_ground_cavity() -> None:
    """A driver's ground one digit off is led back to what the other driver has; a lost return is one finding."""
    (finding,) = mended(edited(("{out: C1/14, ground: C1/1}", "{out: C1/14, ground: C1/3}")))
    assert (finding.rule, finding.subject) == ("orphan-cavity", "C1/3")
    assert finding.mend == "C1/1 in place of C1/3, as Q2 has it"


def test_crossed_circuits_change_places() -> None:
    """Two circuits that cross at a disconnect are one finding, and its mend changes two places of the file."""
    (finding,) = mended(CROSSED)
    assert (finding.rule, finding.subjects) == ("mate-mismatch", ("C10/1", "C10/2"))
    assert finding.place.line == line_of(CROSSED, "to: C10p/1")
    assert finding.message.startswith("Circuits 20 and 90 are crossed: ")
    assert finding.mend == "change the two over: C10p/2 for 90A, and C10p/1 for 20B"
    swapped = edited(("to: C10p/1", "to: C10p/2"), ("{from: C10p/2,", "{from: C10p/1,"), text=CROSSED)
    assert mended(swapped) == []


def test_a_number_on_two_nets_beside_the_crossing_stands() -> None:
    """Crossing hides no doubled number of another circuit."""
    doubled = edited(
        (
            "  11: {from: F1, to: SW1, color: RD/WH, size: 1 mm2}",
            """\
  11: {color: RD/WH, size: 1 mm2, runs: [{from: F1, to: SW1}, {from: E1/2, to: C10p/3}, {from: C10s/3, to: G1}]}""",
        ),
        text=CROSSED,
    )
    assert ("duplicate-circuit", "11") in [(each.rule, each.subject) for each in examine_text(doubled).findings]


def test_a_zone_that_is_too_hot_for_things_of_several_kinds_is_one_finding() -> None:
    """It stands at the zone, with everything in it that is too hot; the cooler zone that it offers is followed."""
    hot = edited(("  boot: 50", "  boot: 130"), text=TRAILER)
    (finding,) = mended(hot)
    assert (finding.rule, finding.place.line) == ("over-temperature", line_of(hot, "  boot: 130"))
    assert {"30A", "31A", "33A", "1A", "main-fuse to module"} < set(finding.subjects)
    assert finding.mend.startswith("80 degC for zone boot, if")
    assert mended(edited(("  boot: 130", "  boot: 80"), text=hot)) == []


def test_a_family_that_does_not_stand_the_heat_is_one_finding() -> None:
    """All wires in a zone that the design's family does not stand are mended by one word, and told once."""
    text = (DESIGNS / "small-boat.yaml").read_text(encoding="utf-8")
    (finding,) = mended(edited(("  bilge: 30", "  bilge: 120"), (", ampacity: boat-table", ""), text=text))
    assert (finding.rule, set(finding.subjects)) == ("over-temperature", {"20B", "21A", "21B", "21C", "91A"})
    assert finding.mend == "wire: aircraft-150 for the whole design"


def test_a_family_that_carries_too_little_goes_back_by_one_word() -> None:
    """Wires that heat each other offer the family of the design as it was; it mends the fuses' protection too."""
    (first,) = mended(edited(("  wire: thin-wall-175", "  wire: thin-wall-125")))
    assert (first.rule, first.subjects) == ("over-temperature", ("21B", "31B", "22B", "32B"))
    assert first.mend == "wire: thin-wall-175 for the whole design"
    assert [(each.rule, each.subject) for each in first.consequences] == [
        ("fuse-too-large", "F1"),
        ("fuse-too-large", "F2"),
        ("fuse-too-large", "F10"),
    ]


def test_a_family_that_has_none_of_the_sizes_is_one_finding() -> None:
    """It is told where the family is named, with the families that have all of them."""
    text = edited(("  wire: thin-wall-175", "  wire: aircraft-150"))
    (finding,) = mended(text)
    assert (finding.rule, finding.place.line) == ("bad-value", line_of(text, "wire: aircraft-150"))
    assert finding.mend == "these sizes come in thin-wall-125 and thin-wall-175"


def test_a_fuse_offers_a_smaller_one_and_a_thicker_wire() -> None:
    """Either change mends, and both are told; each is followed, and the finding is gone."""
    thin = edited(("12: {from: K1/87, to: [F1, F2], splice: S5, color: RD/WH, size: 1.5 mm2}",
                   "12: {from: K1/87, to: [F1, F2], splice: S5, color: RD/WH, size: 0.75 mm2}"))  # fmt: skip
    (finding,) = [each for each in mended(thin) if each.rule == "fuse-too-large"]
    fuse, _, wire = finding.mend.partition("; or ")
    assert fuse == "10 A for F10"
    assert wire.endswith(" mm2 for 12B")
    size = wire.removesuffix(" for 12B")
    assert mended(edited(("RD/WH, size: 0.75 mm2", f"RD/WH, size: {size}"), text=thin)) == []
    assert mended(edited(("title: main feed, rating: 15 A", "title: main feed, rating: 10 A"), text=thin)) == []


def test_a_supply_without_a_spare_fuse_is_one_finding() -> None:
    """What hangs on the wire that lacks its fuse is not told besides, and the words ask for the fuse."""
    text = edited(
        ("  F3: {title: controller and relay coil, rating: 5 A, at: main-fuses, terminal: tab-6.3}\n", ""),
        ("  13: {from: BAT, to: F3, color: RD/BK, size: 1 mm2}\n", ""),
        ("14: {from: F3", "14: {from: BAT"),
    )
    (finding,) = mended(text)
    assert (finding.rule, finding.subject) == ("unfused-feed", "14A")
    assert finding.mend == "put a fuse between BAT and 14A, close to the supply"


COIL = "41: {from: SW1, to: [K1/86, K2/86]"


@pytest.mark.parametrize(
    ("design", "good", "bad", "rule", "mend"),
    [
        ("twin-fans", COIL, COIL.replace("K1/86", "K1/85"), "short-circuit", "K1/86 in place of K1/85 for 41B: "),
        ("twin-fans", "C1: {part: sealed-2-blade", "C1: {part: sealed-2", "terminal-misfit", "sealed-2-blade for C1"),
        ("flat-six", "91: {from: K1/85", "91: {from: K1/86", "short-circuit", "K1/85 in place of K1/86 for 91A: "),
        ("flat-six", "14: {from: F3", "14: {from: BAT", "unfused-feed", "F3 in place of BAT for 14A: "),
        ("flat-six", "21, from: F1", "21, from: BAT", "unfused-feed", "F1 in place of BAT for 21A: "),
        ("trailer", "41: {from: F1,", "41: {from: BAT,", "unfused-feed", "F1 in place of BAT for 41A: "),
        ("flat-six", "splice: S2, color", "splice: S1, color", "short-circuit", "S2 in place of S1 for circuit 31: "),
        ("trailer", "splice: S2, thro", "splice: S1, thro", "short-circuit", "S2 in place of S1 for circuit 6: "),
        (
            "small-boat",
            "{from: FS1, to: S2}",
            "{from: FS1, to: S3}",
            "duplicate-circuit",
            "S2 in place of S3 for 21A: ",
        ),
        (
            "small-boat",
            "C3: {part: sealed-2, at: bow, seal: seal-1.5-thick",
            "C3: {part: sealed-2, at: bow, seal: seal-1.5",
            "seal-misfit",
            "seal: seal-1.5-thick for C3",
        ),
        (
            "small-boat",
            "91: {from: M1/2, to: B9",
            "91: {from: M1/1, to: B9",
            "double-filled-cavity",
            "91A to M1/2 in place of ",
        ),
        (
            "ignition-sensors",
            "22: {from: T2/2, to: Q2",
            "22: {from: T2/2, to: Q1",
            "double-filled-cavity",
            "22B to Q2/out in ",
        ),
        (
            "ignition-sensors",
            "51: {from: G3, to: N1/2",
            "51: {from: G3, to: N1/1",
            "double-filled-cavity",
            "51A to N1/2 in ",
        ),
    ],
)
def test_one_mistake_in_a_good_design_is_one_finding(design: str, good: str, bad: str, rule: str, mend: str) -> None:
    """Each of these brings several findings about, and its mend leads back to the design as it was."""
    text = (DESIGNS / f"{design}.yaml").read_text(encoding="utf-8")
    (finding,) = mended(edited((good, bad), text=text))
    assert (finding.rule, finding.mend[: len(mend)]) == (rule, mend)
    assert mended(text) == []


@pytest.mark.parametrize(
    ("design", "lost", "line"),
    [
        (
            "flat-six",
            "  91: {from: K1/85, to: G1, color: BK/WH, size: 0.75 mm2}\n",
            "91: {from: K1/85, to: G1, color: BK, size: 0.75 mm2}, as circuit 90 is",
        ),
        (
            "twin-fans",
            "  32: {from: M2/2, to: G1, color: BK, size: 6 mm2}\n",
            "23: {from: M2/2, to: G1, color: BK, size: 6 mm2}, as circuit 22 is",
        ),
        (
            "trailer",
            "  11: {from: R1/2, to: G2, through: C10/11, color: WH/BK, size: 2.5 mm2}\n",
            "14: {from: R1/2, to: G3, through: C10/11, color: WH/RD, size: 2.5 mm2}, as circuit 13 is",
        ),
        (
            "ignition-sensors",
            "  22: {from: T2/2, to: Q2, through: C10/3, color: GN/YE, size: 1 mm2}\n",
            "22: {from: T2/2, to: C1/2, through: C10/3, color: GN/BU, size: 1 mm2}, as circuit 21 is",
        ),
    ],
)
def test_a_forgotten_return_is_one_line_to_add(design: str, lost: str, line: str) -> None:
    """The line runs as a like circuit does, and put into the file it mends; the finding is one."""
    text = edited((lost, ""), text=(DESIGNS / f"{design}.yaml").read_text(encoding="utf-8"))
    (finding,) = mended(text)
    assert finding.mend == f"add circuit {line}"
    added = line.partition(", as circuit")[0]
    assert mended(edited(("circuits:\n", f"circuits:\n  {added}\n"), text=text)) == []


def test_an_output_is_never_led_to_ground() -> None:
    """A driver's output that lacks its wire has no line to a ground point: switched on, it would be a short."""
    text = (DESIGNS / "v8-second-injectors.yaml").read_text(encoding="utf-8")
    found = mended(edited(("  41: {from: Y1/2, to: C1/16, color: GY, size: 18}\n", ""), text=text))
    (finding,) = found
    assert finding.mend == "add circuit 93: {from: Y1/2, to: C1/16, color: BK, size: 18 AWG}, as circuit 90 is"


def test_a_bus_without_its_ground_is_one_finding() -> None:
    """All loads that share the bus are told once, where it is written."""
    text = (DESIGNS / "small-boat.yaml").read_text(encoding="utf-8")
    (finding,) = mended(edited(("  90: {from: B9, to: G1, color: YE, size: 8}\n", ""), text=text))
    assert (finding.rule, finding.subjects) == ("missing-ground", ("M1", "E1", "E2", "E3"))
    assert "ends at B9" in finding.message


def test_a_bus_without_its_feed_is_one_finding() -> None:
    """What hangs dead on a bus bar is told once, and the words name the bar, not the lamps' cavities."""
    text = (DESIGNS / "small-boat.yaml").read_text(encoding="utf-8")
    (finding,) = mended(edited(("12: {from: SW10, to: B2", "12: {from: SW10, to: B1"), text=text))
    assert (finding.rule, finding.subjects) == ("open-circuit", ("E1", "E2", "E3"))
    assert "its feed ends at B2" in finding.message


def test_a_connector_of_the_wrong_kind_hides_no_weak_fuse() -> None:
    """The fuse that is too small for its fan is no consequence of the connector that is too small for its wires."""
    text = (DESIGNS / "twin-fans.yaml").read_text(encoding="utf-8")
    coils = edited(("F3: {title: relay coils, rating: 3 A", "F3: {title: relay coils, rating: 30 A"), text=text)
    alone = {each.rule for each in mended(coils)}
    assert "fuse-too-large" in alone
    found = mended(edited(("C1: {part: sealed-2-blade", "C1: {part: sealed-2"), text=coils))
    assert {each.rule for each in found} == {"terminal-misfit", *alone}
