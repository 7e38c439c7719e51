"""The mark of a cable on each of its conductors: the loops of a twist, the dashed envelope of a shield, and its name.

The conductors of a pair are rarely drawn side by side, since one leads to a device and the other away from it; so each
carries the mark and names the others, and the envelope at the drain names them all. Forms as IEC 60617 uses them.
"""

from math import cos, pi, sin

from harnessgen.design.records.cable import Cable
from harnessgen.network.network import Network
from harnessgen.network.wires import Wire
from harnessgen.sheets.insulation_colours import base_and_stripe
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Conductor, Mark, Polyline, TextMark

_LOOPS = 2
_LOOP = 1.5
"""Height of a loop in modules."""
_WIDE = 0.55
_ENVELOPE = 1.25
_LEAST_TEXT_MM = 2.0
CONDUCTOR_MM = 1.3
"""Width of a conductor as it is drawn."""


def cable_of(network: Network, wire: Wire) -> Cable | None:
    """The cable that a wire runs in, its drain not counted; None without one."""
    return next((each for each in network.design.cables.values() if wire.circuit in each.circuits), None)


def cable_marks(cable: Cable, wire: Wire, m: float) -> tuple[tuple[Mark, ...], float]:
    """Marks of a cable on one of its wires from (0, 0) down, `m` the module in mm, and how long they are (mm)."""
    length_mm = _LOOPS * _LOOP * m
    marks: list[Mark] = []
    if cable.lay == "twisted":
        marks += [_wave(side, m, wire.mark) for side in (1.0, -1.0)]
    else:
        base, stripe = base_and_stripe(str(wire.colour))
        run = ((0.0, 0.0), (0.0, length_mm))
        marks.append(Conductor(run, base, stripe, CONDUCTOR_MM, subject=wire.mark))
    if cable.shield is not None:
        marks.append(envelope(length_mm, m, wire.mark))
    others = [each for each in cable.circuits if each != wire.circuit]
    lay = "twisted with" if cable.lay == "twisted" else "beside"
    said = f"{lay} {', '.join(others)}" if others else ""
    size_mm = max(_LEAST_TEXT_MM, 0.85 * m)
    lines = [cable.name, said, "shielded" if cable.shield is not None else ""]
    shown = [line for line in lines if line]
    first = length_mm / 2 - (len(shown) - 1) / 2 * 1.35 * size_mm + 0.36 * size_mm
    marks += [
        TextMark(line, 1.7 * m, first + index * 1.35 * size_mm, size_mm, bold=index == 0, subject=wire.mark)
        for index, line in enumerate(shown)
    ]
    return tuple(marks), length_mm


def drain_words(cable: Cable) -> tuple[str, ...]:
    """What stands beside the envelope at the upper or lower end of a drain."""
    if cable.shield is None:
        return ()
    return (
        f"shield of {', '.join(cable.circuits)}",
        f"grounded at {cable.shield.to} alone",
        f"free at {cable.shield.free_at}",
    )


def envelope(length_mm: float, m: float, subject: str) -> Polyline:
    """The dashed envelope of a shield around a conductor, from 0 down to `length_mm`."""
    middle, count = length_mm / 2, 24
    points = tuple(
        (_ENVELOPE * m * cos(2 * pi * at / count), middle + middle * sin(2 * pi * at / count))
        for at in range(count + 1)
    )
    dash_mm = (0.45 * m, 0.3 * m)
    return Polyline(points, 0.12 * m, dash_mm=dash_mm, kind=MarkKind.SYMBOL, subject=subject)


def _wave(side: float, m: float, subject: str) -> Polyline:
    steps = 8 * _LOOPS
    points = tuple((side * _WIDE * m * sin(pi * at / 8), at * _LOOP * m / 8) for at in range(steps + 1))
    return Polyline(points, 0.2 * m, kind=MarkKind.SYMBOL, subject=subject)
