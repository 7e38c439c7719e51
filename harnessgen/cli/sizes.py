"""The command that finds the smallest wires."""

import argparse
import sys
from pathlib import Path

from harnessgen.cli.commands import print_findings
from harnessgen.cli.copies import written
from harnessgen.cli.silence import libraries_silent
from harnessgen.design.reading.read import UnreadableFile
from harnessgen.disk import text_of
from harnessgen.run import size as size_design
from harnessgen.schedules.results.status import status_of


def size(options: argparse.Namespace) -> int:
    """Print the smallest sizes of a design, and write a copy that has them; the status is that of the sized design."""
    main = Path(options.design).as_posix()
    try:
        with libraries_silent():
            sized = size_design(main, text_of)
    except UnreadableFile as error:
        print(f"{main} cannot be read: {error}.", file=sys.stderr)
        return 2
    if sized.sizing is None or sized.after is None or sized.before.network is None:
        examination = sized.before.examination
        print_findings("text", examination.findings, examination.not_examined, dict(sized.texts))
        print("No sizes were sought: mend the file first.", file=sys.stderr)
        return max(sized.before.exit_status, 1)
    from harnessgen.documents.data import sizes_json as size_json
    from harnessgen.documents.text import sizes as size_text

    after = sized.after.examination
    status = status_of(after.findings, after.not_examined)
    title = sized.before.network.design.harness
    number = title.number if title is not None else ""
    writer = size_json if options.format == "json" else size_text
    sys.stdout.write(writer.render(sized.sizing, number, status))
    if options.copy is not None and not written(main, sized.texts, Path(options.copy), force=options.force):
        return 2
    return sized.after.exit_status
