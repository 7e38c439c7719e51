"""The command that rewrites a design in the present format."""

import argparse
import sys
from pathlib import Path

from harnessgen.cli.copies import written
from harnessgen.design.reading.read import UnreadableFile
from harnessgen.disk import text_of
from harnessgen.run import upgrade as upgraded


def upgrade(options: argparse.Namespace) -> int:
    """Write the design in the present format under a new name; status 2 where it cannot be read or written."""
    main = Path(options.design).as_posix()
    try:
        result = upgraded(main, text_of)
    except UnreadableFile as error:
        print(f"{main} cannot be read: {error}.", file=sys.stderr)
        return 2
    if not result.changed:
        print(f"{main} has the present format; nothing is written.")
        return 0
    return 0 if written(main, result.texts, Path(options.copy), force=options.force) else 2
