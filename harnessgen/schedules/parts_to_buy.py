"""Parts to buy: everything that goes into a harness, counted, with scrap and sample crimps on top."""

import math
from collections import Counter
from collections.abc import Iterator, Mapping

from harnessgen.bench.setup.connector_half import halves, seal_in
from harnessgen.design.limits.table import limit
from harnessgen.design.records.fixings import CLIP, GROMMET, TAPE
from harnessgen.measures.designator import natural_key
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import plain_number
from harnessgen.network.network import Network
from harnessgen.physics.physics import Physics
from harnessgen.schedules.bundles.covering_list import covering_rows
from harnessgen.schedules.bundles.fixing_list import fixing_rows
from harnessgen.schedules.tables.length_text import length_with_unit
from harnessgen.schedules.tables.table import Column, Table, number_column, tick_column
from harnessgen.schedules.wires.cavity_chart import PLUG, cavity_rows
from harnessgen.schedules.wires.sample_crimps import SampleRow, sample_rows

_METRE_STEP = 10
"""Metres to buy are rounded up to a tenth."""


@frozen
class BuyRow:
    """One thing to buy: `needed` goes into the harness, `extra` is scrap and samples, both in `unit`."""

    kind: str
    part: str
    what: str
    needed: float
    extra: float
    unit: str
    why: str = ""

    @property
    def buy(self) -> float:
        """How much to buy: pieces whole, metres rounded up to a tenth."""
        total = self.needed + self.extra
        if self.unit == "m":
            return math.ceil(total * _METRE_STEP - 1e-9) / _METRE_STEP
        return math.ceil(total - 1e-9)


def buy_rows(network: Network, physics: Physics) -> tuple[BuyRow, ...]:
    """Parts of the whole harness: wire, terminals, seals, plugs, connectors, splices, fuses, relays, coverings, clips.

    Wire that is there already (measured on the wire) is not bought, nor are the loads, switches and supplies.
    """
    samples = sample_rows(network)
    return (
        *_wires(network, physics, samples),
        *_terminals(network, samples),
        *_seals(network),
        *_plugs(network),
        *_connectors(network),
        *_splices(network, samples),
        *_fuses_and_relays(network),
        *_coverings(network),
        *_fixings(network),
    )


def _wires(network: Network, physics: Physics, samples: tuple[SampleRow, ...]) -> Iterator[BuyRow]:
    length_mm: dict[tuple[str, str, str], float] = {}
    words: dict[tuple[str, str, str], str] = {}
    for wire in network.wires:
        if wire.run.is_cut_measured:
            continue
        spool = (wire.family.name, str(wire.size), str(wire.colour))
        length_mm[spool] = length_mm.get(spool, 0.0) + physics.lengths[wire.mark].cut_mm
        words[spool] = f"{wire.size}, {wire.colour} ({wire.colour.words})"
    of_samples = _sample_wire_mm(length_mm, samples, _allowance(network, "sample-wire"))
    scrap = _allowance(network, "wire-scrap")
    for spool in sorted(length_mm, key=lambda each: tuple(map(natural_key, each))):
        scrap_mm = length_mm[spool] * scrap
        taken_mm = of_samples.get(spool, 0.0)
        why = f"scrap {_percent(scrap)}" + (f", samples {plain_number(taken_mm / 1000, 2)} m" if taken_mm else "")
        extra_mm = scrap_mm + taken_mm
        yield BuyRow("wire", spool[0], words[spool], length_mm[spool] / 1000, extra_mm / 1000, "m", why)


def _sample_wire_mm(
    length_mm: Mapping[tuple[str, str, str], float], samples: tuple[SampleRow, ...], each_mm: float
) -> dict[tuple[str, str, str], float]:
    """Wire for the samples: of each family and size from the colour that most is needed of."""
    taken: dict[tuple[str, str, str], float] = {}
    for row in samples:
        own = [spool for spool in length_mm if spool[:2] == (row.family, row.size)]
        if own:
            most = max(own, key=lambda spool: (length_mm[spool], spool))
            taken[most] = taken.get(most, 0.0) + row.samples * each_mm
    return taken


