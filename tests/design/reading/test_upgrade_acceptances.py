"""What `upgrade` adds to acceptances of an earlier file: what they lack to cover what the design finds today."""

from pathlib import Path

from harnessgen.run import upgrade
from tests.line import MAIN, examine_text, text_of

THIN = (Path(__file__).parents[3] / "designs" / "faulty" / "fan-thin-feed.yaml").read_text(encoding="utf-8")
INLINE = "accept:   # what we know\n  - {rule: wire-overload, subject: 90A, reason: known}   # short runs\n"
LINES = "accept:\n  - rule: wire-overload\n    subject: 90A   # the leg\n    reason: known\n"


def upgraded(text: str) -> str:
    """The text in the present format."""
    return upgrade(MAIN, text_of({MAIN: text})).texts[MAIN]


def test_an_acceptance_gets_state_figure_and_limit() -> None:
    """Before the reason, on the same line inside braces, else line by line; remarks stay, and it covers again."""
    old = THIN.replace("format: 2", "format: 1") + "\n"
    inside = "state: hot, up-to: 13.37 A, limit: 13.25 A, reason: known}   # short runs"
    lines = "subject: 90A   # the leg\n    state: hot\n    up-to: 13.37 A\n    limit: 13.25 A\n    reason: known\n"
    for block, wanted in ((INLINE, inside), (LINES, lines)):
        new = upgraded(old + block)
        assert wanted in new
        assert "format: 2" in new
        assert [each.accepted for each in examine_text(new).findings] == ["known"]
        assert [each.accepted for each in examine_text(THIN + "\n" + block).findings] == [None]


def test_what_says_all_already_stays() -> None:
    """A second run changes nothing; nor does one over an acceptance that meets nothing, or of a faulty file."""
    once = upgraded(THIN + "\n" + INLINE)
    assert upgraded(once) == once
    for text in (THIN + "\n" + INLINE.replace("90A", "91A"), THIN.replace("color:", "colour:") + "\n" + INLINE):
        assert upgraded(text) == text
        assert upgrade(MAIN, text_of({MAIN: text})).changed == ()


def test_several_states_become_any_with_the_worst_figure() -> None:
    """Accepted in every state before, so still in every state, and no further than today."""
    text = THIN.replace("  hot: {on: SW1}", "  hot: {on: SW1}\n  low: {on: SW1, supply: normal}")
    new = upgraded(text.rstrip("\n") + "\n" + INLINE)
    assert "state: any, up-to: " in new
    for one in (new, new.replace("state: any", "state: hot")):
        overloads = [each for each in examine_text(one).findings if each.rule == "wire-overload"]
        # Accepted in one state alone, the other is told: the wire is too thin in it as well.
        assert [each.accepted for each in overloads] == (["known"] if one == new else [None, "known"])
