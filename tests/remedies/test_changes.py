"""Changes of texts: only what stands at the places changes."""

import pytest

from harnessgen.remedies.changes import Change, OverlappingChanges, changed_texts
from harnessgen.source.place import Place

TEXT = "one: 0.35 mm2   # thin\ntwo: 0.35\nthree: {}\n"


def at(start: int, end: int, file: str = "a") -> Place:
    return Place(file, start, end, 1, 1, 1, 1)


def test_everything_else_stays() -> None:
    """Remarks, blanks and the spelling of units stay; a gap is filled; a file without changes is not given."""
    one, two, gap = TEXT.index("0.35 mm2"), TEXT.index("0.35\n"), TEXT.index("}")
    changes = (
        Change(at(gap, gap), "size: 1 mm2"),
        Change(at(two, two + 4), "0.75 mm2"),
        Change(at(one, one + 8), "0.5 mm2"),
        Change(at(one, one + 8)._replace(pattern="bank left"), "0.5 mm2"),
    )
    assert changed_texts({"a": TEXT, "b": "b"}, changes) == {
        "a": "one: 0.5 mm2   # thin\ntwo: 0.75\nthree: {size: 1 mm2}\n"
    }


def test_changes_that_differ_do_not_overlap() -> None:
    """Two texts for one place are a fault of who asks."""
    with pytest.raises(OverlappingChanges):
        changed_texts({"a": TEXT}, (Change(at(5, 13), "0.5 mm2"), Change(at(5, 13), "1 mm2")))
    with pytest.raises(KeyError):
        changed_texts({"a": TEXT}, (Change(at(5, 13, "c"), "0.5 mm2"),))
