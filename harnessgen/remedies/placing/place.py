"""Better places for splices and breakouts: solved on the tree, written into the text, and run through every rule."""

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace

from harnessgen.evidence.finding import Finding
from harnessgen.lengths.bundles.stretch import copper_g_per_m, diameter_mm, stretch_bundles
from harnessgen.lengths.too_short.trial import rerouted
from harnessgen.lengths.wire_length import ROUNDING_MM, WireLength, wire_length
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import plain_number
from harnessgen.network.network import Network
from harnessgen.physics.physics import Physics
from harnessgen.remedies.changes import Change, changed_texts
from harnessgen.remedies.placing.breakouts import Breakout, arrangements, breakouts_of, moved_design
from harnessgen.remedies.placing.model import Aim, PlacementProblem, PlacementSolution, cost_of, solve
from harnessgen.remedies.placing.problem import Posed, Stretch, pose
from harnessgen.remedies.placing.text import length_change, splice_changes, written
from harnessgen.remedies.placing.tree import TreePlace, spacing_of
from harnessgen.rules.examine import Examination

_MOST_TRIES = 8
_LESS = 1e-6

Line = Callable[[Mapping[str, str]], tuple[Examination, Physics | None]]
"""Runs the line on changed texts, and gives the physics as well."""


@frozen
class Figures:
    """What an arrangement comes to: copper in g, the thickest bundle that a splice can change, the space of all wires
    in cm3, and what wires of stated length fall short of in all, in mm."""

    copper_g: float
    thickest_mm: float
    space_cm3: float
    short_mm: float

    def by(self, aim: Aim) -> tuple[float, ...]:
        """The figures that an aim is judged by, the first of them first."""
        if aim is Aim.DIAMETER:
            return (self.thickest_mm, self.space_cm3)
        return (self.short_mm, self.copper_g) if aim is Aim.REACH else (self.copper_g,)


@frozen
class Move:
    """A splice or a breakout with its place today and its better one, in words."""

    name: str
    before: str
    after: str


@frozen
class Placing:
    """The outcome: moves (none where today's places are the best), figures before and after, and the changed texts.

    `remarks` say what stays and why, and how sure it is that nothing better exists.
    """

    aim: Aim
    moves: tuple[Move, ...]
    before: Figures
    after: Figures
    texts: Mapping[str, str]
    method: tuple[str, ...]
    remarks: tuple[str, ...]
    is_proved: bool


def place(physics: Physics, examination: Examination, texts: Mapping[str, str], line: Line, aim: Aim) -> Placing:
    """Better places of splices and breakouts for an aim; never worse than today's, and nothing new to find fault with.

    `texts` are the files of the design; `line` runs the line on changed ones.
    """
    return _Bench(physics, examination, texts, line, aim).placing()


