"""The files of the search: words and places in one, prose in stretches, the help as a whole."""

from __future__ import annotations

import json
from collections.abc import Iterator
from functools import lru_cache, partial
from typing import Any

from journal.frozen import dataclass
from journal.memory import FORGETFUL, Memory, digest_of
from journal.pages.grist import lot_name
from journal.pages.index import Index
from journal.pages.labels import malts_of
from journal.pages.record import Record
from journal.pages.search.packing import pack_places, pack_words
from journal.pages.search.prose import plain_html, plain_text
from journal.pages.search.words import words_of
from journal.reading import Batch
from journal.reading.table import walk
from journal.reading.values import FileName

FOLDER = "search"
#: Batches whose prose lies in one file: a new batch changes the last file only.
STRETCH = 50
#: Where a word may occur, the weightiest first.
_TITLE, _LABEL, _PROSE = range(3)


#: Fields of an entry that are searched as something else, or not at all.
_TOLD_ELSEWHERE = frozenset({"batch", "title", "brewhouse", "style", "tags", "practice", "trust", "picture"})
_NO_THINGS = frozenset({"source", "words"})


@dataclass(frozen=True)
class _Prose:
    """The prose of a batch as plain text, and its words."""

    text: str
    words: frozenset[str]


def _told(batch: Batch) -> str:
    """What the brewer tells: the prose, and what was tasted."""
    return "\n\n".join([batch.prose, *(tasting.words for tasting in batch.tasting if tasting.words)])


def _said(told: str) -> _Prose:
    text = plain_text(told)
    return _Prose(text, words_of(text))


def _things(index: Index, batch: Batch) -> Iterator[str]:
    """What went in and what was done, as the entry has it: malts by their sheets' names, hops, yeast, additions, steps, faults."""
    for path, value, facts in walk(batch):
        field = path.rpartition(".")[2]
        if (
            not value
            or path.split(".")[0].split("[")[0] in _TOLD_ELSEWHERE
            or field in _NO_THINGS
            or isinstance(facts.value, FileName)
        ):
            continue
        if ".rests[" in path and field not in {"temperature", "time"} and value:
            yield field.replace("_", " ")
        # a quantity is a tuple too, and the name of its unit no thing
        for text in value if type(value) is tuple else (value,):
            if isinstance(text, str):
                yield lot_name(index, text)
    for name, value in batch.practice.items():
        yield f"{name.replace('_', ' ')} {value}" if isinstance(value, str) else name.replace("_", " ")


def _labels(batch: Batch, things: tuple[str, ...]) -> frozenset[str]:
    """The words of style, tags, malts also as the entry names them, and all else that went in or was done."""
    return frozenset().union(*map(_words_of_label, (batch.style or "", *batch.tags, *malts_of(batch), *things)))


#: One label stands on many batches.
_words_of_label = lru_cache(maxsize=4096)(words_of)


def _script(call: str, *values: Any) -> bytes:
    """A script that hands values over."""
    told = ", ".join(json.dumps(value, ensure_ascii=False, separators=(",", ":")) for value in values)
    return f"journalSearch.{call}({told});\n".encode()


def _words(index: Index, said: list[_Prose], things: list[tuple[str, ...]]) -> list[str]:
    """A line a word: the word, and its places in titles, labels and prose as far as it has any."""
    found: dict[str, tuple[list[int], list[int], list[int]]] = {}
    for place, (batch, prose, went_in) in enumerate(zip(index.batches, said, things, strict=True)):
        title = words_of(f"{batch.id} {batch.title or ''}")
        labels = _labels(batch, went_in) - title
        for kind, words in ((_TITLE, title), (_LABEL, labels), (_PROSE, prose.words - title - labels)):
            for word in words:
                found.setdefault(word, ([], [], []))[kind].append(place)
    ordered = sorted(found)
    return [
        " ".join([packed, *map(pack_places, reversed(found[word]))]).rstrip()
        for word, packed in zip(ordered, pack_words(ordered), strict=True)
    ]


def _batches(index: Index, things: list[tuple[str, ...]]) -> tuple[list[list[Any]], list[str]]:
    """What a result shows of each batch, with what went into it as numbers, and the names by those numbers."""
    names: dict[str, int] = {}
    rows = []
    for batch, went_in in zip(index.batches, things, strict=True):
        numbers = [names.setdefault(name, len(names)) for name in went_in]
        rows.append([batch.id, batch.title or "", batch.day.isoformat(), batch.style or "", list(batch.tags), numbers])
    return rows, list(names)


def _help() -> list[list[str]]:
    """What a result shows of each section of the help: where it is, its page, its heading, and its text."""
    # most builds recall it
    from journal.pages.site.how_to import help_texts  # noqa: PLC0415

    rows = []
    for text in help_texts():
        rows.append([text.link.href, text.title, "", f"{text.summary} {plain_html(text.lead)}".strip()])
        rows += [
            [text.link_to(section).href, text.title, section.words, plain_html(section.html)]
            for section in text.sections
        ]
    return rows


def search_files(record: Record, memory: Memory = FORGETFUL) -> dict[str, bytes]:
    """Every file that the search reads, by path; what only hangs on one batch's prose is remembered."""
    index = Index(record)
    said = [memory.recall(digest_of("said", told), partial(_said, told)) for told in map(_told, index.batches)]
    things = [tuple(dict.fromkeys(_things(index, batch))) for batch in index.batches]
    rows, names = _batches(index, things)
    files = {f"{FOLDER}/words.js": _script("take", "\n".join(_words(index, said, things)), rows, names, STRETCH)}
    for number, start in enumerate(range(0, len(said), STRETCH)):
        texts = [each.text for each in said[start : start + STRETCH]]
        files[f"{FOLDER}/prose-{number}.js"] = _script("takeProse", number, texts)
    files[f"{FOLDER}/how-to.js"] = _script("takeHelp", memory.recall(digest_of("help"), _help))
    return files
