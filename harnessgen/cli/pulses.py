"""The command that says what to enter in a controller's output test."""

import argparse
import sys
from pathlib import Path

from harnessgen.cli.commands import print_findings
from harnessgen.cli.silence import libraries_silent
from harnessgen.design.reading.read import UnreadableFile
from harnessgen.disk import text_of
from harnessgen.run import check as check_design


def pulses(options: argparse.Namespace) -> int:
    """Print period, time on and number of pulses for each output that works coils, with what they ask of it."""
    main = Path(options.design).as_posix()
    try:
        checked = check_design(main, text_of)
    except UnreadableFile as error:
        print(f"{main} cannot be read: {error}.", file=sys.stderr)
        return 2
    if checked.network is None or checked.physics is None:
        examination = checked.examination
        print_findings("text", examination.findings, examination.not_examined, dict(checked.understood.texts))
        print("No pulses are worked out: mend the file first.", file=sys.stderr)
        return max(checked.exit_status, 1)
    from harnessgen.bench.setup.installed import Fitted
    from harnessgen.bench.steps.output import outputs_of
    from harnessgen.bench.steps.output_pulses import pulse_plans, speeds_of
    from harnessgen.documents.data.csv_tables import table_csv
    from harnessgen.documents.text import output_test as output_test_text
    from harnessgen.schedules.results.output_test import output_test_table
    from harnessgen.schedules.results.status import status_of

    with libraries_silent():
        outputs = outputs_of(Fitted(checked.network, checked.physics)) if checked.network.design.supplies else ()
        plans = pulse_plans(outputs, options.speeds or speeds_of(outputs), options.seconds)
    if not plans:
        print("No output of this design works coils alone: there is nothing to pulse.")
        return checked.exit_status
    status = status_of(checked.examination.findings, checked.examination.not_examined)
    title = checked.network.design.harness
    if options.format == "csv":
        sys.stdout.write(table_csv([output_test_table(plans)], status))
    else:
        sys.stdout.write(output_test_text.render(plans, title.number if title is not None else ""))
    return checked.exit_status