@dataclass(slots=True)
class _Bench:
    physics: Physics
    examination: Examination
    texts: Mapping[str, str]
    line: Line
    aim: Aim
    banned: set[tuple[str, Stretch]] = field(default_factory=set)
    less_mm: dict[str, float] = field(default_factory=dict)
    remarks: list[str] = field(default_factory=list)

    def placing(self) -> Placing:
        network = self.physics.network
        today = pose(network, self.physics.lengths, self.texts)
        before = _figures(self.physics, today.stretches)
        breakouts, stuck = breakouts_of(network.design, self.texts)
        self.remarks += [f"{each.splice} stays: {each.why}." for each in today.fixed]
        self.remarks += stuck
        if self.aim is Aim.DIAMETER and breakouts:
            self.remarks.append("Breakouts stay: where they are changes no bundle.")
            breakouts = ()
        method = tuple(_method_words(network, has_breakouts=bool(breakouts)))
        nothing = best = Placing(self.aim, (), before, before, {}, method, (), is_proved=True)
        for _ in range(_MOST_TRIES):
            found = self._best(breakouts)
            is_proved = found.is_proved and not self.banned
            nothing = replace(nothing, is_proved=is_proved)
            if not found.changes:
                break
            changed = changed_texts(self.texts, found.changes)
            examination, physics = self.line(changed)
            if physics is None or not self._is_sound(examination, physics, found):
                if physics is None:
                    self.banned |= found.new_stretches
                if not found.new_stretches:
                    breakouts = ()
                continue
            after = _figures(physics, today.stretches)
            if _is_less(after.by(self.aim), best.after.by(self.aim)):
                best = Placing(self.aim, found.moves, before, after, changed, method, (), is_proved)
            if self.aim is not Aim.REACH or after.short_mm <= found.score[0] + _LESS:
                break
            if not self._has_learned(physics, set(physics.lengths)):
                break
        return replace(best if best.moves else nothing, remarks=tuple(dict.fromkeys(self.remarks)))

    def _has_learned(self, physics: Physics, marks: set[str]) -> bool:
        """Whether wires fall short where the model has them reach; these are given less to spare from now on.

        How well a way is measured changes with the way, which is not linear and so not in the model.
        """
        short = {
            mark: -each.margin_mm
            for mark, each in physics.lengths.items()
            if mark in marks and each.given_mm is not None and each.margin_mm < -ROUNDING_MM
        }
        for mark, missing_mm in short.items():
            self.less_mm[mark] = self.less_mm.get(mark, 0.0) + missing_mm
        return bool(short)

    def _is_sound(self, examination: Examination, physics: Physics, found: "_Found") -> bool:
        """Whether nothing new is found; else what is to blame is banned, or the wires given less to spare."""
        known = {key for each in self.examination.findings for key in _keys(each)}
        new = [each for each in examination.findings if not _keys(each) <= known]
        skipped = {each.rule for each in examination.not_examined} - {
            each.rule for each in self.examination.not_examined
        }
        if not new and not skipped:
            return True
        if self._has_learned(physics, {name for each in new for name in each.subjects or (each.subject,)}):
            return False
        named = {name for each in new for name in each.subjects or (each.subject,)}
        blamed = {
            (splice, stretch)
            for splice, stretch in found.new_stretches
            if splice in named
            or f"{stretch[0]} to {stretch[1]}" in named
            or any(wire.mark in named for wire in physics.network.wires_at.get(splice, ()))
        }
        self.banned |= blamed or found.new_stretches
        if not found.new_stretches:
            self.remarks.append("Breakouts stay: moved, they raise new findings.")
        told = "; ".join(dict.fromkeys(f"{each.rule} at {each.subject}" for each in new))
        self.remarks.append(f"A better place was left out, since it raises a finding: {told or 'rules not examined'}.")
        return False

    def _best(self, breakouts: tuple[Breakout, ...]) -> "_Found":
        best: _Found | None = None
        grid = arrangements(breakouts)
        for ways in grid.ways:
            found = self._solved(breakouts, ways)
            if found is not None and (best is None or _is_less(found.score, best.score)):
                best = found
        assert best is not None
        return replace(best, is_proved=best.is_proved and grid.is_whole)

    def _solved(self, breakouts: tuple[Breakout, ...], ways: tuple[float, ...]) -> "_Found | None":
        network, lengths = self.physics.network, self.physics.lengths
        moved = [(each, way) for each, way in zip(breakouts, ways, strict=True) if way]
        if moved:
            design = moved_design(network.design, moved)
            if design is None:
                return None
            network = rerouted(network, design)
            lengths = {wire.mark: wire_length(network, wire) for wire in network.wires}
        posed = pose(network, lengths, self.texts, frozenset(self.banned), self.less_mm)
        solution = solve(posed.problem, self.aim)
        return self._found(network, lengths, posed, solution, moved)

    def _found(
        self,
        network: Network,
        lengths: Mapping[str, WireLength],
        posed: Posed,
        solution: PlacementSolution,
        moved: list[tuple[Breakout, float]],
    ) -> "_Found":
        problem = posed.problem
        own = {run.mark for run in problem.runs}
        rest = math.fsum(
            wire.figures.area_mm2.value * lengths[wire.mark].needed_mm for wire in network.wires if wire.mark not in own
        )
        score: tuple[float, ...] = (cost_of(problem, solution.spots, "area_mm2") + rest,)
        if self.aim is Aim.REACH:
            score = (_short_mm(network, lengths, problem, solution.spots), *score)
        changes: list[Change] = []
        moves: list[Move] = []
        for breakout, way_mm in moved:
            changes += [length_change(place, length) for place, length in breakout.lengths(way_mm)]
            word = "onward" if way_mm > 0 else "back"
            moves.append(
                Move(breakout.point, "where it is", f"{plain_number(abs(way_mm), 1)} mm {word} from {breakout.before}")
            )
        stretches: set[tuple[str, Stretch]] = set()
        for name, spot in solution.spots.items():
            if spot is problem.spots[name][0]:
                continue
            splice = network.design.splices[name]
            changes += splice_changes(network, name, spot, self.texts)
            at, toward, offset = written(network, splice, spot)
            today = splice.at
            if splice.toward and splice.offset_mm.value:
                today = f"{splice.at}, {plain_number(splice.offset_mm.value, 1)} mm towards {splice.toward}"
            moves.append(Move(name, today, f"{at}, {plain_number(offset, 1)} mm towards {toward}"))
            stretches.add((name, spot.stretch))
        return _Found(tuple(moves), tuple(changes), frozenset(stretches), score, solution.is_proved)


