"""Remedies for a wire that is too short by a known amount: which, by how much, and that they work when applied."""

import math
from collections.abc import Iterable

import pytest

from harnessgen.lengths.too_short.remedies import recut_list, remedies
from harnessgen.lengths.too_short.trial import Edit, Remedy, RemedyKind
from harnessgen.physics.physics import Physics
from harnessgen.rules.reach import leg_too_short
from tests.lengths.designs import changed, length_of, wire_of
from tests.line import FLAT_SIX, edited, examine_text, physics_of

CONNECTOR = "C1: {part: sealed-2, at: v1}"
NEEDED_MM = 40 + 120 + 15 + 12
DOUBT_MM = 2 * math.hypot(6 * 40 / 500, 3) / math.sqrt(3)


def short_by(short_mm: float, *changes: tuple[str, str]) -> str:
    """The feed with 20B cut so that it is too short by this much, 3 mm of cutting tolerance included."""
    cut_mm = NEEDED_MM + DOUBT_MM + 3 - short_mm
    return changed(("{from: S1, to: V1/1}", f"{{from: S1, to: V1/1, cut: {cut_mm:.3f} mm}}"), *changes)


def remedies_in(text: str, mark: str = "20B") -> dict[RemedyKind, Remedy]:
    """The remedies of one wire by their kind, each of which occurs once."""
    physics = physics_of(text)
    found = remedies(physics.network, physics.lengths, wire_of(physics, mark))
    assert len({each.kind for each in found}) == len(found)
    return {each.kind: each for each in found}


def applied(text: str, edits: Iterable[Edit]) -> str:
    """The text with all edits of a spelling made."""
    for edit in sorted(edits, key=lambda each: -each.place.start):
        text = text[: edit.place.start] + edit.text + text[edit.place.end :]
    return text


def cured(text: str, remedy: Remedy, mark: str = "20B") -> Physics:
    """The physics after the first spelling of a remedy that the file takes, which clears the finding and adds none."""
    rules = {"leg-too-short", "bad-value", "missing-key", "unknown-reference"}
    for spelling in remedy.spellings:
        after = applied(text, spelling)
        examination = examine_text(after)
        if any(each.rule == "leg-too-short" for each in examination.not_examined):
            continue
        assert [each.message for each in examination.findings if each.rule in rules] == []
        physics = physics_of(after)
        change_mm = length_of(physics, mark).needed_mm - length_of(physics_of(text), mark).needed_mm
        if remedy.kind is not RemedyKind.LENGTHEN:
            assert -change_mm == pytest.approx(remedy.gain_mm, abs=0.051)
        return physics
    raise AssertionError(f"no spelling of {remedy.words} can be read")


@pytest.mark.parametrize("short_mm", [0.2, 13.5, 27.3])
def test_the_shortfall_is_told_to_a_tenth(short_mm: float) -> None:
    """A leg that is short by a known amount is told short by that amount."""
    (finding,) = leg_too_short.check(physics_of(short_by(short_mm)))
    needed, available = finding.numbers
    assert needed.value - available.value == pytest.approx(short_mm, abs=0.001)
    assert f"is {short_mm:.1f} mm too short" in finding.message


def test_without_freedom_the_wire_is_cut_anew_or_its_splice_moved() -> None:
    """13.5 mm: 14 mm on the splice, towards b1; the trunk needs as much more, and the other leg less."""
    text = short_by(13.5)
    found = remedies_in(text)
    assert list(found) == [RemedyKind.LENGTHEN, RemedyKind.MOVE_SPLICE]
    splice = found[RemedyKind.MOVE_SPLICE]
    assert splice.words == ("move S1 14 mm towards b1 (wins 14.0 mm; 20A needs 14.0 mm more, 20C needs 14.0 mm less)")
    assert {each.mark: round(each.change_mm, 6) for each in splice.effects} == {"20A": 14, "20B": -14, "20C": -14}
    for remedy in found.values():
        cured(text, remedy)


