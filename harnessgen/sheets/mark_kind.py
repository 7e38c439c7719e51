"""What a mark is for: the kind decides what it may meet and in which order it is drawn."""

from enum import Enum


class MarkKind(Enum):
    """Kinds of mark, in the order in which a writer draws them: later ones lie on top."""

    PANEL = "panel"
    """Ground on which other marks stand, such as the box of a controller."""
    TABLE_SHADE = "table shade"
    """Ground of the head of a table."""
    BUNDLE = "bundle"
    """A stretch of the route as a line as thick as the bundle."""
    COVERING = "covering"
    """Hatched area of a conduit, sleeve or braid."""
    TAPE = "tape"
    """Tape wound on a stretch of the bundle."""
    FACE = "face"
    """Housing, latch and key of a connector seen from one side."""
    FRAME = "frame"
    TITLE_RULE = "title rule"
    TABLE_RULE = "table rule"
    STATUS = "status"
    """Border of the status stamp."""
    EXTENSION = "extension line"
    """Thin line from what is dimensioned to its dimension line."""
    DIMENSION = "dimension line"
    """Dimension line with its arrow heads."""
    LEADER = "leader"
    """Thin line from a note to what it speaks of."""
    CONDUCTOR = "conductor"
    SUPPLY_BAR = "supply bar"
    LEAD = "lead"
    """Thin line by which a symbol is connected."""
    SYMBOL = "symbol"
    CONNECTION_BREAK = "connection break"
    """The two arcs of a connector in a conductor."""
    SPLICE = "splice"
    BREAKOUT = "breakout"
    CLIP = "clip"
    """Clip that holds the bundle."""
    GROMMET = "grommet"
    """Grommet through which the bundle passes a panel, with the panel beside it."""
    LOOP = "loop"
    """Sign of a length that lies in a loop."""
    CAVITY = "cavity"
    GAUGE = "gauge"
    """Check line, scale bar or register mark."""
    AXIS = "axis"
    """Frame and ticks of a chart."""
    CURVE = "curve"
    """Line of a chart, or the upright at a value."""
    LABEL = "label"
    """Text on a drawing."""
    DIMENSION_TEXT = "dimension text"
    FACE_TEXT = "face text"
    TABLE_TEXT = "table text"
    TITLE_TEXT = "title text"
    STATUS_TEXT = "status text"


DRAWING_ORDER: dict[MarkKind, int] = {kind: place for place, kind in enumerate(MarkKind)}
"""Place of each kind from the ground (0) upwards."""

TEXT_KINDS = frozenset(
    {
        MarkKind.LABEL,
        MarkKind.DIMENSION_TEXT,
        MarkKind.FACE_TEXT,
        MarkKind.TABLE_TEXT,
        MarkKind.TITLE_TEXT,
        MarkKind.STATUS_TEXT,
    }
)

HOLLOW_KINDS = frozenset(
    {
        MarkKind.PANEL,
        MarkKind.TABLE_SHADE,
        MarkKind.FACE,
        MarkKind.FRAME,
        MarkKind.TITLE_RULE,
        MarkKind.TABLE_RULE,
        MarkKind.STATUS,
        MarkKind.CAVITY,
        MarkKind.GAUGE,
    }
)
"""Kinds that hold other marks inside: only their edge is in the way, even where they are filled."""
