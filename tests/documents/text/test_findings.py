"""Findings at a terminal: the exact paragraph, carets under the value, and nothing left unsaid."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from harnessgen.documents.text.excerpt import columns_of, underlined
from harnessgen.documents.text.findings import render
from harnessgen.evidence.finding import Finding, NotExamined, Number, Severity, accept, from_fault
from harnessgen.source.place import NOWHERE, Place
from harnessgen.source.reader import read_tree

_DESIGN = """\
zones:
  plenum: 120 degC
banks:
  left:
    feed: {circuit: 21, from: F1, color: RD, size: 0.35 mm2, splice: S1}
"""


def _place(text: str, piece: str, file: str = "designs/six.yaml", pattern: str = "") -> Place:
    start = text.index(piece)
    line = text.count("\n", 0, start) + 1
    column = start - (text.rfind("\n", 0, start) + 1) + 1
    return Place(file, start, start + len(piece), line, column, line, column + len(piece), pattern)


def _overload(pattern: str = "") -> Finding:
    return Finding(
        "wire-overload",
        Severity.ERROR,
        "21A",
        _place(_DESIGN, "0.35 mm2", pattern=pattern),
        "Wire 21A is too thin for the current it carries through the plenum.",
        (
            Number("carries", 9.6, "A", "six injectors, 1.6 A each, all on", 1),
            Number("allowed", 11.25, "A", "0.35 mm2 at 120 degC among 14 wires", 1),
        ),
        "0.75 mm2 (allows 15.2 A), or two feeds of three injectors",
        ((_place(_DESIGN, "120 degC"), "zone plenum is 120 degC"),),
        ("21A", "21B", "21C"),
    )


def test_a_finding_is_one_paragraph() -> None:
    """Rule, place, line with carets, words, deciding numbers, second place, mend and kin stand in one paragraph."""
    assert (
        render([_overload("bank left, load INJ3")], {"designs/six.yaml": _DESIGN})
        == """\
error  wire-overload  designs/six.yaml:5:52
    5 |     feed: {circuit: 21, from: F1, color: RD, size: 0.35 mm2, splice: S1}
      |                                                    ^^^^^^^^
  (pattern of bank left, load INJ3)
  Wire 21A is too thin for the current it carries through the plenum.
      carries    9.6 A    six injectors, 1.6 A each, all on
      allowed   11.2 A    0.35 mm2 at 120 degC among 14 wires
  see   line 2: zone plenum is 120 degC
    2 |   plenum: 120 degC
  mend  0.75 mm2 (allows 15.2 A), or two feeds of three injectors
  also  21B, 21C

1 error, no warnings, no notes; none accepted
not released for cutting, power and running
  cutting, power and running withheld by wire-overload
"""
    )


def test_a_fault_of_the_file_is_shown_like_any_finding() -> None:
    """The reader's own fault has its line, its carets and its second place."""
    text = "fuses:\n  F1: 5 A\n  F1: 10 A\n"
    (fault,) = read_tree("f.yaml", text).faults
    assert (
        render([from_fault(fault)], {"f.yaml": text})
        == """\
error  duplicate-key  f.yaml:3:3
    3 |   F1: 10 A
      |   ^^
  F1 is written twice in the same place.
  see   line 2: F1 stands here first
    2 |   F1: 5 A
  mend  keep one of the two, or give one another name

1 error, no warnings, no notes; none accepted
not released for cutting, power and running
  cutting, power and running withheld by duplicate-key
"""
    )


def test_the_report_is_in_order_and_counts() -> None:
    """Errors come first, accepted findings last with their reason; the last lines count and tell what was not run."""
    place = _place(_DESIGN, "S1")
    listed = [
        accept(_overload(), "bench harness, never in the vehicle"),
        Finding("untested-fault", Severity.NOTE, "S1", NOWHERE, "No test step shows an open at S1."),
        Finding("no-service-slack", Severity.WARNING, "S1", place, "Splice S1 cannot be made again."),
        Finding("orphan-cavity", Severity.ERROR, "C1/3", place, "Cavity C1/3 holds nothing."),
    ]
    missing = [
        NotExamined("over-temperature", "the network has no solution"),
        NotExamined("excess-drop", "the network has no solution"),
        NotExamined("bend-too-tight", "no bundle has a size"),
    ]
    text = render(listed, {"designs/six.yaml": _DESIGN}, missing)
    heads = [line for line in text.splitlines() if line.startswith(("error", "warning", "note"))]
    assert heads == [
        "error  orphan-cavity  designs/six.yaml:5:70",
        "warning  no-service-slack  designs/six.yaml:5:70",
        "note  untested-fault  S1",
        "error, accepted  wire-overload  designs/six.yaml:5:52",
    ]
    assert "\n  accepted  bench harness, never in the vehicle\n" in text
    assert text.endswith("""\

1 error, 1 warning, 1 note; 1 accepted
not examined (the network has no solution): over-temperature, excess-drop
not examined (no bundle has a size): bend-too-tight
not released for cutting, power and running
  cutting, power and running withheld by orphan-cavity, over-temperature and excess-drop
""")


