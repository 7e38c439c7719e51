"""Evaluate the small arithmetic expressions in which derivations are written.

A derivation prints its formula and is checked from the same text, so the text is the one home of the arithmetic.
"""

import ast
import math
import operator
from collections.abc import Callable, Mapping

_BINARY: dict[type[ast.operator], Callable[[float, float], float]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: operator.pow,
}
_FUNCTIONS: dict[str, Callable[..., float]] = {
    "sqrt": math.sqrt,
    "exp": math.exp,
    "ln": math.log,
    "log10": math.log10,
    "min": min,
    "max": max,
    "abs": abs,
    "ceil": math.ceil,
    "erfc": math.erfc,
    "sum": lambda *terms: math.fsum(terms),
    "hypot": math.hypot,
}
_CONSTANTS = {"pi": math.pi}


def evaluate(formula: str, inputs: Mapping[str, float]) -> float:
    """Value of `formula` (`a * sqrt(b) / 2`) with the symbols of `inputs`.

    Raises:
        ValueError: the text is no arithmetic expression, or names a symbol that `inputs` does not hold.
    """
    try:
        tree = ast.parse(formula, mode="eval")
    except SyntaxError as error:
        raise ValueError(f"no arithmetic expression: {formula!r}") from error
    return _value(tree.body, inputs, formula)


def _value(node: ast.expr, inputs: Mapping[str, float], formula: str) -> float:
    match node:
        case ast.Constant(value=int() | float() as number):
            return float(number)
        case ast.Name(id=name):
            if name in inputs:
                return inputs[name]
            if name in _CONSTANTS:
                return _CONSTANTS[name]
            raise ValueError(f"{name!r} has no value in {formula!r}")
        case ast.BinOp(left=left, op=op, right=right) if type(op) in _BINARY:
            return _BINARY[type(op)](_value(left, inputs, formula), _value(right, inputs, formula))
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            return -_value(operand, inputs, formula)
        case ast.Call(func=ast.Name(id=name), args=args, keywords=[]) if name in _FUNCTIONS:
            return _FUNCTIONS[name](*(_value(argument, inputs, formula) for argument in args))
        case _:
            raise ValueError(f"no arithmetic expression: {formula!r}")
