"""Reads a circuit drawing back from its marks alone: what is printed, and what each wire is brought to."""

import re
from collections import Counter

from harnessgen.network.network import Network
from harnessgen.network.wires import WireEnd
from harnessgen.sheets.box import Box, Point
from harnessgen.sheets.marks import Conductor, TextMark
from harnessgen.sheets.sheet import Sheet

NEAR_MM = 1.6
FLAG = re.compile(r"(?:to|from) sheet (\d+) (.+)")


def words(sheet: Sheet) -> Counter[str]:
    """How often each text stands on a sheet."""
    return Counter(mark.text for mark in sheet.marks if isinstance(mark, TextMark))


def unjoined(network: Network, sheets: tuple[Sheet, ...]) -> list[str]:
    """Ends of wires that the drawing does not bring to what they end in, judged from the marks alone."""
    drawn = [_Drawn(sheet) for sheet in sheets]
    return [
        f"{wire.mark} at {end}"
        for wire in network.wires
        for end in wire.ends
        if not any(each.brings(wire.mark, _names(network, end), drawn) for each in drawn)
    ]


def _names(network: Network, end: WireEnd) -> set[str]:
    """Subjects of the marks that may stand for an end of a wire."""
    names = {end.designator, f"{end.designator}/{end.terminal}", f"{end.designator[:-1]}/{end.terminal}"}
    device = network.design.devices.get(end.designator)
    if device is not None and end.terminal in device.direct:
        names.add(device.direct[end.terminal])
    return names


class _Drawn:
    """The ends of all conductors of a sheet, and the boxes of all else, by subject."""

    def __init__(self, sheet: Sheet) -> None:
        self.ends: dict[str, list[Point]] = {}
        self.boxes: dict[str, list[Box]] = {}
        for mark in sheet.marks:
            if isinstance(mark, Conductor):
                self.ends.setdefault(mark.subject, []).extend((mark.points[0], mark.points[-1]))
            elif not isinstance(mark, TextMark):
                self.boxes.setdefault(mark.subject, []).extend(box.inflate(NEAR_MM) for box in mark.parts)

    def brings(self, wire: str, names: set[str], sheets: list["_Drawn"]) -> bool:
        """Whether the wire ends at a thing of that name, or at a flag that names it and the sheet where it stands."""
        targets = [box for name in names for box in self.boxes.get(name, ())]
        for subject, boxes in self.boxes.items():
            flag = FLAG.fullmatch(subject)
            if flag and flag[2] in names and names.intersection(sheets[int(flag[1]) - 1].boxes):
                targets += boxes
        return any(box.contains_point(point) for box in targets for point in self.ends.get(wire, ()))
