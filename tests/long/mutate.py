"""Small faults put into a module's source, one at a time: what a test should notice.

Numbers, operators, comparisons, conditions and what is returned are changed. Annotations and docstrings are left alone, and so are
messages: of all texts only keys and what is compared are changed.
"""

from __future__ import annotations

import ast
import copy
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from itertools import takewhile

#: Signs of code that are told whole; of a longer piece of it, those told on either side of what was changed.
_SHORT, _BESIDE = 72, 20
_ARITHMETIC = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mult,
    ast.Mod: ast.Mult,
    ast.Pow: ast.Mult,
    ast.BitOr: ast.BitAnd,
    ast.BitAnd: ast.BitOr,
}
_COMPARISONS = {
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
_NOT_CODE = {"annotation", "returns", "type_comment"}
#: The way from a tree's root to a node: names of fields, and places in those that are lists.
Way = tuple[tuple[str, int | None], ...]
#: What comes in a node's place.
Change = Callable[[ast.AST], ast.AST]


@dataclass(frozen=True)
class Mutant:
    """One fault: where, what it does, and how it is done."""

    line: int
    what: str
    source: str
    way: Way
    change: Change

    def tree(self) -> ast.Module:
        """The source with the fault in it."""
        tree = ast.parse(self.source)
        _put(tree, self.way, self.change(_at(tree, self.way)))
        return ast.fix_missing_locations(tree)


def mutants(source: str) -> Iterator[Mutant]:
    """Every fault that this module knows of for a source, in the source's order."""
    for way, node in _code(ast.parse(source), ()):
        for change in _changes(node):
            new = change(copy.deepcopy(node))
            what = _told(*(ast.unparse(each).splitlines()[0] for each in (node, new)))
            yield Mutant(getattr(node, "lineno", 0), what, source, way, change)


def _told(old: str, new: str) -> str:
    """Both texts; of long ones the piece in which they differ, with a little on either side."""
    start = _alike(old, new)
    same_end = _alike(reversed(old[start:]), reversed(new[start:]))
    return " -> ".join(_piece(text, start, len(text) - same_end) for text in (old, new))


def _alike(old: Iterable[str], new: Iterable[str]) -> int:
    """How many signs two texts begin with alike."""
    return sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], zip(old, new, strict=False)))


def _piece(text: str, start: int, end: int) -> str:
    if len(text) <= _SHORT:
        return text
    first = max(0, start - _BESIDE)
    last = min(len(text), end + _BESIDE, first + _SHORT)
    return f"{'…' if first else ''}{text[first:last]}{'…' if last < len(text) else ''}"


def _code(node: ast.AST, way: Way) -> Iterator[tuple[Way, ast.AST]]:
    """The nodes in which a fault may lie, and the way to each."""
    if way:
        yield way, node
    for name, value in ast.iter_fields(node):
        if name in _NOT_CODE:
            continue
        for place, child in enumerate(value) if isinstance(value, list) else [(None, value)]:
            if isinstance(child, ast.AST) and not _is_text_alone(child) and not _is_for_types(child):
                yield from _code(child, (*way, (name, place)))


def _is_text_alone(node: ast.AST) -> bool:
    return isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)


def _is_for_types(node: ast.AST) -> bool:
    return isinstance(node, ast.If) and isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING"


def _at(tree: ast.AST, way: Way) -> ast.AST:
    node = tree
    for name, place in way:
        node = getattr(node, name) if place is None else getattr(node, name)[place]
    return node


def _put(tree: ast.AST, way: Way, new: ast.AST) -> None:
    holder, (name, place) = _at(tree, way[:-1]), way[-1]
    if place is None:
        setattr(holder, name, new)
    else:
        getattr(holder, name)[place] = new


def _changes(node: ast.AST) -> Iterator[Change]:
    if isinstance(node, ast.BinOp) and type(node.op) in _ARITHMETIC:
        yield lambda it: ast.BinOp(it.left, _ARITHMETIC[type(it.op)](), it.right)
    elif isinstance(node, ast.AugAssign) and type(node.op) in _ARITHMETIC:
        yield lambda it: ast.AugAssign(it.target, _ARITHMETIC[type(it.op)](), it.value)
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub | ast.Not):
        yield lambda it: it.operand
    elif isinstance(node, ast.BoolOp):
        yield lambda it: ast.BoolOp(ast.Or() if isinstance(it.op, ast.And) else ast.And(), it.values)
    elif isinstance(node, ast.Compare):
        yield from _compared(node)
    elif isinstance(node, ast.If | ast.While | ast.IfExp) and not isinstance(node.test, ast.Compare):
        yield _negated
    elif isinstance(node, ast.Return) and node.value is not None and not _is_none(node.value):
        yield lambda it: ast.Return(ast.Constant(None))
    elif isinstance(node, ast.Constant):
        yield from _constant(node.value)
    elif isinstance(node, ast.Dict):
        for place, key in enumerate(node.keys):
            if isinstance(key, ast.Constant) and isinstance(key.value, str):
                yield lambda it, place=place: ast.Dict(
                    [_other_text(key) if at == place else key for at, key in enumerate(it.keys)], it.values
                )


def _is_none(node: ast.AST) -> bool:
    return isinstance(node, ast.Constant) and node.value is None


def _negated(node: ast.AST) -> ast.AST:
    node.test = ast.UnaryOp(ast.Not(), node.test)
    return node


def _compared(node: ast.Compare) -> Iterator[Change]:
    for place, operator in enumerate(node.ops):
        for other in _COMPARISONS[type(operator)]:
            yield lambda it, place=place, other=other: ast.Compare(
                it.left, [*it.ops[:place], other(), *it.ops[place + 1 :]], it.comparators
            )
    for place, side in enumerate(node.comparators):
        if isinstance(side, ast.Constant) and isinstance(side.value, str):
            yield lambda it, place=place: ast.Compare(
                it.left, it.ops, [_other_text(side) if at == place else side for at, side in enumerate(it.comparators)]
            )


def _other_text(node: ast.Constant) -> ast.Constant:
    return ast.Constant(node.value + "XX")


def _constant(value: object) -> Iterator[Change]:
    """A whole number becomes the next, another number one percent more: a coefficient's third digit counts."""
    if isinstance(value, bool):
        yield lambda it: ast.Constant(not it.value)
    elif isinstance(value, int):
        yield lambda it: ast.Constant(it.value + 1)
    elif isinstance(value, float):
        yield lambda it: ast.Constant(it.value * 1.01 if it.value else 1.0)
