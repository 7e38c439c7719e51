"""What the reader refuses: each fault at its place and in the builder's words, with either YAML parser."""

import pytest
import yaml

from harnessgen.source import reader
from harnessgen.source.fault import Fault
from harnessgen.source.reader import Mapping, read_tree

_PARSERS = {"libyaml": yaml.CSafeLoader, "plain": yaml.SafeLoader}
_MISPLACED = "this does not continue what stands before it; look at the indentation, quotes and brackets"
_GO_ON = "mend the line; what follows it could not be read"


@pytest.fixture(autouse=True, params=_PARSERS)
def _either_parser(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Each promise holds with libyaml and with the parser that is plain Python."""
    monkeypatch.setattr(reader, "_Parser", _PARSERS[request.param])


def _faults(text: str) -> tuple[Fault, ...]:
    return read_tree("design.yaml", text).faults


def _told(fault: Fault) -> tuple[str, int, int, str]:
    return fault.rule, fault.place.line, fault.place.column, fault.message


@pytest.mark.parametrize(
    ("text", "line", "column", "problem"),
    [
        ("a:\n\tb: 1\n", 2, 1, "a tab stands where spaces are needed"),
        ("a: 1\n\t\nb: 2\n", 2, 1, "a tab stands where spaces are needed"),
        ("a: [1, 2\n", 1, 4, "a comma or the closing bracket is missing"),
        ("a: {b: 1\n", 1, 4, "a comma or the closing bracket is missing"),
        ("a: 'x\nb: 1\n", 1, 4, "a quotation mark opens here and never closes"),
        ('a: "x\nb: 1\n', 1, 4, "a quotation mark opens here and never closes"),
        ("a: 'x\n---\n", 1, 4, "a quotation mark opens here and never closes"),
        ('a: "\\q"\n', 1, 4, "a backslash between double quotes begins an escape; use single quotes"),
        ("a: 1: 2\n", 1, 5, "a second ': ' stands in this line; put the text in quotes"),
        ("a: 1\n  b: 2\n", 2, 4, "a key stands where the value above it goes on; look at the indentation"),
        ("a: @x\n", 1, 4, "@ cannot begin a value; put the value in quotes"),
        ("a: `x\n", 1, 4, "` cannot begin a value; put the value in quotes"),
        ("a: 1\nb\nc: 2\n", 2, 1, "no ': ' follows this key"),
        ("a: !x!y 1\n", 1, 4, "a tag (!) stands before this value"),
        ("a: 1\n...\nb: 2\n", 3, 1, "text stands behind the end of the document"),
        ("a: 1\n- b\n", 2, 1, _MISPLACED),
        ("- a\nb: 1\n", 2, 1, _MISPLACED),
        ("a: 'x'y\n", 1, 7, _MISPLACED),
        ("a: \x00\n", 1, 4, "the character U+0000 cannot stand in a text file"),
        ("é: x\nb: y\x07\n", 2, 5, "the character U+0007 cannot stand in a text file"),
        ("a: \ud83d\n", 1, 4, "the character U+D83D cannot stand in a text file"),
        ("a: x\u2028y\n", 1, 5, "the character U+2028 (line separator) cannot stand in a text file"),
        ("a: x\x85y\n", 1, 5, "the character U+0085 cannot stand in a text file"),
        ("a: \ufeffx\n", 1, 4, "the character U+FEFF (zero width no-break space) cannot stand in a text file"),
        ("a: x\u202ey\n", 1, 5, "the character U+202E (right-to-left override) cannot stand in a text file"),
        ("a: x # \u200b\n", 1, 8, "the character U+200B (zero width space) cannot stand in a text file"),
        ("a: \U000e0041\n", 1, 4, "the character U+E0041 (tag latin capital letter a) cannot stand in a text file"),
        ("a: \x7f\n", 1, 4, "the character U+007F cannot stand in a text file"),
        ("[" * 41 + "]" * 41 + "\n", 1, 41, "it is nested more than 40 levels deep"),
        ("\ufeffa: @x\r\n", 1, 4, "@ cannot begin a value; put the value in quotes"),
    ],
)  # fmt: skip
def test_a_break_in_the_text_is_told_where_it_is(text: str, line: int, column: int, problem: str) -> None:
    """A text that cannot be read further gives one fault, where a person would look, in words without YAML's own."""
    tree = read_tree("design.yaml", text)
    assert (tree.root, tree.is_broken) == (None, True)
    assert [_told(each) for each in tree.faults] == [
        ("syntax", line, column, f"The text cannot be read here: {problem}.")
    ]
    assert tree.faults[0].mend == _GO_ON


def test_a_missing_bracket_is_told_at_the_line_that_opens_it() -> None:
    """A bracket that lacks its fellow fails lines below; the line to mend is the one that opens it."""
    (fault,) = _faults("a: [1, 2\nb: 3\n")
    words = "The text cannot be read here: a comma or the closing bracket is missing, of what opens here."
    assert _told(fault) == ("syntax", 1, 4, words)
    assert fault.also is not None
    place, words = fault.also
    assert (place.line, place.column, words) == (2, 2, "it was read on to here")


def test_a_missing_comma_within_a_line_is_told_there() -> None:
    """Where the line itself holds both, the fault is where the comma is missing, and shows the bracket."""
    (fault,) = _faults("a: {b: 1 c: 3}\n")
    assert _told(fault)[:2] == ("syntax", 1)
    assert fault.also is not None
    assert (fault.also[0].line, fault.also[0].column, fault.also[1]) == (1, 4, "the bracket opens here")


def test_a_bracket_too_many_is_told() -> None:
    """A closing bracket that nothing opens is called that."""
    (fault,) = _faults("a: {b: 1}}\nb: 3\n")
    assert _told(fault) == (
        "syntax",
        1,
        10,
        "The text cannot be read here: } closes a bracket here that nothing opens.",
    )


@pytest.mark.parametrize("quote", ['"', "'"])
def test_a_lone_quotation_mark_is_told_where_it_opens(quote: str) -> None:
    """The quotation mark that lacks its fellow is told, though the text fails at the next one, lines below."""
    text = f"a: {{b: {quote}left, c: 1}}\nd: {{e: 2}}\n# it's\nf: {{g: {quote}right{quote}, h: 3}}\n"
    (fault,) = _faults(text)
    assert _told(fault) == (
        "syntax", 1, 8, "The text cannot be read here: a quotation mark opens here and never closes."
    )  # fmt: skip
    (end,) = _faults(f"a: 1\nb: {quote}never\nc: 2\n")
    assert _told(end)[1:3] == (2, 4)


def test_quotes_that_close_are_not_blamed() -> None:
    """Marks inside words and remarks, doubled ones and a text over two lines are no lone quotation marks."""
    for sound in ("a: it's", "a: 'it''s'", 'a: "say \\"b\\""', "# don't", "a: [6\", 'b']"):
        (fault,) = _faults(f"{sound}\nb: [1\nc: 2\n")
        assert _told(fault)[1:3] == (2, 4)


def test_forty_levels_are_read() -> None:
    """The deepest nesting that is allowed is read without a fault."""
    assert _faults("[" * 40 + "]" * 40 + "\n") == ()


def test_endless_nesting_is_refused_without_end_of_memory() -> None:
    """A text of many thousand brackets is one fault, not a crash."""
    assert len(_faults("- " * 20000)) == 1
    assert len(_faults("[" * 1000)) == 1


def test_a_key_written_twice_shows_both_places() -> None:
    """The second use of a key is the fault, the first is shown with it, and the first value stands."""
    tree = read_tree("design.yaml", "fuses:\n  F1: 5 A\n  F2: 7.5 A\n  F1: 10 A\n")
    (fault,) = tree.faults
    assert _told(fault) == ("duplicate-key", 4, 3, "F1 is written twice in the same place.")
    assert (fault.mend, fault.subject) == ("keep one of the two, or give one another name", "F1")
    assert fault.also is not None
    assert (fault.also[0].line, fault.also[0].column, fault.also[1]) == (2, 3, "F1 stands here first")
    assert isinstance(tree.root, Mapping)
    assert tree.root.entries["fuses"].value.entries["F1"].value.text == "5 A"  # type: ignore[union-attr]


def test_the_same_key_elsewhere_is_no_fault() -> None:
    """Keys are only compared inside their own mapping."""
    assert _faults("a: {x: 1}\nb: {x: 2}\nx: 3\n") == ()


def test_quoted_and_plain_spellings_of_a_key_are_the_same_key() -> None:
    """Quotes around a key do not make it another one."""
    assert [each.rule for each in _faults("'a': 1\na: 2\n")] == ["duplicate-key"]


@pytest.mark.parametrize(
    ("text", "column", "message", "mend"),
    [
        ("a: &leg 1\n", 4, "An anchor (&leg) stands before this value.",
         "take it out; every value is written where it is used, and its key says what it is"),
        ("a: *leg\n", 4, "An alias (*leg) stands for a value written elsewhere.",
         "write the value itself; a bank repeats a leg for many loads"),
        ("a: !!int 010\n", 4, "A tag (tag:yaml.org,2002:int) stands before this value.",
         "take it out; every value is written where it is used, and its key says what it is"),
        ("a: !length 5\n", 4, "A tag (!length) stands before this value.",
         "take it out; every value is written where it is used, and its key says what it is"),
        ("a: &m {b: 1}\n", 4, "An anchor (&m) stands before this value.",
         "take it out; every value is written where it is used, and its key says what it is"),
        ("<<: {b: 1}\n", 1, "A merge key (<<) stands here.",
         "write the keys out; a bank repeats a leg for many loads"),
    ],
)  # fmt: skip
def test_what_would_hide_a_value_is_refused(text: str, column: int, message: str, mend: str) -> None:
    """Anchors, aliases, tags and merge keys are faults at their own place; the rest of the file is read."""
    tree = read_tree("design.yaml", text + "z: 1\n")
    (fault,) = tree.faults
    assert (*_told(fault), fault.mend) == ("alias-or-tag", 1, column, message, mend)
    assert not tree.is_broken
    assert isinstance(tree.root, Mapping)
    assert "z" in tree.root.entries


def test_a_quoted_merge_sign_is_a_key_like_others() -> None:
    """Only the plain << merges; in quotes it is a text."""
    assert _faults("'<<': 1\n") == ()


def test_a_list_cannot_be_a_key() -> None:
    """A list or a mapping as a key is one fault, and its value is left out."""
    tree = read_tree("design.yaml", "? [a, b]\n: 1\nc: 2\n")
    (fault,) = tree.faults
    assert _told(fault) == ("syntax", 1, 3, "A list or a mapping stands where a key is needed.")
    assert isinstance(tree.root, Mapping)
    assert list(tree.root.entries) == ["c"]


def test_a_second_document_is_refused_and_the_first_stands() -> None:
    """A file holds one document; the second is told at its beginning."""
    tree = read_tree("design.yaml", "a: 1\n---\nb: 2\n")
    (fault,) = tree.faults
    assert _told(fault) == ("syntax", 2, 1, "A second document begins here; a file holds one.")
    assert fault.mend == "take the line --- out"
    assert isinstance(tree.root, Mapping)
    assert list(tree.root.entries) == ["a"]


def test_all_faults_are_told_in_one_run() -> None:
    """Faults that do not stop the reading are all told, in the order of the file, before the one that does."""
    text = "a: &x 1\na: 2\nb: *x\nc: !t 3\nd: [1\n"
    assert [(each.rule, each.place.line) for each in _faults(text)] == [
        ("alias-or-tag", 1),
        ("duplicate-key", 2),
        ("alias-or-tag", 3),
        ("alias-or-tag", 4),
        ("syntax", 5),
    ]


def test_tabs_between_words_are_read_by_libyaml(monkeypatch: pytest.MonkeyPatch) -> None:
    """A tab that only parts a key from its value, or a value from a remark, is no fault with the usual parser."""
    monkeypatch.setattr(reader, "_Parser", reader.fastest_parser())
    tree = read_tree("design.yaml", "a:\t1\t# remark\n")
    assert tree.faults == ()
