"""The cut wires of a harness: runs laid along the route, cut where they pass a disconnect, and marked.

The marks of a circuit's wires follow the order of its runs and, within a run, the way from its first end: 21A, 21B ...
A mark that the design fixes stays with the wire between its two ends.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from enum import Enum

from harnessgen.design.checks.consistency import family_for, wire_families
from harnessgen.design.limits.table import Limits
from harnessgen.design.reading.runs import Run, runs_of
from harnessgen.design.records.circuit import GivenLength
from harnessgen.design.records.design import Design
from harnessgen.measures.colour_code import ColourCode
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.measures.designator import segment_letters
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import Quantity
from harnessgen.network.route import Leg, Mating, Route
from harnessgen.network.section import Sections
from harnessgen.parts.library import Parts
from harnessgen.parts.wire import WireFamily, WireSize
from harnessgen.source.fault import Fault
from harnessgen.source.kind import End, names_in
from harnessgen.source.near import did_you_mean
from harnessgen.source.place import Place


class EndKind(Enum):
    """What a wire ends in."""

    CAVITY = "cavity"
    """A cavity of a connector or of half a disconnect."""
    SPLICE = "splice"
    LANDING = "landing"
    """A terminal of a device that the wire is fixed to directly."""


@frozen
class WireEnd:
    """One end of a cut wire: the thing, its cavity or terminal, and the node of the route where it sits."""

    kind: EndKind
    designator: str
    terminal: str
    route_node: str

    @property
    def node(self) -> str:
        """Name of the electrical node: `C21/1`, `S1`, `F1/out`, `G1`."""
        return f"{self.designator}/{self.terminal}" if self.terminal else self.designator

    def __str__(self) -> str:
        """As it is printed."""
        return self.node


@frozen
class Wire:
    """One cut piece of wire. `way` are the parts of stretches that it lies in, from its end `a` to its end `b`.

    `run` is what the builder says of it, which its pieces share. `size` and `size_place` are its own: a size can be
    given for one mark. `cable` names the cable that it is a part of; empty elsewhere.
    """

    mark: str
    run: Run
    a: WireEnd
    b: WireEnd
    size: ConductorSize
    size_place: Place
    family: WireFamily
    figures: WireSize
    section: str
    way: tuple[Leg, ...]
    cable: str = ""
    cut: GivenLength | None = None

    @property
    def circuit(self) -> str:
        """Designator of its circuit."""
        return self.run.circuit

    @property
    def colour(self) -> ColourCode:
        """Colour of its insulation."""
        return self.run.colour

    @property
    def slack_mm(self) -> Quantity:
        """Slack on purpose."""
        return self.run.slack_mm

    @property
    def cut_mm(self) -> Quantity | None:
        """Length of a wire that is there already."""
        return self.cut.mm if self.cut is not None else None

    @property
    def cut_place(self) -> Place:
        """Where the file gives that length; the place of its run where it gives none."""
        return self.cut.place if self.cut is not None else self.run.place

    @property
    def limits(self) -> Limits | None:
        """Limits of its circuit alone."""
        return self.run.limits

    @property
    def place(self) -> Place:
        """Where its run stands in the file."""
        return self.run.place

    @property
    def bank(self) -> str:
        """Bank that it was expanded from; empty outside a bank."""
        return self.run.bank

    @property
    def ends(self) -> tuple[WireEnd, WireEnd]:
        """Both ends."""
        return (self.a, self.b)

    def other(self, node: str) -> WireEnd:
        """The end that is not at the electrical node `node`."""
        return self.b if self.a.node == node else self.a


@dataclass(slots=True)
class _Piece:
    run: Run
    a: WireEnd
    b: WireEnd
    way: tuple[Leg, ...]
    cut: GivenLength | None = None


@frozen
class CutWires:
    """All wires in the order of their circuits, and what kept a run from becoming wires."""

    wires: tuple[Wire, ...]
    faults: tuple[Fault, ...]


def cut_wires(design: Design, parts: Parts, route: Route, sections: Sections) -> CutWires:
    """Lay and cut every run of `design` (with its banks expanded)."""
    return _Cutter(design, parts, route, sections).cut()


@dataclass(slots=True)
class _Cutter:
    design: Design
    parts: Parts
    route: Route
    sections: Sections
    faults: list[Fault] = field(default_factory=list)
    apart: list[tuple[Run, WireEnd, WireEnd]] = field(default_factory=list)
    """Runs whose two ends no way joins."""

    def cut(self) -> CutWires:
        pieces: dict[str, list[_Piece]] = {}
        passed: dict[str, set[tuple[str, Place]]] = {}
        cables = {
            circuit: name
            for name, cable in self.design.cables.items()
            for circuit in (*cable.circuits, *((cable.shield.circuit,) if cable.shield else ()))
        }
        runs = list(runs_of(self.design))
        for run in runs:
            used = passed.setdefault(run.circuit, set())
            pieces.setdefault(run.circuit, []).extend(self._pieces(run, used))
        self._tell_apart()
        self._tell_unused_passages(runs, passed)
        marks = self._marks(pieces)
        self._tell_unknown_sizes({mark for own in marks.values() for mark in own})
        wires = tuple(
            self._wire(mark, piece, cables.get(circuit, ""))
            for circuit, own in pieces.items()
            for mark, piece in zip(marks[circuit], own, strict=True)
        )
        return CutWires(wires, tuple(self.faults))

    def _pieces(self, run: Run, used: set[tuple[str, Place]]) -> list[_Piece]:
        ends = self._end(run.from_, is_start=True), self._end(run.to, is_start=False)
        if ends[0] is None or ends[1] is None:
            return []
        start, goal = ends[0], ends[1]
        path = self.route.path(start.route_node, goal.route_node)
        if path is None:
            self.apart.append((run, start, goal))
            return []
        pieces: list[_Piece] = []
        way: list[Leg] = []
        at, node = start, start.route_node
        for edge in path:
            after = edge.end if edge.start == node else edge.start
            if isinstance(edge, Leg):
                way.append(edge)
            else:
                halves = self._pass(run, edge, node, after, used)
                if halves is None:
                    return []
                pieces.append(_Piece(run, at, halves[0], tuple(way)))
                at, way = halves[1], []
            node = after
        pieces.append(_Piece(run, at, goal, tuple(way)))
        if run.cut and len(run.cut) != len(pieces):
            count, wires = len(run.cut), "one wire" if len(pieces) == 1 else f"{len(pieces)} wires"
            given = "one cut length is given" if count == 1 else f"{count} cut lengths are given"
            why = (
                "passes a disconnect, so it is"
                if len(pieces) > 1
                else f"passes no disconnect from {start} to {goal}, so it is"
            )
            message = f"Circuit {run.circuit} {why} {wires}; {given}."
            mend = f"write one length for each wire in a list, from {start} on"
            self.faults.append(Fault("unclear-circuit", run.cut[-1].place, message, mend, subject=run.circuit))
            return []
        if run.cut:
            for piece, given_length in zip(pieces, run.cut, strict=True):
                piece.cut = given_length
        return pieces

    def _end(self, end: End, *, is_start: bool) -> WireEnd | None:
        design, designator = self.design, end.designator
        if designator in design.splices:
            return WireEnd(EndKind.SPLICE, designator, "", self.route.splice_node(designator))
        if designator in design.connectors:
            point = design.connectors[designator].at
            return WireEnd(EndKind.CAVITY, designator, end.terminal, self.route.node_of(point))
        if designator[:-1] in design.disconnects and designator not in design.devices:
            return self._half(designator, end.terminal)
        device = design.devices[designator]
        terminal = end.terminal or bare_terminal(device.terminal_names, is_start=is_start)
        cavity = device.cavity_of(terminal)
        if cavity is not None:
            return self._end(cavity, is_start=is_start)
        if terminal in device.direct:
            pole = device.direct[terminal]
            message = f"{designator}/{terminal} sits directly on {pole}; no wire leads to it."
            self.faults.append(Fault("unclear-circuit", end.place, message, f"write {pole}", subject=designator))
            return None
        if not device.at:
            message = f"A wire lands on {end}, and nothing says where that is."
            mend = f"give {designator} a point of the route (at:), or the cavity behind which the terminal stands"
            if all(fault.subject != str(end) for fault in self.faults):
                self.faults.append(Fault("unrouted-wire", end.place, message, mend, subject=str(end)))
            return None
        return WireEnd(EndKind.LANDING, designator, terminal, self.route.node_of(device.at))

    def _half(self, designator: str, cavity: str) -> WireEnd:
        disconnect = self.design.disconnects[designator[:-1]]
        nodes = self._half_nodes(disconnect.name)
        return WireEnd(EndKind.CAVITY, designator, cavity, nodes[designator[-1]])

    def _half_nodes(self, name: str) -> dict[str, str]:
        """Node of the route for each half ('s', 'p') of a disconnect."""
        disconnect = self.design.disconnects[name]
        sockets = self.route.side_node(disconnect.at, disconnect.socket_side[0])
        mating = next(each for each in self.route.matings if each.point == disconnect.at)
        return {"s": sockets, "p": mating.end if mating.start == sockets else mating.start}

    def _pass(
        self, run: Run, mating: Mating, node: str, after: str, used: set[tuple[str, Place]]
    ) -> tuple[WireEnd, WireEnd] | None:
        here = [name for name, each in self.design.disconnects.items() if each.at == mating.point]
        named = [end for end in run.through if end.designator in here]
        listed = " or ".join(here)
        if not named:
            way = f"from {run.from_} to {run.to}"
            message = f"Circuit {run.circuit} passes {listed} on its way {way}, and names no cavity of it."
            self.faults.append(_unrouted(run, message, f"name its cavity under through: {here[0]}/ and the cavity"))
            return None
        if len(named) > 1:
            message = f"Circuit {run.circuit} passes {listed} once, and names {len(named)} cavities."
            self.faults.append(_unrouted(run, message, "name the one that it passes", named[1].place))
            return None
        end = named[0]
        used.add((str(end), end.place))
        halves = self._half_nodes(end.designator)
        first, second = ("s", "p") if halves["s"] == node else ("p", "s")
        return (
            WireEnd(EndKind.CAVITY, end.designator + first, end.terminal, node),
            WireEnd(EndKind.CAVITY, end.designator + second, end.terminal, after),
        )

    def _tell_apart(self) -> None:
        """One fault for each two trees of the route between which runs should lie: one stretch is missing there."""
        by_trees: dict[frozenset[str], list[tuple[Run, WireEnd, WireEnd]]] = {}
        for run, start, goal in self.apart:
            trees = frozenset(self.route.root_of(end.route_node) for end in (start, goal))
            by_trees.setdefault(trees, []).append((run, start, goal))
        for cut_off in by_trees.values():
            run, start, goal = cut_off[0]
            others = [each for each in dict.fromkeys(one.circuit for one, _, _ in cut_off) if each != run.circuit]
            message = f"The route has no way from {start} to {goal} for circuit {run.circuit}"
            message += f", and none for {names_in(others)} either." if others else "."
            self.faults.append(_unrouted(run, message, "join the two by a stretch of the route"))

    def _tell_unused_passages(self, runs: list[Run], passed: Mapping[str, set[tuple[str, Place]]]) -> None:
        if self.faults:
            return
        told: set[Place] = set()
        for run in runs:
            for end in run.through:
                if (str(end), end.place) not in passed[run.circuit] and end.place not in told:
                    told.add(end.place)
                    message = f"Circuit {run.circuit} does not come past {end.designator} on its way."
                    self.faults.append(_unrouted(run, message, f"take {end} out of through", end.place))

    def _marks(self, pieces: Mapping[str, list[_Piece]]) -> dict[str, list[str]]:
        fixed = self._fixed_marks(pieces)
        taken = set(self.design.marks)
        marks: dict[str, list[str]] = {}
        for circuit, own in pieces.items():
            marks[circuit] = []
            index = 0
            for position in range(len(own)):
                mark = fixed.get((circuit, position), "")
                while not mark:
                    derived = f"{circuit}{segment_letters(index)}"
                    index += 1
                    mark = derived if derived not in taken else ""
                taken.add(mark)
                marks[circuit].append(mark)
        return marks

    def _fixed_marks(self, pieces: Mapping[str, list[_Piece]]) -> dict[tuple[str, int], str]:
        by_ends: dict[frozenset[str], list[tuple[str, int]]] = {}
        if self.design.marks:
            for circuit, own in pieces.items():
                for position, piece in enumerate(own):
                    by_ends.setdefault(frozenset((piece.a.node, piece.b.node)), []).append((circuit, position))
        fixed: dict[tuple[str, int], str] = {}
        for mark, ends in self.design.marks.items():
            nodes = self._fixed_ends(ends)
            between = [each for each in by_ends.get(nodes, ()) if each not in fixed]
            if between:
                fixed[between[0]] = mark
            elif not self.faults:
                message = f"{mark} is fixed between {ends[0]} and {ends[1]}, and no wire runs there."
                mend = "name the two ends as the cut list prints them, or take the mark out"
                self.faults.append(Fault("unknown-reference", ends[0].place, message, mend, subject=mark))
        return fixed

    def _fixed_ends(self, ends: tuple[End, ...]) -> frozenset[str]:
        found = (self._end(end, is_start=index == 0) for index, end in enumerate(ends))
        return frozenset(end.node for end in found if end is not None)

    def _tell_unknown_sizes(self, marks: set[str]) -> None:
        for mark, own in self.design.sizes.items():
            if mark not in marks and not self.faults:
                mend = did_you_mean(mark, sorted(marks)) or "name a wire by its mark, as the cut list prints it"
                message = f"A size is given for {mark}, and no wire has that mark."
                self.faults.append(Fault("unknown-reference", own.place, message, mend, subject=mark))

    def _tell_unmade(self, mark: str, size: ConductorSize, families: tuple[str, ...], place: Place) -> None:
        offered = "; ".join(f"{name}: {self.parts.wires[name].sizes_text}" for name in families)
        message = f"No {size} wire is made in {' or '.join(families)}."
        self.faults.append(Fault("bad-value", place, message, f"sizes of {offered}", subject=mark))

    def _wire(self, mark: str, piece: _Piece, cable: str) -> Wire:
        run, own = piece.run, self.design.sizes.get(mark)
        families = wire_families(self.design, run.wire)
        size, size_place = (own.size, own.where("size")) if own is not None else (run.size, run.size_place)
        if own is not None and family_for(self.parts, families, size) is None:
            self._tell_unmade(mark, size, families, size_place)
            size, size_place = run.size, run.size_place
        name = family_for(self.parts, families, size) or families[0]
        family = self.parts.wires[name]
        figures = family.size(size)
        assert figures is not None  # `senseless` has told a size that the family does not have
        return Wire(
            mark=mark,
            run=run,
            a=piece.a,
            b=piece.b,
            size=size,
            size_place=size_place,
            family=family,
            figures=figures,
            section=self.sections.letter_of[piece.a.route_node],
            way=piece.way,
            cable=cable,
            cut=piece.cut,
        )


def bare_terminal(names: tuple[str, ...], *, is_start: bool) -> str:
    """Terminal meant where a device is named alone: current leaves a fuse or switch at `out` and enters at `in`."""
    if "in" in names and "out" in names:
        return "out" if is_start else "in"
    return "out" if "out" in names else ""


def _unrouted(run: Run, message: str, mend: str, place: Place | None = None) -> Fault:
    return Fault("unrouted-wire", place or run.place, message, mend, subject=run.circuit)


def wires_by_leg(wires: tuple[Wire, ...]) -> dict[tuple[str, str], list[Wire]]:
    """Wires that lie in each part of the route, by the names of its two nodes."""
    result: dict[tuple[str, str], list[Wire]] = {}
    for wire in wires:
        for leg in wire.way:
            result.setdefault((leg.start, leg.end), []).append(wire)
    return result


def iter_ends(wires: tuple[Wire, ...]) -> Iterator[tuple[Wire, WireEnd]]:
    """Every end of every wire."""
    for wire in wires:
        yield wire, wire.a
        yield wire, wire.b
