"""What breaks the text, in the builder's words; YAML parsers speak of tokens, blocks and flow collections."""

import re
from typing import NamedTuple


class Problem(NamedTuple):
    """A break in the text: what it is, whether to point at where the broken piece begins (not where it failed).

    `start` says what stands at that beginning, where both places help.
    """

    words: str
    is_at_start: bool = False
    start: str = ""


UNCLOSED_QUOTE = Problem("a quotation mark opens here and never closes", is_at_start=True)
_BRACKET = Problem("a comma or the closing bracket is missing", start="the bracket opens here")
# What parsers say, first match holds; several parsers word the same break differently.
_KNOWN = (
    ("unexpected end of stream", UNCLOSED_QUOTE),
    ("unexpected document separator", UNCLOSED_QUOTE),
    ("unexpected document indicator", UNCLOSED_QUOTE),
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
    if character and character in "]}" and any(sign in problem for sign in ("block", "document start", "expected key")):
        return Problem(f"{character} closes a bracket here that nothing opens")
    if "start any token" in problem:
        return Problem(f"{character} cannot begin a value; put the value in quotes")
    if "mapping values are not allowed" in problem:
        if ": " in line_before:
            return Problem("a second ': ' stands in this line; put the text in quotes")
        return Problem("a key stands where the value above it goes on; look at the indentation")
    return next((words for sign, words in _KNOWN if sign in problem), _MISPLACED)


def lone_quote(text: str, failed: int) -> int | None:
    """Offset of the first quotation mark before `failed` that begins a value and does not close in its line.

    A quoted text may go on over several lines, but in a text that is broken further down it is the likely cause.
    """
    # Compiled when a text is broken. A value begins behind a colon, comma, dash or bracket; a remark behind a blank.
    begins = re.compile(r"(?:^|[:,\[{-])\s*(?P<quote>[\"'])|(?:^|\s)(?P<remark>#)")
    start = 0
    for line in text.splitlines(keepends=True):
        if start > failed:
            break
        at = 0
        while (match := begins.search(line, at)) is not None and not match["remark"]:
            end = _closing(line, match.end(), match["quote"])
            if end < 0:
                return start + match.start("quote")
            at = end
        start += len(line)
    return None


def _closing(line: str, at: int, quote: str) -> int:
    """Offset behind the mark that closes a text quoted from `at` on; -1 where none does."""
    inside = r'(?:[^"\\]|\\.)*"' if quote == '"' else "(?:[^']|'')*'"
    match = re.compile(inside).match(line, at)
    return match.end() if match else -1
