"""Contacts, thin wires, tables outside their domain and feeds without a fuse: each on either side of its bound."""

import pytest

from tests.line import examine_text, only, told, underlined

BASE = """\
format: 2
harness: {title: Fan, number: FN-1, revision: A}
route: {battery: {block: 300, horn: 900}}
supplies: {BAT: {voltage: 13.5 V, resistance: 20 mohm, at: battery}}
grounds: {G1: {at: block}}
fuses: {F1: {rating: 30 A, at: battery}}
switches: {SW1: {current: 10 A, at: battery}}
loads: {M1: {kind: resistor, resistance: 2 ohm, at: horn}}
circuits:
  10: {from: BAT, to: F1, color: RD, size: 4 mm2}
  11: {from: F1, to: SW1, color: RD, size: 4 mm2}
  12: {from: SW1, to: M1/1, color: RD, size: 4 mm2}
  90: {from: M1/2, to: G1, color: BK, size: 4 mm2}
states: {fan: {on: SW1}}
"""


def changed(*changes: tuple[str, str]) -> str:
    """The fan with pieces of its text replaced."""
    text = BASE
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


def rules(text: str) -> list[str]:
    """Rules that speak, notes left aside."""
    return [rule for rule, _, _ in told(text)]


def test_a_switch_carries_what_it_may_and_no_more() -> None:
    """13.5 V over 20 mohm of battery, some 20 mohm of wires and fuse, and the load: 9.6 A pass 10 A, 10.7 A do not."""
    assert rules(changed(("resistance: 2 ohm", "resistance: 1.36 ohm"))) == []
    text = changed(("resistance: 2 ohm", "resistance: 1.22 ohm"))
    finding = only(text)
    assert (finding.rule, finding.subject) == ("contact-overload", "SW1")
    carries, allowed = finding.numbers
    assert carries.value == pytest.approx(13.5 / 1.26, rel=0.02)
    assert (allowed.value, allowed.source) == (10.0, "as the design says")
    assert carries.source == "in state fan"


def test_a_contact_in_a_cavity_is_judged_by_its_family() -> None:
    """A 1.5 mm contact carries 14 A (common practice): 13.1 A are silent, 14.6 A told for both cavities of the load."""
    bare = "loads: {M1: {kind: resistor, resistance: 2 ohm, at: horn}}"
    plugged = (
        "connectors: {C1: {part: sealed-2, at: horn}}\nloads: {M1: {kind: resistor, resistance: %s ohm, connector: C1}}"
    )
    more = [("current: 10 A, at: battery", "current: 30 A, at: battery"),
            ("M1/1, color: RD, size: 4 mm2", "M1/1, color: RD, size: 1.5 mm2"),
            ("M1/2, to: G1, color: BK, size: 4 mm2", "M1/2, to: G1, color: BK, size: 1.5 mm2")]  # fmt: skip
    for ohm, subjects in (("0.96", []), ("0.85", ["C1/1", "C1/2"])):
        text = changed((bare, plugged % ohm), *more)
        found = [each for each in examine_text(text).findings if each.rule == "contact-overload"]
        assert sorted(name for each in found for name in each.subjects or (each.subject,)) == subjects


@pytest.mark.parametrize(
    ("zone", "size", "is_told"),
    [
        ("{ambient: 40 degC, on: engine}", "0.5 mm2", False),
        ("{ambient: 40 degC, on: engine}", "0.35 mm2", True),
        ("40 degC", "0.35 mm2", False),
        ("40 degC", "0.22 mm2", True),
    ],
)
def test_the_least_copper_is_a_matter_of_place(zone: str, size: str, is_told: bool) -> None:
    """0.5 mm2 on an engine and 0.35 mm2 elsewhere (common practice), whatever the current."""
    thin = "parts: {wires: {fine: {title: fine wire, system: mm2, rating: 125 degC, source: none, standing: common practice, sizes: {0.22: {area: 0.22 mm2, resistance: 85 mohm/m, diameter: 1.2 mm}, 0.35: {area: 0.35 mm2, resistance: 54 mohm/m, diameter: 1.4 mm}, 0.5: {area: 0.5 mm2, resistance: 37 mohm/m, diameter: 1.6 mm}}}}}\n"  # noqa: E501
    text = changed(
        ("route: {battery: {block: 300, horn: 900}}", f"{thin}zones: {{z: {zone}}}\nroute: {{battery: {{block: 300, horn: {{length: 900, zone: z}}}}}}"),  # noqa: E501
        ("M1/1, color: RD, size: 4 mm2", f"M1/1, color: RD, size: {size}, wire: fine"),
        ("rating: 30 A", "rating: 2 A"),
        ("resistance: 2 ohm", "resistance: 200 ohm"),
    )  # fmt: skip
    found = [each for each in examine_text(text).findings if each.rule == "wire-too-small"]
    assert [each.subject for each in found] == (["12A"] if is_told else [])
    if is_told:
        assert underlined(text, found[0]) == size
        assert found[0].numbers[1].value == (0.5 if "engine" in zone else 0.35)


