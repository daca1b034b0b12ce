"""Problems for other programs."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from journal.problems.problem import Problem
from journal.problems.show.printable import escape_invisible

#: Version of the JSON shape; it grows, nothing in it is renamed.
FORMAT = 1


def problem_record(problem: Problem) -> dict[str, Any]:
    """One problem as plain values: code, severity, file, path, line, column, message, hint."""
    return {
        "code": problem.code,
        "severity": problem.severity.value,
        "file": problem.file_name,
        "path": problem.path,
        "line": problem.line,
        "column": problem.column,
        "message": problem.message,
        "hint": problem.hint,
    }


def as_json(problems: Iterable[Problem]) -> str:
    """`{"format": 1, "problems": [...]}` with sorted keys."""
    record = {"format": FORMAT, "problems": [problem_record(p) for p in problems]}
    return escape_invisible(json.dumps(record, ensure_ascii=False, indent=2, sort_keys=True))
