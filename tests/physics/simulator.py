"""Transients by a circuit simulator, for tests: a netlist goes in, averages, RMS and peaks of sources come out."""

import re
import shutil
import subprocess
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import pytest

NGSPICE = shutil.which("ngspice")

needs_simulator = pytest.mark.skipif(NGSPICE is None, reason="ngspice is not installed")

MODELS = """\
.model sharp d(is=1e-12 n=0.1 rs=1e-3 cjo=1e-11)
.options reltol=1e-4 abstol=1e-8 vntol=1e-6 method=gear
"""
"""A diode that drops some 70 mV, so that a voltage source beside it makes its forward voltage."""

SHARP_V = 0.07
SPIKE_S = 5e-6


@dataclass(frozen=True)
class Measured:
    """Average, RMS and peak of a current over the last period, in A, without sign."""

    mean_a: float
    rms_a: float
    peak_a: float


def transient(
    title: str, elements: Sequence[str], sources: Sequence[str], period_s: float, periods: int, step_s: float, at: Path
) -> dict[str, Measured]:
    """Currents through the voltage sources named `sources` over the last of `periods`."""
    last, end = (periods - 1) * period_s, periods * period_s
    lines = [title, *elements, MODELS, f".tran {step_s!r} {end!r} {last - 2 * step_s!r} {step_s!r}"]
    for number, source in enumerate(sources):
        for what, word in (("avg", "avg"), ("rms", "rms"), ("top", "max"), ("low", "min")):
            # A diode that is still conducting when the output turns on gives a spike of its own model, no coil's.
            begins = last + SPIKE_S if word in ("max", "min") else last
            lines.append(f".meas tran {what}{number} {word} i({source}) from={begins!r} to={end!r}")
    file = at / "transient.cir"
    file.write_text("\n".join([*lines, ".end", ""]), encoding="ascii")
    assert NGSPICE is not None
    done = subprocess.run([NGSPICE, "-b", str(file)], capture_output=True, text=True, timeout=120, check=False)
    assert "aborted" not in done.stdout + done.stderr, done.stdout + done.stderr
    found = {
        name: float(value)
        for name, value in re.findall(r"^(\w+\d+)\s+=\s+(\S+)", done.stdout.lower(), flags=re.MULTILINE)
    }
    assert found, done.stdout + done.stderr
    return {
        source: Measured(
            abs(found[f"avg{number}"]),
            found[f"rms{number}"],
            max(abs(found[f"top{number}"]), abs(found[f"low{number}"])),
        )
        for number, source in enumerate(sources)
    }
