"""One cause is told once: what is gone by its mend is left out, and what stands after it is told."""

from pathlib import Path

import pytest

from harnessgen.evidence.finding import Finding
from harnessgen.remedies.mends import with_mends
from tests.line import MAIN, beyond_notes, circuits, edited, examine_text, line_of

COLLISION = ("to: C1/14, through: C10/3", "to: C1/14, through: C10/2")
WEAK_OUTPUT = ("Q2: {title: output B, current: 5 A", "Q2: {title: output B, current: 1 A")

DESIGNS = Path(__file__).parents[2] / "designs"
TRAILER = (DESIGNS / "trailer.yaml").read_text(encoding="utf-8")

CROSSED = """\
format: 1
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
        " or C10/3 in place of C10/2 for circuit 31: no wire is there;"
        " this mends short-circuit (31A) and sneak-path (INJ1) too"
    )
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
    assert finding.mend.startswith("31A to C1/14 in place of C1/15: terminal out of Q1 has no wire yet; this mends ")


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


def test_a_family_that_does_not_stand_the_heat_is_one_finding() -> None:
    """All wires in a zone that the design's family does not stand are mended by one word, and told once."""
    hot = edited(("  boot: 50", "  boot: 130"), text=TRAILER)
    (finding,) = [each for each in mended(hot) if each.place.line == line_of(hot, "30: {from: BAT")]
    assert (finding.rule, finding.subject) == ("over-temperature", "30A")
    assert {"31A", "33A", "1A"} < set(finding.subjects)
    assert finding.mend == "wire: thin-wall-175 for the whole design"
    cooler = edited(("  wire: thin-wall-125", "  wire: thin-wall-175"), text=hot)
    assert not [each for each in mended(cooler) if "insulation" in each.message]


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


COIL = "41: {from: SW1, to: [K1/86, K2/86]"
THIN_FAN = "21: {from: K1/87, to: M1/1, color: RD/GN, size: 6 mm2}"


@pytest.mark.parametrize(
    ("design", "good", "bad", "rule", "mend"),
    [
        ("twin-fans", COIL, COIL.replace("K1/86", "K1/85"), "short-circuit", "K1/86 in place of K1/85 for 41B: "),
        ("twin-fans", THIN_FAN, THIN_FAN.replace("6 mm2", "1 mm2"), "terminal-misfit", "6 mm2 for 21A; "),
        ("twin-fans", "C1: {part: sealed-2-blade", "C1: {part: sealed-2", "terminal-misfit", "sealed-2-blade for C1; "),
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


def test_a_connector_of_the_wrong_kind_hides_no_weak_fuse() -> None:
    """The fuse that is too small for its fan is no consequence of the connector that is too small for its wires."""
    text = (DESIGNS / "twin-fans.yaml").read_text(encoding="utf-8")
    coils = edited(("F3: {title: relay coils, rating: 3 A", "F3: {title: relay coils, rating: 30 A"), text=text)
    (alone,) = mended(coils)
    found = mended(edited(("C1: {part: sealed-2-blade", "C1: {part: sealed-2"), text=coils))
    assert sorted(each.rule for each in found) == sorted(("terminal-misfit", alone.rule))
