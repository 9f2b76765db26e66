"""Deliberate faults, each a small change of one expression or statement.

Answers   candidates   every fault that can be made in a module
          sample       so many of them for each floor, the same ones for the same seed
          compiled     a module with one fault, as code
Not here  which tests reach a fault (reach.py), running them (trying.py)

A fault keeps its place in the drawing of lots when other code changes: its lot is the hash of the seed and of what it changes.
No faults are made where they change nothing that counts: in type annotations, docstrings, texts, sizes of caches, numbers
below 1e-7 (tolerances of arithmetic), `strict=True` and `frozen=True` (they stop a slip of ours, nothing a builder wrote), the
length to which a message cuts what it quotes, and the 1.0 of `np.where(sound, x, 1.0)`, which keeps a division going whose result is then nan.
"""

from __future__ import annotations

import ast
import copy
from collections import Counter
from dataclasses import dataclass
from hashlib import sha256
from itertools import pairwise
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path
    from types import CodeType

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
_SHORTEST, _LONGEST = 16, 160
_NO_FAULTS_IN = {"cache", "lru_cache", "cast", "TypeVar"}


@dataclass(frozen=True)
class Mutant:
    """One fault: where it is, what stood there and what stands there now."""

    path: str  # below src/trialfit
    function: str  # "" outside all functions
    kind: str
    was: str
    now: str
    line: int
    reached: tuple[int, ...]  # the lines by which a test may reach it; empty where it is executed by the import
    place: tuple[int, int]  # number of the node, number of the change of it
    nth: int = 1  # among equal ones in the same function

    @property
    def floor(self) -> str:
        """The first folder."""
        return self.path.split("/", 1)[0]

    @property
    def room(self) -> str:
        """The folder on its floor; "" for what lies on the floor itself."""
        return self.path.split("/")[1] if self.path.count("/") > 1 else ""

    @property
    def key(self) -> str:
        """What stays the same while lines move."""
        return "|".join((self.path, self.function, self.was, self.now, str(self.nth)))

    def lot(self, seed: int) -> str:
        """Its lot: the lowest ones are taken."""
        return sha256(f"{seed}|{self.key}".encode()).hexdigest()

    def __str__(self) -> str:
        where = f"{self.path}:{self.line} {self.function}".rstrip()
        return f"{where}: {self.kind}: {self.was}  →  {self.now}"


def sample(root: Path, floors: list[str], each: int, seed: int) -> list[Mutant]:
    """So many mutants of each floor as drawn by the seed; all where there are fewer."""
    found = []
    for floor in floors:
        files = sorted((root / floor).rglob("*.py"))
        every = [one for file in files for one in candidates(file.read_text(), str(file.relative_to(root)))]
        found += sorted(every, key=lambda one: one.lot(seed))[:each]
    return found


def candidates(text: str, path: str) -> Iterator[Mutant]:
    """Every mutant of a module."""
    equal: Counter[tuple[str, str, str]] = Counter()
    tree = ast.parse(text)
    above = _above(tree)
    numbers = {node: number for number, node in enumerate(ast.walk(tree))}
    for node, number in numbers.items():
        chain = _chain(node, above)
        if _is_left_alone(node, chain):
            continue
        for variant, (kind, new) in enumerate(_changes(node, tree)):
            was, now = _in_words(node, new, above)
            if was == now:
                continue
            function = ".".join(one.name for one in reversed(chain) if isinstance(one, _NAMED))
            equal[function, was, now] += 1
            yield Mutant(
                path,
                function,
                kind,
                was,
                now,
                node.lineno,
                _lines(node, chain),
                (number, variant),
                equal[function, was, now],
            )


def compiled(text: str, file: str, mutant: Mutant) -> CodeType:
    """The module as code, with the fault in it and every line where it was."""
    tree = ast.parse(text)
    number, variant = mutant.place
    node = list(ast.walk(tree))[number]
    new = ast.copy_location(_changes(node, tree)[variant][1], node)
    _put(_above(tree)[node], node, new)
    return compile(ast.fix_missing_locations(tree), file, "exec", dont_inherit=True)


_NAMED = (ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef)
_FUNCTION = (ast.FunctionDef, ast.AsyncFunctionDef, ast.Lambda)


def _above(tree: ast.AST) -> dict[ast.AST, ast.AST]:
    return {below: node for node in ast.walk(tree) for below in ast.iter_child_nodes(node)}


def _chain(node: ast.AST, above: dict[ast.AST, ast.AST]) -> list[ast.AST]:
    """The node and all that it lies in, from the inside."""
    chain = [node]
    while chain[-1] in above:
        chain.append(above[chain[-1]])
    return chain


def _is_left_alone(node: ast.AST, chain: list[ast.AST]) -> bool:
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


def _lines(node: ast.AST, chain: list[ast.AST]) -> tuple[int, ...]:
    """The lines of the statement, its head alone where it has a body; of the whole function for what its `def` holds."""
    statement = next(one for one in chain if isinstance(one, ast.stmt))
    functions = [one for one in chain if isinstance(one, _FUNCTION) and one is not statement]
    if not functions:
        if isinstance(statement, _FUNCTION):
            return tuple(range(statement.body[0].lineno, (statement.end_lineno or 0) + 1))
        return ()
    last = statement.end_lineno or statement.lineno
    if hasattr(statement, "body"):
        last = max(node.end_lineno or 0, statement.lineno)
    return tuple(range(statement.lineno, last + 1))


def _put(parent: ast.AST, node: ast.AST, new: ast.AST) -> None:
    for name, value in ast.iter_fields(parent):
        if value is node:
            setattr(parent, name, new)
        elif isinstance(value, list):
            setattr(parent, name, [new if one is node else one for one in value])


def _in_words(node: ast.AST, new: ast.AST, above: dict[ast.AST, ast.AST]) -> tuple[str, str]:
    """What stood there and what stands there, with as much around it as makes it plain."""
    whole = node
    while len(_short(whole)) < _SHORTEST and not isinstance(whole, ast.stmt) and len(_short(above[whole])) <= _LONGEST:
        whole = above[whole]
    if whole is node:
        return _short(node), _short(new)
    other = copy.deepcopy(whole)
    number = next(number for number, one in enumerate(ast.walk(whole)) if one is node)
    same = list(ast.walk(other))[number]
    _put(_above(other)[same], same, new)
    return _short(whole), _short(other)


def _short(node: ast.AST) -> str:
    lines = ast.unparse(node).splitlines()
    return (
        lines[0] if hasattr(node, "body") and isinstance(node, ast.stmt) else " ".join(line.strip() for line in lines)
    )


def _changes(node: ast.AST, tree: ast.Module) -> list[tuple[str, ast.AST]]:
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
