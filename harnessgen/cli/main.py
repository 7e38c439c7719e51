"""Arguments, dispatch, and the last-resort handler: a person never sees a traceback."""

import argparse
import gc
import os
import re
import sys
from collections.abc import Sequence
from importlib import resources

from harnessgen.cli import commands, explanations, places, pulses, sizes, upgrades
from harnessgen.cli.streams import StandardOutput
from harnessgen.source.characters import visible_name
from harnessgen.version import __version__

_CRASH = 2
COLLECTS_AFTER = (100_000, 20, 20)
"""When the garbage collector runs: hardly anything here refers to itself, and it took a tenth of a proof."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line; the exit status is 0, 1 (an error stands) or 2.

    2 says that no design could be read, that what there is to say could not be written, or that the program failed.
    Without `arguments` it is the program itself that runs, with the arguments and the streams of its process.
    """
    if arguments is not None:
        return _run(arguments)
    output = StandardOutput()
    try:
        status = _run(None)
    except SystemExit as ended:
        # The parser of the arguments ends so, after a page of help too.
        status = ended.code if isinstance(ended.code, int) else 0
    return output.ended(status)


def _run(arguments: Sequence[str] | None) -> int:
    # The matrices are small: threads of the library of linear algebra would only wait for each other.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    gc.set_threshold(*COLLECTS_AFTER)
    parser = _parser()
    options = parser.parse_args(arguments)
    try:
        status: int = options.command(options)
        return status
    except KeyboardInterrupt:
        print("stopped", file=sys.stderr)
        return 130
    except Exception as error:
        if os.environ.get("HARNESSGEN_TRACEBACK"):
            raise
        print(f"harnessgen failed: {type(error).__name__}: {error}", file=sys.stderr)
        print(
            "This is a fault of the program, not of the design. Set HARNESSGEN_TRACEBACK=1 to see where.",
            file=sys.stderr,
        )
        return _CRASH


class _Changes(argparse.Action):
    """Prints the list of changes, as `--version` prints the version."""

    def __init__(self, option_strings: Sequence[str], dest: str, help: str | None = None) -> None:
        super().__init__(option_strings, argparse.SUPPRESS, nargs=0, help=help)

    def __call__(
        self,
        parser: argparse.ArgumentParser,
        namespace: argparse.Namespace,
        values: object,
        option_string: str | None = None,
    ) -> None:
        """Print the packaged list and leave with 0."""
        sys.stdout.write(resources.files("harnessgen").joinpath("CHANGES.md").read_text(encoding="utf-8"))
        parser.exit()


def _copies(text: str) -> int:
    """A number of copies.

    Raises:
        ArgumentTypeError: it is no whole number from 1 to 1000.
    """
    if not text.isdecimal() or not 1 <= int(text) <= 1000:
        raise argparse.ArgumentTypeError(f"{text} is no number of copies: write a whole number from 1 to 1000")
    return int(text)


def _name(text: str) -> str:
    """The name of a folder or file to write.

    Raises:
        ArgumentTypeError: it is empty, or has a character that a terminal does not show as it is.
    """
    if not text:
        raise argparse.ArgumentTypeError("the name is empty")
    # Bytes that are no UTF-8 are letters of a name, though none that can be shown.
    shown = re.sub("[\udc80-\udcff]", "", text)
    if visible_name(shown) != shown:
        raise argparse.ArgumentTypeError(f"the name has a character that is not seen: {visible_name(text)}")
    return text


