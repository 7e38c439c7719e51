"""Relays that find no rest."""

from tests.line import edited, line_of, on_studs, only, physics_of, told, underlined

BUZZER = (
    ("relays:\n", "relays:\n  K2: {part: plug-in-change-over, at: relay, terminal: ring-m5}\n"),
    (
        "  90: {from: C1/1",
        "  41: {from: F3, to: K2/30, color: RD, size: 1}\n  42: {from: K2/87a, to: K2/86, color: GN, size: 1}\n"
        "  43: {from: K2/85, to: G1, color: BK, size: 1}\n  90: {from: C1/1",
    ),
)


def test_a_coil_through_its_own_rest_contact_chatters() -> None:
    """A relay that cuts its own coil is told in the first state, with what its coil gets and what it needs."""
    text = on_studs(edited(*BUZZER))
    finding = only(text)
    assert (finding.rule, finding.subject, underlined(text, finding)) == ("relay-unsettled", "K2", "K2")
    assert finding.place.line == line_of(text, "K2: {part")
    assert finding.message == "K2 neither holds nor falls off for good in state parked."
    gets, pulls = finding.numbers
    assert (gets.value, gets.source, pulls.value, pulls.unit) == (0.0, "once it has pulled in", 8.0, "V")
    assert pulls.source.endswith("common practice, no source")


def test_a_relay_that_holds_itself_finds_rest() -> None:
    """A coil fed through its own make contact rests in either position; that nothing lets it go is another matter."""
    latch = on_studs(edited(*BUZZER)).replace("K2/87a, to: K2/86", "K2/87, to: K2/86")
    assert [rule for rule, _, _ in told(latch)] == ["open-circuit"]
    started = edited(
        ("42: {from: K2/87", "44: {from: S6, to: K2/86, color: GN, size: 1}\n  42: {from: K2/87"), text=latch
    )
    assert {rule for rule, _, _ in told(started)} == {"relay-stays-on"}


def test_a_short_is_told_and_not_the_relay_it_drops() -> None:
    """A relay whose contact shorts a weak supply drops for want of voltage, again and again; the short is told."""
    text = edited(
        ("resistance: 8 mohm", "resistance: 100 mohm"),
        ("  90: {from: C1/1", "  41: {from: K1/87, to: G1, color: RD, size: 2.5}\n  90: {from: C1/1"),
    )
    assert not all(point.is_at_rest for point in physics_of(text).points.values())
    assert {rule for rule, _, _ in told(on_studs(text))} == {"short-circuit"}
