"""What breaks the text, in the builder's words; YAML parsers speak of tokens, blocks and flow collections."""

from typing import NamedTuple


class Problem(NamedTuple):
    """A break in the text: what it is, whether to point at where the broken piece begins (not where it failed).

    `start` says what stands at that beginning, where both places help.
    """

    words: str
    is_at_start: bool = False
    start: str = ""


_UNCLOSED_QUOTE = Problem("a quotation mark opens here and never closes", is_at_start=True)
_BRACKET = Problem("a comma or the closing bracket is missing", start="the bracket opens here")
# What parsers say, first match holds; several parsers word the same break differently.
_KNOWN = (
    ("unexpected end of stream", _UNCLOSED_QUOTE),
    ("unexpected document separator", _UNCLOSED_QUOTE),
    ("unexpected document indicator", _UNCLOSED_QUOTE),
    (
        "escape character",
        Problem("a backslash between double quotes begins an escape; use single quotes", is_at_start=True),
    ),
    ("',' or ']'", _BRACKET),
    ("',' or '}'", _BRACKET),
    ("could not find expected ':'", Problem("no ': ' follows this key", is_at_start=True)),
    ("document start", Problem("text stands behind the end of the document")),
    ("tag handle", Problem("a tag (!) stands before this value")),
)
_MISPLACED = Problem("this does not continue what stands before it; look at the indentation, quotes and brackets")


def problem_in_words(problem: str, line_before: str, character: str) -> Problem:
    """The builder's words for a parser's `problem`, met at `character` behind `line_before` in its line."""
    if character == "\t" and ("token" in problem or "tab" in problem):
        return Problem("a tab stands where spaces are needed")
    if "start any token" in problem:
        return Problem(f"{character} cannot begin a value; put the value in quotes")
    if "mapping values are not allowed" in problem:
        if ": " in line_before:
            return Problem("a second ': ' stands in this line; put the text in quotes")
        return Problem("a key stands where the value above it goes on; look at the indentation")
    return next((words for sign, words in _KNOWN if sign in problem), _MISPLACED)
