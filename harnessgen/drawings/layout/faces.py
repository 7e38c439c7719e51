"""What the layout drawing shows of a connector: its face view and its cavity chart; and the wires on a device."""

from collections.abc import Iterator, Sequence

from harnessgen.drawings.symbols.connector_face import FaceCavity, FaceData, Filling, Half, Shape
from harnessgen.measures.designator import natural_key
from harnessgen.network.network import Network
from harnessgen.network.splices import leaves_towards
from harnessgen.network.wires import EndKind, Wire
from harnessgen.sheets.insulation_colours import base_and_stripe

_FEWEST_FOLDED = 3
"""Unused neighbours in a chart that are written as one row."""

_MOST_MARKS = 4
"""Wires in one row of the splices."""
ChartRow = tuple[str, str, str, str]
"""Cavity, wire mark (or plug, or empty), colour code and size."""


def is_sealed(network: Network, designator: str, cavity: str) -> bool:
    """Whether a cavity of a connector or half takes a seal, so that it needs a plug where no wire is in it."""
    connector = network.design.connectors.get(designator)
    part = network.connector_part(designator)
    if connector is None:
        return bool(network.design.disconnects[designator[:-1]].seal or part.seal)
    fill = connector.cavities.get(cavity)
    return bool((fill.seal if fill is not None else "") or connector.seal or part.seal)


def served_by(network: Network, designator: str) -> str:
    """What a connector plugs into, in words; empty where nothing is said."""
    connector = network.design.connectors.get(designator)
    if connector is None:
        name = designator[:-1]
        return f"to {name}{'p' if designator.endswith('s') else 's'}"
    names = network.served_by.get(designator, ())
    if len(names) == 1:
        words = connector.mate or network.design.devices[names[0]].title
        return f"to {names[0]}, {words}" if words not in ("", names[0]) else f"to {names[0]}"
    words = connector.mate or ", ".join(names)
    return f"to {words}" if words else ""


def half_of(network: Network, designator: str) -> Half:
    """The contacts that a connector or half of the harness holds."""
    connector = network.design.connectors.get(designator)
    if connector is None:
        return "pin" if designator.endswith("p") else "socket"
    return "pin" if connector.half == "pins" else "socket"


def face_data(network: Network, designator: str, folds: int = 1) -> FaceData:
    """The wire side of a connector or half, with its cavities as they are filled.

    With `folds` above 1 its rows are drawn folded, that many times as many and as much shorter.
    """
    part = network.connector_part(designator)
    names = part.cavities
    columns = -(-len(names) // min(len(names), part.rows * folds))
    cavities = []
    for place, name in enumerate(names):
        row, column = divmod(place, columns)
        # A last row that is not full stands in the middle.
        missing = columns * (row + 1) - len(names)
        cavities.append(_cavity(network, designator, name, column + max(0, missing) / 2, row))
    shape: Shape = "round" if part.shape == "round" else "rectangular"
    return FaceData(designator, half_of(network, designator), "wire side", shape, tuple(cavities))


def _cavity(network: Network, designator: str, name: str, column: float, row: int) -> FaceCavity:
    wires = network.wires_at.get(f"{designator}/{name}", ())
    if wires:
        return FaceCavity(name, column, row, Filling.WIRED, *base_and_stripe(str(wires[0].colour)))
    if f"{designator}/{name}" in network.occupied:
        # The vehicle's own wire is there; its colour nobody says.
        return FaceCavity(name, column, row, Filling.WIRED, "")
    is_plugged = is_sealed(network, designator, name) and designator not in network.design.vehicle.connectors
    return FaceCavity(name, column, row, Filling.PLUGGED if is_plugged else Filling.EMPTY)


def chart_rows(network: Network, designator: str) -> tuple[ChartRow, ...]:
    """The cavity chart of a connector or half: a row for each wire; neighbours that are unused alike share a row."""
    rows: list[ChartRow] = []
    unused: list[str] = []
    filler = ""
    for cavity in network.connector_part(designator).cavities:
        wires = network.wires_at.get(f"{designator}/{cavity}", ())
        own = _filler(network, designator, cavity)
        if wires or (unused and own != filler):
            rows.extend(_unused_rows(unused, filler))
            unused = []
        if wires:
            rows.extend(_wire_row(cavity, wire) for wire in wires)
        else:
            unused.append(cavity)
            filler = own
    rows.extend(_unused_rows(unused, filler))
    return tuple(rows)


def _filler(network: Network, designator: str, cavity: str) -> str:
    """What is in a cavity without a wire of ours."""
    if f"{designator}/{cavity}" in network.occupied:
        return "vehicle's own"
    if designator in network.design.vehicle.connectors:
        return "free"
    return "plug" if is_sealed(network, designator, cavity) else "empty"


def _wire_row(place: str, wire: Wire) -> ChartRow:
    return place, wire.mark, str(wire.colour), str(wire.size)


def _unused_rows(cavities: list[str], filler: str) -> Iterator[ChartRow]:
    if len(cavities) < _FEWEST_FOLDED:
        yield from ((cavity, filler, "", "") for cavity in cavities)
    else:
        yield f"{cavities[0]} to {cavities[-1]}", f"{len(cavities)} {'plugs' if filler == 'plug' else filler}", "", ""


def splice_side_rows(network: Network, names: Sequence[str]) -> tuple[tuple[str, str, str], ...]:
    """For each splice and each point of the route that wires leave it towards: the marks, a few to a row."""
    rows: list[tuple[str, str, str]] = []
    for name in sorted(names, key=natural_key):
        sides: dict[str, list[str]] = {}
        for wire in network.wires_at.get(name, ()):
            sides.setdefault(leaves_towards(network, wire, name), []).append(wire.mark)
        for towards in sorted(sides, key=natural_key):
            marks = sorted(sides[towards], key=natural_key)
            cuts = range(0, len(marks), _MOST_MARKS)
            rows += [(name, towards, ", ".join(marks[cut : cut + _MOST_MARKS])) for cut in cuts]
        given = [wire.mark for wire in network.given_at.get(name, ())]
        rows += [(name, "vehicle's own", ", ".join(given))] if given else []
    return tuple(rows)


def landing_rows(network: Network, devices: tuple[str, ...], node: str) -> tuple[ChartRow, ...]:
    """The wires that land on devices at a node of the route: device with terminal, wire mark, colour, size."""
    rows = [
        (devices.index(end.designator), _wire_row(end.node, wire))
        for wire in network.wires
        for end in wire.ends
        if end.kind is EndKind.LANDING and end.route_node == node and end.designator in devices
    ]
    return tuple(row for _, row in sorted(rows, key=lambda each: each[0]))
