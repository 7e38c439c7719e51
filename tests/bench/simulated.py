"""Harnesses with a fault built into them, solved by a circuit simulator: many circuits in one run.

Nothing here knows of low-rank changes or of islands: a broken wire is cut in two, a poor joint is a resistor at its
end, a swapped wire sits in the other's place, a relay that its coil pulls in is closed and the harness solved again.
"""

import re
import subprocess
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from math import inf
from pathlib import Path
from typing import NamedTuple

import numpy as np

from harnessgen.bench.faults.fault import (
    TOUCH_OHM,
    Change,
    Exchanged,
    Gone,
    Meets,
    Series,
    Shorted,
    Spot,
    Stuck,
    Swapped,
    Thinner,
)
from harnessgen.bench.setup.installed import Fitted
from harnessgen.bench.simulation.unpowered import METAL_POINT, Rig
from harnessgen.design.records.device import Relay, Supply
from harnessgen.network.electrical import REFERENCE, Element, ElementKind
from tests.physics.simulator import NGSPICE

_MOST_RESISTORS = 40_000
"""Resistors in one run of the simulator: its time grows faster than their number beyond."""


class Piece(NamedTuple):
    """A resistance between two points."""

    name: str
    a: str
    b: str
    ohm: float


@dataclass(frozen=True)
class Circuit:
    """Resistances, points held at volts, and pairs of points between which one ampere is sent from the second."""

    pieces: tuple[Piece, ...]
    held_v: tuple[tuple[str, float], ...] = ()
    ampere: tuple[str, str] | None = None


def solved(circuits: Sequence[Circuit], folder: Path) -> list[dict[str, float]]:
    """Volts of every point of each circuit; a point that hangs free reads 0 V, by 1e12 ohm to the reference."""
    found: list[dict[str, float]] = []
    batch: list[Circuit] = []
    size = 0
    for circuit in circuits:
        if batch and size + len(circuit.pieces) > _MOST_RESISTORS:
            found += _run(batch, folder)
            batch, size = [], 0
        batch.append(circuit)
        size += len(circuit.pieces)
    return found + _run(batch, folder) if batch else found


def _run(circuits: Sequence[Circuit], folder: Path) -> list[dict[str, float]]:
    lines = ["harnesses with a fault each", ".options rshunt=1e12"]
    names: list[dict[str, str]] = []
    for number, circuit in enumerate(circuits):
        name_of = {REFERENCE: "0"}
        for place, piece in enumerate(circuit.pieces):
            a, b = (name_of.setdefault(end, f"n{number}_{len(name_of)}") for end in (piece.a, piece.b))
            if a != b:
                lines.append(f"R{number}_{place} {a} {b} {piece.ohm!r}")
        for place, (point, volts) in enumerate(circuit.held_v):
            lines.append(f"V{number}_{place} {name_of.setdefault(point, f'n{number}_{len(name_of)}')} 0 {volts!r}")
        if circuit.ampere is not None:
            into, out_of = (name_of.setdefault(end, f"n{number}_{len(name_of)}") for end in circuit.ampere)
            lines.append(f"I{number} {out_of} {into} 1")
        names.append(name_of)
    raw = folder / "volts.raw"
    lines += [".control", "op", f"write {raw}", "quit", ".endc", ".end", ""]
    deck = folder / "faults.cir"
    deck.write_text("\n".join(lines), encoding="ascii")
    assert NGSPICE is not None
    done = subprocess.run([NGSPICE, "-b", str(deck)], capture_output=True, text=True, timeout=120, check=False)
    assert raw.exists(), done.stdout + done.stderr
    volts = _read(raw)
    raw.unlink()
    return [
        {point: volts[f"v({name})"] if name != "0" else 0.0 for point, name in name_of.items()} for name_of in names
    ]


def _read(raw: Path) -> dict[str, float]:
    head, _, body = raw.read_bytes().partition(b"Binary:\n")
    listed = re.findall(r"^\s*\d+\s+(\S+)\s+(?:voltage|current)", head.decode("ascii"), flags=re.MULTILINE)
    return dict(zip(listed, np.frombuffer(body, dtype=np.float64).tolist(), strict=True))


