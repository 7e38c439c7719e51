"""Connectors of the harness, and the disconnects that divide it."""

from collections.abc import Mapping

from harnessgen.design.records.reach import Lift, Reach, ServiceLoops
from harnessgen.measures.quantity import LENGTH, Quantity
from harnessgen.source.container import ListOf, MapOf, RecordOf
from harnessgen.source.key import Record, key, record
from harnessgen.source.kind import Choice, Ref, Text
from harnessgen.source.measure_kind import Measure

LOOPS = "Spare length for re-terminations, in each of its wires."


@record
class CavityFill(Record):
    """What fills one cavity where it differs from the connector's usual."""

    contact: str = key(
        "terminal", Ref("contact"), "Contact in this cavity.", default="", default_words="the connector's"
    )
    seal: str = key("seal", Ref("seal"), "Seal in this cavity.", default="", default_words="the connector's")

    noun = "a cavity"


@record
class Connector(Record):
    """A connector at an end of the harness. Its cavities are named `C1/14`, always on the harness side."""

    part: str = key("part", Ref("connector family"), "Connector family.")
    at: str = key("at", Ref("point"), "Point of the route where it sits.")
    half: str = key(
        "half",
        Choice(("sockets", "pins")),
        "Contacts that the harness side holds.",
        default="sockets",
        default_words="sockets",
    )
    mate: str = key("mate", Text(), "What it plugs into, in words.", default="")
    contact: str = key("terminal", Ref("contact"), "Contact in its cavities.", default="", default_words="the family's")
    seal: str = key("seal", Ref("seal"), "Seal in its cavities.", default="", default_words="the family's")
    wire_end_mm: Quantity | None = key(
        "wire-end",
        Measure(LENGTH),
        "How far the wire's end lies inside it from the rear face (negative: before the face).",
        default=None,
        default_words="the family's",
    )
    service_loops: ServiceLoops | None = key(
        "service-loops", RecordOf(ServiceLoops), LOOPS, default=None, default_words="the limit `service-loops`"
    )
    reach: Reach | None = key("reach", RecordOf(Reach), "How far it can come towards its breakout.", default=None)
    cavities: Mapping[str, CavityFill] = key(
        "cavities", MapOf(RecordOf(CavityFill), "cavity"), "Cavities that are filled otherwise.", factory=dict
    )

    noun = "a connector"
    example = """\
connectors:
  C1: {part: header-26, at: ecu, mate: engine controller, cavities: {14: {seal: seal-1.5}}}
"""


@record
class Disconnect(Record):
    """A mated in-line pair that divides the harness into sections.

    `C10` has the halves `C10s` (socket contacts) and `C10p` (pin contacts), each belonging to the section on its side.
    The sockets sit on the side that can be live when the halves are apart.
    """

    part: str = key("part", Ref("connector family"), "Connector family of the pair.")
    at: str = key("at", Ref("point"), "Point of the route where it sits.")
    socket_side: tuple[str, ...] = key(
        "socket-side",
        ListOf(Ref("point")),
        "Neighbouring point (or points) of the route on the side of the socket half.",
    )
    contact: str = key("terminal", Ref("contact"), "Contact in its cavities.", default="", default_words="the family's")
    seal: str = key("seal", Ref("seal"), "Seal in its cavities.", default="", default_words="the family's")
    service_loops: ServiceLoops | None = key(
        "service-loops", RecordOf(ServiceLoops), LOOPS, default=None, default_words="the limit `service-loops`"
    )
    lift: Lift | None = key(
        "lift", RecordOf(Lift), "How the part that it serves is lifted away; checked if given.", default=None
    )
    title: str = key("title", Text(), "What it lets come away, in words.", default="")

    noun = "a disconnect"
    example = """\
disconnects:
  C10: {part: sealed-4, at: c10, socket-side: firewall, title: plenum section}
"""


@record
class Splice(Record):
    """A joint of two or more wires at a point of the route, or a stated distance from it."""

    at: str = key("at", Ref("point"), "Point of the route where it sits, or from which its place is measured.")
    offset_mm: Quantity = key(
        "offset", Measure(LENGTH, lowest=0), "Distance from that point.", default=Quantity(0.0), default_words="0"
    )
    toward: str = key("toward", Ref("point"), "Neighbouring point towards which the distance is measured.", default="")
    part: str = key("part", Ref("splice family"), "Splice family.", default="", default_words="the title block's")
    within: tuple[str, ...] = key(
        "within",
        ListOf(Ref("point")),
        "Points between which `place` may set it: on the stretches that join two of them. One alone keeps it in place.",
        default=(),
        default_words="the stretches in which its wires lie",
    )

    noun = "a splice"
    shorthand = "at"
    example = """\
splices:
  S1: b1
  S2: {at: b1, offset: 40 mm, toward: b2, part: barrel-hot, within: [b1, b2]}
"""