@frozen
class _Found:
    moves: tuple[Move, ...]
    changes: tuple[Change, ...]
    new_stretches: frozenset[tuple[str, Stretch]]
    score: tuple[float, ...]
    is_proved: bool


def _short_mm(
    network: Network, lengths: Mapping[str, WireLength], problem: PlacementProblem, spots: Mapping[str, TreePlace]
) -> float:
    """What wires of stated length fall short of in all, by the lengths of the model."""
    runs = {run.mark: run for run in problem.runs}
    total = 0.0
    for wire in network.wires:
        length, run = lengths[wire.mark], runs.get(wire.mark)
        if length.given_mm is None:
            continue
        longer = 0.0
        if run is not None:
            alone = replace(problem, runs=(replace(run, area_mm2=1.0),))
            today = {name: own[0] for name, own in problem.spots.items()}
            longer = cost_of(alone, spots, "area_mm2") - cost_of(alone, today, "area_mm2")
        total += max(longer - length.margin_mm, 0.0)
    return total


def _figures(physics: Physics, stretches: frozenset[Stretch]) -> Figures:
    network, lengths = physics.network, physics.lengths
    wires = network.wires
    copper = math.fsum(copper_g_per_m(wire) * lengths[wire.mark].needed_mm / 1000.0 for wire in wires)
    space = math.fsum(math.pi / 4.0 * diameter_mm(wire) ** 2 * lengths[wire.mark].needed_mm / 1000.0 for wire in wires)
    thickest = max(
        (
            each.diameter.diameter_mm
            for each in stretch_bundles(network)
            if (each.leg.from_point, each.leg.to_point) in stretches
        ),
        default=0.0,
    )
    short = math.fsum(max(-each.margin_mm - ROUNDING_MM, 0.0) for each in lengths.values() if each.given_mm is not None)
    return Figures(copper, thickest, space, short)


def _keys(finding: Finding) -> set[tuple[str, str]]:
    return {(finding.rule, subject) for subject in finding.subjects or (finding.subject,)}


def _is_less(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    """Whether figures are better, the first that differs deciding."""
    for a, b in zip(one, other, strict=True):
        if abs(a - b) > _LESS:
            return a < b
    return False


def _method_words(network: Network, *, has_breakouts: bool) -> Iterator[str]:
    spacing = spacing_of(network)
    yield (
        "Splices: all places among which the best is, on the tree of the route, as a mixed-integer program solved to"
        f" the end; {plain_number(spacing.splices_mm)} mm apart and {plain_number(spacing.clear_mm)} mm clear of"
        " breakouts, connectors and bends (limits splice-spacing and splice-clearance), or where they are today."
    )
    yield "Gain: by the needed lengths of all wires, after the whole line was run on the changed design."
    if has_breakouts:
        yield "Breakouts: every step within their bounds, with the splices solved anew at each."
