"""Documents stay the same to the byte, unless somebody changes them on purpose.

After a change that is meant, `python -m tests.whole.golden_files` writes the files again; the diff is for the reviewer.
"""

import pytest

from harnessgen import run
from tests.whole.golden_files import DESIGNS, FOLDER, built, golden, kept


@pytest.mark.parametrize("name", DESIGNS)
def test_every_document_is_as_it_was(name: str) -> None:
    new, old = golden(built(name)), kept(name)
    assert sorted(new) == sorted(old)
    for file in sorted(new):
        assert new[file].decode() == old[file].decode(), f"{name}/{file}"


@pytest.mark.parametrize("name", DESIGNS)
def test_a_golden_design_is_sound(name: str) -> None:
    """So that its documents are those of a harness that is for build."""
    checked = run.examine_text((FOLDER / f"{name}.yaml").read_text(encoding="utf-8"))
    assert checked.exit_status == 0
