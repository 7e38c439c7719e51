"""Cavities of the flat six with a wire and no device, or a device and no wire."""

from tests.line import circuits, edited, examine_text, line_of, on_studs, only, told, underlined


def test_a_wire_to_a_cavity_behind_which_nothing_stands_is_told() -> None:
    """The finding points at the end that names the cavity."""
    text = on_studs(edited(circuits("40: {from: F3, to: C1/5, color: RD, size: 0.75}")))
    finding = only(text)
    assert (finding.rule, finding.subject, underlined(text, finding)) == ("orphan-cavity", "C1/5", "C1/5")
    assert finding.place.line == line_of(text, "40: {from: F3")
    assert finding.message == "Wire 40A ends in C1/5, and nothing stands behind that cavity."
    assert finding.proposals == ()


def test_a_terminal_behind_a_cavity_without_a_wire_is_told() -> None:
    """An output that is declared and not wired, at the place that names its cavity."""
    text = edited(("drivers:\n", "drivers:\n  Q3: {terminals: {out: C1/16, ground: C1/1}}\n"))
    finding = only(text)
    assert (finding.subject, underlined(text, finding)) == ("C1/16", "C1/16")
    assert finding.message == "C1/16 has no wire, and terminal out of Q3 stands behind it."


def test_a_wire_one_cavity_off_is_offered_the_empty_one() -> None:
    """The wire of an output sits one cavity beside it: one finding, with a move to try."""
    text = edited(("to: C1/15, through: C10/4", "to: C1/16, through: C10/4"))
    orphans = [each for each in examine_text(text).findings if each.rule == "orphan-cavity"]
    assert told(text) == [("orphan-cavity", line_of(text, "to: C1/16"), "C1/16")]
    assert [(each.subjects, [one.text for one in each.proposals]) for each in orphans] == [
        (("C1/16", "C1/15"), ["C1/15"])
    ]
    assert orphans[0].see[0][1] == "terminal out of Q2 stands behind C1/15, which has no wire"


def test_a_ground_without_a_wire_is_offered_the_one_that_the_other_output_has() -> None:
    """Two outputs of a controller share its ground: the other's cavity is offered first, in place of the empty one."""
    text = edited(("{out: C1/15, ground: C1/1}", "{out: C1/15, ground: C1/9}"))
    finding = next(each for each in examine_text(text).findings if each.rule == "orphan-cavity")
    first = finding.proposals[0]
    assert (finding.subject, first.text) == ("C1/9", "C1/1")
    assert text[first.place.start : first.place.end] == "C1/9"
    assert first.words == "C1/1 in place of C1/9, as Q1 has it"


def test_a_ground_in_another_connector_is_not_offered() -> None:
    """A wired ground of an output that has a connector of its own is no place for this one's terminal."""
    text = edited(
        ("{out: C1/15, ground: C1/1}", "{out: C1/15, ground: C1/9}"),
        ("drivers:\n", "drivers:\n  Q3: {terminals: {out: C1/16, ground: C2/2}}\n"),
    )
    finding = next(each for each in examine_text(text).findings if each.subject == "C1/9")
    assert [each.text for each in finding.proposals if " in place of " in each.words] == ["C1/1"]


def test_a_connector_that_no_device_uses_is_one_finding() -> None:
    """All wires of a connector behind which nothing stands are told together, at the connector."""
    text = on_studs(
        edited(
            ("  C2: {part", "  C3: {part: sealed-2, at: key}\n  C2: {part"),
            circuits("40: {from: F3, to: C3/1, color: RD, size: 1}", "41: {from: F3, to: C3/2, color: RD, size: 1}"),
        )
    )
    finding = only(text)
    assert (finding.subject, finding.subjects, underlined(text, finding)) == ("C3/1", ("C3/1", "C3/2"), "C3")
    assert finding.message == "A wire ends in C3/1, and no device stands behind C3."


def test_a_free_throw_of_a_relay_is_silent() -> None:
    """A change-over relay behind a connector may leave one throw without a wire, and not both."""
    relay = edited(
        ("relays:\n", "relays:\n  K2: {part: plug-in-change-over, connector: C3}\n"),
        ("  C2: {part", "  C3: {part: relay-socket, at: relay}\n  C2: {part"),
        circuits(
            "41: {from: K1/87, to: C3/30, color: RD, size: 2.5}",
            "42: {from: S6, to: C3/86, color: RD, size: 1}",
            "43: {from: C3/85, to: G1, color: BK, size: 1}",
        ),
    )
    relay += (
        "parts: {connectors: {relay-socket: {title: socket, ways: 5, cavities: [30, 85, 86, 87, 87a],"
        " contact: tab-6.3, rating: 125 degC}}}\n"
    )
    orphans = [subject for rule, _, subject in told(relay) if rule == "orphan-cavity"]
    assert sorted(orphans) == ["C3/87", "C3/87a"]
    one = edited(circuits("44: {from: C3/87, to: H1/1, color: RD, size: 2.5}"), text=relay)
    one = edited(
        ("loads:\n  ECU", "loads:\n  H1: {resistance: 10 ohm, at: block}\n  ECU"),
        circuits("45: {from: H1/2, to: G1, color: BK, size: 1}"),
        text=one,
    )
    assert told(on_studs(one)) == []


def test_a_half_of_a_disconnect_is_left_to_its_mate() -> None:
    """A wire that ends in a half with nothing on the other side is no orphan."""
    text = on_studs(edited(circuits("40: {from: F3, to: C10s/5, color: RD, size: 0.75}")))
    assert [rule for rule, _, _ in told(text)] == ["mate-mismatch"]
