"""The cutting plan of a harness: which cut comes from which spool or offcut, and what has to be bought."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from harnessgen.cutting.problem import Bar, Goal, Used
from harnessgen.cutting.solve import SolvedPacking, cut_from
from harnessgen.design.checks.consistency import family_for, wire_families
from harnessgen.design.limits.table import Limit, limit
from harnessgen.design.records.stock import StockPiece
from harnessgen.measures.designator import natural_key
from harnessgen.network.network import Network
from harnessgen.physics.physics import Physics

UM_PER_MM = 1000
_Order = tuple[str, str, float, str]


@dataclass(frozen=True, slots=True)
class WireKind:
    """What one spool holds: family, size and colour, as they are printed."""

    family: str
    size: str
    colour: str

    def __str__(self) -> str:
        """As it is asked for at the shelf: `thin-wall-125 0.75 mm2 RD`."""
        return f"{self.family} {self.size} {self.colour}"


@dataclass(frozen=True, slots=True)
class Cut:
    """One piece to cut: the wire's mark, of which copy of the harness, and its length in mm."""

    mark: str
    copy: int
    length_mm: float


@dataclass(frozen=True, slots=True)
class Spool:
    """One spool or offcut that is cut into, the longest piece first. `left_mm` is what stays on it.

    `label` is that of the shelf, with a number where several are alike; `is_new` says that it has to be bought.
    """

    label: str
    is_new: bool
    length_mm: float
    cuts: tuple[Cut, ...]
    left_mm: float


@dataclass(frozen=True, slots=True)
class Purchase:
    """Spools to buy: whose label, how many, how long each, and what they cost together in the design's money."""

    label: str
    count: int
    length_mm: float
    cost: float


@dataclass(frozen=True, slots=True)
class KindPlan:
    """The plan for one kind of wire. `loose` are cuts to be had from wire that is bought by the metre.

    Those in `too_long` among them are longer than any stock. `solved` has the bounds and the gap.
    """

    kind: WireKind
    spools: tuple[Spool, ...]
    loose: tuple[Cut, ...]
    too_long: tuple[Cut, ...]
    purchases: tuple[Purchase, ...]
    solved: SolvedPacking

    @property
    def count(self) -> int:
        """How many cuts there are."""
        return len(self.loose) + sum(len(spool.cuts) for spool in self.spools)

    @property
    def needed_mm(self) -> float:
        """Length of all cuts."""
        return sum(cut.length_mm for cut in self.loose) + sum(
            cut.length_mm for each in self.spools for cut in each.cuts
        )

    @property
    def metres_mm(self) -> float:
        """Length to buy by the metre."""
        return sum(cut.length_mm for cut in self.loose)

    def scrap_mm(self, tail_mm: float) -> float:
        """Length of the ends that are too short to keep."""
        return sum(spool.left_mm for spool in self.spools if spool.left_mm < tail_mm)


@dataclass(frozen=True, slots=True)
class CutPlan:
    """Plans for all kinds of wire of so many copies of a harness; `tail` is the shortest end that is kept.

    `in_hand` are wires that are there already, measured on the wire, so that they are not cut.
    """

    copies: int
    tail: Limit
    kinds: tuple[KindPlan, ...]
    in_hand: tuple[str, ...]


def cut_plan(network: Network, physics: Physics, copies: int = 1) -> CutPlan:
    """Plan the cuts of `copies` harnesses from the stock of the design.

    Raises:
        ValueError: there is not one copy at least.
    """
    if copies < 1:
        raise ValueError(f"{copies} copies of a harness")
    tail = limit("usable-tail", network.design.limits)
    in_hand: list[str] = []
    cuts: dict[WireKind, list[Cut]] = {}
    orders: dict[WireKind, _Order] = {}
    for wire in network.wires:
        if wire.run.is_cut_measured:
            in_hand.append(wire.mark)
            continue
        kind = WireKind(wire.family.name, str(wire.size), str(wire.colour))
        orders[kind] = (wire.family.name, wire.size.system, wire.figures.area_mm2.value, str(wire.colour))
        length_mm = physics.lengths[wire.mark].cut_mm
        cuts.setdefault(kind, []).extend(Cut(wire.mark, copy, length_mm) for copy in range(1, copies + 1))
    stock = _stock(network)
    kinds = sorted(cuts, key=lambda kind: orders[kind])
    plans = tuple(_plan(kind, cuts[kind], stock.get(kind, []), tail) for kind in kinds)
    return CutPlan(copies, tail, plans, tuple(in_hand))


def _stock(network: Network) -> dict[WireKind, list[StockPiece]]:
    found: dict[WireKind, list[StockPiece]] = {}
    for piece in network.design.stock.values():
        families = wire_families(network.design, piece.wire)
        family = family_for(network.parts, families, piece.size) or families[0]
        found.setdefault(WireKind(family, str(piece.size), str(piece.colour)), []).append(piece)
    return found


