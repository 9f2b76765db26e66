"""The kinds of deliberate faults: what can stand in place of a piece of code.

Answers   changes         every change of one node, with the kind of fault
          is_left_alone   whether no fault is made in it
Not here  drawing a sample of them (mutants.py)

No faults are made where they change nothing that counts: in type annotations, docstrings, texts, sizes of caches, numbers
below 1e-7 (tolerances of arithmetic), `strict=True` and `frozen=True` (they stop a slip of ours, nothing a builder wrote), the
length to which a message cuts what it quotes, and the 1.0 of `np.where(sound, x, 1.0)`, which keeps a division going whose
result is then nan.
"""

from __future__ import annotations

import ast
from itertools import pairwise
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

_PAIRS = [
    ("min", "max"), ("minimum", "maximum"), ("fmin", "fmax"), ("nanmin", "nanmax"), ("argmin", "argmax"), ("any", "all"),
    ("sin", "cos"), ("arcsin", "arccos"), ("asin", "acos"), ("floor", "ceil"), ("AtLeast", "AtMost"), ("at_least", "at_most"),
    ("sinh", "cosh"), ("real", "imag"), ("log", "exp"), ("isfinite", "isnan"), ("append", "remove"),
]  # fmt: skip
_OTHER = {one: other for pair in _PAIRS for one, other in (pair, pair[::-1])}
_NEAR = {ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt}
_REVERSED = {
    ast.Lt: ast.GtE, ast.LtE: ast.Gt, ast.Gt: ast.LtE, ast.GtE: ast.Lt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.In: ast.NotIn, ast.NotIn: ast.In, ast.Is: ast.IsNot, ast.IsNot: ast.Is,
}  # fmt: skip
_ARITHMETIC = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.FloorDiv: ast.Mult, ast.Mod: ast.Mult,
    ast.Pow: ast.Mult, ast.BitAnd: ast.BitOr, ast.BitOr: ast.BitAnd,
}  # fmt: skip
_TOLERANCE = 1e-7
_NO_FAULTS_IN = {"cache", "lru_cache", "cast", "TypeVar"}


def is_left_alone(node: ast.AST, chain: list[ast.AST]) -> bool:
    """Whether no fault is made in a node; `chain` is the node and all that it lies in, from the inside."""
    return (
        not hasattr(node, "lineno")
        or any(_is_for_types(one) for one in chain)
        or any(_leaves_alone(one, below) for below, one in pairwise(chain))
        or _is_filler(*chain[:2])
    )


def _is_for_types(one: ast.AST) -> bool:
    return isinstance(one, ast.If) and "TYPE_CHECKING" in ast.dump(one.test)


def _leaves_alone(one: ast.AST, below: ast.AST) -> bool:
    """Whether no fault is made in `below`, which lies in `one`."""
    if below in (getattr(one, "annotation", None), getattr(one, "returns", None)):
        return True
    if isinstance(one, ast.Call) and isinstance(one.func, ast.Name) and one.func.id in _NO_FAULTS_IN:
        return True
    return isinstance(one, ast.FormattedValue) and (below is not one.value or _is_cut(one.value))


def _is_cut(shown: ast.AST) -> bool:
    """Whether it is the beginning of a text, shown in a sentence: text[:40]."""
    return isinstance(shown, ast.Subscript) and isinstance(shown.slice, ast.Slice) and shown.slice.lower is None


def _is_filler(node: ast.AST, over: ast.AST) -> bool:
    if isinstance(over, ast.keyword):
        return over.arg in {"strict", "frozen"}
    return isinstance(over, ast.Call) and ast.unparse(over.func) == "np.where" and ast.unparse(node) == "1.0"


