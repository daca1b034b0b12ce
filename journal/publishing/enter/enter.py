"""From an entry and a sheet's lines to the entry's new text."""

from __future__ import annotations

import re
from collections.abc import Iterable

from journal.frozen import dataclass
from journal.problems import Problem, Severity, Source
from journal.publishing.enter.additions import Additions, ConflictError, Insertion
from journal.publishing.refused import RefusalError, Refused
from journal.reading import Batch, front_matter
from journal.reading.collect import read_entry
from journal.reading.located_yaml import Mapping, read_yaml

#: What every entry states and a sheet's lines needn't.
_REQUIRED_ELSEWHERE = "field-missing"


@dataclass(frozen=True)
class Entered:
    """The entry's new text, and the fields that are new in it; the same text and none where it had them all."""

    text: str
    fields: tuple[str, ...]


def enter(batch: Batch, lines: Source) -> Entered | Refused:
    """The entry of `batch` with what a sheet's `lines` hold besides: front matter of the same batch, and prose.

    Blank fields are filled and lines added; nothing is taken away or changed, comments stay. Refused where the lines are not
    what a sheet gives, speak of another batch, or contradict the entry, and where new fields meet a batch that is brewed.
    """
    try:
        told = _read(batch, lines)
        pieces = _pieces(batch, lines)
        text, fields = _with(batch.source.text, pieces), [piece.path for piece in pieces]
        prose = told.prose.strip()
        if prose and prose not in text[batch.prose_start :]:
            text = f"{text.rstrip()}\n\n{prose}\n"
            fields.append("prose")
        after, problems = read_entry(Source(batch.file, text))
        if after is None or any(p.severity is Severity.ERROR for p in problems):
            why = f"with these lines {batch.file} could not be read: {_first(problems)} Nothing was written."
            raise RefusalError(why, misused=False)
    except RefusalError as refusal:
        return refusal.refused
    return Entered(text, tuple(fields))


def _read(batch: Batch, lines: Source) -> Batch:
    """The sheet's lines as far as they are an entry: of this batch, without an error."""
    told, problems = read_entry(lines)
    wrong = [p for p in problems if p.severity is Severity.ERROR and p.code != _REQUIRED_ELSEWHERE]
    if wrong or told is None:
        raise RefusalError(f"{lines.name} is not what a working sheet gives: {_first(wrong or problems)}")
    if told.batch != batch.batch:
        raise RefusalError(f"{lines.name} is of batch {told.batch or 'none'}, and this is {batch.id}.")
    return told


def _pieces(batch: Batch, lines: Source) -> list[Insertion]:
    old, new = _yaml(batch.source), _yaml(lines)
    if old is None or new is None:
        raise RefusalError(f"{lines.name} holds no fields.")
    try:
        pieces = [*Additions(batch.source, lines).of_mapping(old, new)]
    except ConflictError as conflict:
        raise RefusalError(f"{conflict}. Nothing was written.", misused=False) from None
    if pieces and not batch.planned:
        new_fields = ", ".join(f"`{piece.path}`" for piece in pieces[:3])
        why = f"batch {batch.id} is brewed already, and {new_fields} would be new in it; write that into {batch.file} yourself."
        raise RefusalError(why, misused=False)
    return pieces


def _first(problems: Iterable[Problem]) -> str:
    return next((f"line {p.line}: {p.full_message}" for p in problems), "it is empty.")


def _yaml(source: Source) -> Mapping | None:
    offsets = front_matter.split(source)[0]
    root = read_yaml(source, offsets[0], offsets[1])[0] if offsets else None
    return root if isinstance(root, Mapping) else None


def _with(text: str, pieces: list[Insertion]) -> str:
    """A text with pieces put in; those of one place in their order, a group's own before what follows the group."""
    parts, done = [], 0
    for piece in sorted(pieces, key=lambda piece: (piece.offset, -len(re.findall(r"[.\[]", piece.path)))):
        parts += [text[done : piece.offset], piece.text]
        done = piece.offset
    return "".join([*parts, text[done:]])
