"""The route: the tree of points that the bundle follows."""

from dataclasses import dataclass

from harnessgen.measures.quantity import LENGTH, Quantity
from harnessgen.source.key import Record, key
from harnessgen.source.kind import Measure, Ref


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch(Record):
    """One stretch of the route, from the point it stands under to the point that is its key.

    Its length goes from centre of breakout to centre of breakout; a leg's from the breakout to the rear face of its
    connector. The tolerance of the length says how well it was measured in the vehicle.
    """

    length_mm: Quantity = key("length", Measure(LENGTH, lowest=0), "Length, with the tolerance of its measurement.")
    build: Quantity | None = key(
        "build",
        Measure(LENGTH, only_tolerance=True),
        "Tolerance to build it to, printed on the drawings.",
        default=None,
    )
    zone: str = key(
        "zone", Ref("zone"), "Zone that it lies in.", default="", default_words="zone of the stretch before it"
    )
    covering: str = key("covering", Ref("covering family"), "What the bundle is covered with.", default="")

    noun = "a stretch"
    shorthand = "length_mm"
    example = """\
route:                    # from: {to: length}
  fusebox: {firewall: 400 +/- 10 mm}
  firewall:
    b1: {length: 14 1/2 in, build: +10/-0, zone: engine-bay, covering: conduit-10}
  b1: {fan-left: 300 mm, fan-right: 900 mm}
"""
