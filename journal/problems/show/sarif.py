"""Problems in the Static Analysis Results Interchange Format, SARIF 2.1.0 (OASIS standard, 2020)."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any
from urllib.parse import quote

from journal.problems.problem import Problem
from journal.problems.rules import RULES, Severity
from journal.problems.show.printable import escape_invisible

_SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
_LEVELS = {Severity.ERROR: "error", Severity.WARNING: "warning", Severity.NOTE: "note"}


def as_sarif(problems: Iterable[Problem]) -> str:
    """One run of one tool, with the rules that were broken."""
    problems = list(problems)
    codes = sorted({problem.code for problem in problems})
    rules = [
        {
            "id": code,
            "shortDescription": {"text": RULES[code].why},
            "defaultConfiguration": {"level": _LEVELS[RULES[code].severity]},
        }
        for code in codes
    ]
    run = {
        "tool": {"driver": {"name": "wortbook", "rules": rules}},
        # columns are counted in characters, not in UTF-16 units
        "columnKind": "unicodeCodePoints",
        "results": [_result(problem, codes.index(problem.code)) for problem in problems],
    }
    whole = {"$schema": _SCHEMA, "version": "2.1.0", "runs": [run]}
    return escape_invisible(json.dumps(whole, ensure_ascii=False, indent=2, sort_keys=True))


def _result(problem: Problem, rule: int) -> dict[str, Any]:
    region: dict[str, Any] = {}
    if problem.place is not None:
        span, source = problem.place.span, problem.place.source
        last, beyond = source.position(max(span.end, span.start))
        region = {
            "region": {
                "startLine": problem.line,
                "startColumn": problem.column,
                "endLine": last,
                "endColumn": max(beyond, problem.column if last == problem.line else 1),
            }
        }
    location = {
        "physicalLocation": {"artifactLocation": {"uri": quote(problem.file_name, errors="surrogateescape")}, **region}
    }
    return {
        "ruleId": problem.code,
        "ruleIndex": rule,
        "level": _LEVELS[problem.severity],
        "message": {"text": problem.full_message},
        "locations": [location],
    }
