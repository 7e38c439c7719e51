"""Numbers brought to nine digits, before anything is chosen by them or printed.

The last digits of a solved number are noise: they depend on the order in which a processor adds, so that two machines
differ in them. Two wires that carry the same current then change places in a list, and a reading at a rounding tie is
printed as 0.12 here and 0.13 there. So what hangs on a number hangs on nine digits of it: what is equal in truth is
then equal, and a tie is broken by name or by the order of the design. A number that lies at the edge between two of
nine digits may still go either way, about one in ten million; a round number such as 12.5 lies far from it.
"""

from typing import Any

DIGITS = 9
"""Significant digits that are told."""
SOLVED_DECIMALS = 11
"""Decimals of a solved voltage or current, in V or A: the noise of a solution lies three decimals below."""
_MOST_DECIMALS = 12
"""Decimals beyond which a number is what was left of others that cancel: nought."""


def quantised(value: float) -> float:
    """`value` to nine significant digits and no more than twelve decimals; nought has no sign, inf and nan stay."""
    return float(f"{round(value, _MOST_DECIMALS):.{DIGITS}g}") + 0.0


def settled_number(value: float) -> float:
    """A solved `value`, in V or A, without the decimals that are noise: what everything else is computed from.

    More is kept than is told, since the drop along a wire is a small difference of large voltages. A current of 10 A is
    10 A then, whatever it is compared with.
    """
    return round(value, SOLVED_DECIMALS) + 0.0


def quantised_tree(value: Any) -> Any:
    """The same data with every float in it quantised."""
    if isinstance(value, float):
        return quantised(value)
    if isinstance(value, dict):
        return {key: quantised_tree(each) for key, each in value.items()}
    if isinstance(value, list | tuple):
        return [quantised_tree(each) for each in value]
    return value