class BrokenBench:
    """A harness without power with a fault in it."""

    def __init__(self, rig: Rig, change: Change) -> None:
        pieces = list(_broken_bench(rig, [Piece(*edge) for edge in rig.edges], change))
        pieces += [Piece("", METAL_POINT, point, TOUCH_OHM) for point in sorted(rig.metal)]
        self.near: dict[str, list[Piece]] = {}
        for piece in pieces:
            self.near.setdefault(piece.a, []).append(piece)
            self.near.setdefault(piece.b, []).append(piece)

    def circuit(self, a: Sequence[str], b: Sequence[str]) -> Circuit | None:
        """One ampere from the tip at `b` to that at `a`, each of points clipped together; None where no way leads.

        Only what hangs together with `a` is written, so that a fault elsewhere leaves the circuit what it was.
        """
        clips = [Piece("", points[0], point, TOUCH_OHM) for points in (a, b) for point in points[1:]]
        at: dict[str, list[Piece]] = {}
        for piece in clips:
            at.setdefault(piece.a, []).append(piece)
            at.setdefault(piece.b, []).append(piece)
        kept: dict[int, Piece] = {}
        reached, queue = {a[0]}, [a[0]]
        for point in queue:
            for piece in (*self.near.get(point, ()), *at.get(point, ())):
                kept[id(piece)] = piece
                other = piece.b if piece.a == point else piece.a
                if other not in reached:
                    reached.add(other)
                    queue.append(other)
        if b[0] not in reached:
            return None
        # The second tip is the reference.
        ends = ((*(REFERENCE if end == b[0] else end for end in (each.a, each.b)), each.ohm) for each in kept.values())
        return Circuit(tuple(Piece("", *each) for each in ends), ampere=(a[0], REFERENCE))


def _broken_bench(rig: Rig, pieces: list[Piece], change: Change) -> Iterator[Piece]:
    ends = {piece.name: (piece.a, piece.b) for piece in pieces}

    def at(spot: Spot) -> str | None:
        if not spot.mark:
            return METAL_POINT
        return ends[spot.mark][spot.end] if spot.mark in ends else None

    match change:
        case Meets(one=one, other=other, ohm=ohm):
            yield from pieces
            first, second = at(one), at(other)
            if first is not None and second is not None:
                yield Piece("touching", first, second, max(ohm, TOUCH_OHM))
        case Swapped(one=one, other=other) if at(one) is None or at(other) is None:
            yield from pieces
        case Exchanged(one=one, other=other):
            for piece in pieces:
                # What is plugged into a connector hangs on its cavities.
                is_mate = piece.b == f"{piece.a} mate"
                yield _elsewhere(piece, one, other) if is_mate else piece
        case _:
            yield from _broken_wire(pieces, change)


def _elsewhere(piece: Piece, one: str, other: str) -> Piece:
    name, _, cavity = piece.a.partition("/")
    moved = {one: other, other: one}.get(name, name)
    return piece._replace(a=f"{moved}/{cavity}")


def _broken_wire(pieces: Iterable[Piece], change: Change) -> Iterator[Piece]:
    """Faults of one or two wires: cut, a joint at one end, thinner, each in the other's place."""
    held = list(pieces)
    ends = {piece.name: (piece.a, piece.b) for piece in held}
    for piece in held:
        match change:
            case Series(spot=spot, ohm=ohm) if spot.mark == piece.name:
                loose = f"{piece.name} cut"
                yield piece._replace(a=loose) if spot.end == 0 else piece._replace(b=loose)
                if ohm != inf and ohm > 0:
                    yield Piece("joint", ends[piece.name][spot.end], loose, ohm)
            case Thinner(mark=mark, times=times) if mark == piece.name:
                yield piece._replace(ohm=piece.ohm * times)
            case Swapped(one=one, other=other) if piece.name in (one.mark, other.mark):
                mine, its = (one, other) if piece.name == one.mark else (other, one)
                place = ends[its.mark][its.end]
                yield piece._replace(a=place) if mine.end == 0 else piece._replace(b=place)
            case _:
                yield piece


