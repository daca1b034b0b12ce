"""The files that entries show or link to, which go with the pages."""

from __future__ import annotations

import posixpath
from collections.abc import Iterator

from journal.pages.page import Attachment
from journal.pages.paths import file_path
from journal.pages.record import Record
from journal.reading import Batch, Entry
from journal.reading.files import ENTRIES, leads_outside


def _linked(entry: Entry) -> Iterator[str]:
    yield from (reference.inside for reference in entry.references if reference.inside)


def _logs(batch: Batch) -> Iterator[str]:
    for name in (batch.mash.log, batch.readings_log):
        if name:
            yield posixpath.normpath(posixpath.join(posixpath.dirname(batch.file), name))


def attachments_of(record: Record) -> list[Attachment]:
    """Every picture, linked file and log of published entries that lies under entries/, once each, in order of name."""
    root, entries = record.journal.root, {entry.file for entry in record.journal.entries}
    wanted: set[str] = set()
    for entry in record.journal.entries:
        if entry.batch is not None and not entry.broken:
            wanted.update([*_linked(entry), *_logs(entry.batch)])
    return [
        Attachment(source, file_path(source))
        for source in sorted(wanted - entries)
        if source.split("/")[0] == ENTRIES and (root / source).is_file() and not leads_outside(root, root / source)
    ]
