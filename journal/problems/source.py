"""Texts and places in them. A place is an offset into the whole file; lines and columns are reckoned when shown."""

from __future__ import annotations

import re
from bisect import bisect_right
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple


@dataclass(frozen=True)
class Source:
    """One file as read.

    `name` is its path from the journal's root with forward slashes, `text` its whole decoded text.
    """

    name: str
    text: str

    @cached_property
    def _line_starts(self) -> list[int]:
        starts = [0]
        starts.extend(found.end() for found in re.finditer("\n", self.text))
        return starts

    def position(self, offset: int) -> tuple[int, int]:
        """Line and column (both from 1) of an offset in characters; offsets beyond the text give its end."""
        offset = min(max(offset, 0), len(self.text))
        line = bisect_right(self._line_starts, offset)
        return line, offset - self._line_starts[line - 1] + 1

    def line_text(self, line: int) -> str:
        """The text of a line counted from 1, without its line break."""
        start = self._line_starts[line - 1]
        end = self._line_starts[line] if line < len(self._line_starts) else len(self.text)
        return self.text[start:end].rstrip("\r\n")


class Span(NamedTuple):
    """Half-open range of character offsets into a source's text: `start` <= `end`."""

    start: int
    end: int

    def within(self, start: int, end: int) -> Span:
        """The part from `start` to `end`, both counted from this span's own start."""
        return Span(self.start + start, self.start + end)


@dataclass(frozen=True)
class Place:
    """A span of a source.

    `path` names the reading there as the entry does (`mash.first_wort`), empty if it is none.
    """

    source: Source
    span: Span
    path: str = ""

    @property
    def line(self) -> int:
        """Line of the place's start, from 1."""
        return self.source.position(self.span.start)[0]

    @property
    def column(self) -> int:
        """Column of the place's start, from 1, in characters."""
        return self.source.position(self.span.start)[1]

    @property
    def text(self) -> str:
        """What stands there, as written."""
        return self.source.text[self.span.start : self.span.end]