def test_nothing_found_is_said_too() -> None:
    """A design without findings gets one line, and still the rules that were not examined."""
    released = "released for cutting, power and running\n"
    assert render([], {}) == f"no errors, no warnings, no notes; none accepted\n{released}"
    assert render([], {}, [NotExamined("excess-drop", "no route")]) == (
        "no errors, no warnings, no notes; none accepted\nnot examined (no route): excess-drop\n"
        "not released for cutting, power and running\n  cutting, power and running withheld by excess-drop\n"
    )


def test_a_second_place_in_another_file_is_named() -> None:
    """A place in another file is shown with the name of that file."""
    other = "parts:\n  x: 1\n"
    finding = Finding(
        "bad-value", Severity.ERROR, "x", _place(_DESIGN, "S1"), "x is wrong.",
        see=((_place(other, "x: 1", "designs/parts.yaml"), "x stands here"),),
    )  # fmt: skip
    text = render([finding], {"designs/six.yaml": _DESIGN, "designs/parts.yaml": other})
    assert "  see   designs/parts.yaml:2:3: x stands here\n    2 |   x: 1\n" in text


def test_a_file_without_text_is_named_without_its_line() -> None:
    """Where the text is not at hand, or has no such line, the place alone is told."""
    for texts in ({}, {"designs/six.yaml": "short"}):
        assert render([Finding("a", Severity.NOTE, "", _place(_DESIGN, "S1"), "Here.")], texts) == (
            "note  a  designs/six.yaml:5:70\n  Here.\n\nno errors, no warnings, 1 note; none accepted\n"
            "released for cutting, power and running\n"
        )


def _shown(line: str, piece: str, width: int = 100) -> tuple[str, str]:
    return underlined(line, _place(line, piece), width)


@pytest.mark.parametrize(
    ("line", "piece", "shown", "carets"),
    [
        ("a: 18 AWG # x", "18 AWG", "a: 18 AWG # x", "   ^^^^^^"),
        ("\ta: x", "x", "    a: x", "       ^"),
        ("a:\tx y\t", "x y", "a:  x y", "    ^^^"),
        ("漢: é x", "é", "漢: é x", "    ^"),
        ("a: 漢字", "漢字", "a: 漢字", "   ^^^^"),
        ("a: e\u0301x y", "y", "a: e\u0301x y", "      ^"),
        ("a: \x1b[31mx", "x", "a: <U+001B>[31mx", "               ^"),
        ("a: \u202ex y", "y", "a: <U+202E>x y", "             ^"),
    ],
)
def test_carets_stand_under_the_value(line: str, piece: str, shown: str, carets: str) -> None:
    """Tabs, wide and combining characters are counted as a terminal shows them; steering characters are not sent."""
    assert _shown(line, piece) == (shown, carets)


def test_an_empty_value_gets_one_caret() -> None:
    """Where nothing stands, one caret shows the spot, also behind the end of the line."""
    assert underlined("a:", Place("f", 2, 2, 1, 3, 1, 3), 80) == ("a:", "  ^")


def test_a_value_over_several_lines_is_underlined_in_its_first() -> None:
    """A block of several lines is underlined to the end of the line that it begins in."""
    assert underlined("a: [1,  ", Place("f", 3, 20, 1, 4, 3, 2), 80) == ("a: [1,", "   ^^^")


def test_a_long_line_is_cut_around_the_value() -> None:
    """Of a long line the stretch around the value is shown, with dots where it was cut."""
    line = "a: {" + "x: 1, " * 40 + "size: 0.35 mm2" + ", y: 2" * 40 + "}"
    shown, carets = _shown(line, "0.35 mm2", 60)
    assert shown == "..., x: 1, x: 1, x: 1, x: 1, size: 0.35 mm2, y: 2, y: 2, ..."
    assert carets == "                                   ^^^^^^^^"


