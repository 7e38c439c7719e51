"""The rules that are examined on the fault simulation, when a harness is built or proved."""

from harnessgen.evidence.finding import Severity
from harnessgen.evidence.publication import Publication, Standing
from harnessgen.evidence.rule import Release, Requirement, Rule

IEEE_1522 = Publication("IEEE Std 1522-2004", "fault detection, fault isolation", Standing.FROM_MEMORY)

BENCH_RULES = (
    Rule(
        "untested-fault",
        Severity.ERROR,
        Requirement.BENCH,
        "a fault with a severe consequence that no step of the test procedures shows",
        "harnessgen.bench:untested_fault.md",
        (IEEE_1522,),
        "harnessgen.bench.untested_fault:check",
        withholds=(Release.RUNNING,),
    ),
)
