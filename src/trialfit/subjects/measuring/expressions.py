"""Expressions over the facts of a build, as a table holds them: "car.front_axle_mass + car.rear_axle_mass".

Answers   Expression     one expression: the facts that it reads in a build, and its value
          Term           what a name in parentheses works out: output_x(), span(bolted_joint.places_x)
Not here  the tables (twice.py); what the names in parentheses stand for (terms.py)

A name is kind.fact: of the part that the row is about where it is of that kind, else of the first part of the kind. With a word
between them, as in half_shaft.left.outer_x, it is the part that has that word. Signs: + - * / ** and parentheses; pi.
"""

from __future__ import annotations

import ast
import math
import operator
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from trialfit.parts import KINDS
from trialfit.parts.declaring import FactSpec
from trialfit.parts.fact_refs import FactRef
from trialfit.parts.lists_and_curves import ListSpec

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import Part

    Value = Array | float
    Refs = tuple[FactRef, ...]

_SIGNS: dict[type[ast.operator], Callable[[Value, Value], Value]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: operator.pow,
}
_STEPS = (2, 3)


@dataclass(frozen=True)
class Term:
    """What a name in parentheses works out.

    value   from the evaluation, the part that the row is about, and the facts in the parentheses
    reads   the facts that it reads besides, None where the build does not have what it needs
    """

    value: Callable[..., Value]
    reads: Callable[[Build, Part | None], Refs | None] = lambda _build, _part: ()


@dataclass(frozen=True)
class Expression:
    """One expression. `terms` holds the names in parentheses that it may use."""

    text: str
    terms: Mapping[str, Term]

    @cached_property
    def _tree(self) -> ast.expr:
        return ast.parse(self.text, mode="eval").body

    def reads(self, build: Build, about: Part | None) -> Refs | None:
        """The facts that it reads; None where a part is missing or a list is empty."""
        found: list[FactRef] = []
        for node in _leaves(self._tree):
            if isinstance(node, ast.Call):
                refs = self.terms[_name(node)].reads(build, about)
            else:
                refs = _refs(build, about, ast.unparse(node))
            if refs is None:
                return None
            found += refs
        return tuple(dict.fromkeys(found))

    def value(self, ev: Evaluation, about: Part | None) -> Value:
        """Its value, (draws,), SI. Raises MissingFact."""
        return self._value(self._tree, ev, about)

    def _value(self, node: ast.expr, ev: Evaluation, about: Part | None) -> Value:
        match node:
            case ast.Constant(value=float() | int() as number):
                return float(number)
            case ast.Name(id="pi"):
                return math.pi
            case ast.UnaryOp(op=ast.USub(), operand=operand):
                return -self._value(operand, ev, about)
            case ast.BinOp(left=left, op=sign, right=right) if type(sign) in _SIGNS:
                return _SIGNS[type(sign)](self._value(left, ev, about), self._value(right, ev, about))
            case ast.Call():
                given = [self._value(one, ev, about) for one in node.args]
                return self.terms[_name(node)].value(ev, about, *given)
            case ast.Attribute():
                refs = _refs(ev.build, about, ast.unparse(node)) or ()
                return ev(refs[0]) if not _is_list(ast.unparse(node)) else np.stack(ev.each(*refs), axis=-1)
        raise ValueError(f'has "{ast.unparse(node)}": expected kind.fact, a number, pi or one of {sorted(self.terms)}')


def _leaves(node: ast.expr) -> Iterator[ast.expr]:
    """The names of facts, and the calls, outermost first."""
    if isinstance(node, ast.Attribute):
        yield node
        return
    if isinstance(node, ast.Call):
        yield node
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.expr) and not (isinstance(node, ast.Call) and child is node.func):
            yield from _leaves(child)


def _name(call: ast.Call) -> str:
    return ast.unparse(call.func)


def _spec(name: str) -> tuple[str, str, str]:
    steps = name.split(".")
    if len(steps) not in _STEPS:
        raise ValueError(f'has "{name}": expected kind.fact or kind.word.fact')
    return steps[0], steps[1] if len(steps) == max(_STEPS) else "", steps[-1]


def _is_list(name: str) -> bool:
    kind, _, fact = _spec(name)
    return isinstance(KINDS[kind].specs()[fact], ListSpec)


def _refs(build: Build, about: Part | None, name: str) -> Refs | None:
    kind, word, fact = _spec(name)
    spec = KINDS[kind].specs()[fact]
    if not isinstance(spec, FactSpec | ListSpec):
        raise TypeError(f'has "{name}": expected a fact with a value, or a list of them')
    part = _part(build, about, kind, word)
    if part is None:
        return None
    found = getattr(part, fact)
    return (found,) if isinstance(found, FactRef) else tuple(found) or None


def _part(build: Build, about: Part | None, kind: str, word: str) -> Part | None:
    if about is not None and about.kind == kind and not word:
        return about
    parts = build.all(KINDS[kind])
    if word:
        parts = tuple(one for one in parts if word in (getattr(one, "side", ""), getattr(one, "axle", "")))
    return parts[0] if parts else None
