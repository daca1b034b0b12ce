"""Values made by several processes before anybody asks for them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import partial
from itertools import islice

from journal.publishing.cache.sealed import seal
from journal.publishing.worker_pool import ReadyProcess, WorkerPool, worth_sharing


def _made(make: Callable[[], object]) -> bytes:
    """What is made, sealed; nothing where that fails: whoever asks makes it, and is told why."""
    try:
        return seal(make())
    except Exception:  # noqa: BLE001  # not lost, see above
        return b""


def _begun(
    tasks: Sequence[Callable[[], bytes]], ready: ReadyProcess[bytes] | None
) -> WorkerPool[bytes] | ReadyProcess[bytes] | None:
    """Those who are at the tasks: the process that is ready for them, else as many as it is worth the while to have."""
    if ready is not None:
        ready.begin(tasks)
        return ready
    return WorkerPool(tasks) if worth_sharing(len(tasks)) else None


class MadeAhead:
    """Begins at once to make values by key, sealed, by the process that is `ready` for them, else by several; nothing where that is not
    worth the while.
    """

    def __init__(self, values: Mapping[str, Callable[[], object]], ready: ReadyProcess[bytes] | None = None) -> None:
        self._workers = _begun([partial(_made, make) for make in values.values()], ready)
        self._coming: dict[str, None] = dict.fromkeys(values if self._workers else ())

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
