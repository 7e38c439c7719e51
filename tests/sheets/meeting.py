"""The table of which kinds of mark may meet, and how; what is not in it may not meet at all, text above all."""

from enum import Flag

from harnessgen.sheets.mark_kind import MarkKind


class Meeting(Flag):
    """Ways in which two marks may meet; they combine."""

    NEVER = 0
    SAME_SUBJECT = 1
    """Where both depict the same thing: the strokes of one symbol, the rules of one table."""
    BOTH_END = 2
    """Where both lines end."""
    FIRST_ENDS = 4
    """Where the first line ends on the second mark."""
    SECOND_ENDS = 8
    """Where the second line ends on the first mark."""
    CROSSING = 16
    """Where two straight strokes cross at a right angle, away from their ends and corners."""
    ALWAYS = 32


_K = MarkKind
_TABLE: tuple[tuple[MarkKind, tuple[MarkKind, ...], Meeting], ...] = (
    # The circuit drawing: a conductor ends at what it is connected to and never runs through it.
    (_K.CONDUCTOR, (_K.CONDUCTOR, _K.LEAD), Meeting.BOTH_END | Meeting.CROSSING),
    (_K.CONDUCTOR, (_K.SUPPLY_BAR, _K.SYMBOL, _K.CONNECTION_BREAK, _K.SPLICE, _K.PANEL), Meeting.FIRST_ENDS),
    (_K.LEAD, (_K.LEAD,), Meeting.BOTH_END | Meeting.CROSSING | Meeting.SAME_SUBJECT),
    (_K.LEAD, (_K.SYMBOL, _K.PANEL), Meeting.FIRST_ENDS | Meeting.SAME_SUBJECT),
    (_K.LEAD, (_K.SUPPLY_BAR, _K.CONNECTION_BREAK, _K.SPLICE), Meeting.FIRST_ENDS),
    (_K.SYMBOL, (_K.SYMBOL, _K.PANEL), Meeting.SAME_SUBJECT),
    (_K.CONNECTION_BREAK, (_K.CONNECTION_BREAK,), Meeting.SAME_SUBJECT),
    (_K.SPLICE, (_K.SPLICE,), Meeting.SAME_SUBJECT),
    (_K.PANEL, (_K.PANEL,), Meeting.SAME_SUBJECT),
    # The layout drawing: what is on the bundle lies on it; the bundle ends at breakouts and faces.
    (_K.BUNDLE, (_K.BUNDLE,), Meeting.BOTH_END | Meeting.SAME_SUBJECT),
    (_K.BUNDLE, (_K.COVERING, _K.BREAKOUT, _K.SPLICE, _K.CLIP, _K.TAPE, _K.GROMMET), Meeting.ALWAYS),
    (_K.BUNDLE, (_K.FACE,), Meeting.FIRST_ENDS),
    (_K.COVERING, (_K.COVERING,), Meeting.SAME_SUBJECT),
    (_K.COVERING, (_K.SPLICE, _K.BREAKOUT, _K.CLIP, _K.TAPE, _K.GROMMET), Meeting.ALWAYS),
    (_K.TAPE, (_K.SPLICE, _K.CLIP, _K.GROMMET), Meeting.ALWAYS),
    (_K.TAPE, (_K.TAPE,), Meeting.SAME_SUBJECT),
    (_K.BREAKOUT, (_K.BREAKOUT,), Meeting.SAME_SUBJECT),
    (_K.CLIP, (_K.CLIP,), Meeting.SAME_SUBJECT),
    (_K.GROMMET, (_K.GROMMET,), Meeting.SAME_SUBJECT),
    (_K.LEADER, (_K.LEADER,), Meeting.SAME_SUBJECT),
    (
        _K.LEADER,
        (
            _K.BUNDLE,
            _K.COVERING,
            _K.BREAKOUT,
            _K.CLIP,
            _K.TAPE,
            _K.GROMMET,
            _K.SPLICE,
            _K.FACE,
            _K.SYMBOL,
            _K.PANEL,
        ),
        Meeting.FIRST_ENDS,
    ),
    (_K.LEADER, (_K.EXTENSION,), Meeting.CROSSING),
    (_K.EXTENSION, (_K.EXTENSION, _K.DIMENSION), Meeting.ALWAYS),
    (_K.EXTENSION, (_K.BUNDLE,), Meeting.FIRST_ENDS | Meeting.CROSSING),
    (
        _K.EXTENSION,
        (_K.COVERING, _K.BREAKOUT, _K.CLIP, _K.TAPE, _K.GROMMET, _K.SPLICE, _K.FACE),
        Meeting.FIRST_ENDS,
    ),
    (_K.DIMENSION, (_K.DIMENSION,), Meeting.SAME_SUBJECT),
    # Faces, tables and the furniture of the sheet.
    (_K.FACE, (_K.FACE,), Meeting.SAME_SUBJECT),
    (_K.CAVITY, (_K.CAVITY,), Meeting.SAME_SUBJECT),
    (_K.TABLE_RULE, (_K.TABLE_RULE, _K.TABLE_SHADE), Meeting.SAME_SUBJECT),
    (_K.TITLE_RULE, (_K.TITLE_RULE, _K.FRAME), Meeting.ALWAYS),
    (_K.STATUS, (_K.STATUS,), Meeting.ALWAYS),
    (_K.GAUGE, (_K.GAUGE,), Meeting.SAME_SUBJECT),
    # Charts: curves cross each other and begin at the frame; text stands clear of both.
    (_K.AXIS, (_K.AXIS, _K.CURVE), Meeting.ALWAYS),
    (_K.CURVE, (_K.CURVE,), Meeting.ALWAYS),
    (_K.GAUGE, (_K.FRAME,), Meeting.ALWAYS),
)


def _reversed(way: Meeting) -> Meeting:
    return (way & ~Meeting.FIRST_ENDS) | Meeting.SECOND_ENDS if Meeting.FIRST_ENDS in way else way


MEETINGS: dict[tuple[MarkKind, MarkKind], Meeting] = {
    pair: way
    for kind, others, forward in _TABLE
    for other in others
    for pair, way in (((other, kind), _reversed(forward)), ((kind, other), forward))
}
"""How two kinds may meet, in both orders; a pair that is not named may never meet."""


def meeting(first: MarkKind, second: MarkKind) -> Meeting:
    """How marks of the two kinds may meet, `first` before `second`."""
    return MEETINGS.get((first, second), Meeting.NEVER)
