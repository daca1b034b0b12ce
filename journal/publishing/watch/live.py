"""One journal, built again and again: quickly what hangs on the changed entry, then the rest."""

from __future__ import annotations

import gc
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

from journal.frozen import dataclass
from journal.problems import Problem, Severity
from journal.publishing.cache import InProcessCache
from journal.publishing.output import wait_until_free
from journal.publishing.route import Broken, BuildOutcome, build


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
        #: The last build that changed each page.
        self._changed_at: dict[str, int] = {}
        self._builds = 0

    @property
    def state(self) -> State:
        """How things stand."""
        with self._news:
            return self._state

    def wait_beyond(self, number: int, seconds: float) -> State | None:
        """The state after build `number`, as soon as there is one, with all that has changed since; None if there is none in time."""
        with self._news:
            if not self._news.wait_for(lambda: self._state.number > number, seconds):
                return None
            # two builds may follow one another before who waits is awake
            since = frozenset(path for path, at in self._changed_at.items() if at > number)
            return replace(self._state, changed=since)

    def build(self, say: Callable[[State], None] = lambda state: None) -> None:
        """Build once more; `say`, which raises nothing, hears of the state after the pages of the entries, and after all the rest."""

        def tell(outcome: BuildOutcome) -> None:
            say(self._publish(outcome.changed, outcome.problems))

        try:
            with _not_collecting():
                while (outcome := self._build(tell)).busy:
                    tell(outcome)
                    wait_until_free(self.out)
                tell(outcome)
            self._memory.next_round()
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
            say(self._publish(frozenset(), (problem,)))

    def _build(self, early: Callable[[BuildOutcome], None]) -> BuildOutcome:
        return build(self.root, self.out, broken=Broken.HELD, theme=self.theme, memory=self._memory, early=early)

    def _publish(self, changed: frozenset[str], problems: tuple[Problem, ...]) -> State:
        with self._news:
            self._state = State(self._state.number + 1, changed, problems)
            self._changed_at.update(dict.fromkeys(changed, self._state.number))
            self._news.notify_all()
            return self._state
