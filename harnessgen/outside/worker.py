"""What runs in the child process: the typesetter and the picture maker, which cannot be ended where they run with us.

Requests come in on standard input, answers go out on what was standard output, each with its length before it.
"""

import json
import os
import sys
from collections.abc import Callable, Mapping
from functools import cache
from typing import Any

LENGTH_BYTES = 8
DONE, MISSING, FAILED = b"d", b"m", b"f"


class _Absent(Exception):
    """A library is not there."""


def main() -> None:
    """Answer requests until there are none: then whoever asked is gone, whatever became of it."""
    # A library that prints would print into an answer: what it prints goes where complaints go.
    answers = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)
    while length := sys.stdin.buffer.read(LENGTH_BYTES):
        request = json.loads(sys.stdin.buffer.read(int.from_bytes(length, "big")))
        status, body = _answer(request)
        answers.write(status + len(body).to_bytes(LENGTH_BYTES, "big") + body)
        answers.flush()


def _answer(request: Mapping[str, Any]) -> tuple[bytes, bytes]:
    try:
        return DONE, _TASKS[request["task"]](request)
    except _Absent:
        return MISSING, b""
    except Exception as error:
        # Whatever a library raises is told in one line.
        lines = str(error).splitlines() or [""]
        said = "".join(each for each in f"{type(error).__name__}: {lines[0][:200]}" if each.isprintable())
        return FAILED, said.encode("utf-8", "replace")


def _typeset(request: Mapping[str, Any]) -> bytes:
    folder = request["fonts"]
    fonts = _fonts(folder)
    if request["family"] not in fonts.families():
        raise RuntimeError("the packaged lettering is not in a folder of its own")
    # The root is the folder of fonts, so that nothing else could be read even if a template asked for it.
    made = _typst().compile(
        request["template"].encode(),
        root=folder,
        font_paths=fonts,
        sys_inputs={"data": request["data"]},
        timestamp=0,
        format="pdf",
        pdf_tags=False,
    )
    return bytes(made)


@cache
def _fonts(folder: str) -> Any:
    return _typst().Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[folder])


def _typst() -> Any:
    try:
        import typst
    except (ImportError, OSError) as missing:
        raise _Absent from missing
    return typst


def _picture(request: Mapping[str, Any]) -> bytes:
    try:
        # It needs a system library that only previews need.
        import cairosvg
    except (ImportError, OSError) as missing:
        raise _Absent from missing
    made = cairosvg.svg2png(bytestring=request["svg"].encode(), dpi=request["dpi"], scale=request["scale"])
    return bytes(made)


_TASKS: dict[str, Callable[[Mapping[str, Any]], bytes]] = {"typeset": _typeset, "picture": _picture}

if __name__ == "__main__":
    main()
