"""Where the file says what a rule speaks of: the one value that a finding underlines."""

from harnessgen.design.reading.runs import runs_of
from harnessgen.design.records.design import Design
from harnessgen.network.network import Network
from harnessgen.network.wires import Wire, WireEnd
from harnessgen.source.kind import End
from harnessgen.source.place import Place


def written_end(design: Design, wire: Wire, end: WireEnd) -> End | None:
    """The end of `wire` as the builder wrote it; None where no text names it (a bank's leg at its load)."""
    written = _written(design, wire, end)
    return written if written is not None and not written.place.pattern else None


def end_place(design: Design, wire: Wire, end: WireEnd) -> Place:
    """Where the file names this end of `wire`; the wire's own place where no text names it."""
    written = _written(design, wire, end)
    return written.place if written is not None else wire.place


def _written(design: Design, wire: Wire, end: WireEnd) -> End | None:
    for run in runs_of(design):
        if (run.circuit, run.bank, run.load) != (wire.circuit, wire.bank, wire.run.load):
            continue
        for written in (run.from_, run.to):
            if end.node in _nodes(design, written):
                return written
        for passed in run.through:
            if end.node in (f"{passed.designator}{half}/{passed.terminal}" for half in "sp"):
                return passed
    return None


def _nodes(design: Design, written: End) -> list[str]:
    """Electrical nodes that an end may mean: one, or those of all terminals of a device that is named alone."""
    device = design.devices.get(written.designator)
    if device is None:
        return [str(written)]
    terminals = (written.terminal,) if written.terminal else device.terminal_names
    own = ((terminal, device.cavity_of(terminal)) for terminal in terminals)
    return [str(cavity or End(device.name, terminal, written.place)) for terminal, cavity in own]


def node_place(network: Network, node: str) -> Place:
    """Where the file names an electrical node: the end of a wire there, else the thing that it belongs to."""
    design = network.design
    record = network.electrical.nodes[node]
    for wire in network.wires_at.get(node, ()):
        return end_place(design, wire, wire.a if wire.a.node == node else wire.b)
    name = record.designator
    for things in (design.devices, design.connectors, design.splices):
        if name in things:
            return things[name].place
    return design.disconnects[name[:-1]].place