def _above_zero(text: str) -> float:
    """A number above zero.

    Raises:
        ArgumentTypeError: it is none, or not above zero.
    """
    try:
        number = float(text)
    except ValueError:
        number = 0.0
    if not 0.0 < number < 1e6:
        raise argparse.ArgumentTypeError(f"{text} is no number above 0 and below 1000000")
    return number


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="harnessgen",
        description="Check, draw, cut and prove a vehicle wiring harness from one declarative file.",
    )
    parser.add_argument("--version", action="version", version=f"harnessgen {__version__}")
    parser.add_argument("--changes", action=_Changes, help="say what is new in each version, and stop")
    kinds = parser.add_subparsers(required=True, metavar="COMMAND")

    check = kinds.add_parser("check", help="say what is wrong with a design")
    check.add_argument("designs", nargs="+", metavar="DESIGN", help="a design file (YAML)")
    check.add_argument("--format", choices=("text", "json", "sarif"), default="text", help="form of the findings")
    check.add_argument("--quick", action="store_true", help="leave the fault simulation of the test procedures out")
    check.set_defaults(command=commands.check)

    build = kinds.add_parser("build", help="write the documents of a design")
    build.add_argument("design", metavar="DESIGN", help="a design file (YAML)")
    build.add_argument(
        "-o", dest="folder", type=_name, metavar="DIR", help="folder to write into (output/<design name>/)"
    )
    build.add_argument(
        "--paper",
        choices=("a4", "letter", "a3"),
        default="a4",
        help="paper that lists and drawings are laid out for (a4); a drawing that needs it takes a double sheet",
    )
    build.add_argument(
        "--annotate",
        metavar="STATE",
        action="append",
        default=[],
        help="draw the circuit once more with currents and volts in this state (may be repeated)",
    )
    build.add_argument("--previews", action="store_true", help="write the drawings as PNG pictures too")
    build.add_argument(
        "--force",
        action="store_true",
        help="write into a folder that holds other things too, file by file; nothing but a former build is replaced",
    )
    build.set_defaults(command=commands.build)

    cut = kinds.add_parser("cut", help="plan which wire is cut from which spool or offcut, and what to buy")
    cut.add_argument("design", metavar="DESIGN", help="a design file (YAML)")
    cut.add_argument("--copies", type=_copies, default=1, metavar="N", help="copies of the harness to cut (1)")
    cut.add_argument("--format", choices=("text", "json"), default="text", help="form of the plan")
    cut.set_defaults(command=commands.cut)

    place = kinds.add_parser("place", help="find better places for splices and breakouts")
    place.add_argument("design", metavar="DESIGN", help="a design file (YAML)")
    place.add_argument(
        "--for",
        dest="aim",
        choices=("copper", "diameter", "reach"),
        default="copper",
        help="what is wanted: least copper, the thinnest bundles, or no short leg",
    )
    place.add_argument("--format", choices=("text", "json"), default="text", help="form of the places")
    place.add_argument(
        "--write", dest="copy", type=_name, metavar="FILE", help="write a copy of the design with these places"
    )
    place.add_argument("--force", action="store_true", help="write the copy over files that are there too")
    place.set_defaults(command=places.place)

    prove = kinds.add_parser("prove", help="say which faults the test procedures show, and which they miss")
    prove.add_argument("design", metavar="DESIGN", help="a design file (YAML)")
    prove.add_argument("--format", choices=("text", "json"), default="text", help="form of the result")
    prove.set_defaults(command=commands.prove)

    pulse = kinds.add_parser("pulses", help="say what to enter in a controller's output test")
    pulse.add_argument("design", metavar="DESIGN", help="a design file (YAML)")
    pulse.add_argument(
        "--speed",
        dest="speeds",
        metavar="RPM",
        type=_above_zero,
        action="append",
        help="engine speed that the pulses follow (may be repeated; idle and those of the states)",
    )
    pulse.add_argument("--seconds", metavar="S", type=_above_zero, default=2.0, help="longest time of a burst (2)")
    pulse.add_argument("--format", choices=("text", "csv"), default="text", help="form of the pulses")
    pulse.set_defaults(command=pulses.pulses)

    explain = kinds.add_parser("explain", help="say all that is known of one thing, and where each number comes from")
    explain.add_argument("design", metavar="DESIGN", help="a design file (YAML)")
    explain.add_argument("what", metavar="WHAT", help="a wire, fuse, load, cavity, splice, state ...: 21A, F1, C1/3")
    explain.add_argument("--format", choices=("text", "json"), default="text", help="form of the explanation")
    explain.set_defaults(command=explanations.explain)

    size = kinds.add_parser("size", help="find the smallest wires that meet every rule in every state")
    size.add_argument("design", metavar="DESIGN", help="a design file (YAML)")
    size.add_argument("--format", choices=("text", "json"), default="text", help="form of the sizes")
    size.add_argument(
        "--write", dest="copy", type=_name, metavar="FILE", help="write a copy of the design with these sizes"
    )
    size.add_argument("--force", action="store_true", help="write the copy over files that are there too")
    size.set_defaults(command=sizes.size)

    schema = kinds.add_parser("schema", help="print the JSON Schema of the design file")
    schema.add_argument("--page", action="store_true", help="print the reference page of the format (Markdown) instead")
    schema.set_defaults(command=commands.schema)

    upgrade = kinds.add_parser("upgrade", help="rewrite a design of an earlier format in the present one")
    upgrade.add_argument("design", metavar="OLD", help="a design file (YAML)")
    upgrade.add_argument(
        "--write", dest="copy", type=_name, metavar="NEW", required=True, help="file to write the new design to"
    )
    upgrade.add_argument("--force", action="store_true", help="write the copy over files that are there too")
    upgrade.set_defaults(command=upgrades.upgrade)

    rules = kinds.add_parser("rules", help="list the rules, or explain one")
    rules.add_argument("name", nargs="?", metavar="NAME", help="a rule")
    rules.set_defaults(command=commands.rules)
    return parser