def _terminals(network: Network, samples: tuple[SampleRow, ...]) -> Iterator[BuyRow]:
    needed: Counter[str] = Counter()
    sampled: Counter[str] = Counter()
    titles: dict[str, str] = {}
    for row in samples:
        if not row.is_splice:
            titles[row.terminal] = row.what
            needed[row.terminal] += row.crimps
            sampled[row.terminal] += row.samples
    for name in sorted(needed, key=natural_key):
        scrap = _scrap(network, needed[name])
        why = f"samples {sampled[name]}, scrap {scrap}"
        yield BuyRow("terminal", name, titles[name], needed[name], sampled[name] + scrap, "pieces", why)


def _seals(network: Network) -> Iterator[BuyRow]:
    found = (network.seal_at(end) for wire in network.wires for end in wire.ends)
    needed = Counter(seal.name for seal in found if seal is not None)
    for name in sorted(needed, key=natural_key):
        scrap = _scrap(network, needed[name])
        yield BuyRow("seal", name, network.parts.seals[name].title, needed[name], scrap, "pieces", f"scrap {scrap}")


def _scrap(network: Network, count: int) -> int:
    return math.ceil(count * _allowance(network, "part-scrap") - 1e-9)


def _allowance(network: Network, name: str) -> float:
    return limit(name, network.design.limits).value.value


def _percent(share: float) -> str:
    return f"{plain_number(100 * share, 1)} %"


def _plugs(network: Network) -> Iterator[BuyRow]:
    held = halves(network)
    needed: Counter[str] = Counter()
    for section in network.sections.sections:
        for row in cavity_rows(network, section):
            is_given = row.connector in network.design.vehicle.connectors
            seal = seal_in(network, held[row.connector], row.cavity) if row.fill == PLUG and not is_given else None
            if seal is not None:
                needed[seal.name] += 1
    for name in sorted(needed, key=natural_key):
        yield BuyRow("cavity plug", f"in place of {name}", "plug for an unused cavity", needed[name], 0, "pieces")


def _connectors(network: Network) -> Iterator[BuyRow]:
    given = network.design.vehicle.connectors
    counted = Counter((each.part.name, each.contacts) for name, each in halves(network).items() if name not in given)
    for name, contacts in sorted(counted, key=lambda each: (natural_key(each[0]), each[1])):
        what = f"{network.parts.connectors[name].title}, with {contacts}"
        yield BuyRow("connector", name, what, counted[name, contacts], 0, "pieces")


def _splices(network: Network, samples: tuple[SampleRow, ...]) -> Iterator[BuyRow]:
    counted = Counter(network.splice_part(name).name for name in network.design.splices)
    sampled: Counter[str] = Counter()
    for row in samples:
        if row.is_splice:
            sampled[row.terminal] += row.samples
    for name in sorted(counted, key=natural_key):
        what = network.parts.splices[name].title
        yield BuyRow("splice", name, what, counted[name], sampled[name], "pieces", f"samples {sampled[name]}")


def _fuses_and_relays(network: Network) -> Iterator[BuyRow]:
    design = network.design
    given = design.vehicle
    own = (each for name, each in design.fuses.items() if name not in given.fuses)
    fuses = Counter((each.form, each.rating_a.value) for each in own)
    for form, rating_a in sorted(fuses, key=lambda each: (natural_key(each[0]), each[1])):
        what = f"{plain_number(rating_a)} A, {network.parts.fuses[form].title}"
        yield BuyRow("fuse", form, what, fuses[form, rating_a], 0, "pieces")
    relays = Counter(each.part for name, each in design.relays.items() if name not in given.relays)
    for name in sorted(relays, key=natural_key):
        yield BuyRow("relay", name, network.parts.relays[name].title, relays[name], 0, "pieces")


