"""Problems as sentences with their line."""

from __future__ import annotations

from collections.abc import Iterable

from journal.frozen import dataclass
from journal.pages.paths import reading_anchor
from journal.pages.words import sentence
from journal.problems import Place, Problem
from journal.problems.direction import TURNING


@dataclass(frozen=True)
class Excerpt:
    """A line of an entry with the part that is meant in the middle."""

    file: str
    line: int
    before: str
    marked: str
    after: str


@dataclass(frozen=True)
class Notice:
    """A problem as a sentence: what is odd, what to do, and where it stands.

    `severity` is error, warning or note; `row` leads to the row of the accounts that it is about, empty if none is.
    """

    severity: str
    sentence: str
    hint: str
    file: str
    line: int
    row: str
    excerpt: Excerpt | None
    expected_by: Excerpt | None


#: A source line longer than this is cut around the place that is meant.
WIDEST = 90


def excerpt(place: Place | None) -> Excerpt | None:
    """The line of a place, with the place marked; None where there is no text."""
    if place is None:
        return None
    line, start = place.line, place.column - 1
    # one sign for another, so that the mark stays where it was, and the line is not turned about
    whole = TURNING.sub("\N{REPLACEMENT CHARACTER}", place.source.line_text(line))
    end = max(min(start + place.span.end - place.span.start, len(whole)), start)
    left = max(0, start - WIDEST // 2) if len(whole) > WIDEST else 0
    right = min(len(whole), max(left + WIDEST, end)) if end - left <= WIDEST else left + WIDEST
    before = ("…" if left else "") + whole[left:start]
    after = whole[min(end, right) : right] + ("…" if right < len(whole) else "")
    return Excerpt(place.source.name, line, before, whole[start : min(end, right)], after)


def notices(problems: Iterable[Problem], anchors: frozenset[str] = frozenset(), page: str = "") -> tuple[Notice, ...]:
    """Sentences for problems; `anchors` are the rows that one may lead to, on another page if its path is given."""
    made = []
    for problem in problems:
        anchor = reading_anchor(problem.path) if problem.path else ""
        made.append(
            Notice(
                severity=problem.severity.value,
                sentence=sentence(problem.message),
                hint=sentence(problem.hint),
                file=problem.file_name,
                line=problem.line if problem.place else 0,
                row=f"{page}#{anchor}" if anchor in anchors else "",
                excerpt=excerpt(problem.place),
                expected_by=excerpt(problem.expected_by),
            )
        )
    return tuple(made)
