"""Every key of the format with absurd values: refused where it stands with what it takes, and never a crash."""

from collections.abc import Iterator

import pytest

from harnessgen.design.records.design import Design
from harnessgen.measures.quantity import DIMENSIONS
from harnessgen.run import read
from harnessgen.source.container import ListOf, MapOf, RecordOf, records_under
from harnessgen.source.key import Record, keys_of
from harnessgen.source.kind import AlreadyTold, Kind, Reading, Refusal
from harnessgen.source.measure_kind import Measure, Size
from harnessgen.source.place import Place
from harnessgen.source.reader import Scalar

_ABSURD = (
    "1e30 UNIT", "1e99 UNIT", "-1e99 UNIT", f"{'9' * 70} UNIT", f"{'9' * 100} UNIT", "1e-99 UNIT", "nan", "inf", "-inf",
    "nan UNIT", "1e-300 UNIT", "1e300 UNIT", "1 UNIT +/- 1e99", "1/0 UNIT", f"1/{'9' * 60} UNIT", "0x10",
    "1_000_000", "١e٩٩", "", "[1, 2", "\U0001f600", "1e9999999999", "--1", "1 UNIT x x", "x" * 5000,
)  # fmt: skip


def _kinds(kind: Kind) -> Iterator[Kind]:
    yield kind
    if isinstance(kind, MapOf | ListOf):
        yield from _kinds(kind.value)


_KEYS = [
    (f"{record.__name__}.{key.name}", kind)
    for record in records_under(Design)
    for _, key in keys_of(record).values()
    for kind in _kinds(key.kind)
]
_MEASURED = [(name, kind) for name, kind in _KEYS if isinstance(kind, Measure | Size)]


def _refusal(kind: Kind, text: str) -> Refusal | None:
    try:
        kind.read(Scalar(text, Place("design.yaml", 7, 7 + len(text), 2, 3, 2, 3 + len(text))), Reading())
    except Refusal as refusal:
        return refusal
    except AlreadyTold:
        return None
    return None


@pytest.mark.parametrize(("name", "kind"), _MEASURED)
def test_every_measured_key_refuses_what_no_vehicle_has(name: str, kind: Kind) -> None:
    """Each absurd text is refused at its place, in a message that does not fill a page, with what to write instead."""
    unit = "mm2" if isinstance(kind, Size) else kind.dimension.base.replace("1", "")
    for text in _ABSURD:
        # A temperature may be as near to 0 as it likes.
        is_small = "e-" in text or text.startswith("1/9")
        if is_small and isinstance(kind, Measure) and not kind.dimension.finest:
            continue
        if isinstance(kind, Measure) and kind.only_tolerance:
            text = f"+/- {text}"
            if is_small:
                continue
        refusal = _refusal(kind, text.replace("UNIT", unit))
        assert refusal is not None, f"{name} takes {text}"
        assert refusal.place.line == 2
        assert len(refusal.message) < 250
        assert refusal.mend


@pytest.mark.parametrize(("name", "kind"), [each for each in _MEASURED if isinstance(each[1], Measure)])
def test_a_refusal_says_what_is_taken(name: str, kind: Measure) -> None:
    """The range in the message is the one that holds: its upper end is taken, and what lies beyond it is not."""
    if kind.only_tolerance:
        return
    unit = kind.dimension.base.replace("1", "")
    most = kind.dimension.highest if kind.highest is None else kind.highest
    assert _refusal(kind, f"{most:f} {unit}") is None, name
    refusal = _refusal(kind, f"{most * 1.01:f} {unit}")
    assert refusal is not None
    assert f"at most {most:f}".rstrip("0").rstrip(".") in refusal.message


def test_no_key_takes_a_negative_nothing_for_a_number_below_zero() -> None:
    """A minus before 0 is 0: kept by keys from 0 on, refused by keys above 0."""
    for _, kind in _MEASURED:
        if isinstance(kind, Measure) and not kind.only_tolerance:
            unit = kind.dimension.base.replace("1", "")
            assert (_refusal(kind, f"-0 {unit}") is None) is (_refusal(kind, f"0 {unit}") is None)


@pytest.mark.parametrize(("name", "kind"), _KEYS)
def test_no_kind_of_value_crashes(name: str, kind: Kind) -> None:
    """Keys that hold no quantity refuse or take every text; records are tried key by key."""
    if isinstance(kind, RecordOf | MapOf | ListOf):
        return
    for text in _ABSURD:
        refusal = _refusal(kind, text)
        assert refusal is None or len(refusal.message) < 300 + 20 * len(getattr(kind, "choices", ()))


def test_a_design_with_an_absurd_length_is_told_of_at_the_key() -> None:
    """The finding has line, value and range."""
    text = "format: 2\nharness: {title: a, number: b, revision: c}\nroute:\n  a: {b: 1e30 mm, c: 1 m}\n"
    faults = read("design.yaml", lambda _: text).faults
    assert [(fault.place.line, fault.place.column, fault.message) for fault in faults] == [
        (4, 10, "1e30 mm is out of bounds; this length is at least 0 mm and at most 100000 mm.")
    ]


def test_every_dimension_has_a_range() -> None:
    """And what is finest in it fits into it."""
    for dimension in DIMENSIONS:
        assert dimension.lowest <= 0 < dimension.highest
        assert 0 <= dimension.finest < dimension.highest / 100
    assert issubclass(Design, Record)
