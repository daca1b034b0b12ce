"""Checks of instruments and vessels in words: what each was held against, what it showed, and from when that counts."""

from __future__ import annotations

from collections.abc import Iterator

from journal.frozen import dataclass
from journal.pages.model import When
from journal.pages.words import day
from journal.problems import capital
from journal.reading import Brewery
from journal.reading.instrument_checks import check_words


@dataclass(frozen=True)
class CheckLine:
    """One check: of what, when, and what it said."""

    instrument: str
    on: When
    words: str


def check_lines(brewery: Brewery) -> tuple[CheckLine, ...]:
    """Every check of brewery.yaml, the earliest first."""
    return tuple(sorted(_lines(brewery), key=lambda line: line.on.iso))


def _lines(brewery: Brewery) -> Iterator[CheckLine]:
    for path in brewery.places:
        called = check_words(path)
        if called is None:
            continue
        check = brewery.check_at(path)
        if check.on is None:
            continue
        shown, against = (_written(brewery, f"{path}.{name}") for name in ("shows", "of"))
        said = f"showed {shown} for {against}; readings from {day(check.holds_from).text} on are corrected by it"
        if not shown:
            said = "a new one; what checks said of the old one ends here"
        elif check.off() == 0.0:
            said = f"showed {shown} for {against}, as it must"
        yield CheckLine(capital(called.removeprefix("the check of the ")), day(check.on), said)


def _written(brewery: Brewery, path: str) -> str:
    """What stands at a path of brewery.yaml, as it was written but for the sign of degrees."""
    span = brewery.places.get(path)
    if span is None or brewery.source is None:
        return ""
    return brewery.source.text[span.start : span.end].strip("\"'").replace(" deg", " °")
