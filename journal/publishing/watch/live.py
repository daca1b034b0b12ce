"""One journal, built again and again: quickly what hangs on the changed entry, then the rest."""

from __future__ import annotations

import gc
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from journal.pages.choose_theme import choose_theme
from journal.pages.paths import page_paths
from journal.pages.record import Record
from journal.pages.themes import Theme
from journal.problems import Problem, Severity
from journal.publishing.cache import InProcessCache
from journal.publishing.output import Output
from journal.publishing.site import put_site
from journal.publishing.understanding import understand


@contextmanager
def _not_collecting() -> Iterator[None]:
    """Without Python's search for circular garbage, for somebody waits; afterwards there is time."""
    gc.disable()
    try:
        yield
    finally:
        # what was put aside while pages were set goes out of use too
        gc.unfreeze()
        gc.enable()


@dataclass(frozen=True)
class State:
    """How things stand after a build: its number, the pages that it changed, and what is wrong."""

    number: int
    changed: frozenset[str]
    problems: tuple[Problem, ...]

    @property
    def errors(self) -> tuple[Problem, ...]:
        """The problems that keep something from being shown."""
        return tuple(problem for problem in self.problems if problem.severity is Severity.ERROR)


#: Builds between two searches for all circular garbage: Python's own would come too late, for what little there is is large.
_COLLECTED_EVERY = 10


class Live:
    """Keeps a site in step with its journal; nothing that a brewer or the machine does ends it."""

    def __init__(self, root: Path, out: Path, theme: str | None = None) -> None:
        self.root, self.out, self.theme = root, out, theme
        self._memory = InProcessCache()
        self._news = threading.Condition()
        self._state = State(0, frozenset(), ())
        self._builds = 0

    @property
    def state(self) -> State:
        """How things stand."""
        with self._news:
            return self._state

    def wait_beyond(self, number: int, seconds: float) -> State | None:
        """The state after build `number`, as soon as there is one; None if there is none in time."""
        with self._news:
            later = self._news.wait_for(lambda: self._state.number > number, seconds)
            return self._state if later else None

    def build(self) -> Iterator[State]:
        """Build once more; the state after the pages of the entries, and after all the rest."""
        try:
            with _not_collecting():
                yield from self._build()
            self._builds += 1
            if self._builds % _COLLECTED_EVERY == 0:
                gc.collect()
        except Exception as error:  # noqa: BLE001  # a fault of ours must not end a brewer's evening either
            words = f"the site can't be made: {type(error).__name__}: {error}"
            problem = Problem(
                "build-failed",
                words,
                "Undo the last change; if it was none of yours, this is a fault of the program.",
                file=".",
            )
            yield self._publish(frozenset(), (problem,))

    def _build(self) -> Iterator[State]:
        record = understand(self.root, memory=self._memory)
        if any(problem.code == "journal-missing" for problem in record.problems):
            yield self._publish(frozenset(), record.problems)
            return
        theme, of_theme = choose_theme(self.root, self.theme, record.journal.brewery)
        if theme is None:
            yield self._publish(frozenset(), (*record.problems, *of_theme))
            return
        with Output(self.out, self.root) as output:
            quickly = output.refusal() is None and bool(output.before)
        if quickly:
            yield from self._put(record, theme, of_theme, whole=False)
        yield from self._put(record, theme, of_theme, whole=True)
        self._memory.next_round()

    def _put(self, record: Record, theme: Theme, of_theme: list[Problem], *, whole: bool) -> Iterator[State]:
        state, busy = self._written(record, theme, of_theme, whole=whole)
        while busy:
            yield state
            busy.wait()
            state, busy = self._written(record, theme, of_theme, whole=whole)
        yield state

    def _written(
        self, record: Record, theme: Theme, of_theme: list[Problem], *, whole: bool
    ) -> tuple[State, Output | None]:
        """The state after writing; with it the output folder, where another build is writing that."""
        paths = page_paths(record.journal)
        held = frozenset(paths[entry.file] for entry in record.broken)
        with Output(self.out, self.root) as output:
            refusal = output.refusal()
            if refusal:
                state = self._publish(frozenset(), (*record.problems, *of_theme, refusal))
                return state, output if refusal.code == "output-busy" else None
            try:
                record, broken = put_site(record, theme, output, memory=self._memory, held=held, whole=whole)
                if not broken:
                    output.commit()
            except OSError as error:
                return self._publish(frozenset(), (*record.problems, *of_theme, output.unwritable(error))), None
        changed = frozenset() if broken else frozenset(output.changed_files)
        return self._publish(changed, (*record.problems, *of_theme, *broken)), None

    def _publish(self, changed: frozenset[str], problems: tuple[Problem, ...]) -> State:
        with self._news:
            self._state = State(self._state.number + 1, changed, problems)
            self._news.notify_all()
            return self._state
