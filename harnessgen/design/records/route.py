"""The route: the tree of points that the bundle follows."""

from collections.abc import Mapping

from harnessgen.design.records.fixings import Clips, Fixings, Grommet, Tape
from harnessgen.measures.quantity import ANGLE, LENGTH, RATIO, Quantity
from harnessgen.source.container import ListOf, MapOf, RecordOf
from harnessgen.source.key import Record, key, record
from harnessgen.source.kind import Choice, Ref
from harnessgen.source.measure_kind import Measure

UNMEASURED = Quantity(0.0)
"""Stands in place of a length that the file leaves out, until it is made from readings or from points."""


@record
class Point(Record):
    """Where a point of the route lies, in coordinates of the vehicle. Only differences between points count."""

    x_mm: Quantity = key("x", Measure(LENGTH, may_cover=True), "First coordinate, with its tolerance.")
    y_mm: Quantity = key("y", Measure(LENGTH, may_cover=True), "Second coordinate.")
    z_mm: Quantity = key(
        "z", Measure(LENGTH, may_cover=True), "Third coordinate.", default=Quantity(0.0), default_words="0"
    )

    noun = "the place of a point"
    example = """\
points:
  b1: {x: 0, y: 0}
  b2: {x: 120 +/- 2 mm, y: 40 mm, z: -15 mm}
"""

    @property
    def axes_mm(self) -> tuple[Quantity, Quantity, Quantity]:
        """The three coordinates."""
        return (self.x_mm, self.y_mm, self.z_mm)


@record
class Bend(Record):
    """A bend of a stretch."""

    angle_deg: Quantity = key("angle", Measure(ANGLE, above=0, highest=720), "Angle that the bundle turns through.")

    radius_mm: Quantity | None = key(
        "radius",
        Measure(LENGTH, above=0),
        "Radius on its inside, checked against what the bundle stands.",
        default=None,
    )
    held: str = key(
        "held",
        Choice(("yes", "no")),
        "Whether clips or a former hold the bundle all around it.",
        default="no",
        default_words="no",
    )
    at_mm: Quantity | None = key(
        "at",
        Measure(LENGTH, lowest=0),
        "Distance of its middle from the point under which the stretch stands.",
        default=None,
    )

    noun = "a bend"
    shorthand = "angle_deg"


@record
class Stretch(Record):
    """One stretch of the route, from the point it stands under to the point that is its key.

    Its length goes from centre of breakout to centre of breakout; a leg's from the breakout to the rear face of its
    connector. It is measured in the vehicle: by one reading of a tape, whose tolerance is a bound (or, with a coverage
    factor, an expanded uncertainty); by several `readings`; or from the coordinates of its two `points`.
    """

    length_mm: Quantity = key(
        "length",
        Measure(LENGTH, lowest=0, may_cover=True),
        "Length, with the tolerance of its measurement.",
        default=UNMEASURED,
        default_words="from its readings, or from the coordinates of its points",
    )
    readings_mm: tuple[Quantity, ...] = key(
        "readings",
        ListOf(Measure(LENGTH, lowest=0, may_cover=True)),
        "Several readings of its length, in place of `length`; the tolerance they carry is that of the tape.",
        default=(),
    )
    path_factor: Quantity | None = key(
        "path-factor",
        Measure(RATIO, lowest=1, may_cover=True),
        "How much longer the bundle's way is than the straight line between its points, where these give the length.",
        default=None,
        default_words="the limit `path-factor`",
    )
    build: Quantity | None = key(
        "build",
        Measure(LENGTH, only_tolerance=True),
        "Tolerance to build it to, printed on the drawings.",
        default=None,
    )
    built_mm: Quantity | None = key(
        "built",
        Measure(LENGTH, above=0, may_cover=True),
        "Length of the finished bundle, where it is there already or is to differ from what was measured;"
        " checked against what the route needs.",
        default=None,
    )
    slack_mm: Quantity = key(
        "slack",
        Measure(LENGTH, lowest=0),
        "Extra length of the bundle on purpose, such as a loop that lets a part be lifted away.",
        default=Quantity(0.0),
        default_words="0",
    )
    drip_loop_mm: Quantity = key(
        "drip-loop",
        Measure(LENGTH, lowest=0),
        "Extra length for a loop from which water drips off.",
        default=Quantity(0.0),
        default_words="0",
    )
    movement_mm: Quantity = key(
        "movement",
        Measure(LENGTH, lowest=0),
        "How much further apart its two points come while the vehicle runs (engine rock, a hinge).",
        default=Quantity(0.0),
        default_words="0",
    )
    bends: tuple[Bend, ...] = key(
        "bends",
        ListOf(RecordOf(Bend)),
        "Its bends, by their angles: a wire on the outside of the bundle has the longer way around each.",
        default=(),
    )
    lay_length_mm: Quantity | None = key(
        "lay-length",
        Measure(LENGTH, above=0),
        "Length of one full turn, where its bundle is twisted: each wire takes up more than the stretch is long.",
        default=None,
        default_words="not twisted",
    )
    leaves_deg: Quantity | None = key(
        "leaves",
        Measure(ANGLE, lowest=0, highest=180),
        "Angle at which it leaves the stretch before it (0: straight on), for what moving the breakout would change.",
        default=None,
    )
    clips: Clips | None = key(
        "clips",
        RecordOf(Clips),
        "The clips that hold it: the distance between them, or where each of them sits.",
        default=None,
        default_words="not said; the schedule of bundles says how many it takes",
    )
    tape: tuple[Tape, ...] = key("tape", ListOf(RecordOf(Tape)), "Tape wound on it.", default=())
    grommets: Mapping[str, Grommet] = key(
        "grommets",
        MapOf(RecordOf(Grommet), "grommet"),
        "Grommets through which it passes panels, by designator.",
        factory=dict,
    )
    moves: Quantity | None = key(
        "moves",
        Measure(LENGTH, only_tolerance=True),
        "How far `place` may move the breakout at its end along it: onward and back.",
        default=None,
        default_words="the breakout stays",
    )
    zone: str = key(
        "zone", Ref("zone"), "Zone that it lies in.", default="", default_words="zone of the stretch before it"
    )
    covering: str = key("covering", Ref("covering family"), "What the bundle is covered with.", default="")

    # Set where the length was made from coordinates.
    is_from_points: bool = False

    noun = "a stretch"
    shorthand = "length_mm"
    example = """\
route:                    # from: {to: length}
  fusebox: {firewall: 400 +/- 10 mm}
  firewall:
    b1: {length: 14 1/2 in, build: +10/-0, zone: engine-bay, covering: conduit-10}
  b1:
    fan-left: {readings: [298 +/- 1 mm, 301 +/- 1 mm, 300 +/- 1 mm], movement: 15 mm}
    fan-right: {length: 900 +/- 8 mm (k=2), bends: [{angle: 90 deg, radius: 40 mm}, 45 deg], drip-loop: 40 mm}
"""

    @property
    def is_measured(self) -> bool:
        """True when a length was written for it, or made from readings or points."""
        return self.length_mm is not UNMEASURED

    def fixings(self, start: str, end: str) -> Fixings:
        """What is fixed on it, given the two points that it lies between."""
        return Fixings(start, end, self.length_mm.value, self.clips, self.tape, self.grommets)