@settings(deadline=None)
@given(
    before=st.text(st.sampled_from("ab: \t漢é"), max_size=90),
    piece=st.text(st.sampled_from("XYZ字"), min_size=1, max_size=90),
    after=st.text(st.sampled_from("cd, }\t漢"), max_size=90),
    width=st.integers(40, 120),
)
def test_carets_fit_any_line_and_width(before: str, piece: str, after: str, width: int) -> None:
    """The line never exceeds the width, and the carets cover the value, or its beginning where it is too long."""
    shown, carets = _shown(before + piece + after, piece, width)
    assert columns_of(shown) <= width
    offset = len(carets) - len(carets.lstrip())
    count = len(carets) - offset
    kept = ""
    for character in shown:
        if columns_of(kept) >= offset:
            break
        kept += character
    marked = shown[len(kept) :]
    assert columns_of(kept) == offset
    if columns_of(piece) <= width - 6:
        assert marked.startswith(piece)
        assert count == columns_of(piece)
    else:
        assert marked[0] == piece[0]
        assert width - 8 < count <= width


def test_a_file_of_one_endless_line_is_shown_at_once() -> None:
    """A line of megabytes does not take the time of reading it for each finding."""
    line = "a: [" + "x, " * 400_000 + "bad]"
    place = _place(line, "bad")
    # Of one rule only fifty would be listed.
    findings = [Finding(f"rule-{number}", Severity.ERROR, "", place, "bad is wrong.") for number in range(200)]
    assert render(findings, {"designs/six.yaml": line}).count("^^^") == 200


def test_words_from_a_design_cannot_steer_the_terminal() -> None:
    """Characters that move the cursor, change colours or turn the reading direction are not sent on."""
    evil = "\x1b[2J\u202e\x07\r\n"
    finding = Finding(
        evil, Severity.ERROR, evil, _place(_DESIGN, "S1", file=evil, pattern=evil), f"{evil} is wrong.",
        (Number(evil, 1.0, evil, evil),), evil, ((_place(_DESIGN, "S1"), evil),), (evil, evil), accepted=evil,
    )  # fmt: skip
    text = render([finding], {evil: _DESIGN}, [NotExamined(evil, evil)])
    assert not set("\x1b\u202e\x07\r") & set(text)


def test_colour_says_nothing_that_the_words_do_not() -> None:
    """Taking the colours out of the coloured report gives the plain one."""
    texts = {"designs/six.yaml": _DESIGN}
    listed = [_overload(), accept(_overload(), "known")]
    coloured = render(listed, texts, use_colour=True)
    assert "\x1b[1;31merror\x1b[0m" in coloured
    assert re.sub(r"\x1b\[[0-9;]*m", "", coloured) == render(listed, texts)


def test_long_sentences_are_filled_to_the_width() -> None:
    """Sentences, mends and lists are filled to the width of the terminal, under their own beginning."""
    finding = Finding("a", Severity.NOTE, "", NOWHERE, "word " * 30, mend="mend " * 30)
    lines = render([finding], {}, width=60).splitlines()
    assert max(map(len, lines)) <= 60
    assert "        mend mend" in "\n".join(lines)


def test_numbers_are_aligned_at_their_points() -> None:
    """Values stand under one another by their decimal points, units and origins in columns of their own."""
    numbers = (
        Number("needs", 412.5, "mm", "route", 1),
        Number("has", 98.0, "mm", "", 0),
        Number("share", 0.75, "1", "limit"),
    )
    text = render([Finding("a", Severity.NOTE, "x", NOWHERE, "Here.", numbers)], {})
    assert text.splitlines()[2:5] == [
        "      needs   412.5  mm    route",
        "      has      98    mm",
        "      share     0.75       limit",
    ]


def test_an_infinite_number_is_a_word() -> None:
    """A time or a current without end is printed as a word, not as a figure."""
    numbers = (Number("opens after", float("inf"), "s", "below 110 % of the rating"),)
    text = render([Finding("a", Severity.NOTE, "x", NOWHERE, "Here.", numbers)], {})
    assert "      opens after   infinite s    below 110 % of the rating\n" in text
