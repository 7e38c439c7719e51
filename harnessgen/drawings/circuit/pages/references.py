"""References from sheet to sheet: where each joint is drawn, and what stands where a strand crosses to another sheet.

Each joint is drawn once. A strand that ends at a joint of another sheet ends in a flag with the number of that sheet,
and the joint has, for what leaves it, a flag with the number of the strand's sheet. Supplies and grounds are drawn on
every sheet.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import groupby

from harnessgen.drawings.circuit.elements.graph import (
    SHARED_KINDS,
    CircuitGraph,
    JunctionKind,
    SheetReference,
    Strand,
    StrandPiece,
)
from harnessgen.measures.designator import natural_key, segment_letters
from harnessgen.network.electrical import ElementKind

Share = tuple[int, ...]
"""Strands of one sheet, by their places in the circuit."""

_MOST_SINGLE_STUBS = 2
"""Up to so many wires that leave a joint for one sheet are drawn one by one, more in one flag."""
MOST_FLAGS = 12
"""Flags at one side of a joint; what goes to more sheets than that shares one flag."""


def sheet_strands(graph: CircuitGraph, shared: Sequence[Share]) -> list[tuple[Strand, ...]]:
    """The strands of each sheet as they are drawn there: own ones, and stubs of those that leave its joints."""
    sheet_of = {place: number for number, share in enumerate(shared, 1) for place in share}
    ends = joint_ends(graph)
    home = _homes(graph, ends, sheet_of)
    drawn: list[list[Strand]] = [[] for _ in shared]
    for place, number in sorted(sheet_of.items()):
        strand = graph.strands[place]
        before, after = (home.get(name, number) for name in (strand.upper, strand.lower))
        if graph.junctions[strand.upper].kind is JunctionKind.CUT:
            before = sheet_of[place - 1]
        if graph.junctions[strand.lower].kind is JunctionKind.CUT:
            after = sheet_of[place + 1]
        from_sheet = _beyond(graph, strand.upper, before, number)
        drawn[number - 1].append(
            replace(strand, from_sheet=from_sheet, to_sheet=_beyond(graph, strand.lower, after, number))
        )
    for name, number in home.items():
        drawn[number - 1].extend(_stubs(graph, name, ends[name], number, sheet_of))
    return [tuple(strands) for strands in drawn]


def joint_ends(graph: CircuitGraph) -> dict[str, tuple[list[int], list[int]]]:
    """For each junction that is drawn once, the strands that come down to it and those that leave it."""
    ends: dict[str, tuple[list[int], list[int]]] = {}
    for place, strand in enumerate(graph.strands):
        for side, name in enumerate((strand.lower, strand.upper)):
            if graph.junctions[name].kind in SHARED_KINDS:
                ends.setdefault(name, ([], []))[side].append(place)
    return ends


def trunk_of(graph: CircuitGraph, name: str, above: Sequence[int], below: Sequence[int]) -> int | None:
    """The trunk of a joint: the connector of a shared pin, or the only strand on one of its sides; None without one."""
    for place in (*above, *below):
        strand = graph.strands[place]
        near = strand.pieces[:1] if strand.upper == name else strand.pieces[-1:]
        if any(piece.element.kind is ElementKind.CONTACT for piece in near):
            return place
    return next((side[0] for side in sorted((above, below), key=len) if len(side) == 1), None)


def _homes(
    graph: CircuitGraph, ends: Mapping[str, tuple[Sequence[int], Sequence[int]]], sheet_of: Mapping[int, int]
) -> dict[str, int]:
    """Number of the sheet that draws each joint: that of its trunk, else that of most of its strands."""
    homes: dict[str, int] = {}
    for name, (above, below) in ends.items():
        trunk = trunk_of(graph, name, above, below)
        counts = Counter(sheet_of[place] for place in (*above, *below))
        homes[name] = sheet_of[trunk] if trunk is not None else max(sorted(counts), key=lambda each: counts[each])
    return homes


def _beyond(graph: CircuitGraph, name: str, sheet: int, own: int) -> SheetReference | None:
    """The reference at an end that is drawn on another sheet, or that is a cut."""
    is_cut = graph.junctions[name].kind is JunctionKind.CUT
    if sheet == own and not is_cut:
        return None
    return SheetReference(f"sheet {sheet}", "" if is_cut else _shown(graph, name))


def _shown(graph: CircuitGraph, name: str) -> str:
    """How a joint is named from another sheet."""
    return graph.junctions[name].device or name.removesuffix(" mate")


def _stubs(
    graph: CircuitGraph,
    name: str,
    ends: tuple[Sequence[int], Sequence[int]],
    number: int,
    sheet_of: Mapping[int, int],
) -> list[Strand]:
    """Short strands at a joint for those of its strands, `ends`, that are drawn on other sheets."""
    leaving = sorted(
        (graph.strands[place].upper == name, sheet_of[place], place)
        for place in dict.fromkeys((*ends[0], *ends[1]))
        if sheet_of[place] != number
    )
    stubs: list[Strand] = []
    for is_below, side in groupby(leaving, key=lambda each: each[0]):
        held = [(sheet, place) for _, sheet, place in side]
        sheets = sorted({sheet for sheet, _ in held})
        if len(sheets) > MOST_FLAGS:
            listed = SheetReference(f"sheets {in_short([str(sheet) for sheet in sheets])}", "")
            stubs.append(_flag(graph.strands[held[0][1]], listed, (), is_below=is_below))
            continue
        for sheet, group in groupby(held, key=lambda each: each[0]):
            stubs += _stubs_to(graph, sheet, [place for _, place in group], is_below=is_below)
    return stubs


def _stubs_to(graph: CircuitGraph, sheet: int, places: Sequence[int], *, is_below: bool) -> list[Strand]:
    strands = [graph.strands[place] for place in places]
    if len(strands) <= _MOST_SINGLE_STUBS:
        return [_stub(strand, sheet, is_below=is_below) for strand in strands]
    named = in_short([_near_name(strand, is_below=is_below) for strand in strands])
    return [_flag(strands[0], SheetReference(f"sheet {sheet}", named), (), is_below=is_below)]


def _near_name(strand: Strand, *, is_below: bool) -> str:
    """Mark of the wire, or name of the device, at the joint."""
    element = (strand.pieces[0] if is_below else strand.pieces[-1]).element
    return element.device.name if element.device is not None else element.name


def _stub(strand: Strand, sheet: int, *, is_below: bool) -> Strand:
    """The wire at the joint, and a flag with the first device beyond it."""
    near, *rest = strand.pieces if is_below else strand.pieces[::-1]
    if not near.element.kind.is_wire:
        named = SheetReference(f"sheet {sheet}", _near_name(strand, is_below=is_below))
        return _flag(strand, named, (), is_below=is_below)
    beyond = next((each.element.device.name for each in rest if each.element.device is not None), "")
    return _flag(strand, SheetReference(f"sheet {sheet}", beyond), (near,), is_below=is_below)


def _flag(strand: Strand, reference: SheetReference, pieces: tuple[StrandPiece, ...], *, is_below: bool) -> Strand:
    near = strand.element_at(strand.upper if is_below else strand.lower)
    if is_below:
        return Strand(strand.upper, strand.lower, pieces, to_sheet=reference, near=near)
    return Strand(strand.upper, strand.lower, pieces, from_sheet=reference, near=near)


def in_short(names: Sequence[str]) -> str:
    """Names in one line, more than two that follow one another as a range: `12B to 12M, 13A, Q3 to Q5`."""
    runs: list[list[str]] = []
    for name in sorted(dict.fromkeys(names), key=lambda each: (natural_key(each.rstrip(_LETTERS)), len(each), each)):
        if runs and name == _next_name(runs[-1][-1]):
            runs[-1].append(name)
        else:
            runs.append([name])
    parts: list[str] = []
    for run in runs:
        parts += [f"{run[0]} to {run[-1]}"] if len(run) > 2 else run
    return ", ".join(parts)


_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def _next_name(name: str) -> str:
    """The name after this one: the next number, or the next letters of a wire's mark."""
    if name[-1:].isdigit():
        stem = name.rstrip("0123456789")
        return f"{stem}{int(name[len(stem) :]) + 1}"
    stem = name.rstrip(_LETTERS)
    index = 0
    for letter in name[len(stem) :]:
        index = index * 26 + _LETTERS.index(letter) + 1
    return f"{stem}{segment_letters(index)}" if stem and index else ""
