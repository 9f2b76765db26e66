"""Deliberate faults, each a small change of one expression or statement.

Answers   candidates   every fault that can be made in a module
          sample       so many of them for each floor, the same ones for the same seed
          compiled     a module with one fault, as code
Not here  the kinds of faults (faults.py), which tests reach a fault (reach.py), running them (trying.py)

A fault keeps its place in the drawing of lots when other code changes: its lot is the hash of the seed and of what it changes.
"""

from __future__ import annotations

import ast
import copy
from collections import Counter
from dataclasses import dataclass
from hashlib import sha256
from typing import TYPE_CHECKING

from benchmarks.mutation.faults import changes, is_left_alone

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path
    from types import CodeType

_SHORTEST, _LONGEST = 16, 160


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
        if is_left_alone(node, chain):
            continue
        for variant, (kind, new) in enumerate(changes(node, tree)):
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
    new = ast.copy_location(changes(node, tree)[variant][1], node)
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
