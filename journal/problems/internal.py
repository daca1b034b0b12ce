"""A fault of the program itself: said with what it touched and where it arose, so that it can be reported and the rest be made."""

from __future__ import annotations

import traceback
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from journal.problems.problem import Problem
from journal.problems.source import Place

INTERNAL = "internal-fault"
_PACKAGE = Path(__file__).parents[1]
_HINT = "The rest is made without it. Please report this, with the file; a change of what was written last may help meanwhile."


class BatchFault(Exception):  # noqa: N818  # it says what has happened
    """A fault of the program while one batch was worked out: the batch's id, and the fault in words."""

    def __init__(self, batch_id: str, why: str) -> None:
        super().__init__(batch_id, why)
        self.batch_id, self.why = batch_id, why


def fault_in_words(error: Exception) -> str:
    """What an exception says, and the line of the program that it comes from."""
    told = " ".join(str(error).split())
    ours = [frame for frame in traceback.extract_tb(error.__traceback__) if _PACKAGE in Path(frame.filename).parents]
    where = f" ({Path(ours[-1].filename).relative_to(_PACKAGE).as_posix()}, line {ours[-1].lineno})" if ours else ""
    return f"{type(error).__name__}{f': {told}' if told else ''}{where}"


@contextmanager
def naming(batch_id: str) -> Iterator[None]:
    """Whatever goes wrong within goes wrong with this batch. Raises BatchFault."""
    try:
        yield
    except BatchFault:
        raise
    except Exception as error:
        raise BatchFault(batch_id, fault_in_words(error)) from error


def internal_fault(what: str, why: str, *, place: Place | None = None, file: str = "") -> Problem:
    """The problem that `what`, in words, can't be made; `why` as `fault_in_words` has it."""
    return Problem(INTERNAL, f"a fault of the program keeps {what} from being made: {why}", _HINT, place, file)