def _coverings(network: Network) -> Iterator[BuyRow]:
    pieces: Counter[str] = Counter()
    whole_mm: dict[str, float] = {}
    titles: dict[str, str] = {}
    for section in network.sections.sections:
        for row in covering_rows(network, section):
            pieces[row.covering] += 1
            whole_mm[row.covering] = whole_mm.get(row.covering, 0.0) + row.cut_mm
            titles[row.covering] = row.title
    scrap = _allowance(network, "wire-scrap")
    for name in sorted(whole_mm, key=natural_key):
        needed_m = whole_mm[name] / 1000
        why = f"{pieces[name]} {'piece' if pieces[name] == 1 else 'pieces'}, scrap {_percent(scrap)}"
        yield BuyRow("covering", name, titles[name], needed_m, needed_m * scrap, "m", why)


def _fixings(network: Network) -> Iterator[BuyRow]:
    """Clips by what they are and the bundle that they hold, tape by its family, grommets by their sizes."""
    rows = [row for section in network.sections.sections for row in fixing_rows(network, section)]
    clips: Counter[tuple[str, int]] = Counter()
    tape_mm: dict[str, float] = {}
    tapes: Counter[str] = Counter()
    grommets: Counter[str] = Counter()
    for row in rows:
        if row.kind == CLIP and row.count:
            clips[row.what, math.ceil((row.around_mm or 0.0) - 1e-9)] += row.count
        elif row.kind == TAPE:
            tape_mm[row.name] = tape_mm.get(row.name, 0.0) + (row.cut_mm or 0.0)
            tapes[row.name] += 1
        elif row.kind == GROMMET:
            grommets[row.what] += 1
    for what, around_mm in sorted(clips, key=lambda each: (natural_key(each[0]), each[1])):
        part = f"for {around_mm} mm" if around_mm else ""
        yield BuyRow("clip", part, what, clips[what, around_mm], 0, "pieces")
    scrap = _allowance(network, "wire-scrap")
    for name in sorted(tape_mm, key=natural_key):
        needed_m = tape_mm[name] / 1000
        why = f"{tapes[name]} {'place' if tapes[name] == 1 else 'places'}, scrap {_percent(scrap)}"
        yield BuyRow("tape", name, network.parts.tapes[name].title, needed_m, needed_m * scrap, "m", why)
    for what in sorted(grommets, key=natural_key):
        yield BuyRow("grommet", "", what, grommets[what], 0, "pieces")


_COLUMNS: tuple[Column[BuyRow], ...] = (
    Column("kind", "kind", lambda row: row.kind),
    Column("part", "part", lambda row: row.part),
    Column("what", "what it is", lambda row: row.what),
    number_column("needed", "in the harness", "", lambda row: row.needed, 2),
    number_column("extra", "on top", "", lambda row: row.extra, 2),
    number_column("buy", "buy", "", lambda row: row.buy),
    Column("unit", "unit", lambda row: row.unit),
    Column("why", "of that on top", lambda row: row.why),
    tick_column("bought", "bought"),
)


def buy_table(network: Network, rows: tuple[BuyRow, ...]) -> Table[BuyRow]:
    """The parts to buy for a whole harness."""
    vehicle = network.design.vehicle
    has_more = any((vehicle.fuses, vehicle.relays, vehicle.circuits, vehicle.connectors))
    given = " what the vehicle has," if has_more else ""
    wire, part, sample = (limit(name, network.design.limits) for name in ("wire-scrap", "part-scrap", "sample-wire"))
    sample_words = length_with_unit(sample.value.value, network.design.units.length)
    notes = (
        f"Scrap of wire and covering is {_percent(wire.value.value)} ({wire.source}), of terminals and seals"
        f" {_percent(part.value.value)} ({part.source}); each sample crimp takes {sample_words} of wire"
        f" ({sample.source}).",
        f"Not counted: loads, switches, supplies, what the harness plugs into,{given} wire that is there already,"
        " spare fuses, ties, labels, and the clips of stretches that name none.",
    )
    return Table("parts-to-buy", "Parts to buy", _COLUMNS, rows, notes)
