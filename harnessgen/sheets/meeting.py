"""The table of which kinds of mark may meet, and how; what is not in it may not meet at all, text above all."""

from enum import Flag

from harnessgen.sheets.mark_kind import MarkKind


class Meeting(Flag):
    """Ways in which two marks may meet; they combine."""

    NEVER = 0
    SAME_SUBJECT = 1
    """Where both depict the same thing: the strokes of one symbol, the rules of one table."""
    AT_ENDS = 2
    """Where a line of the two ends, and nowhere along it."""
    CROSSING = 4
    """Where two straight strokes cross at a right angle, away from their ends and corners."""
    ALWAYS = 8


_NAMED = MarkKind
_TABLE: tuple[tuple[MarkKind, tuple[MarkKind, ...], Meeting], ...] = (
    # The circuit drawing: a conductor ends at what it is connected to and never runs through it.
    (_NAMED.CONDUCTOR, (_NAMED.CONDUCTOR, _NAMED.LEAD), Meeting.AT_ENDS | Meeting.CROSSING),
    (
        _NAMED.CONDUCTOR,
        (_NAMED.SUPPLY_BAR, _NAMED.SYMBOL, _NAMED.CONNECTION_BREAK, _NAMED.SPLICE, _NAMED.PANEL),
        Meeting.AT_ENDS,
    ),
    (_NAMED.LEAD, (_NAMED.LEAD,), Meeting.AT_ENDS | Meeting.CROSSING | Meeting.SAME_SUBJECT),
    (_NAMED.LEAD, (_NAMED.SYMBOL, _NAMED.PANEL), Meeting.AT_ENDS | Meeting.SAME_SUBJECT),
    (_NAMED.LEAD, (_NAMED.SUPPLY_BAR, _NAMED.CONNECTION_BREAK, _NAMED.SPLICE), Meeting.AT_ENDS),
    (_NAMED.SYMBOL, (_NAMED.SYMBOL, _NAMED.PANEL), Meeting.SAME_SUBJECT),
    (_NAMED.CONNECTION_BREAK, (_NAMED.CONNECTION_BREAK,), Meeting.SAME_SUBJECT),
    (_NAMED.SPLICE, (_NAMED.SPLICE,), Meeting.SAME_SUBJECT),
    (_NAMED.PANEL, (_NAMED.PANEL,), Meeting.SAME_SUBJECT),
    # The layout drawing: what is on the bundle lies on it; the bundle ends at breakouts and faces.
    (_NAMED.BUNDLE, (_NAMED.BUNDLE,), Meeting.AT_ENDS | Meeting.SAME_SUBJECT),
    (_NAMED.BUNDLE, (_NAMED.COVERING, _NAMED.BREAKOUT, _NAMED.SPLICE, _NAMED.CLIP), Meeting.ALWAYS),
    (_NAMED.BUNDLE, (_NAMED.FACE, _NAMED.LEADER), Meeting.AT_ENDS),
    (_NAMED.BUNDLE, (_NAMED.EXTENSION,), Meeting.AT_ENDS | Meeting.CROSSING),
    (_NAMED.COVERING, (_NAMED.COVERING,), Meeting.SAME_SUBJECT),
    (_NAMED.COVERING, (_NAMED.SPLICE, _NAMED.BREAKOUT, _NAMED.CLIP), Meeting.ALWAYS),
    (_NAMED.COVERING, (_NAMED.LEADER, _NAMED.EXTENSION), Meeting.AT_ENDS),
    (_NAMED.BREAKOUT, (_NAMED.BREAKOUT,), Meeting.SAME_SUBJECT),
    (_NAMED.BREAKOUT, (_NAMED.LEADER, _NAMED.EXTENSION), Meeting.AT_ENDS),
    (_NAMED.CLIP, (_NAMED.CLIP,), Meeting.SAME_SUBJECT),
    (_NAMED.CLIP, (_NAMED.LEADER, _NAMED.EXTENSION), Meeting.AT_ENDS),
    (_NAMED.LEADER, (_NAMED.LEADER,), Meeting.SAME_SUBJECT),
    (_NAMED.LEADER, (_NAMED.SPLICE, _NAMED.FACE, _NAMED.SYMBOL), Meeting.AT_ENDS),
    (_NAMED.LEADER, (_NAMED.EXTENSION,), Meeting.CROSSING),
    (_NAMED.EXTENSION, (_NAMED.EXTENSION,), Meeting.ALWAYS),
    (_NAMED.EXTENSION, (_NAMED.DIMENSION,), Meeting.AT_ENDS | Meeting.CROSSING),
    (_NAMED.DIMENSION, (_NAMED.DIMENSION,), Meeting.SAME_SUBJECT),
    # Faces, tables and the furniture of the sheet.
    (_NAMED.FACE, (_NAMED.FACE,), Meeting.SAME_SUBJECT),
    (_NAMED.CAVITY, (_NAMED.CAVITY,), Meeting.SAME_SUBJECT),
    (_NAMED.TABLE_RULE, (_NAMED.TABLE_RULE, _NAMED.TABLE_SHADE), Meeting.SAME_SUBJECT),
    (_NAMED.TITLE_RULE, (_NAMED.TITLE_RULE, _NAMED.FRAME), Meeting.ALWAYS),
    (_NAMED.STATUS, (_NAMED.STATUS,), Meeting.ALWAYS),
    (_NAMED.GAUGE, (_NAMED.GAUGE,), Meeting.SAME_SUBJECT),
    (_NAMED.GAUGE, (_NAMED.FRAME,), Meeting.ALWAYS),
)

MEETINGS: dict[frozenset[MarkKind], Meeting] = {
    frozenset({kind, other}): meeting for kind, others, meeting in _TABLE for other in others
}
"""How two kinds may meet, in whichever order; a pair that is not named may never meet."""


def meeting(first: MarkKind, second: MarkKind) -> Meeting:
    """How marks of the two kinds may meet."""
    return MEETINGS.get(frozenset({first, second}), Meeting.NEVER)
