"""How often a property test comes to its assertion: one that hardly ever does tests nothing.

Every test of hypothesis is counted without a word of its own. Where the assertion stands under a condition, in a loop or after an
`assume`, the lines that its examples run are watched; elsewhere each example comes to it. A test whose examples come to an
assertion in less than a tenth of all cases fails, whatever else it says.
"""

from __future__ import annotations

import ast
import inspect
import sys
import textwrap
from collections.abc import Callable, Generator
from functools import wraps
from types import CodeType, FrameType
from typing import Any

import pytest

#: The share of examples that must come to an assertion, and the fewest examples of which it is asked.
LEAST_SHARE, FEWEST_EXAMPLES = 0.1, 10


class Count:
    """How many examples a test ran, and how many of them came to an assertion."""

    def __init__(self) -> None:
        self.examples = 0
        self.reached = 0


def _asserts(node: ast.AST) -> bool:
    if isinstance(node, ast.Assert):
        return True
    return isinstance(node, ast.With) and any("raises" in ast.unparse(item.context_expr) for item in node.items)


def _gives_up(node: ast.stmt) -> bool:
    """Whether an example may end here before it has come to anything."""
    return any(
        isinstance(inner, ast.Return)
        or (isinstance(inner, ast.Call) and ast.unparse(inner.func).split(".")[-1] in {"assume", "reject"})
        for inner in ast.walk(node)
    )


def assertion_lines(function: Callable[..., Any]) -> frozenset[int] | None:
    """The lines of a test's assertions, from the first of its file; None where every example comes to one.

    A test without an assertion says that nothing is raised, which every example does.
    """
    source, first = inspect.getsourcelines(function)
    tree = ast.parse(textwrap.dedent("".join(source)))
    body = next(node for node in tree.body if isinstance(node, ast.FunctionDef)).body
    for statement in body:
        if _asserts(statement):
            return None
        if _gives_up(statement):
            break
    lines = frozenset(node.lineno + first - 1 for node in ast.walk(tree) if _asserts(node))
    return lines or None


def _watch(code: CodeType, lines: frozenset[int], reached: set[int]) -> Callable[[FrameType, str, Any], Any]:
    """A trace that notes which of some lines of a function are run; of all other functions it looks at the call alone."""

    def in_test(frame: FrameType, event: str, _: Any) -> Any:
        if event == "line" and frame.f_lineno in lines:
            reached.add(frame.f_lineno)
        return in_test

    def at_call(frame: FrameType, _event: str, _: Any) -> Any:
        return in_test if frame.f_code is code else None

    return at_call


def counting(function: Callable[..., Any], count: Count) -> Callable[..., Any]:
    """The body of a property test, its examples counted."""
    lines = assertion_lines(function)

    @wraps(function)
    def counted(*args: Any, **kwargs: Any) -> Any:
        count.examples += 1
        if lines is None:
            count.reached += 1
            return function(*args, **kwargs)
        reached: set[int] = set()
        before = sys.gettrace()
        sys.settrace(_watch(function.__code__, lines, reached))
        try:
            return function(*args, **kwargs)
        finally:
            sys.settrace(before)
            count.reached += bool(reached)

    return counted


def count_of(item: pytest.Item) -> Count | None:
    """The count of a property test's examples, which begins with its first case; None of any other test."""
    handle = getattr(getattr(item, "obj", None), "hypothesis", None)
    if handle is None:
        return None
    if not hasattr(handle, "count"):
        handle.count = Count()
        handle.inner_test = counting(handle.inner_test, handle.count)
    count: Count = handle.count
    return count


def hold_to_share(item: pytest.Item) -> Generator[None, object, object]:
    """Run one test, and fail it where its examples hardly came to an assertion; say how many did."""
    count = count_of(item)
    if count is not None:
        count.examples = count.reached = 0
    result = yield
    if count is not None and count.examples:
        item.user_properties.append(("examples that came to an assertion", f"{count.reached} of {count.examples}"))
        if count.examples >= FEWEST_EXAMPLES and count.reached < LEAST_SHARE * count.examples:
            pytest.fail(f"{count.reached} of {count.examples} examples came to an assertion", pytrace=False)
    return result
