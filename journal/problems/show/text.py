"""Problems for a person at a terminal: the place, what is written there, what is wrong with it, what to write instead.

A problem is a few rows with a word at the left of each, as in a margin:

    entries/31.md:4:23  (unit-wrong-kind)
      written  before: {volume: 25 »kg«, gravity: 1.044}
      error    The unit is wrong.
      instead  Write litres.
"""

from __future__ import annotations

import textwrap
from collections import Counter
from collections.abc import Callable, Iterable

from journal.problems.problem import Problem
from journal.problems.rules import Severity
from journal.problems.show.printable import printable
from journal.problems.source import Place

#: A written line longer than this is shown cut around its place.
WIDEST_LINE = 100
#: How wide the words at the left are, and the space before them.
_MARGIN, _INDENT = 9, "  "
#: What stands around the text that is meant, within its line.
OPENS, CLOSES = "»", "«"

#: Gives a text its look: called with the text and `place`, `mark`, `code` or a severity's name.
Paint = Callable[[str, str], str]


def unpainted(text: str, _what: str) -> str:
    """The text as it is."""
    return text


def _written(place: Place, paint: Paint) -> str:
    """The line of a place, with what is meant between guillemets; long ones cut, with dots where they go on."""
    whole, at = place.source.line_text(place.line), place.column - 1
    start = max(0, at - WIDEST_LINE // 2) if len(whole) > WIDEST_LINE else 0
    shown = whole[start : start + WIDEST_LINE]
    end = min(at - start + max(place.span.end - place.span.start, 0), len(shown))
    lead, meant, rest = (printable(part) for part in (shown[: at - start], shown[at - start : end], shown[end:]))
    lead = lead.lstrip() if not start else f"…{lead}"
    rest = f"{rest}…" if start + WIDEST_LINE < len(whole) else rest.rstrip()
    return f"{lead}{OPENS}{paint(meant, 'mark')}{CLOSES}{rest}"


def _row(word: str, text: str, width: int | None) -> str:
    margin = f"{_INDENT}{word:{_MARGIN}}"
    if width is None:
        return f"{margin}{text}".rstrip()
    hanging = " " * (len(_INDENT) + _MARGIN)
    fitted = textwrap.wrap(
        text, max(width - len(hanging), 20), break_long_words=False, break_on_hyphens=False, drop_whitespace=True
    )
    return "\n".join((margin if not number else hanging) + part for number, part in enumerate(fitted or [""])).rstrip()


def _place(place: Place) -> str:
    return f"{printable(place.source.name)}:{place.line}:{place.column}"


def _one(problem: Problem, paint: Paint, width: int | None) -> str:
    severity = problem.severity.value
    where = _place(problem.place) if problem.place else printable(problem.file_name)
    code = paint(f"({problem.code})", "code")
    rows = [f"{paint(where, 'place')}  {code}" if where else code]
    if problem.place:
        rows.append(_row("written", _written(problem.place, paint), None))
    message = _row(severity, printable(problem.sentence), width)
    rows.append(message.replace(severity, paint(severity, severity), 1))
    if problem.expected_by:
        rows.append(_row("because", f"{_written(problem.expected_by, paint)}  ({_place(problem.expected_by)})", None))
    if problem.hint:
        rows.append(_row("instead", printable(problem.hint), width))
    return "\n".join(rows)


def count_in_words(problems: Iterable[Problem]) -> str:
    """`2 errors, 1 warning`; `no problems` where there are none."""
    counts = Counter(p.severity for p in problems)
    words = [f"{counts[s]} {s.value}{'s' if counts[s] > 1 else ''}" for s in Severity if counts[s]]
    return ", ".join(words) or "no problems"


def as_text(problems: Iterable[Problem], paint: Paint = unpainted, width: int | None = None) -> str:
    """Every problem with the line it is about, separated by empty lines; empty text for none.

    `width` is how many columns a row may take; None lets rows run on. What was written is never broken.
    """
    return "\n\n".join(_one(problem, paint, width) for problem in problems)
