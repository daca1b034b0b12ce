"""Problems one a line, as editors and build logs understand them."""

from __future__ import annotations

from collections.abc import Iterable

from journal.problems.problem import Problem
from journal.problems.show.printable import printable


def as_lines(problems: Iterable[Problem]) -> str:
    """`file:line:column: severity: message [code] hint`, one line each."""
    return "\n".join(_one(problem) for problem in problems)


def _one(problem: Problem) -> str:
    advice = f" {problem.hint}" if problem.hint else ""
    text = f"{problem.severity.value}: {problem.message} [{problem.code}]{advice}"
    return printable(f"{problem.file_name}:{problem.line}:{problem.column}: {' '.join(text.split())}")
