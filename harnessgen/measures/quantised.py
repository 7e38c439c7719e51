"""Numbers brought to nine digits, before anything is chosen by them or printed.

The last digits of a solved number are noise: they depend on the order in which a processor adds, so that two machines
differ in them. Two wires that carry the same current then change places in a list, and a reading at a rounding tie is
printed as 0.12 here and 0.13 there. So what hangs on a number hangs on nine digits of it, and no finer than a billionth
of its unit: what is equal in truth is then equal, and a tie is broken by the order of the design. A number that lies at
the edge between two nine-digit numbers may still go either way, which is one in ten million; for a number of the trade
such as 12.5 the edge is far.
"""

from typing import Any

FINEST = 9
"""Decimals beyond which nothing is told: a nanovolt, a nanoampere, a nanometre of a harness are noise."""
DIGITS = 9
"""Significant digits that are told."""


def quantised(value: float) -> float:
    """`value` to nine significant digits and no more than nine decimals; nought has no sign, inf and nan stay."""
    return float(f"{round(value, FINEST):.{DIGITS}g}") + 0.0


def settled_number(value: float) -> float:
    """A solved `value`, in V or A, to nine decimals: what everything else is then computed from.

    All decimals are kept here, since the drop along a wire is a small difference of large voltages.
    """
    return round(value, FINEST) + 0.0


def quantised_tree(value: Any) -> Any:
    """The same data with every float in it quantised."""
    if isinstance(value, float):
        return quantised(value)
    if isinstance(value, dict):
        return {key: quantised_tree(each) for key, each in value.items()}
    if isinstance(value, list | tuple):
        return [quantised_tree(each) for each in value]
    return value