def test_with_freedom_the_connector_is_turned_just_enough() -> None:
    """Square to its leg of 120 mm, a face at 30 mm from the axis wins 13.5 mm by so many whole degrees and no fewer."""
    text = short_by(13.5, (CONNECTOR, "C1: {part: sealed-2, at: v1, reach: {turn: 60 deg, radius: 30 mm}}"))
    turn = remedies_in(text)[RemedyKind.TURN]
    axis = math.sqrt(120**2 - 30**2)

    def gain(degrees: int) -> float:
        return 120 - math.sqrt(axis**2 + 30**2 - 2 * axis * 30 * math.cos(math.radians(90 - degrees)))

    least = next(degrees for degrees in range(61) if gain(degrees) >= 13.5)
    assert turn.words.startswith(f"turn C1 towards its breakout, turned: {least} deg (wins {gain(least):.1f} mm")
    physics = cured(text, turn)
    # Both wires of the connector gain.
    assert {each.mark for each in turn.effects} == {"20B", "31A"}
    assert length_of(physics, "31A").needed_mm == pytest.approx(932 - gain(least))


@pytest.mark.parametrize(
    "reach",
    ["{turn: 20 deg, radius: 30 mm}", "{turn: 60 deg, radius: 30 mm, bearing: 0 deg}", "{move: 13 mm}", "{}"],
)
def test_freedom_that_does_not_suffice_is_not_offered(reach: str) -> None:
    """Too small an angle, a connector that faces its breakout already, a bracket that is short, none at all."""
    text = short_by(13.5, (CONNECTOR, f"C1: {{part: sealed-2, at: v1, reach: {reach}}}"))
    assert list(remedies_in(text)) == [RemedyKind.LENGTHEN, RemedyKind.MOVE_SPLICE]


def test_a_bracket_is_moved_by_what_is_missing() -> None:
    """In whole millimetres where there is room, else in tenths."""
    for move, moved in (("20 mm", "14 mm"), ("13.6 mm", "13.5 mm")):
        text = short_by(13.499, (CONNECTOR, f"C1: {{part: sealed-2, at: v1, reach: {{move: {move}}}}}"))
        bracket = remedies_in(text)[RemedyKind.MOVE_BRACKET]
        assert bracket.words.startswith(f"move C1 towards its breakout, moved: {moved} (wins")
        cured(text, bracket)


def test_remedies_can_be_written_in_blocks() -> None:
    """A reach and a splice that stand on lines of their own are changed there."""
    text = short_by(
        13.5,
        (CONNECTOR, "C1:\n    part: sealed-2\n    at: v1\n    reach:\n      turn: 60 deg\n      radius: 30 mm"),
        ("splices: {S1: {at: b1, offset: 40 mm, toward: battery}}", "splices:\n  S1:\n    at: b1"),
    )
    # The splice sits at b1 now, and 20B is 40 mm too long for that; cut it as much shorter.
    cut_mm = 120 + 27 + 2 * 3 / math.sqrt(3) + 3 - 13.5
    text = text.replace(text[text.index("cut: ") : text.index(" mm}", text.index("cut: "))], f"cut: {cut_mm:.3f}")
    found = remedies_in(text)
    assert {RemedyKind.TURN, RemedyKind.MOVE_SPLICE} <= set(found)
    for remedy in found.values():
        cured(text, remedy)


def test_a_splice_in_short_form_is_moved() -> None:
    """`S1: b1` becomes a mapping; the leg to the other valve and the trunk pay for it."""
    text = changed(
        ("{S1: {at: b1, offset: 40 mm, toward: battery}}", "{S1: b1}"),
        ("{from: S1, to: V1/1}", "{from: S1, to: V1/1, cut: 140 mm}"),
    )
    splice = remedies_in(text)[RemedyKind.MOVE_SPLICE]
    assert splice.words.startswith("move S1 14 mm towards v1 (wins 14.0 mm; 20A needs 14.0 mm more, 20C needs 14.0")
    cured(text, splice)


def test_a_splice_stays_on_its_stretch() -> None:
    """40 mm on from b1 it cannot come 40 mm nearer to the leg without passing the breakout."""
    assert list(remedies_in(short_by(40.5))) == [RemedyKind.LENGTHEN]


def test_no_remedy_makes_another_wire_short() -> None:
    """Where the trunk is there already and just reaches, its splice is not moved away from it."""
    trunk = "{from: F1, to: S1}"
    reaches = 475 + 2 * 6 * 460 / 500 / math.sqrt(3)
    tight = short_by(13.5, (trunk, f"{{from: F1, to: S1, have: {reaches + 5:.2f} mm}}"))
    assert list(remedies_in(tight)) == [RemedyKind.LENGTHEN]
    loose = short_by(13.5, (trunk, f"{{from: F1, to: S1, have: {reaches + 15:.2f} mm}}"))
    splice = remedies_in(loose)[RemedyKind.MOVE_SPLICE]
    (margin,) = [each.margin_mm for each in splice.effects if each.mark == "20A"]
    assert margin is not None
    assert 0 < margin < 1
    cured(loose, splice)


