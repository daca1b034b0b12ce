"""Problems for a person at a terminal: headline, place, source line with carets, advice."""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from collections.abc import Iterable

from journal.problems.problem import Problem
from journal.problems.rules import Severity
from journal.problems.show.printable import printable
from journal.problems.source import Place

#: A source line longer than this is shown cut around its place.
WIDEST_LINE = 100


def _columns(text: str) -> int:
    """Terminal columns the text takes: wide East Asian characters take two, combining ones none."""
    return sum(0 if unicodedata.combining(c) else 2 if unicodedata.east_asian_width(c) in "WF" else 1 for c in text)


def _excerpt(place: Place, mark: str) -> list[str]:
    line, column = place.line, place.column
    whole = place.source.line_text(line)
    start = max(0, column - 1 - WIDEST_LINE // 2) if len(whole) > WIDEST_LINE else 0
    shown = whole[start : start + WIDEST_LINE]
    length = max(1, min(place.span.end - place.span.start, len(shown) - (column - 1 - start)))
    lead = printable(shown[: column - 1 - start])
    marked = printable(shown[column - 1 - start :][:length])
    gutter = " " * len(str(line))
    return [
        f"{gutter} |",
        f"{line} | {printable(shown)}",
        f"{gutter} | {' ' * _columns(lead)}{mark * max(1, _columns(marked))}",
    ]


def _one(problem: Problem) -> str:
    lines = [f"{problem.severity.value}[{problem.code}]: {printable(problem.message)}"]
    if problem.place:
        lines.append(f" --> {printable(problem.file_name)}:{problem.line}:{problem.column}")
        lines.extend(_excerpt(problem.place, "^"))
    elif problem.file_name:
        lines.append(f" --> {printable(problem.file_name)}")
    if problem.expected_by:
        second = problem.expected_by
        lines.append(f" see {printable(second.source.name)}:{second.line}:{second.column}")
        lines.extend(_excerpt(second, "-"))
    if problem.hint:
        lines.append(f" = {printable(problem.hint)}")
    return "\n".join(lines)


def count_in_words(problems: Iterable[Problem]) -> str:
    """`2 errors, 1 warning`; `no problems` where there are none."""
    counts = Counter(p.severity for p in problems)
    words = [f"{counts[s]} {s.value}{'s' if counts[s] > 1 else ''}" for s in Severity if counts[s]]
    return ", ".join(words) or "no problems"


def as_text(problems: Iterable[Problem]) -> str:
    """Every problem with its source line, separated by empty lines; empty text for none."""
    return "\n\n".join(re.sub(r"[ ]+$", "", _one(problem), flags=re.MULTILINE) for problem in problems)