@dataclass(frozen=True, slots=True)
class _Shelf:
    """Stock of one kind of wire, alike lengths together: bars, and the labels of the pieces that each stands for."""

    bars: tuple[Bar, ...]
    labels: tuple[tuple[str, ...], ...]
    new: tuple[Bar, ...]
    new_labels: tuple[str, ...]


def _shelf(pieces: Sequence[StockPiece]) -> _Shelf:
    at_hand: dict[int, list[str]] = {}
    for_sale: dict[int, tuple[float, str]] = {}
    for piece in pieces:
        length_um = _um(piece.length_mm.value)
        numbers = range(1, piece.count + 1)
        names = [piece.name] if piece.count == 1 else [f"{piece.name} no. {number}" for number in numbers]
        if names:
            at_hand.setdefault(length_um, []).extend(names)
        if piece.price is not None:
            offer = (piece.price.value, piece.name)
            for_sale[length_um] = min(offer, for_sale.get(length_um, offer))
    return _Shelf(
        tuple(Bar(length_um, len(names)) for length_um, names in at_hand.items()),
        tuple(tuple(names) for names in at_hand.values()),
        tuple(Bar(length_um, None, price) for length_um, (price, _) in for_sale.items()),
        tuple(label for _, label in for_sale.values()),
    )


def _um(length_mm: float) -> int:
    return round(length_mm * UM_PER_MM)


def _plan(kind: WireKind, cuts: Sequence[Cut], pieces: Sequence[StockPiece], tail: Limit) -> KindPlan:
    shelf = _shelf(pieces)
    longest_um = max((bar.length_um for bar in (*shelf.bars, *shelf.new)), default=0)
    # Without new spools to be had, what the shelf does not hold is bought by the metre, however long.
    is_by_metre = not shelf.new
    too_long = [cut for cut in cuts if _um(cut.length_mm) > longest_um and not is_by_metre]
    planned = [cut for cut in cuts if cut not in too_long]
    lengths = [_um(cut.length_mm) for cut in planned]
    solved = cut_from(lengths, shelf.bars, shelf.new, _um(tail.value.value))
    by_length = _by_length(planned)
    spools = tuple(_spools(shelf, solved, by_length))
    loose = [by_length[length].pop(0) for length in sorted(solved.packing.loose_um, reverse=True)]
    if solved.goal is Goal.METRES and longest_um:
        too_long = [cut for cut in loose if _um(cut.length_mm) > longest_um]
    else:
        loose += too_long
    loose.sort(key=lambda cut: (-cut.length_mm, cut.copy, natural_key(cut.mark)))
    return KindPlan(kind, spools, tuple(loose), tuple(too_long), tuple(_purchases(shelf, solved)), solved)


def _by_length(cuts: Sequence[Cut]) -> dict[int, list[Cut]]:
    found: dict[int, list[Cut]] = {}
    for cut in sorted(cuts, key=lambda cut: (cut.copy, natural_key(cut.mark))):
        found.setdefault(_um(cut.length_mm), []).append(cut)
    return found


def _spools(shelf: _Shelf, solved: SolvedPacking, by_length: dict[int, list[Cut]]) -> Iterator[Spool]:
    """Spools in the order in which they are cut: the shelf before what is new, the shortest first."""
    packing = solved.packing
    bars = packing.problem.bars

    def order(used: Used) -> tuple[bool, int, tuple[int, ...]]:
        return used.bar >= solved.shelf, bars[used.bar].length_um, tuple(-cut for cut in used.cuts_um)

    taken = [0] * len(bars)
    for used in sorted(packing.used, key=order):
        is_new = used.bar >= solved.shelf
        number = taken[used.bar]
        taken[used.bar] += 1
        if is_new:
            label = f"new {shelf.new_labels[used.bar - solved.shelf]} no. {number + 1}"
        else:
            label = shelf.labels[used.bar][number]
        cuts = tuple(by_length[cut].pop(0) for cut in used.cuts_um)
        yield Spool(label, is_new, bars[used.bar].length_um / UM_PER_MM, cuts, packing.tail_um(used) / UM_PER_MM)


def _purchases(shelf: _Shelf, solved: SolvedPacking) -> Iterator[Purchase]:
    for position, (bar, label) in enumerate(zip(shelf.new, shelf.new_labels, strict=True)):
        count = sum(1 for used in solved.packing.used if used.bar == solved.shelf + position)
        if count and solved.goal is Goal.BOUGHT:
            yield Purchase(label, count, bar.length_um / UM_PER_MM, count * bar.weight)
