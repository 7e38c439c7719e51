"""Machines that differ, as far as one can be told to behave as another: processors, locales, zones, hash seeds."""

import os
import subprocess
import sys
from collections.abc import Mapping, Sequence

MACHINES: dict[str, dict[str, str]] = {
    "an old core": {"OPENBLAS_CORETYPE": "Prescott"},
    "a middling core": {"OPENBLAS_CORETYPE": "Haswell"},
    "no wide registers": {
        "OPENBLAS_CORETYPE": "Prescott",
        "NPY_DISABLE_CPU_FEATURES": "AVX2 FMA3",
        "GLIBC_TUNABLES": "glibc.cpu.hwcaps=-AVX2,-FMA,-AVX2_Usable,-FMA_Usable",
    },
    "two threads": {"OPENBLAS_NUM_THREADS": "2"},
    "another seed": {"PYTHONHASHSEED": "1"},
    "a third seed": {"PYTHONHASHSEED": "4711"},
    "another place": {"LC_ALL": "C", "TZ": "Pacific/Kiritimati"},
}
"""Environment of each; what the processor does not have cannot be left out, which numpy warns of."""


def run_on(machine: Mapping[str, str], arguments: Sequence[str]) -> str:
    """Standard output of the interpreter with these arguments on a machine.

    Raises:
        subprocess.CalledProcessError: it ended with another status than 0 or 1.
    """
    done = subprocess.run(
        [sys.executable, *arguments],
        env={**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, sys.path)), **machine},
        stdout=subprocess.PIPE,
        check=False,
        text=True,
    )
    if done.returncode not in (0, 1):
        raise subprocess.CalledProcessError(done.returncode, arguments)
    return done.stdout
