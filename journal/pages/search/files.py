"""The files of the search: words and places in one, prose in stretches."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from typing import Any

from journal.memory import FORGETFUL, Memory, digest_of
from journal.pages.grist import lot_name
from journal.pages.index import Index
from journal.pages.labels import malts_of
from journal.pages.record import Record
from journal.pages.search.packing import pack_places, pack_words
from journal.pages.search.prose import plain_text
from journal.pages.search.words import words_of
from journal.reading import Batch

FOLDER = "search"
#: Batches whose prose lies in one file: a new batch changes the last file only.
STRETCH = 50
#: Where a word may occur, the weightiest first.
_TITLE, _LABEL, _PROSE = range(3)


@dataclass(frozen=True)
class _Prose:
    """The prose of a batch as plain text, and its words."""

    text: str
    words: frozenset[str]


def _said(batch: Batch) -> _Prose:
    text = plain_text(batch.prose)
    return _Prose(text, words_of(text))


def _labels(index: Index, batch: Batch) -> Iterator[str]:
    """Style, tags, and malts both as the entry and as their sheet names them."""
    yield from (batch.style or "", *batch.tags)
    for named in malts_of(batch):
        yield from (named, lot_name(index, named))


def _script(call: str, *values: Any) -> bytes:
    """A script that hands values over."""
    told = ", ".join(json.dumps(value, ensure_ascii=False, separators=(",", ":")) for value in values)
    return f"journalSearch.{call}({told});\n".encode()


def _words(index: Index, said: list[_Prose]) -> list[str]:
    """A line a word: the word, and its places in titles, labels and prose as far as it has any."""
    found: dict[str, tuple[list[int], list[int], list[int]]] = {}
    for place, (batch, prose) in enumerate(zip(index.batches, said, strict=True)):
        title = words_of(f"{batch.id} {batch.title or ''}")
        labels = words_of("\n".join(_labels(index, batch))) - title
        for kind, words in ((_TITLE, title), (_LABEL, labels), (_PROSE, prose.words - title - labels)):
            for word in words:
                found.setdefault(word, ([], [], []))[kind].append(place)
    ordered = sorted(found)
    return [
        " ".join([packed, *map(pack_places, reversed(found[word]))]).rstrip()
        for word, packed in zip(ordered, pack_words(ordered), strict=True)
    ]


def _batches(index: Index) -> tuple[list[list[Any]], list[str]]:
    """What a result shows of each batch, with its malts as numbers, and the malts' names by those numbers."""
    names: dict[str, int] = {}
    rows = []
    for batch in index.batches:
        malts = dict.fromkeys(lot_name(index, named) for named in malts_of(batch))
        numbers = [names.setdefault(name, len(names)) for name in malts]
        rows.append([batch.id, batch.title or "", batch.day.isoformat(), batch.style or "", list(batch.tags), numbers])
    return rows, list(names)


def search_files(record: Record, memory: Memory = FORGETFUL) -> dict[str, bytes]:
    """Every file that the search reads, by path; what only hangs on one batch's prose is remembered."""
    index = Index(record)
    said = [memory.recall(digest_of("said", batch.prose), partial(_said, batch)) for batch in index.batches]
    rows, malts = _batches(index)
    files = {f"{FOLDER}/words.js": _script("take", "\n".join(_words(index, said)), rows, malts, STRETCH)}
    for number, start in enumerate(range(0, len(said), STRETCH)):
        texts = [each.text for each in said[start : start + STRETCH]]
        files[f"{FOLDER}/prose-{number}.js"] = _script("takeProse", number, texts)
    return files
