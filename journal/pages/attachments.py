"""The files that entries show or link to, which go with the pages."""

from __future__ import annotations

import posixpath
from collections.abc import Iterator

from journal.pages.page import Attachment
from journal.pages.paths import file_path
from journal.pages.pictures import copy_path, copy_widths
from journal.pages.record import Record
from journal.reading import Batch, Entry
from journal.reading.files import ENTRIES, is_file, leads_outside
from journal.reading.passive import is_passive


def _linked(entry: Entry) -> Iterator[str]:
    yield from (reference.inside for reference in entry.references if reference.inside)


def _named(batch: Batch) -> Iterator[str]:
    for name in (batch.mash.log, batch.readings_log, batch.picture):
        if name:
            yield posixpath.normpath(posixpath.join(posixpath.dirname(batch.file), name))


def attachments_of(record: Record) -> list[Attachment]:
    """Every picture, linked file and log of published entries that lies under entries/, once each, in order of name.

    Smaller copies of a picture come after it.
    """
    root, entries = record.journal.root, {entry.file for entry in record.journal.entries}
    wanted: set[str] = set()
    for entry in record.journal.entries:
        if entry.batch is not None and not entry.broken:
            wanted.update([*_linked(entry), *_named(entry.batch)])
    found = []
    for source in sorted(wanted - entries):
        file = root / source
        if source.split("/")[0] == ENTRIES and is_file(file) and not leads_outside(root, file):
            path = file_path(source, runs=not is_passive(file))
            found.append(Attachment(source, path))
            found += [Attachment(source, copy_path(path, width), width) for width in copy_widths(file)]
    return found
