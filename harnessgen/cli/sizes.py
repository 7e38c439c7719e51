"""The command that finds the smallest wires."""

import argparse
import os
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

from harnessgen.cli.commands import print_findings
from harnessgen.design.read import UnreadableFile
from harnessgen.disk import text_of, write_texts
from harnessgen.run import size as size_design
from harnessgen.schedules.status import status_of


def size(options: argparse.Namespace) -> int:
    """Print the smallest sizes of a design, and write a copy that has them; the status is that of the sized design."""
    main = Path(options.design).as_posix()
    try:
        with _libraries_silent():
            sized = size_design(main, text_of)
    except UnreadableFile as error:
        print(f"{main} cannot be read: {error}.", file=sys.stderr)
        return 2
    if sized.sizing is None or sized.after is None or sized.before.network is None:
        examination = sized.before.examination
        print_findings("text", examination.findings, examination.not_examined, dict(sized.texts))
        print("No sizes were sought: mend the file first.", file=sys.stderr)
        return max(sized.before.exit_status, 1)
    from harnessgen.documents import size_json, size_text

    after = sized.after.examination
    status = status_of(after.findings, after.not_examined)
    title = sized.before.network.design.harness
    number = title.number if title is not None else ""
    writer = size_json if options.format == "json" else size_text
    sys.stdout.write(writer.render(sized.sizing, number, status))
    if options.copy is not None and not _written(main, sized.texts, Path(options.copy)):
        return 2
    return sized.after.exit_status


def _written(main: str, texts: Mapping[str, str], copy: Path) -> bool:
    """Write the copy, and beside it the files that it includes; says so, and says what keeps it from being written."""
    source = Path(main)
    paths = {
        copy if name == main else copy.parent / os.path.relpath(name, source.parent): text
        for name, text in texts.items()
    }
    taken = [path for path in paths if any(path.resolve() == Path(name).resolve() for name in texts)]
    if taken:
        listed = ", ".join(map(str, taken))
        print(f"{listed} would be overwritten: name a copy in another place.", file=sys.stderr)
        return False
    try:
        write_texts(paths)
    except OSError as error:
        print(f"{copy} cannot be written: {(error.strerror or str(error)).lower()}.", file=sys.stderr)
        return False
    print(f"Wrote {', '.join(map(str, paths))}.", file=sys.stderr)
    return True


@contextmanager
def _libraries_silent() -> Iterator[None]:
    """Keeps what a library of numbers writes past Python (a remark of its solver) out of our output."""
    sys.stdout.flush()
    kept = os.dup(1)
    nothing = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nothing, 1)
        yield
    finally:
        # The library's own buffer has to go the same way before the descriptor is ours again.
        if os.name == "posix":
            import ctypes

            ctypes.CDLL(None).fflush(None)
        os.dup2(kept, 1)
        os.close(nothing)
        os.close(kept)