def changes(node: ast.AST, tree: ast.Module) -> list[tuple[str, ast.AST]]:
    """What can stand in place of a node, each with the kind of fault."""
    found: list[tuple[str, ast.AST]] = [*_of_expression(node), *_of_statement(node)]
    name = node.id if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load) else None
    if name in _OTHER and _knows(tree, _OTHER[name]):
        found.append(("swapped", _with(node, id=_OTHER[name])))
    if isinstance(node, ast.Attribute) and isinstance(node.ctx, ast.Load) and node.attr in _OTHER:
        found.append(("swapped", _with(node, attr=_OTHER[node.attr])))
    if isinstance(node, ast.keyword) and node.arg in {"at_least", "at_most"}:
        found.append(("swapped", _with(node, arg=_OTHER[node.arg])))
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "abs":
        found.append(("sign", node.args[0]))
    test = getattr(node, "test", None)
    if isinstance(node, ast.If | ast.While | ast.IfExp) and not isinstance(
        test, ast.Compare | ast.UnaryOp | ast.Constant
    ):
        found.append(("condition", _with(node, test=ast.UnaryOp(ast.Not(), test))))
    return found


def _of_expression(node: ast.AST) -> Iterator[tuple[str, ast.AST]]:
    if isinstance(node, ast.Compare):
        yield from _of_comparison(node)
    elif (
        isinstance(node, ast.BinOp)
        and type(node.op) in _ARITHMETIC
        and not (_is_text(node.left) or _is_text(node.right))
    ):
        yield "arithmetic", _with(node, op=_ARITHMETIC[type(node.op)]())
    elif isinstance(node, ast.UnaryOp):
        yield ("sign" if isinstance(node.op, ast.USub) else "dropped not"), node.operand
    elif isinstance(node, ast.BoolOp):
        yield "and or", _with(node, op=ast.Or() if isinstance(node.op, ast.And) else ast.And())
    elif isinstance(node, ast.Constant):
        yield from _of_constant(node)


def _of_comparison(node: ast.Compare) -> Iterator[tuple[str, ast.AST]]:
    for table, kind in ((_NEAR, "boundary"), (_REVERSED, "comparison")):
        for number, sign in enumerate(node.ops):
            if type(sign) in table:
                yield kind, _with(node, ops=[*node.ops[:number], table[type(sign)](), *node.ops[number + 1 :]])


def _of_constant(node: ast.Constant) -> Iterator[tuple[str, ast.AST]]:
    value = node.value
    if isinstance(value, bool):
        yield "constant", _with(node, value=not value)
    elif isinstance(value, int):
        yield "constant", _with(node, value=value + 1)
    elif isinstance(value, float) and not 0 < abs(value) < _TOLERANCE:
        yield "constant", _with(node, value=value * 1.1 if value else 1.0)


def _of_statement(node: ast.AST) -> Iterator[tuple[str, ast.AST]]:
    if isinstance(node, ast.Return) and node.value and not isinstance(node.value, ast.Constant):
        yield "returned", _with(node, value=ast.Constant(None))
    elif isinstance(node, ast.Continue | ast.Break | ast.Raise | ast.AugAssign | ast.Delete) or (
        isinstance(node, ast.Expr) and isinstance(node.value, ast.Call)
    ):
        yield "removed", ast.Pass()
    elif isinstance(node, ast.Expr) and isinstance(node.value, ast.Yield | ast.YieldFrom):
        # an empty one keeps the function a generator
        yield "removed", ast.Expr(ast.YieldFrom(ast.Tuple([], ast.Load())))
    elif isinstance(node, ast.Assign) and all(isinstance(one, ast.Attribute | ast.Subscript) for one in node.targets):
        yield "removed", ast.Pass()


def _with(node: ast.AST, **changed: object) -> ast.AST:
    fields = dict(ast.iter_fields(node)) | changed
    return ast.copy_location(type(node)(**fields), node)


def _is_text(node: ast.AST) -> bool:
    return isinstance(node, ast.JoinedStr) or (isinstance(node, ast.Constant) and isinstance(node.value, str))


def _knows(tree: ast.Module, name: str) -> bool:
    if name in {"min", "max", "any", "all"}:
        return True
    imports = [one for one in ast.walk(tree) if isinstance(one, ast.ImportFrom)]
    return any(name == (alias.asname or alias.name) for one in imports for alias in one.names)
