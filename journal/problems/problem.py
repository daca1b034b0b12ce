"""One thing that is wrong or odd, with its place."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from journal.problems.direction import TURNING, find_unpaired
from journal.problems.rules import RULES, Severity
from journal.problems.source import Place

#: Signs of a message, at most: what was written is repeated in it, and may be a megabyte.
LONGEST = 1000


def _tellable(text: str) -> str:
    """Text cut in its middle, if it is too long, and without signs that would turn our own words about."""
    cut = text if len(text) <= LONGEST else f"{text[: LONGEST // 2]}…{text[-LONGEST // 2 + 1 :]}"
    return TURNING.sub("\N{REPLACEMENT CHARACTER}", cut) if find_unpaired(cut) else cut


@dataclass(frozen=True)
class Problem:
    """What is wrong, where, and what to write or do instead.

    `message` makes sense alone; `hint` is empty where there is nothing to advise. `place` is None only where no text is
    at fault (a folder that can't be written); `file` then says what is. `expected_by` is a second place, where the
    expectation comes from.
    """

    code: str
    message: str
    hint: str = ""
    place: Place | None = None
    file: str = ""
    expected_by: Place | None = None

    def __post_init__(self) -> None:
        if self.code not in RULES:
            raise KeyError(f"no rule is called {self.code!r}")
        for name in ("message", "hint"):
            text: str = getattr(self, name)
            if len(text) > LONGEST or find_unpaired(text):
                object.__setattr__(self, name, _tellable(text))

    @property
    def severity(self) -> Severity:
        """How grave it is; set by the rule."""
        return RULES[self.code].severity

    @property
    def file_name(self) -> str:
        """The file it stands in, from the journal's root."""
        return self.place.source.name if self.place else self.file

    @property
    def path(self) -> str:
        """The reading it is about, as the entry names it; may be empty."""
        return self.place.path if self.place else ""

    @property
    def sentence(self) -> str:
        """The message, ended as a sentence."""
        return self.message if self.message.endswith((".", "?")) else f"{self.message}."

    @property
    def full_message(self) -> str:
        """Message and hint, each ended as a sentence."""
        return f"{self.sentence} {self.hint}".strip()

    @property
    def line(self) -> int:
        """Line of its place, from 1; 1 where a whole file is meant."""
        return self.place.line if self.place else 1

    @property
    def column(self) -> int:
        """Column of its place, from 1; 1 where a whole file is meant."""
        return self.place.column if self.place else 1


def in_order(problems: Iterable[Problem]) -> list[Problem]:
    """Sorted by file and place, each said once."""
    unique = dict.fromkeys(problems)
    return sorted(unique, key=lambda p: (p.file_name, p.line, p.column, p.severity.rank, p.code, p.message))


def worst(problems: Iterable[Problem]) -> Severity | None:
    """The gravest severity among them, None if there are none."""
    return min((p.severity for p in problems), key=lambda s: s.rank, default=None)
