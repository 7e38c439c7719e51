"""One function a command: read, call the stages, write."""

import argparse
import json
import os
import shutil
import sys
import traceback
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from harnessgen.cli.cores import on_cores
from harnessgen.cli.silence import libraries_silent
from harnessgen.design.reading.read import UnreadableFile
from harnessgen.disk import text_of
from harnessgen.disk.build_folder import BuildFolder
from harnessgen.disk.work import FolderRefused
from harnessgen.evidence.finding import Finding, NotExamined, Severity
from harnessgen.run import Checked, examined, mended
from harnessgen.run import check as check_design
from harnessgen.run import prove as prove_design
from harnessgen.source.place import Place

if TYPE_CHECKING:
    from harnessgen.builder import Missing


def check(options: argparse.Namespace) -> int:
    """Check each design and print all findings in one report."""
    results = [_checked(name, is_quick=options.quick) for name in dict.fromkeys(options.designs)]
    findings = [finding for each in results for finding in each[0]]
    not_examined = list(dict.fromkeys(skipped for each in results for skipped in each[1]))
    print_findings(
        options.format, findings, not_examined, {name: text for each in results for name, text in each[2].items()}
    )
    return max(each[3] for each in results)


def _checked(name: str, *, is_quick: bool) -> tuple[list[Finding], list[NotExamined], dict[str, str], int]:
    """Findings, rules not examined, texts and exit status of one design; what keeps it from being read is a finding."""
    main = Path(name).as_posix()
    try:
        with libraries_silent():
            checked = check_design(main, text_of, quick=is_quick, work=on_cores)
    except UnreadableFile as error:
        place = Place(main, 0, 0, 1, 1, 1, 1)
        mend = "name a design file that is there"
        finding = Finding(
            "unreadable-file", Severity.ERROR, main, place, f"The file cannot be read: {error}.", mend=mend
        )
        return [finding], [], {}, 2
    examination = checked.examination
    texts = dict(checked.understood.texts)
    return list(examination.findings), list(examination.not_examined), texts, checked.exit_status


def print_findings(
    form: str, findings: Sequence[Finding], not_examined: Sequence[NotExamined], texts: dict[str, str]
) -> None:
    """Print a report of findings as text, JSON or SARIF."""
    if form == "json":
        from harnessgen.documents.data import findings_json

        sys.stdout.write(findings_json.render(findings, not_examined))
    elif form == "sarif":
        from harnessgen.catalogue import RULES
        from harnessgen.documents.data import findings_sarif

        sys.stdout.write(findings_sarif.render(findings, RULES, not_examined))
    else:
        from harnessgen.documents.text import findings as findings_text

        width = shutil.get_terminal_size((110, 24)).columns
        sys.stdout.write(
            findings_text.render(findings, texts, not_examined, use_colour=_has_colour(), width=min(width, 110))
        )


def _has_colour() -> bool:
    return sys.stdout.isatty() and "NO_COLOR" not in os.environ and os.environ.get("TERM") != "dumb"


def _checked_or_told(main: str) -> Checked | None:
    """The checked and proved design, or None once it is said that its file cannot be read."""
    try:
        with libraries_silent():
            return check_design(main, text_of, work=on_cores)
    except UnreadableFile as error:
        print(f"{main} cannot be read: {error}.", file=sys.stderr)
        return None


def build(options: argparse.Namespace) -> int:
    """Check the design, write its documents, and say what was written."""
    main = Path(options.design).as_posix()
    folder = Path(options.folder) if options.folder else Path("output") / Path(main).stem
    try:
        # Held from before the long part on, so that the second of two builds stops at once.
        with BuildFolder(folder, force=options.force) as held:
            status = _built(main, options, held)
    except FolderRefused as error:
        print(error, file=sys.stderr)
        return 2
    for remark in held.remarks:
        print(remark)
    return status


def _built(main: str, options: argparse.Namespace, held: BuildFolder) -> int:
    """Check the design, make its documents and put them into the folder; the exit status."""
    checked = _checked_or_told(main)
    if checked is None:
        return 2
    if checked.physics is not None:
        unknown = [state for state in options.annotate if state not in checked.physics.points]
        if unknown:
            known = ", ".join(checked.physics.points) or "none"
            print(f"{main} has no state {unknown[0]}, so nothing was written; its states: {known}.", file=sys.stderr)
            return 2
    examination = checked.examination
    print_findings("text", examination.findings, examination.not_examined, dict(checked.understood.texts))
    if checked.physics is None:
        print("Nothing was written: mend the file first.")
        return max(checked.exit_status, 1)
    from harnessgen.builder import Wishes, build_files

    with libraries_silent():
        built = build_files(checked, Wishes(options.paper, tuple(options.annotate), options.previews))
    held.write(built.files, built.reasons)
    for remark in built.remarks:
        print(remark)
    print(f"Wrote {len(built.files)} files to {held.shown}{os.sep}:")
    for name in built.files:
        print(f"  {name}")
    return _told_crashes(built.crashes) or checked.exit_status


