"""Small changes to a module's source, one at a time."""

from __future__ import annotations

import ast
import copy
import random
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

_COMPARISONS: dict[type[ast.cmpop], tuple[type[ast.cmpop], ...]] = {
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
_OPERATORS: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mult,
    ast.Pow: ast.Mult,
    ast.Mod: ast.Mult,
    ast.BitAnd: ast.BitOr,
    ast.BitOr: ast.BitAnd,
}
_NAMES = {
    "min": "max",
    "max": "min",
    "minimum": "maximum",
    "maximum": "minimum",
    "all": "any",
    "any": "all",
    "argmin": "argmax",
    "argmax": "argmin",
    "mean": "sum",
    "sum": "mean",
    "median": "max",
    "floor": "ceil",
    "ceil": "floor",
}
_SMALL = 2
"""Whole numbers up to this are increased by one, larger ones doubled."""


@dataclass(frozen=True)
class Mutant:
    """A module with one line changed.

    Attributes
    ----------
    path : Path
        The module's file.
    line : int
        The changed line, from 1.
    before, after : str
        The changed expression.
    source : str
        The whole module, changed.
    """

    path: Path
    line: int
    before: str
    after: str
    source: str


def sample(paths: list[Path], count: int, seed: int) -> list[Mutant]:
    """Draw changed lines evenly over all lines that can be changed.

    Parameters
    ----------
    paths : list of Path
        Modules.
    count : int
        Lines at most, each changed in one way.
    seed : int
        The same seed draws the same changes of the same sources.

    Returns
    -------
    list of Mutant
    """
    lines: dict[tuple[Path, int], list[tuple[int, int]]] = {}
    for path in sorted(paths):
        tree = ast.parse(path.read_text("utf-8"))
        for place, node in enumerate(_changeable(tree)):
            for choice in range(len(_changes(node))):
                lines.setdefault((path, node.lineno), []).append((place, choice))
    rng = random.Random(seed)  # noqa: S311 - a sample, no secret
    chosen = rng.sample(sorted(lines), min(count, len(lines)))
    return [_mutant(path, *rng.choice(lines[path, line])) for path, line in chosen]


def _mutant(path: Path, place: int, choice: int) -> Mutant:
    tree = ast.parse(path.read_text("utf-8"))
    node = list(_changeable(tree))[place]
    changed = _changes(node)[choice]
    source = ast.unparse(_Replace(node, changed).visit(tree))
    return Mutant(path, node.lineno, ast.unparse(node), ast.unparse(changed), source)


class _Replace(ast.NodeTransformer):
    def __init__(self, old: ast.expr, new: ast.expr) -> None:
        self.old, self.new = old, new

    def visit(self, node: ast.AST) -> ast.AST:
        """Replace the one node, and leave all others as they are."""
        if node is self.old:
            return self.new
        return self.generic_visit(node)


def _changeable(node: ast.AST) -> Iterator[ast.expr]:
    """Expressions that can be changed, in the order of the source.

    Annotations, decorators, texts and the raising of errors are left out: changes there
    do not change what is computed.
    """
    if isinstance(node, ast.expr) and _changes(node):
        yield node
    for name, value in ast.iter_fields(node):
        if name in {"annotation", "returns", "decorator_list"}:
            continue
        for child in value if isinstance(value, list) else [value]:
            skipped = (ast.JoinedStr, ast.Raise, ast.Import, ast.ImportFrom)
            if isinstance(child, ast.AST) and not isinstance(child, skipped):
                yield from _changeable(child)


def _changes(node: ast.expr) -> list[ast.expr]:
    """Changed copies of one expression."""
    match node:
        case ast.Compare(ops=[only]):
            return [_with(node, ops=[other()]) for other in _COMPARISONS[type(only)]]
        case ast.BinOp(op=op) if type(op) in _OPERATORS and not _is_text(node):
            return [_with(node, op=_OPERATORS[type(op)]())]
        case ast.Constant(value=value):
            return [_with(node, value=other) for other in _other_values(value)]
        case ast.Call(func=ast.Name(id=name)) if name in _NAMES:
            return [_with(node, func=ast.Name(_NAMES[name], ast.Load()))]
        case ast.Call(func=ast.Attribute(attr=name)) if name in _NAMES:
            return [_with(node, func=_with(node.func, attr=_NAMES[name]))]
    return _logic_changes(node)


def _logic_changes(node: ast.expr) -> list[ast.expr]:
    match node:
        case ast.BoolOp(op=op):
            other = ast.Or() if isinstance(op, ast.And) else ast.And()
            return [_with(node, op=other)]
        case ast.UnaryOp(op=ast.Not() | ast.USub() | ast.Invert(), operand=operand):
            return [operand]
        case ast.IfExp(body=body, orelse=orelse):
            return [body, orelse]
    return []


def _with(node: ast.expr, **fields: object) -> ast.expr:
    changed = copy.copy(node)
    for name, value in fields.items():
        setattr(changed, name, value)
    return changed


def _is_text(node: ast.BinOp) -> bool:
    return any(
        isinstance(part, ast.JoinedStr)
        or (isinstance(part, ast.Constant) and isinstance(part.value, str))
        for part in (node.left, node.right)
    )


def _other_values(value: object) -> list[object]:
    if isinstance(value, bool):
        return [not value]
    if isinstance(value, int):
        return [value + 1 if value <= _SMALL else 2 * value]
    if isinstance(value, float):
        return [2.0 * value if value else 1.0]
    return []
