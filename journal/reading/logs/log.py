"""What a logger wrote down, as arrays."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

import numpy as np
from numpy.typing import NDArray

from journal.problems import Place, Source, Span


@dataclass(frozen=True, eq=False)
class Log:
    """The rows of a log that hold a reading, in order of time, each time once. All arrays have one length, at least 1."""

    #: The CSV file, as problems show it.
    source: Source
    #: The local time by the clock when `minutes` is 0, without a time zone as in entries; None where the file gives elapsed time.
    start: datetime | None
    #: Ascending: true minutes since the first row here, or since the file's own zero where it gives elapsed time.
    minutes: NDArray[np.float64]
    #: degC, nan in rows without one; None where the file has no such column or nobody asked for it.
    temperature: NDArray[np.float64] | None
    #: SG 20/20, as a bare gravity in an entry; nan and None as for temperature.
    gravity: NDArray[np.float64] | None
    #: The line of the file each row stands in, from 1; the first of them where rows of one time became one.
    lines: NDArray[np.int64]

    def place(self, row: int) -> Place:
        """Where a row stands in the file; `row` counts from 0."""
        return Place(self.source, line_span(self.source, int(self.lines[row])))


def line_span(source: Source, line: int) -> Span:
    """The whole of a line counted from 1, without its line break."""
    start = 0
    for _ in range(line - 1):
        start = source.text.find("\n", start) + 1
    end = source.text.find("\n", start)
    return Span(start, end if end >= 0 else len(source.text))
