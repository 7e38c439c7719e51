"""How much nearer a connector comes to its breakout when what carries it is turned, or its bracket moved."""

import math

from harnessgen.design.records.reach import Reach
from harnessgen.evidence.publication import Publication
from harnessgen.measures.frozen import frozen

TURN_SOURCE = Publication("Plane trigonometry, law of cosines")


@frozen
class Turn:
    """A connector whose rear face lies at `radius_mm` from the axis that it turns about.

    `leg_mm` is the straight way from its breakout to its face before it is turned, `bearing_deg` the angle at the axis
    between the face and the breakout then.
    """

    leg_mm: float
    radius_mm: float
    bearing_deg: float

    @property
    def axis_mm(self) -> float | None:
        """Distance from the breakout to the axis; None where no such leg reaches the face from that bearing."""
        bearing = math.radians(self.bearing_deg)
        square = self.leg_mm**2 - (self.radius_mm * math.sin(bearing)) ** 2
        if square < 0.0:
            return None
        distance = self.radius_mm * math.cos(bearing) + math.sqrt(square)
        return distance if distance > 0.0 else None

    def facing(self, turned_deg: float) -> float:
        """Cosine of the bearing that is left after it is turned; at most it faces the breakout."""
        return math.cos(math.radians(max(self.bearing_deg - turned_deg, 0.0)))

    def gain_mm(self, turned_deg: float) -> float:
        """How much nearer the face lies to the breakout after it is turned by `turned_deg`."""
        axis_mm = self.axis_mm
        if axis_mm is None:
            return 0.0
        cosine, radius = self.facing(turned_deg), self.radius_mm
        # The square of a length that is nearly nothing may fall below zero by rounding.
        square = max(axis_mm**2 + radius**2 - 2.0 * axis_mm * radius * cosine, 0.0)
        return self.leg_mm - math.sqrt(square)


def turn_of(reach: Reach, leg_mm: float) -> Turn:
    """The geometry of a connector's turn at the end of a leg of `leg_mm`."""
    return Turn(leg_mm, reach.radius_mm.value, reach.bearing_deg.value)


def used_mm(reach: Reach, leg_mm: float) -> float:
    """How much nearer to its breakout a connector lies by what is used of its freedom."""
    turned_mm = turn_of(reach, leg_mm).gain_mm(reach.turned_deg.value) if reach.turned_deg.value else 0.0
    return turned_mm + reach.moved_mm.value


def least_turn_deg(reach: Reach, leg_mm: float, gain_mm: float) -> float | None:
    """The smallest angle, in whole degrees, by which to turn it so that `gain_mm` is won besides what is used already.

    None where the whole freedom does not win so much.
    """
    turn = turn_of(reach, leg_mm)
    already_mm = turn.gain_mm(reach.turned_deg.value)
    for whole in range(math.floor(reach.turned_deg.value) + 1, math.floor(reach.turn_deg.value) + 1):
        if turn.gain_mm(whole) - already_mm >= gain_mm:
            return float(whole)
    if turn.gain_mm(reach.turn_deg.value) - already_mm >= gain_mm:
        return reach.turn_deg.value
    return None
