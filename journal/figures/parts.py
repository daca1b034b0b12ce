"""What each source brings to a figure's uncertainty, as it is kept."""

from __future__ import annotations

from array import array
from collections.abc import Iterator, Mapping, Sequence
from typing import overload

from journal.figures.uncertain import ErrorSource

Part = tuple[ErrorSource, float]


class Parts(Sequence[Part]):
    """Sources with what each brings, in order.

    The numbers are kept side by side: as pairs, the five hundred of a batch take three times as much, a third of all that it holds on to.
    """

    __slots__ = ("_sizes", "_sources")

    def __init__(self, parts: Mapping[ErrorSource, float]) -> None:
        self._sources = tuple(parts)
        # of a list, whose length is known, it takes no more room than it needs
        self._sizes = array("d", [*parts.values()])

    def __iter__(self) -> Iterator[Part]:
        return zip(self._sources, self._sizes, strict=True)

    def __len__(self) -> int:
        return len(self._sources)

    @overload
    def __getitem__(self, place: int) -> Part: ...
    @overload
    def __getitem__(self, place: slice) -> Sequence[Part]: ...
    def __getitem__(self, place: int | slice) -> Part | Sequence[Part]:
        return tuple(self)[place]

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Parts | tuple) and tuple(self) == tuple(other)

    def __hash__(self) -> int:
        return hash(tuple(self))

    def __repr__(self) -> str:
        return repr(tuple(self))

    def __getstate__(self) -> tuple[tuple[ErrorSource, ...], bytes]:
        return self._sources, self._sizes.tobytes()

    def __setstate__(self, state: tuple[tuple[ErrorSource, ...], bytes]) -> None:
        self._sources, self._sizes = state[0], array("d", state[1])
