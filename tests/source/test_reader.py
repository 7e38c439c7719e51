"""The reader: every scalar is the text that was typed, at the place where it stands, with either YAML parser."""

from collections.abc import Iterator

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from harnessgen.source import reader
from harnessgen.source.reader import Mapping, Node, Scalar, Sequence, Tree, read_tree
from tests.samples import examples

_PARSERS = {"libyaml": yaml.CSafeLoader, "plain": yaml.SafeLoader}

# Texts that a YAML 1.1 loader turns into True, False, 8, 90, 1000.0, None, 31, a date and 0.5.
_TWISTS = [
    "on", "off", "yes", "no", "y", "n", "True", "010", "0o10", "1:30", "1e3", "~", "null", "0x1F", "0b11", "2026-11-25",
    ".5", "1_000", ".inf", ".nan", "=", "+1", "21A", "1.10",
]  # fmt: skip


@pytest.fixture(autouse=True, params=_PARSERS)
def _either_parser(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Each promise holds with libyaml and with the parser that is plain Python."""
    monkeypatch.setattr(reader, "_Parser", _PARSERS[request.param])


def _read(text: str) -> Mapping:
    tree = read_tree("design.yaml", text)
    assert tree.faults == ()
    assert isinstance(tree.root, Mapping)
    return tree.root


def _scalar(node: Node) -> Scalar:
    assert isinstance(node, Scalar)
    return node


def _scalars(node: Node | None) -> Iterator[Scalar]:
    if isinstance(node, Scalar):
        yield node
    elif isinstance(node, Sequence):
        for item in node.items:
            yield from _scalars(item)
    elif isinstance(node, Mapping):
        for entry in node.entries.values():
            yield entry.key
            yield from _scalars(entry.value)


def test_libyaml_is_used_where_it_is_there() -> None:
    """The reader takes its events from libyaml, which is ten times as fast, whenever PyYAML was built with it."""
    assert yaml.__with_libyaml__
    assert reader.fastest_parser() is yaml.CSafeLoader


@pytest.mark.parametrize("text", _TWISTS)
def test_a_value_is_what_was_typed(text: str) -> None:
    """No value is taken for a boolean, a number, a date or nothing."""
    value = _scalar(_read(f"key: {text}\n").entries["key"].value)
    assert (value.text, value.quoted) == (text, False)


@pytest.mark.parametrize("text", _TWISTS)
def test_a_key_is_what_was_typed(text: str) -> None:
    """No key is taken for a boolean, a number, a date or nothing."""
    assert list(_read(f"{text}: value\n").entries) == [text]


@pytest.mark.parametrize("text", _TWISTS)
def test_an_item_is_what_was_typed(text: str) -> None:
    """No item of a list is taken for a boolean, a number, a date or nothing."""
    listed = _read(f"key: [{text}, '{text}']\n").entries["key"].value
    assert isinstance(listed, Sequence)
    assert [(_scalar(each).text, _scalar(each).quoted) for each in listed.items] == [(text, False), (text, True)]


def test_quotes_and_blocks_are_told_from_plain_text() -> None:
    """A value in quotes or in a block says so; an empty value in quotes is not the same as none."""
    entries = _read("a: ''\nb: \"x\"\nc: |\n  line\nd:\ne: x\n").entries
    shown = {name: (_scalar(entry.value).text, _scalar(entry.value).quoted) for name, entry in entries.items()}
    assert shown == {"a": ("", True), "b": ("x", True), "c": ("line\n", True), "d": ("", False), "e": ("x", False)}


def test_places_count_from_one_and_end_behind_the_last_character() -> None:
    """A value knows its file, offsets, lines and columns."""
    place = _read("zones:\n  plenum: 120 degC\n").entries["zones"].value.entries["plenum"].value.place  # type: ignore[union-attr]
    assert (place.file, place.start, place.end) == ("design.yaml", 17, 25)
    assert (place.line, place.column, place.end_line, place.end_column) == (2, 11, 2, 19)
    assert (place.pattern, str(place)) == ("", "design.yaml:2:11")


_WORDS = st.text(st.sampled_from("abcXYZ019_µΩ°²é漢😀-+./"), min_size=1, max_size=8).filter(
    lambda text: text[0] not in "-+." and text != "="
)
_RECORDS = st.dictionaries(_WORDS, st.lists(_WORDS, min_size=1, max_size=3), min_size=1, max_size=5)


@settings(deadline=None, max_examples=examples(60))
@given(record=_RECORDS, line_end=st.sampled_from(["\n", "\r\n", "\r"]), mark=st.sampled_from(["", "\ufeff"]))
@pytest.mark.parametrize("parser", _PARSERS.values())
def test_a_span_cuts_out_exactly_the_text(
    parser: object, record: dict[str, list[str]], line_end: str, mark: str
) -> None:
    """Offsets, and line with column, of any plain scalar cut out its own text, whatever stands before it."""
    lines = [f"{name}: {values[0] if len(values) == 1 else values}".replace("'", "") for name, values in record.items()]
    text = mark + line_end.join(lines) + line_end
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(reader, "_Parser", parser)
        tree = read_tree("f", text)
    found = list(_scalars(tree.root))
    assert [each.text for each in found] == [word for name, values in record.items() for word in (name, *values)]
    by_line = text.removeprefix(mark).split(line_end)
    for each in found:
        place = each.place
        assert text[place.start : place.end] == each.text
        assert by_line[place.line - 1][place.column - 1 : place.end_column - 1] == each.text


def test_a_collection_spans_from_its_first_to_its_last_sign() -> None:
    """A list or a mapping in brackets spans both brackets."""
    text = "a: [1, {b: 2}]\n"
    listed = _read(text).entries["a"].value
    assert isinstance(listed, Sequence)
    assert text[listed.place.start : listed.place.end] == "[1, {b: 2}]"
    assert text[listed.items[1].place.start : listed.items[1].place.end] == "{b: 2}"


def test_a_collection_without_brackets_ends_with_its_last_value() -> None:
    """Blank lines and remarks behind the last value belong to no collection."""
    text = "a:\n  b: [1]\n  c: x\n\n# remark\n\nd:\n  - y\n\n"
    root = _read(text)
    spans = [text[each.value.place.start : each.value.place.end] for each in root.entries.values()]
    assert spans == ["b: [1]\n  c: x", "- y"]
    assert text[root.place.start : root.place.end] == text.rstrip()


def test_an_empty_text_has_no_root_and_no_fault() -> None:
    """A file without content, or with remarks alone, is empty, not broken."""
    for text in ("", "# only a remark\n", "\ufeff", "---\n...\n"):
        tree = read_tree("f", text)
        assert (tree.faults, tree.is_broken) == ((), False)


def _outline(tree: Tree) -> object:
    return tree.root, tree.faults, tree.is_broken


@settings(deadline=None, max_examples=examples(250))
@given(st.text(st.sampled_from(" \n:-[]{},'\"#&*!|>?%@`<ab1\\\r.~") | st.characters(), max_size=30))
def test_any_text_gives_a_tree_or_faults(text: str) -> None:
    """No text at all makes the reader raise."""
    for parser in _PARSERS.values():
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(reader, "_Parser", parser)
            tree = read_tree("f", text)
        assert not tree.is_broken or tree.faults
        for fault in tree.faults:
            assert 0 <= fault.place.start <= len(text)
            assert fault.place.line >= 1
            assert fault.place.column >= 1


_PIECES = ["a: ", "b: ", "c: ", "- ", "[", "]", "{", "}", ", ", "x", "'y'", '"z"', "\n", "\n  ", "\n    ", "# r", "*q ",
           "&q ", "!t ", "é", "18 AWG", "<<: ", "|\n", "\r\n"]  # fmt: skip


@settings(deadline=None, max_examples=examples(250))
@given(st.lists(st.sampled_from(_PIECES), max_size=12).map("".join))
def test_both_parsers_give_the_same_tree(text: str) -> None:
    """Texts, places and faults of a readable text are the same with either parser, and so is whether it is readable."""
    text += "\n"  # libyaml counts a line more where the last one is not ended
    trees = []
    for parser in _PARSERS.values():
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(reader, "_Parser", parser)
            trees.append(read_tree("f", text))
    first, second = trees
    assert first.is_broken == second.is_broken
    if not first.is_broken:
        assert _outline(first) == _outline(second)
