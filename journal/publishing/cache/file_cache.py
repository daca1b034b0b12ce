"""Values kept from one run to the next, in a file of the user's own."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Self, TypeVar

from journal.measures.units import all_conversions, recall_conversions
from journal.memory import Memory, digest_of
from journal.publishing.cache.folder import cache_file, cache_folder
from journal.publishing.cache.program import pint_digest, program_digest
from journal.publishing.cache.sealed import seal, unseal
from journal.publishing.cache.store import Store

if TYPE_CHECKING:
    from journal.publishing.cache.ahead import MadeAhead
    from journal.publishing.worker_pool import ReadyProcess

T = TypeVar("T")

#: Bytes that are held before they are written: a long journal need not lie in memory twice.
_MOST_UNWRITTEN = 8 * 1024 * 1024


class FileCache(Memory):
    """Keeps values in a file; used as a context, it writes what is left to write at the end.

    Where the file can't be had, or not be trusted, every value is made anew.
    """

    def __init__(self, root: Path, folder: Path | None = None) -> None:
        self._new: dict[str, bytes] = {}
        self._weight = 0
        self._made_any = False
        self._asked: set[str] = set()
        self._ahead: MadeAhead | None = None
        self._ready: ReadyProcess[bytes] | None = None
        self._program = program_digest()
        self._store: Store | None = None
        with suppress(OSError, RuntimeError):  # no home, no room, no permission: done without
            file = cache_file(root, folder or cache_folder())
            self._store = Store(file) if file else None
        if self._store is not None:
            recall_conversions(self.recall(f"conversions {pint_digest()}", all_conversions))

    def recall(self, key: str, make: Callable[[], T]) -> T:
        """The value of a key, from the file where it is there and can be read."""
        if self._store is None:
            return make()
        key = digest_of(self._program, key)
        if self._ahead and key in self._ahead:
            self._take(key)
        self._asked.add(key)
        found = unseal(self._new.get(key) or self._store.get(key))
        if found is not None:
            return found  # type: ignore[return-value]
        made = make()
        self._remember(key, seal(made))
        return made

    def has(self, key: str) -> bool:
        """Whether a value is in the file, or will be."""
        return self._store is not None and self._knows(self._store, digest_of(self._program, key))

    def keep(self, key: str) -> None:
        """Let a value stay in the file, if it is there."""
        self._asked.add(digest_of(self._program, key))

    def get_ready(self, load: Callable[[], object]) -> None:
        """Begin a process that calls `load`, where that is worth the while."""
        if self._store is None or self._ready is not None:
            return
        from journal.publishing.worker_pool import ReadyProcess, has_another_processor  # noqa: PLC0415

        if has_another_processor():
            self._ready = ReadyProcess(load)

    def make_ahead(self, values: Iterable[tuple[str, Callable[[], object]]], *, when_ready: bool = False) -> None:
        """Begin to make what is not in the file, where that is worth the while."""
        if self._store is None:
            return
        # several processes are loaded for nothing where nothing is to be made
        from journal.publishing.cache.ahead import MadeAhead  # noqa: PLC0415

        self._take(None)
        keyed = ((digest_of(self._program, key), make) for key, make in values)
        unknown = {key: make for key, make in keyed if not self._knows(self._store, key)}
        self._ahead = MadeAhead(unknown, self._ready if when_ready else None)

    def _knows(self, store: Store, key: str) -> bool:
        return key in self._new or store.has(key)

    def _take(self, wanted: str | None) -> None:
        for key, content in self._ahead.up_to(wanted) if self._ahead else ():
            if content:
                self._remember(key, content)

    def _remember(self, key: str, content: bytes) -> None:
        self._new[key] = content
        self._made_any = True
        self._weight += len(content)
        if self._weight > _MOST_UNWRITTEN and self._store is not None and self._store.is_writable:
            # what can't be written now stays for the next time
            if self._store.write(self._new):
                self._new.clear()
            self._weight = 0

    def close(self) -> None:
        """Write what is new, forget what nobody asks for any more; a command to which nothing was new leaves the file as it is."""
        if self._ahead:
            self._ahead.end()
        if self._ready:
            self._ready.end()
        if self._store is not None and self._store.is_writable:
            # where a whole was recalled its parts were not asked for, and are of use all the same
            self._store.close(self._new, self._asked if self._made_any else ())

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()
