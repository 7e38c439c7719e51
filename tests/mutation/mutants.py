"""Mutants of a module: one small wrong change each, as text, so that every other line stays where it was."""

import ast
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

_COMPARED = {
    ast.Lt: (ast.LtE, ast.GtE),
    ast.LtE: (ast.Lt, ast.Gt),
    ast.Gt: (ast.GtE, ast.LtE),
    ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
}
_COMPUTED = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Div,
    ast.Mod: ast.Mult,
    ast.Pow: ast.Mult,
    ast.BitOr: ast.BitAnd,
    ast.BitAnd: ast.BitOr,
}
_CALLED = {"min": "max", "max": "min", "any": "all", "all": "any"}
_EITHER_WAY = {"min", "max", "hypot", "isclose", "maximum", "minimum", "gcd", "zip"}
"""Calls whose first two arguments may change places without harm, or with no harm that matters here."""


@dataclass(frozen=True)
class Mutant:
    """One change: where it begins (line from 1), what kind it is, the line before and the line after."""

    module: str
    line: int
    column: int
    kind: str
    before: str
    after: str
    source: str

    @property
    def name(self) -> str:
        """The mutant without its line number, so that edits elsewhere leave its name as it is."""
        return f"{self.module}: {self.kind}: {self.before} => {self.after}"


def mutants(module: str, source: str) -> list[Mutant]:
    """Every mutant of a module, in the order of its text; docstrings, annotations and words are left alone."""
    tree = ast.parse(source)
    starts = _starts(source)
    data = source.encode()
    found = []
    for node in _nodes(tree):
        first = starts[node.lineno - 1] + node.col_offset
        last = starts[(node.end_lineno or 0) - 1] + (node.end_col_offset or 0)
        for kind, after in _changes(node):
            text = (data[:first] + after.encode() + data[last:]).decode()
            shown = [each.splitlines()[node.lineno - 1].strip() for each in (source, text)]
            found.append(Mutant(module, node.lineno, node.col_offset, kind, shown[0], shown[1], text))
    return sorted(found, key=lambda each: (each.line, each.column, each.kind, each.source))


def _starts(source: str) -> list[int]:
    """Byte at which each line begins."""
    starts = [0]
    for line in source.encode().splitlines(keepends=True):
        starts.append(starts[-1] + len(line))
    return starts


def _nodes(tree: ast.AST) -> Iterator[ast.expr | ast.stmt]:
    """Expressions and statements that run: no annotation, no docstring, nothing for the type checker alone."""
    stack: list[ast.AST] = [tree]
    while stack:
        node = stack.pop()
        left_out = _left_out(node)
        stack += [each for each in ast.iter_child_nodes(node) if id(each) not in left_out]
        if isinstance(node, ast.expr | ast.stmt):
            yield node


def _left_out(node: ast.AST) -> set[int]:
    """Children of a node that are not changed."""
    held: list[ast.AST | None] = []
    if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
        held += [node.returns, *node.decorator_list]
    elif isinstance(node, ast.ClassDef):
        held += [*node.bases, *node.decorator_list]
    elif isinstance(node, ast.arg | ast.AnnAssign):
        held.append(node.annotation)
    elif isinstance(node, ast.Subscript) and isinstance(node.value, ast.Name) and node.value.id[:1].isupper():
        held.append(node.slice)
    elif isinstance(node, ast.JoinedStr):
        # Until Python 3.12 these have no true place, and most of them are words.
        held += node.values
    elif isinstance(node, ast.If) and "TYPE_CHECKING" in ast.dump(node.test):
        held += [node.test, *node.body]
    elif isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
        held.append(node.value)
    return {id(each) for each in held}


def _changes(node: ast.expr | ast.stmt) -> Iterator[tuple[str, str]]:
    """Kind and new text of every change of one node."""
    match node:
        case ast.Compare(left, [operator], comparators):
            for other in _COMPARED[type(operator)]:
                yield "comparison", f"({_text(ast.Compare(left, [other()], comparators))})"
        case ast.BinOp(left, operator, right) if type(operator) in _COMPUTED and not _is_text(left):
            yield "arithmetic", f"({_text(ast.BinOp(left, _COMPUTED[type(operator)](), right))})"
        case ast.BoolOp(operator, values):
            other = ast.Or() if isinstance(operator, ast.And) else ast.And()
            yield "boolean", f"({_text(ast.BoolOp(other, values))})"
        case ast.UnaryOp(ast.Not() | ast.USub(), operand):
            yield "sign", f"({_text(operand)})"
        case ast.Constant(value):
            yield from _constants(value)
        case ast.IfExp(test, body, orelse):
            yield "condition", f"({_text(ast.IfExp(test, orelse, body))})"
        case ast.Call():
            yield from _calls(node)
        case ast.stmt():
            yield from _statements(node)


def _constants(value: object) -> Iterator[tuple[str, str]]:
    if isinstance(value, bool):
        yield "constant", str(not value)
    elif isinstance(value, int):
        yield "constant", f"{value + 1}"
        yield "constant", f"({value - 1})"
    elif isinstance(value, float):
        yield "constant", repr(1.0 if value == 0 else value * 1.5)


def _calls(node: ast.Call) -> Iterator[tuple[str, str]]:
    name = node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")
    if isinstance(node.func, ast.Name) and name in _CALLED:
        yield "call", _text(ast.Call(ast.Name(_CALLED[name]), node.args, node.keywords))
    plain = [each for each in node.args[:2] if not isinstance(each, ast.Starred)]
    if len(plain) == 2 and name not in _EITHER_WAY and ast.dump(plain[0]) != ast.dump(plain[1]):
        swapped: Sequence[ast.expr] = [plain[1], plain[0], *node.args[2:]]
        yield "arguments", _text(ast.Call(node.func, list(swapped), node.keywords))


def _statements(node: ast.stmt) -> Iterator[tuple[str, str]]:
    match node:
        case ast.Expr(ast.Call()) | ast.AugAssign() | ast.Raise() | ast.Continue() | ast.Break() | ast.Delete():
            yield "dropped", "pass"
        case ast.Return(value) if value is not None and not (isinstance(value, ast.Constant) and value.value is None):
            yield "result", "return None"


def _is_text(node: ast.expr) -> bool:
    return isinstance(node, ast.JoinedStr) or (isinstance(node, ast.Constant) and isinstance(node.value, str))


def _text(node: ast.AST) -> str:
    return ast.unparse(ast.fix_missing_locations(node))
