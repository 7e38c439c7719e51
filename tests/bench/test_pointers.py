"""What a step points to, all steps at once, against the same collected step by step."""

from collections.abc import Iterable

from hypothesis import given
from hypothesis import strategies as st

from harnessgen.bench.detection.detection import Detection
from harnessgen.bench.faults.fault import Consequence, FaultKind, HarnessFault
from harnessgen.bench.pointers import Pointing

KINDS = [
    FaultKind.WIRE_OPEN,
    FaultKind.TERMINAL_OPEN,
    FaultKind.POOR_JOINT,
    FaultKind.NETS_BRIDGED,
    FaultKind.WIRES_SWAPPED,
    FaultKind.FUSE_MISSING,
    FaultKind.SIZE_WRONG,
    FaultKind.LABEL_WRONG,
]
OPENS = {FaultKind.WIRE_OPEN: "open", FaultKind.TERMINAL_OPEN: "open"}
STEPS = 5


def pointed_to(faults: Iterable[HarnessFault]) -> tuple[str, ...]:
    """One step's lines by plain dictionaries; the subjects here are numbers with a letter."""
    suspects: dict[str, list[str]] = {}
    for fault in faults:
        names = suspects.setdefault(OPENS.get(fault.kind, fault.kind.value), [])
        if fault.subject not in names:
            names.append(fault.subject)
    lines = []
    for kind, names in sorted(suspects.items(), key=lambda item: len(item[1])):
        names.sort(key=lambda name: int(name[:-1]))
        more = f" and {len(names) - 6} more" if len(names) > 6 else ""
        lines.append(f"{kind}: {', '.join(names[:6])}{more}")
    rest = [line.partition(":")[0] for line in lines[5:]]
    return (*lines[:5], f"or {', '.join(rest)}") if rest else tuple(lines)


@given(
    st.lists(
        st.tuples(st.sampled_from(KINDS), st.integers(1, 120), st.integers(0, 2**STEPS - 1)), min_size=1, max_size=90
    )
)
def test_all_steps_at_once_point_to_what_each_points_to(drawn: list[tuple[FaultKind, int, int]]) -> None:
    """Up to 90 faults of eight classes under five steps; faults of one subject count once a class."""
    faults = [HarnessFault(kind, "", f"{number}A", None, Consequence.LIMP) for kind, number, _ in drawn]
    # Each step shows one fault at least, as each step of a procedure does.
    masks = [mask | (2**STEPS - 1 if not place else 0) for place, (_, _, mask) in enumerate(drawn)]
    shown: dict[int, list[int]] = {}
    for place in reversed(range(len(masks))):
        shown.setdefault(masks[place], []).append(place)
    rank = Detection(tuple(faults), tuple(masks), ()).rank
    assert Pointing(faults, rank).lines(shown) == [
        pointed_to(fault for fault, mask in zip(faults, masks, strict=True) if mask >> step & 1)
        for step in range(STEPS)
    ]