@pytest.mark.parametrize(
    ("method", "family", "size", "degc", "why"),
    [
        ("boat-table", "boat-105", "10 AWG", 50.0, ""),
        ("boat-table", "boat-105", "10 AWG", 50.1, "it ends at an engine space of 50 degC"),
        ("boat-table", "thin-wall-125", "4 mm2", 30.0, "4 mm2 is none of its sizes"),
        ("aircraft-curves", "aircraft-150", "10 AWG", 120.0, ""),
        ("aircraft-curves", "aircraft-150", "10 AWG", 120.1, "its curves begin where the insulation stands 30 K more"),
        ("space-derating", "aircraft-150", "12 AWG", 70.0, "it is for wires in vacuum"),
    ],
)
def test_each_table_is_refused_outside_its_domain(method: str, family: str, size: str, degc: float, why: str) -> None:
    """33 CFR 183.425 ends at 50 degC, the curves of AC 43.13-1B at 30 K of rise; ECSS-Q-ST-30-11C is for vacuum."""
    text = changed(
        ("resistance: 2 ohm", "resistance: 8 ohm"),
        ("rating: 30 A", "rating: 3 A"),
        ("states:", f"limits: {{ampacity: {method}, ambient: {degc} degC}}\nstates:"),
        ("revision: A", f"revision: A, wire: {family}"),
    ).replace("size: 4 mm2", f"size: {size}")
    found = [each for each in examine_text(text).findings if each.rule == "table-out-of-domain"]
    assert bool(found) is bool(why)
    assert all(f"the {method} says nothing: {why}" in each.message for each in found)
    if degc == 50.1:
        assert [each.value for each in found[0].numbers] == [50.1, 50.0]
    assert all(underlined(text, each) == method for each in found)


@pytest.mark.parametrize(
    ("way", "is_told"),
    [("177.7", False), ("177.9", True), ("{length: 1015.9, covering: glass-10}", False),
     ("{length: 1016.1, covering: glass-10}", True), ("{length: 177.7, covering: conduit-10}", False),
     ("{length: 177.9, covering: conduit-10}", True), ("{length: 177.9, covering: braid-12}", True)],
)  # fmt: skip
def test_a_feed_before_its_fuse_may_be_a_stub(way: str, is_told: bool) -> None:
    """33 CFR 183.455 (b): 7 in (177.8 mm) along the conductor, 40 in (1016 mm) only if contained throughout in a sheath.

    Slit conduit and open braid are no sheath.
    """
    text = changed(
        ("battery: {block: 300, horn: 900}", f"battery: {{block: 300, box: {way}, horn: 900}}"),
        ("fuses: {F1: {rating: 30 A, at: battery}}", "fuses: {F1: {rating: 30 A, at: box}}"),
        ("SW1: {current: 10 A, at: battery}", "SW1: {current: 10 A, at: box}"),
    )
    assert [(rule, subject) for rule, _, subject in told(text)] == ([("unfused-feed", "10A")] if is_told else [])


def test_a_wire_that_stands_all_that_its_supply_gives_needs_no_fuse() -> None:
    """13.5 V behind 20 mohm give 675 A into a short, behind 10 ohm 1.35 A, which 4 mm2 carries for ever."""
    bare = changed(("fuses: {F1: {rating: 30 A, at: battery}}\n", ""), ("  10: {from: BAT, to: F1, color: RD, size: 4 mm2}\n", ""), ("from: F1, to: SW1", "from: BAT, to: SW1"))  # noqa: E501  # fmt: skip
    assert "unfused-feed" in rules(bare)
    assert "unfused-feed" not in rules(bare.replace("resistance: 20 mohm", "resistance: 10 ohm"))
