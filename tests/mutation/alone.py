"""Run a function in a process of its own: what it imports, changes or breaks is gone with it."""

import json
import math
import os
import resource
import select
import signal
import sys
import time
import traceback
from collections.abc import Callable
from pathlib import Path
from typing import Any


def preload() -> None:
    """Import what every run needs of other packages, so that it is not done anew for each."""
    import networkx
    import numpy
    import pytest
    import scipy.optimize
    import scipy.sparse.linalg
    import yaml

    assert all((networkx, numpy, pytest, scipy, yaml))
    assert not any(name.startswith("harnessgen") for name in sys.modules), "the package would not be read anew"


def alone(work: Callable[[], Any], most_s: float) -> Any:
    """The result of a function, by way of JSON; None where it took more than `most_s` seconds of processor time.

    What waits instead is ended after twenty times as long, so that a busy machine makes no difference.

    Raises:
        RuntimeError: it failed.
    """
    reading, writing = os.pipe()
    child = os.fork()
    if not child:
        status = 1
        try:
            os.setsid()
            resource.setrlimit(resource.RLIMIT_CPU, (math.ceil(most_s), math.ceil(most_s) + 1))
            os.close(reading)
            quiet = os.open(os.devnull, os.O_WRONLY)
            os.dup2(quiet, 1)
            if not os.environ.get("MUTATION_SHOWS"):
                os.dup2(quiet, 2)
            with os.fdopen(writing, "w") as out:
                json.dump(work(), out)
            status = 0
        except BaseException:
            traceback.print_exc()
        finally:
            os._exit(status)
    os.close(writing)
    text, ends = b"", time.monotonic() + 20.0 * most_s
    while True:
        ready, _, _ = select.select([reading], [], [], max(0.0, ends - time.monotonic()))
        if not ready:
            os.killpg(child, signal.SIGKILL)
            os.waitpid(child, 0)
            os.close(reading)
            return None
        more = os.read(reading, 1 << 16)
        if not more:
            break
        text += more
    os.close(reading)
    _, status = os.waitpid(child, 0)
    if os.WIFSIGNALED(status) and os.WTERMSIG(status) in (signal.SIGXCPU, signal.SIGKILL):
        return None
    if status:
        raise RuntimeError("the process failed")
    return json.loads(text)


def copied(root: Path, to: Path) -> Path:
    """A copy of what tests need of a checkout."""
    import shutil

    for name in ("harnessgen", "tests", "designs"):
        shutil.copytree(root / name, to / name, ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("pyproject.toml", "README.md", "DEVELOPERS.md"):
        shutil.copy(root / name, to / name)
    return to
