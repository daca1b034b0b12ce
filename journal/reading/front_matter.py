"""Where the front matter of an entry begins and ends."""

from __future__ import annotations

import re

from journal.problems import Place, Problem, Source, Span

_FENCE = re.compile(r"^---[ \t]*$", re.MULTILINE)


def split(source: Source) -> tuple[tuple[int, int, int] | None, list[Problem]]:
    """Offsets `(yaml start, yaml end, prose start)`; None and the reason where there is no front matter."""
    text = source.text
    opening = _FENCE.match(text)
    if not opening:
        first = text.find("\n")
        span = Span(0, first if first >= 0 else len(text))
        hint = "Put the fields between two lines of three hyphens at the very top of the file."
        return None, [
            Problem(
                "front-matter-missing",
                "the entry does not begin with a line of three hyphens",
                hint,
                Place(source, span),
            )
        ]
    start = min(opening.end() + 1, len(text))
    closing = _FENCE.search(text, start)
    if not closing:
        hint = "Put a line of three hyphens where the fields end and the prose begins."
        return None, [
            Problem(
                "front-matter-open", "the front matter that begins here never closes", hint, Place(source, Span(0, 3))
            )
        ]
    return (start, closing.start(), min(closing.end() + 1, len(text))), []
