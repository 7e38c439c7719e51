"""Keeping what a library writes past Python out of our output."""

import ctypes
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def libraries_silent() -> Iterator[None]:
    """Drops what a library of numbers writes to the standard output by itself, such as a remark of its solver."""
    sys.stdout.flush()
    kept = os.dup(1)
    nothing = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nothing, 1)
        yield
    finally:
        # The library's own buffer has to go the same way before the descriptor is ours again.
        if os.name == "posix":
            ctypes.CDLL(None).fflush(None)
        os.dup2(kept, 1)
        os.close(nothing)
        os.close(kept)
