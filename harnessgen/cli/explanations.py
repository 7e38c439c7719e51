"""The command that explains one thing of a design."""

import argparse
import sys
from pathlib import Path

from harnessgen.cli.commands import print_findings
from harnessgen.design.reading.read import UnreadableFile
from harnessgen.disk import text_of
from harnessgen.run import check as check_design
from harnessgen.source.near import did_you_mean


def explain(options: argparse.Namespace) -> int:
    """Print all that is known of one thing; status 2 where nothing has the name, else that of the design."""
    main = Path(options.design).as_posix()
    try:
        checked = check_design(main, text_of)
    except UnreadableFile as error:
        print(f"{main} cannot be read: {error}.", file=sys.stderr)
        return 2
    examination = checked.examination
    if checked.physics is None:
        print_findings("text", examination.findings, examination.not_examined, dict(checked.understood.texts))
        print("Nothing can be explained: mend the file first.", file=sys.stderr)
        return max(checked.exit_status, 1)
    from harnessgen.documents.data import explanation_json as explain_json
    from harnessgen.documents.text import explanation as explain_text
    from harnessgen.explain.explain import explain as explained
    from harnessgen.explain.explain import explainers

    texts = checked.understood.texts
    things = explained(checked.physics, texts, examination.findings, options.what)
    if not things:
        near = did_you_mean(options.what, explainers(checked.physics, texts))
        print(f"Nothing in {main} is called {options.what}; {near}", file=sys.stderr)
        return 2
    sys.stdout.write((explain_json if options.format == "json" else explain_text).render(things))
    return 0