def _told_crashes(crashes: "Sequence[Missing]") -> int:
    """Name the documents that failed by themselves; 2, or 0 where there are none."""
    for each in crashes:
        print(f"Missing: {each.name}; {each.reason}.", file=sys.stderr)
        if os.environ.get("HARNESSGEN_TRACEBACK"):
            traceback.print_exception(each.crash)
    if not crashes:
        return 0
    print(
        "This is a fault of the program, not of the design. Set HARNESSGEN_TRACEBACK=1 to see where.", file=sys.stderr
    )
    return 2


def cut(options: argparse.Namespace) -> int:
    """Print the cutting plan of a design; findings of its check stand in the exit status and above the plan."""
    main = Path(options.design).as_posix()
    checked = _checked_or_told(main)
    if checked is None:
        return 2
    examination = checked.examination
    if checked.network is None or checked.physics is None:
        print_findings(options.format, examination.findings, examination.not_examined, dict(checked.understood.texts))
        print("There is no plan: mend the file first.", file=sys.stderr)
        return max(checked.exit_status, 1)
    from harnessgen.cutting.plan import cut_plan
    from harnessgen.documents.data import cutting_json
    from harnessgen.documents.text import cutting as cutting_text
    from harnessgen.schedules.results.status import status_of

    with libraries_silent():
        plan = cut_plan(checked.network, checked.physics, options.copies)
    status = status_of(examination.findings, examination.not_examined)
    title = checked.network.design.harness
    number = title.number if title is not None else ""
    if options.format == "json":
        sys.stdout.write(cutting_json.render(plan, number, status))
    else:
        sys.stdout.write(cutting_text.render(plan, number, status))
    return checked.exit_status


def prove(options: argparse.Namespace) -> int:
    """Print what the fault simulation shows of the test procedures of a design."""
    main = Path(options.design).as_posix()
    try:
        # Fixes are tried only where findings are printed: of a large harness that takes longer than the proof.
        checked = examined(main, text_of)
    except UnreadableFile as error:
        print(f"{main} cannot be read: {error}.", file=sys.stderr)
        return 2
    with libraries_silent():
        checked = prove_design(checked, on_cores)
    if checked.proofs is None:
        examination = mended(checked, text_of).examination
        print_findings(options.format, examination.findings, examination.not_examined, dict(checked.understood.texts))
        print("Nothing is proved: mend the file first.", file=sys.stderr)
        return max(checked.exit_status, 1)
    from harnessgen.documents.data import proof_json
    from harnessgen.documents.text import proof as proof_text

    sys.stdout.write((proof_json if options.format == "json" else proof_text).render(checked.proofs))
    return checked.exit_status


def schema(options: argparse.Namespace) -> int:
    """Print the JSON Schema of the design file, or its reference page."""
    from harnessgen.design.records.design import Design

    if options.page:
        from harnessgen.documents.pages.format_reference import format_page
        from harnessgen.documents.pages.parts_reference import shelf_page
        from harnessgen.documents.pages.small_design import SMALL_DESIGN
        from harnessgen.parts.library import packaged_parts

        sys.stdout.write(format_page(Design, SMALL_DESIGN) + "\n" + shelf_page(packaged_parts()))
    else:
        from harnessgen.documents.data.schema import json_schema

        sys.stdout.write(json.dumps(json_schema(Design), indent=2, ensure_ascii=False) + "\n")
    return 0


def rules(options: argparse.Namespace) -> int:
    """List the rules, or explain one."""
    from harnessgen.catalogue import RULES
    from harnessgen.documents.text.rules import UnknownRule, find_rule, rule_text, rules_table

    if options.name is None:
        sys.stdout.write(rules_table(RULES))
        return 0
    try:
        sys.stdout.write(rule_text(find_rule(options.name, RULES)))
    except UnknownRule as error:
        print(error, file=sys.stderr)
        return 2
    return 0
