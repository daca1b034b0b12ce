"""Values made by several processes before anybody asks for them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import partial
from itertools import islice

from journal.publishing.cache.sealed import seal
from journal.publishing.worker_pool import WorkerPool, worth_sharing


def _made(make: Callable[[], object]) -> bytes:
    """What is made, sealed; nothing where that fails: whoever asks makes it, and is told why."""
    try:
        return seal(make())
    except Exception:  # noqa: BLE001  # not lost, see above
        return b""


class MadeAhead:
    """Begins at once to make values by key, sealed; nothing where that is not worth the while.

    `slow`: each takes longer than to start a process.
    """

    def __init__(self, values: Mapping[str, Callable[[], object]], *, slow: bool = False) -> None:
        self._coming: dict[str, None] = {}
        self._workers: WorkerPool[bytes] | None = None
        if worth_sharing(len(values), slow=slow):
            self._coming = dict.fromkeys(values)
            self._workers = WorkerPool([partial(_made, make) for make in values.values()])

    def __contains__(self, key: str) -> bool:
        return key in self._coming

    def up_to(self, wanted: str | None) -> Iterator[tuple[str, bytes]]:
        """What has been made up to a key, as far as it was not taken before; all of it if none is named. Waits for it."""
        if self._workers is None:
            return
        for lot in self._workers.done(wait=True):
            for key, content in zip(list(islice(self._coming, len(lot))), lot, strict=True):
                del self._coming[key]
                yield key, content
            if wanted is not None and wanted not in self._coming:
                break
        if not self._coming:
            self.end()

    def end(self) -> None:
        """Let the processes go; what they have not begun is not made."""
        if self._workers is not None:
            self._workers.end()
            self._workers = None
