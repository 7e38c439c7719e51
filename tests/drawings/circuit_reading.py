"""Reads a circuit drawing back from its marks alone: what is printed, and what each wire is brought to."""

from collections import Counter

from harnessgen.network.network import Network
from harnessgen.sheets.marks import Conductor, Text
from harnessgen.sheets.sheet import Sheet

NEAR_MM = 1.6


def words(sheet: Sheet) -> Counter[str]:
    return Counter(mark.text for mark in sheet.marks if isinstance(mark, Text))


def unjoined(network: Network, sheets: tuple[Sheet, ...]) -> list[str]:
    """Ends of wires that the drawing does not bring to what they end in, judged from the marks alone."""
    missing = []
    for wire in network.wires:
        for end in wire.ends:
            names = {end.designator, f"{end.designator}/{end.terminal}", f"{end.designator[:-1]}/{end.terminal}"}
            device = network.design.devices.get(end.designator)
            if device is not None and end.terminal in device.direct:
                names.add(device.direct[end.terminal])
            if not any(_touches(sheet, wire.mark, names) for sheet in sheets):
                missing.append(f"{wire.mark} at {end}")
    return missing


def _touches(sheet: Sheet, wire: str, names: set[str]) -> bool:
    ends = [
        point
        for mark in sheet.marks
        if isinstance(mark, Conductor) and mark.subject == wire
        for point in (mark.points[0], mark.points[-1])
    ]
    targets = [
        box.inflate(NEAR_MM)
        for mark in sheet.marks
        if mark.subject in names and not isinstance(mark, Text | Conductor)
        for box in mark.parts
    ]
    return any(box.contains_point(point) for box in targets for point in ends)