def test_a_measured_wire_is_cut_anew() -> None:
    """What was measured on the wire is mended by a new one, on the bench's step and with the shop's tolerance."""
    text = changed(("{from: S1, to: V1/1}", "{from: S1, to: V1/1, have: 175 +/- 2 mm}"))
    longer = remedies_in(text)[RemedyKind.LENGTHEN]
    assert longer.words == "a new wire, cut to 195 mm"
    cured(text, longer)
    assert recut_list(physics_of(text).network, physics_of(text).lengths) == (("20B", 175.0, 195.0),)


def test_a_breakout_moves_by_the_angle_at_which_its_legs_leave() -> None:
    """Both legs leave b1 square: moved back by d, the trunk is d shorter, a leg of 120 mm sqrt(120^2 + d^2)."""
    text = changed(
        (
            "b1: {v1: 120 +/- 3, v2: 200 +/- 3}",
            "b1: {v1: {length: 120 +/- 3, leaves: 90}, v2: {length: 200, leaves: 0}}",
        ),
        ("{S1: {at: b1, offset: 40 mm, toward: battery}}", "{S1: {at: battery, offset: 20, toward: b1}}"),
        ("{from: S1, to: V1/1}", "{from: S1, to: V1/1, cut: 610 mm}"),
    )
    short_mm = -length_of(physics_of(text), "20B").margin_mm
    move = remedies_in(text)[RemedyKind.MOVE_BREAKOUT]
    least = next(tenths / 10 for tenths in range(5000) if tenths / 10 + 120 - math.hypot(120, tenths / 10) >= short_mm)
    (said,) = [float(word) for word in move.words.split() if word.replace(".", "").isdecimal()][:1]
    assert least <= said <= least + 0.5
    assert "towards battery" in move.words
    physics = cured(text, move)
    # The other leg goes straight on from the trunk: what the trunk loses it gains.
    assert length_of(physics, "20C").needed_mm == pytest.approx(length_of(physics_of(text), "20C").needed_mm, abs=0.11)


def test_a_breakout_moves_in_space() -> None:
    """With coordinates the breakout moves straight towards a neighbour, as little as will do."""
    text = changed(
        (
            "points: {}",
            "points: {battery: {x: 0, y: 0}, b1: {x: 400, y: 300}, v1: {x: 400, y: 100}, v2: {x: 500, y: 300}}",
        ),
        ("b1: 500 +/- 6", "b1: {path-factor: 1}"),
        ("b1: {v1: 120 +/- 3, v2: 200 +/- 3}", "b1: {v1: {path-factor: 1}, v2: {path-factor: 1}}"),
        ("{S1: {at: b1, offset: 40 mm, toward: battery}}", "{S1: {at: battery, offset: 20, toward: b1}}"),
        ("{from: S1, to: V1/1}", "{from: S1, to: V1/1, cut: 690 mm}"),
    )
    before = length_of(physics_of(text), "20B")
    assert before.needed_mm == pytest.approx(500 - 20 + 200 + 27)
    short_mm = -before.margin_mm
    move = remedies_in(text)[RemedyKind.MOVE_BREAKOUT]
    after = length_of(cured(text, move), "20B")
    assert short_mm <= before.needed_mm - after.needed_mm < short_mm + 1.5


def test_a_bank_whose_connectors_share_a_reach_turns_them_alike() -> None:
    """The pattern of the bank is one text, so that one change turns every connector of it."""
    text = edited(
        (
            "connector: {part: sealed-2, first: C21}",
            "connector: {part: sealed-2, first: C21, reach: {turn: 90, radius: 25}}",
        ),
        ("INJ2: {at: left-2,", "INJ2: {at: left-2, feed: {cut: 320 mm},"),
        text=FLAT_SIX,
    )
    turn = remedies_in(text, "21D")[RemedyKind.TURN]
    assert turn.words.startswith("turn each of C21, C22, C23 towards its breakout, turned: ")
    cured(text, turn, "21D")


def test_a_wire_that_reaches_has_no_remedy() -> None:
    """Nothing is offered where nothing is wrong."""
    physics = physics_of(short_by(-0.1))
    assert remedies(physics.network, physics.lengths, wire_of(physics, "20B")) == ()
    assert recut_list(physics.network, physics.lengths) == ()