@dataclass
class Powered:
    """A harness under power with a fault, while its relays and fuses come to rest; the `outputs` go on after that."""

    fitted: Fitted
    elements: tuple[Element, ...]
    on: frozenset[str]
    change: Change
    outputs: frozenset[str] = frozenset()
    holds: frozenset[str] = frozenset()
    blown: frozenset[str] = frozenset()
    seen: set[frozenset[str]] = field(default_factory=set)
    volts: dict[str, float] = field(default_factory=dict)
    amperes: dict[str, float] = field(default_factory=dict)

    def circuit(self) -> Circuit:
        """What conducts now, with the fault."""
        held_v: dict[str, float] = {}
        pieces: list[Piece] = []
        for element in self.elements:
            if element.name in self.blown or not self._conducts(element):
                continue
            ohm, a, b = self.fitted.physics.ohms[element.name], element.a, element.b
            if element.kind is ElementKind.SUPPLY and isinstance(element.device, Supply):
                source = f"inside {element.name}" if ohm > 0 else a
                held_v[source] = element.device.voltage_v.value
                b = source
            elif element.kind is ElementKind.GROUND and ohm == 0:
                held_v[a] = 0.0
            if ohm > 0:
                pieces.append(Piece(element.name, a, b, ohm))
        return Circuit(tuple(self._broken(pieces)), tuple(held_v.items()))

    def _conducts(self, element: Element) -> bool:
        name = element.device.name if element.device is not None else ""
        if self.change == Gone(name):
            return False
        if element.kind is ElementKind.MAKE:
            return name in self.holds
        if element.kind is ElementKind.BREAK:
            return name not in self.holds
        is_switched = element.kind in (ElementKind.SWITCH, ElementKind.DRIVER)
        return not is_switched or name in self.on or self.change == Stuck(name)

    def _broken(self, pieces: list[Piece]) -> Iterator[Piece]:
        match self.change:
            case Meets(one=one, other=other, ohm=ohm):
                yield from pieces
                yield Piece("touching", self._at(one), self._at(other), max(ohm, TOUCH_OHM))
            case Exchanged(one=one, other=other):
                contacts = {each.name for each in self.elements if each.kind is ElementKind.CONTACT}
                yield from (_elsewhere(each, one, other) if each.name in contacts else each for each in pieces)
            case Shorted(device=device):
                yield from pieces
                for each in self.elements:
                    if each.device is not None and each.device.name == device and each.kind.does_work:
                        yield Piece("touching", each.a, each.b, TOUCH_OHM)
            case _:
                yield from _broken_wire(pieces, self.change)

    def _at(self, spot: Spot) -> str:
        return self.fitted.network.wire_of[spot.mark].ends[spot.end].node if spot.mark else REFERENCE

    def take(self, circuit: Circuit, volts: dict[str, float], blows_at: float) -> bool:
        """Take what the simulator found of a circuit; whether relays and fuses are at rest with it."""
        self.volts = volts
        self.amperes = {each.name: (volts[each.a] - volts[each.b]) / each.ohm for each in circuit.pieces if each.name}
        relays = self.fitted.network.parts.relays
        holding = frozenset(
            each.device.name
            for each in self.elements
            if each.kind is ElementKind.COIL
            and isinstance(each.device, Relay)
            and abs(volts.get(each.a, 0.0) - volts.get(each.b, 0.0)) >= relays[each.device.part].pull_in_v.value
        )
        if holding != self.holds and holding not in self.seen:
            self.seen.add(self.holds)
            self.holds = holding
            return False
        fuses = self.fitted.network.design.fuses
        blown = {n for n, fuse in fuses.items() if abs(self.amperes.get(n, 0.0)) >= blows_at * fuse.rating_a.value}
        on = self.on | self.outputs
        goes_on = bool(blown) or on != self.on
        if goes_on:
            # What is out stays out, and relays go on from where they are.
            self.blown, self.on, self.seen = self.blown | blown, self.on if blown else on, set()
        return not goes_on

    def between(self, a: str, b: str) -> float:
        """What a meter reads from `a` to `b`, in volts: nothing where one of them hangs free."""
        free = {a, b} - self.led_to
        return 0.0 if free else self.volts.get(a, 0.0) - self.volts.get(b, 0.0)

    @cached_property
    def led_to(self) -> set[str]:
        """Points that something leads to from the reference or from a supply."""
        circuit = self.circuit()
        near: dict[str, list[str]] = {}
        for piece in circuit.pieces:
            near.setdefault(piece.a, []).append(piece.b)
            near.setdefault(piece.b, []).append(piece.a)
        queue = [REFERENCE, *(point for point, _ in circuit.held_v)]
        reached = set(queue)
        for point in queue:
            for other in near.get(point, ()):
                if other not in reached:
                    reached.add(other)
                    queue.append(other)
        return reached


def powered(fitted: Fitted, elements: tuple[Element, ...], on: Iterable[str], change: Change) -> Powered:
    """The harness with its switches of `on` on, and what else is on to follow."""
    switches = frozenset(each for each in on if each in fitted.network.design.switches)
    return Powered(fitted, elements, switches, change, frozenset(on) - switches)


def settle(harnesses: Sequence[Powered], blows_at: float, folder: Path) -> None:
    """Solve all, and those again whose relays move or whose fuses blow, until none does."""
    left = list(harnesses)
    while left:
        circuits = [each.circuit() for each in left]
        found = zip(left, circuits, solved(circuits, folder), strict=True)
        left = [each for each, circuit, volts in found if not each.take(circuit, volts, blows_at)]
