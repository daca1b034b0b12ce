"""From an entry to its logs: the files it names, beside it under entries/."""

from __future__ import annotations

import posixpath
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from journal.memory import FORGETFUL, Memory, digest_of
from journal.problems import Problem, Source
from journal.reading.files import ENTRIES, decode, leads_outside
from journal.reading.logs.log import Log
from journal.reading.logs.read import read_log

if TYPE_CHECKING:
    from journal.reading.entry import Batch

#: A log larger than this is refused unread: years of a reading every minute take less.
LARGEST = 50 * 1000 * 1000

_MASH = ("temperature",)
_FERMENTATION = ("gravity", "temperature")


def with_logs(root: Path, batch: Batch, memory: Memory = FORGETFUL) -> tuple[Batch, list[Problem]]:
    """The batch with the logs it names, and what is wrong with them; a log with an error stays None."""
    problems: list[Problem] = []
    if batch.mash.log:
        log, found = _log(root, batch, "mash.log", batch.mash.log, _MASH, memory)
        batch, problems = replace(batch, mash_log=log), [*problems, *found]
    if batch.readings_log:
        log, found = _log(root, batch, "readings_log", batch.readings_log, _FERMENTATION, memory)
        batch, problems = replace(batch, fermentation_log=log), [*problems, *found]
    return batch, problems


def _log(
    root: Path, batch: Batch, path: str, name: str, wants: tuple[str, ...], memory: Memory
) -> tuple[Log | None, tuple[Problem, ...]]:
    source, problems = _source(root, batch, path, name)
    if source is None:
        return None, tuple(problems)
    return memory.recall(digest_of("log", source.name, source.text, *wants), lambda: read_log(source, wants))


def _source(root: Path, batch: Batch, path: str, name: str) -> tuple[Source | None, list[Problem]]:
    """The text of the file that stands in the entry at `path`."""
    inside = posixpath.normpath(posixpath.join(posixpath.dirname(batch.file), name))
    try:
        refusal = _refusal(root, inside, name)
        raw = b"" if refusal else (root / inside).read_bytes()
    except (OSError, ValueError) as error:  # ValueError: a name no file can have
        why = getattr(error, "strerror", None) or error
        refusal = ("log-unreadable", f"the log {name} can't be read: {why}", "Check its name and permissions.")
    return (None, [Problem(*refusal, batch.place(path))]) if refusal else decode(inside, raw)


def _refusal(root: Path, inside: str, name: str) -> tuple[str, str, str] | None:
    """Why the file `inside` the journal is not opened: a rule, a message and a hint; raises what the system raises."""
    file = root / inside
    if inside.split("/", maxsplit=1)[0] != ENTRIES:
        return "log-outside", f"the log {name} lies outside entries/", "Copy it beside the entry."
    if not file.exists():
        hint = "Check the name, upper and lower case too; the file lies beside the entry."
        return "log-missing", f"there is no file {inside}", hint
    if leads_outside(root, file):
        message = f"the log {name} is a link that leads out of entries/"
        return "log-outside", message, "Copy the file itself beside the entry."
    if not file.is_file():
        return "log-unreadable", f"{inside} is not a file", "Name the logger's CSV file."
    size = file.stat().st_size
    if size > LARGEST:
        return (
            "log-unreadable",
            f"{inside} is {size / 1e6:.0f} MB, and 50 MB is the most",
            "Cut it to this batch's days.",
        )
    return None
