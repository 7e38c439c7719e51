"""What all tests share: how much is run, and linear algebra on one thread, as the command line has it."""

import os

import pytest
from hypothesis import settings

from tests import samples

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
# Reports are wrapped at the width of the terminal; a test sees the width that files have.
os.environ["COLUMNS"] = "110"

# The ordinary suite tries the same examples at each run, so that it fails for a change and not by chance.
settings.register_profile("short", max_examples=25, derandomize=True)
settings.register_profile("long", max_examples=200)


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--long", action="store_true", help="run everything: all seeds, many examples, all that is marked long"
    )


def pytest_configure(config: pytest.Config) -> None:
    config.addinivalue_line("markers", "long: run by `.ci/long` (with --long) only")
    samples.is_long = bool(config.getoption("--long"))
    settings.load_profile("long" if samples.is_long else "short")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    if samples.is_long:
        return
    left_out = [each for each in items if each.get_closest_marker("long") is not None]
    if left_out:
        config.hook.pytest_deselected(items=left_out)
        items[:] = [each for each in items if each.get_closest_marker("long") is None]
