"""What a batch's page hangs on, as one digest: where it is the same, the page is."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path

from journal.memory import digest_of
from journal.pages.index import Index
from journal.pages.parts.moved import moved_here
from journal.problems import Problem
from journal.reading import Entry


def page_keys(index: Index) -> dict[str, str]:
    """By batch id: the batch itself with those it hangs together with, what it is shown beside, and every batch before it.

    Those before it made its expectations. Of what the record as a whole says there is one thing: the sentences on what moved
    (`moved_here`), so few and so seldom otherwise that they are part of the key. A page may show nothing else, neither later
    batches, but for a link to the next, nor more of the record.
    """
    entries = {entry.file: entry for entry in index.record.journal.entries}
    keys, before = {}, digest_of(*_settings(index))
    for place, batch in enumerate(index.batches):
        beside = [*index.batches[max(place - 1, 0) : place + 2], *(each for _, each in batch.relatives.named())]
        own = (
            *(f"{each.id} {each.title} {index.paths[each.file]}" for each in beside),
            *_problems(index.problems_of(batch.file)),
            *_references(index, entries[batch.file]),
            str(index.today) if batch.planned else "",
            *(link.words for link in moved_here(index, batch)),
        )
        keys[batch.id] = digest_of(before, batch.digest, *own)
        before = digest_of(before, batch.id, batch.facts_digest)
    return keys


def settings_key(index: Index) -> str:
    """What a page hangs on that says the same of any record."""
    return digest_of(*_settings(index))


def record_key(index: Index, keys: Mapping[str, str]) -> str:
    """What the pages and files of the record as a whole hang on, given what its batches' pages do."""
    record = index.record
    entries = (
        f"{entry.file} {index.paths[entry.file]} {entry.broken} {entry.batch.digest if entry.batch else ''}"
        for entry in record.journal.entries
    )
    files = (problem.file_name for problem in record.problems)
    return digest_of(
        *_settings(index), *keys.values(), *entries, *files, *_problems(list(record.problems)), str(index.today)
    )


def _settings(index: Index) -> Iterator[str]:
    journal = index.record.journal
    for source in (journal.brewery.source, journal.malts.source):
        yield source.text if source else ""


def _problems(problems: list[Problem]) -> Iterator[str]:
    for problem in problems:
        yield f"{problem.code} {problem.line} {problem.column} {problem.message} {problem.hint}"


def _references(index: Index, entry: Entry) -> Iterator[str]:
    """Where links and pictures of the prose lead: a page of the site, or a file by its state."""
    for reference in entry.references:
        inside = reference.inside
        if inside:
            yield index.paths.get(inside) or _state(index.record.journal.root / inside)


def _state(file: Path) -> str:
    try:
        found = file.stat()
    except (OSError, ValueError):
        return ""
    return f"{found.st_size} {found.st_mtime_ns}"
