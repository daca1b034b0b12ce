"""Where each thing stands in a text, by its path."""

from __future__ import annotations

import sys
from array import array
from bisect import bisect_left
from collections.abc import Iterator, Mapping
from itertools import chain

from journal.problems import Span


class Spans(Mapping[str, Span]):
    """Spans by path, in the order in which they were found.

    They are kept as numbers, and equal paths of many entries as one text: as `Span`s in a dict an entry's two hundred take 27 KiB.
    """

    __slots__ = ("_offsets", "_order", "_paths")

    def __init__(self, spans: Mapping[str, Span]) -> None:
        self._paths = tuple(map(sys.intern, spans))
        self._offsets = array("I", chain.from_iterable(spans.values()))
        self._order = array("H", sorted(range(len(self._paths)), key=self._paths.__getitem__))

    def _place(self, path: object) -> int:
        """Which of the paths it is, -1 if none."""
        if not isinstance(path, str):
            return -1
        at = bisect_left(self._order, path, key=self._paths.__getitem__)
        place = self._order[at] if at < len(self._order) else -1
        return place if place >= 0 and self._paths[place] == path else -1

    def __getitem__(self, path: str) -> Span:
        place = self._place(path)
        if place < 0:
            raise KeyError(path)
        return Span(self._offsets[2 * place], self._offsets[2 * place + 1])

    def __contains__(self, path: object) -> bool:
        return self._place(path) >= 0

    def __iter__(self) -> Iterator[str]:
        return iter(self._paths)

    def __len__(self) -> int:
        return len(self._paths)

    def __getstate__(self) -> tuple[tuple[str, ...], bytes, bytes]:
        return self._paths, self._offsets.tobytes(), self._order.tobytes()

    def __setstate__(self, state: tuple[tuple[str, ...], bytes, bytes]) -> None:
        paths, offsets, order = state
        self._paths = tuple(map(sys.intern, paths))
        self._offsets, self._order = array("I", offsets), array("H", order)
