"""Sample crimps: each terminal on each wire that it is crimped to, with the pull that the samples have to stand."""

import math
from collections import Counter
from collections.abc import Iterable

from harnessgen.bench.setup.connector_half import contact_words, halves
from harnessgen.design.limits.table import limit
from harnessgen.measures.designator import natural_key
from harnessgen.measures.frozen import frozen
from harnessgen.network.network import Network
from harnessgen.network.wires import EndKind
from harnessgen.schedules.tables.length_text import length_with_unit
from harnessgen.schedules.tables.table import Column, Table, number_column, tick_column
from harnessgen.schedules.wires.crimp_force import CrimpForce, crimp_force


@frozen
class SampleRow:
    """Samples of one terminal (or splice barrel) on one size of one wire family, and how many crimps they stand for."""

    terminal: str
    """Its family; of a contact in a cavity also whether it is a pin or a socket."""
    what: str
    size: str
    family: str
    crimps: int
    samples: int
    pull: CrimpForce | None
    is_splice: bool = False


def sample_rows(network: Network) -> tuple[SampleRow, ...]:
    """Every pairing of terminal and wire in the harness; of a splice with several wires each size by itself."""
    counted: Counter[tuple[str, str, str, str, bool]] = Counter()
    held = halves(network)
    sizes = {}
    for wire in network.wires:
        sizes[str(wire.size)] = wire.size
        for end in wire.ends:
            contact = network.contact_at(end)
            is_splice = end.designator in network.design.splices and not end.terminal
            if contact is None and not is_splice:
                continue
            part = contact or network.splice_part(end.designator)
            name, what = part.name, part.title
            if end.kind is EndKind.CAVITY:
                half = held[end.designator]
                name = contact_words(network, half, end.terminal)
                what = f"{what}, {half.contacts.removesuffix('s')} contact"
            counted[name, what, str(wire.size), wire.family.name, is_splice] += 1
    samples = math.ceil(limit("sample-crimps", network.design.limits).value.value - 1e-9)
    rows = [
        SampleRow(name, what, size, family, count, samples, crimp_force(sizes[size]), is_splice)
        for (name, what, size, family, is_splice), count in counted.items()
    ]
    return tuple(sorted(rows, key=lambda row: (row.is_splice, *map(natural_key, (row.terminal, row.size, row.family)))))


_COLUMNS: tuple[Column[SampleRow], ...] = (
    Column("terminal", "terminal", lambda row: row.terminal),
    Column("size", "size", lambda row: row.size),
    Column("family", "wire family", lambda row: row.family),
    number_column("crimps", "crimps in the harness", "", lambda row: row.crimps),
    number_column("samples", "samples", "", lambda row: row.samples),
    number_column("pull_n", "pull", "N", lambda row: row.pull.force_n if row.pull else None),
    Column("pull_by", "pull by", lambda row: str(row.pull.source) if row.pull else "not in the tables"),
    tick_column(),
)


def sample_table(network: Network, rows: Iterable[SampleRow]) -> Table[SampleRow]:
    """The sample crimps of a harness, with room to tick."""
    wire, crimps = (limit(name, network.design.limits) for name in ("sample-wire", "sample-crimps"))
    wire_words = length_with_unit(wire.value.value, network.design.units.length)
    notes = (
        f"Each sample takes {wire_words} of the wire ({wire.source}), and is pulled until it gives.",
        f"Number of samples: {crimps.source}.",
        "A sample that gives below its pull: set the tool anew, and crimp and pull all samples again.",
    )
    return Table("sample-crimps", "Sample crimps", _COLUMNS, tuple(rows), notes)
