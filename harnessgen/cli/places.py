"""The command that finds better places for splices and breakouts."""

import argparse
import sys
from pathlib import Path

from harnessgen.cli.copies import written
from harnessgen.cli.silence import libraries_silent
from harnessgen.design.reading.read import UnreadableFile
from harnessgen.disk import text_of
from harnessgen.run import better_places, check


def place(options: argparse.Namespace) -> int:
    """Print better places, and write a copy of the design that has them; the exit status is that of the design."""
    main = Path(options.design).as_posix()
    try:
        checked = check(main, text_of)
    except UnreadableFile as error:
        print(f"{main} cannot be read: {error}.", file=sys.stderr)
        return 2
    with libraries_silent():
        placing = better_places(checked, text_of, options.aim)
    if placing is None or checked.physics is None:
        from harnessgen.documents.text import findings as findings_text

        examination, texts = checked.examination, checked.understood.texts
        sys.stdout.write(findings_text.render(examination.findings, texts, examination.not_examined))
        print("No places were sought: mend the file first.", file=sys.stderr)
        return max(checked.exit_status, 1)
    from harnessgen.documents.data import places_json as place_json
    from harnessgen.documents.text import places as place_text

    title = checked.physics.network.design.harness
    number = title.number if title is not None else ""
    writer = place_json if options.format == "json" else place_text
    sys.stdout.write(writer.render(placing, number))
    texts = {**checked.understood.texts, **placing.texts}
    if options.copy is not None and not written(main, texts, Path(options.copy), force=options.force):
        return 2
    return checked.exit_status
