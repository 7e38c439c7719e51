"""What lets a connector meet its mate, beyond the length of its wires: freedom, spare for repair, and lifting away."""

from harnessgen.measures.quantity import ANGLE, LENGTH, Quantity
from harnessgen.source.container import ListOf
from harnessgen.source.key import Record, key, record
from harnessgen.source.kind import Choice, Count, Name, Ref
from harnessgen.source.measure_kind import Measure

_NONE = Quantity(0.0)


@record
class Reach(Record):
    """How far a connector can come towards its breakout: by turning what carries it, or by moving its bracket.

    This freedom is no length that is there. Only what `turned` and `moved` say has been used of it counts.
    """

    turn_deg: Quantity = key(
        "turn",
        Measure(ANGLE, lowest=0, highest=360),
        "Angle by which it can be turned about its axis, towards its breakout.",
        default=_NONE,
        default_words="0",
    )
    radius_mm: Quantity = key(
        "radius",
        Measure(LENGTH, lowest=0),
        "Distance of its rear face from that axis.",
        default=_NONE,
        default_words="0",
    )
    bearing_deg: Quantity = key(
        "bearing",
        Measure(ANGLE, lowest=0, highest=180),
        "Angle at the axis between its face and its breakout, before it is turned (0: it faces the breakout already).",
        default=Quantity(90.0),
        default_words="90 deg, square to its leg",
    )
    turned_deg: Quantity = key(
        "turned",
        Measure(ANGLE, lowest=0, highest=360),
        "Angle by which it is turned towards its breakout, against how the leg was measured.",
        default=_NONE,
        default_words="0",
    )
    move_mm: Quantity = key(
        "move",
        Measure(LENGTH, lowest=0),
        "Distance by which its bracket can be moved towards its breakout.",
        default=_NONE,
        default_words="0",
    )
    moved_mm: Quantity = key(
        "moved",
        Measure(LENGTH, lowest=0),
        "Distance by which it is moved towards its breakout, against how the leg was measured.",
        default=_NONE,
        default_words="0",
    )

    noun = "a reach"
    example = """\
connectors:
  C22: {part: sealed-2, at: left-2, reach: {turn: 60 deg, radius: 28 mm, bearing: 90 deg}}
  C23: {part: sealed-2, at: left-3, reach: {move: 25 mm, moved: 10 mm}}
"""


@record
class ServiceLoops(Record):
    """Spare length of each wire at one end, so that its terminal can be cut off and crimped anew so many times."""

    count: int = key("count", Count(0, 20), "Re-terminations that it allows for.")
    each_mm: Quantity | None = key(
        "each",
        Measure(LENGTH, above=0),
        "Length that one of them takes.",
        default=None,
        default_words="the limit `retermination`",
    )

    noun = "service loops"
    shorthand = "count"
    example = """\
connectors:
  C1: {part: header-26, at: ecu, service-loops: 2}
  C2: {part: sealed-2, at: key, service-loops: {count: 1, each: 20 mm}}
"""


@record
class Lift(Record):
    """How the part that a disconnect serves comes away: lifted with the halves mated, which are parted then."""

    travel_mm: Quantity = key(
        "travel", Measure(LENGTH, above=0), "How far the part is lifted before the halves are parted."
    )
    direction: str = key(
        "direction",
        Choice(("along", "across")),
        "Whether it moves along the bundle, or square to it.",
        default="along",
        default_words="along, the worse",
    )
    half: str = key(
        "half",
        Choice(("pins", "sockets")),
        "Half whose section comes away with the part.",
        default="pins",
        default_words="pins",
    )
    fixed: tuple[str, ...] = key(
        "fixed",
        ListOf(Ref("point")),
        "Points nearest to it, on either side, where the bundle is fixed to what stays and to what comes away.",
        default=(),
        default_words="its neighbours on the route",
    )
    comes: tuple[str, ...] = key(
        "comes",
        ListOf(Name("designator")),
        "Ground points, supplies and other things of the lifted section that come away with the part.",
        default=(),
    )
    stays: tuple[str, ...] = key(
        "stays",
        ListOf(Name("designator")),
        "Devices and connectors of the lifted section that stay behind.",
        default=(),
    )

    noun = "a lift"
    shorthand = "travel_mm"
    example = """\
disconnects:
  C10: {part: sealed-6, at: c10, socket-side: fusebox, lift: {travel: 80 mm, fixed: [fusebox, b1], comes: G2}}
"""
