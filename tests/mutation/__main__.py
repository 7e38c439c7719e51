"""Mutation testing by command: `python -m tests.mutation --count 400 --seed 1`.

Each mutant is one small wrong change in a copy of the package; a sample of them is drawn by a seed, and the tests that
run the changed line are run against it, the quickest and those of the same name first. A mutant that no test notices
is a survivor. Those of which it is proved that nothing can notice them are listed with the reason in `equivalent.txt`
and are not counted. Score = killed / (all - equivalent).
"""

import argparse
import random
import sys
import tempfile
import time
from pathlib import Path

from tests.mutation.alone import alone, copied, preload
from tests.mutation.covered import Covered, covered
from tests.mutation.mutants import Mutant, mutants

ROOT = Path(__file__).parents[2]
EQUIVALENT = Path(__file__).with_name("equivalent.txt")
PARTS = ("rules", "physics", "schedules")
TESTS = (
    "tests/rules",
    "tests/physics",
    "tests/schedules",
    "tests/rule_pages",
    "tests/test_mutators.py",
    "tests/test_catalogue.py",
    "tests/whole",
    "tests/explain",
    "tests/documents",
    "tests/remedies",
)


def main() -> int:
    """Draw the sample, run it, print the survivors and the score."""
    options = _options()
    random_of = random.Random(options.seed)
    everything = [
        each
        for part in options.part or PARTS
        for path in sorted((ROOT / "harnessgen" / part).rglob("*.py"))
        for each in mutants(path.relative_to(ROOT).as_posix(), path.read_text(encoding="utf-8"))
    ]
    sample = random_of.sample(everything, min(options.count, len(everything)))[options.skip :]
    print(f"{len(sample)} of {len(everything)} mutants, seed {options.seed}", flush=True)
    preload()
    tests = options.tests or TESTS
    lines = covered(ROOT, PARTS, tests, ROOT / ".mutation" / "covered.json")
    known = _equivalent()
    counts = {"killed": 0, "equivalent": 0, "survived": 0}
    ends = time.monotonic() + options.minutes * 60.0
    with tempfile.TemporaryDirectory() as holder:
        copy = copied(ROOT, Path(holder) / "copy")
        for number, mutant in enumerate(sample, 1):
            if time.monotonic() > ends:
                print(f"stopped by --minutes after {number - 1} mutants", flush=True)
                break
            began = time.monotonic()
            verdict, by = ("equivalent", "") if mutant.name in known else _verdict(copy, mutant, lines, options.most)
            counts[verdict] += 1
            took = time.monotonic() - began
            print(f"{number} {verdict} {took:.1f} s {mutant.line}: {mutant.name} [{by}]", flush=True)
    judged = counts["killed"] + counts["survived"]
    share = 100.0 * counts["killed"] / judged if judged else 0.0
    print(f"killed {counts['killed']}, survived {counts['survived']}, proved equivalent {counts['equivalent']}")
    print(f"score {share:.1f} % of {judged}")
    return 0 if share >= options.least else 1


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.mutation", description=__doc__)
    parser.add_argument("--count", type=int, default=400, help="how many mutants are drawn")
    parser.add_argument("--seed", type=int, default=1, help="which ones")
    parser.add_argument("--skip", type=int, default=0, help="leave out so many of the sample, to go on")
    parser.add_argument("--part", action="append", choices=PARTS, help="stage to change; all three by default")
    parser.add_argument("--tests", action="append", help="test folder or file to use instead of the usual ones")
    parser.add_argument("--most", type=float, default=120.0, help="processor seconds of tests for one mutant")
    parser.add_argument("--minutes", type=float, default=1e9, help="begin no mutant after so many minutes")
    parser.add_argument("--least", type=float, default=0.0, help="exit with 1 where the score is lower, in per cent")
    return parser.parse_args()


def _equivalent() -> set[str]:
    """Names of the mutants proved equivalent: the lines of the list that are no remark."""
    lines = EQUIVALENT.read_text(encoding="utf-8").splitlines()
    return {line for line in lines if line and not line.startswith("#")}


def _verdict(copy: Path, mutant: Mutant, lines: Covered, most_s: float) -> tuple[str, str]:
    """Whether the tests that run the line notice the change, and which one did."""
    stem = Path(mutant.module).stem
    mirror = Path(mutant.module).parts[1]
    chosen = [
        (f"test_{stem}" not in name, f"tests/{mirror}" not in name, seconds, name)
        for name, (seconds, of_module) in lines.items()
        if mutant.line in of_module.get(mutant.module, ())
    ]
    chosen.sort()
    names = [name for *_, name in chosen]
    if not names:
        return "survived", "no test runs this line"
    changed = copy / mutant.module
    before = changed.read_text(encoding="utf-8")
    changed.write_text(mutant.source, encoding="utf-8")
    try:
        failed = alone(lambda: _failing(copy, names, stem, most_s), 60.0 + 4.0 * most_s)
    finally:
        changed.write_text(before, encoding="utf-8")
    if failed is None:
        return "killed", "it takes far too long"
    return ("survived", failed) if failed.startswith(_NONE) else ("killed", failed)


_NONE = "none of "


def _failing(copy: Path, names: list[str], stem: str, most_s: float) -> str:
    """The first test of some files that fails, or how many do not; those named after the changed module come first.

    After so many seconds of processor time no further test is begun.
    """
    import os

    import pytest

    class Watch:
        failed = ""
        ended = 0

        def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
            items.sort(key=lambda each: stem not in each.nodeid.replace("-", "_"))

        def pytest_runtest_teardown(self, item: pytest.Item) -> None:
            self.ended += 1
            if time.process_time() > most_s:
                item.session.shouldstop = "enough"

        def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
            if report.failed and not self.failed:
                self.failed = report.nodeid

        def pytest_collectreport(self, report: pytest.CollectReport) -> None:
            if report.failed and not self.failed:
                self.failed = report.nodeid or names[0]

    os.chdir(copy)
    os.environ["PYTHONPATH"] = str(copy)
    os.environ["PYTHONDONTWRITEBYTECODE"] = "1"
    sys.dont_write_bytecode = True
    sys.path[:] = [str(copy), *(each for each in sys.path if Path(each or ".").resolve() != ROOT)]
    for held in [each for each in sys.modules if each == "tests" or each.startswith(("tests.", "harnessgen"))]:
        del sys.modules[held]
    watch = Watch()
    status = pytest.main(["-x", "-q", "--no-header", "-p", "no:cacheprovider", *names], plugins=[watch])
    # A stop of ours ends with 2, as any other stop before the last test.
    is_broken = status not in (0, 2, 5) and not watch.failed
    return watch.failed or (f"pytest ended with {status}" if is_broken else f"{_NONE}{watch.ended} tests")


if __name__ == "__main__":
    sys.exit(main())
