"""Batches that name other batches: each given the relatives its numbers rest on, or told what is wrong with the link.

In: the batches of a journal, each read by itself. Out: the same with their `relatives`, the day and the brewhouse that they
take from those, and a digest that changes with any of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property

from journal.memory import digest_of
from journal.problems import Place, Problem, did_you_mean, in_words
from journal.reading.entry import Batch
from journal.reading.relatives import Relatives
from journal.reading.table import is_blank
from journal.reading.times import before_brewing

#: The fields that name one other batch, with what they say of this one.
_SINGLE = {"part_of": "a part of", "second_wort_of": "a second wort of", "joins": "a brew that joins"}
#: All that names other batches: no entry can be two of these at once.
LINKS = (*_SINGLE, "blend_of")
#: What stands with the brew, and so in no entry of a part or a blend.
_BREW_DAY = ("grains", "crush", "sieve", "mash", "souring", "lauter", "boil", "stand", "cooling")


@dataclass(frozen=True)
class LinkedBatches:
    """The batches by the file they stand in, linked; and the problems of their links, likewise."""

    batches: Mapping[str, Batch]
    problems: Mapping[str, list[Problem]]


def named_by(batch: Batch) -> list[tuple[str, str]]:
    """The ids that a batch names as what it is made of, or went into, each with its path in the entry."""
    single = [(path, getattr(batch, path)) for path in _SINGLE]
    return [(path, named) for path, named in single if named] + [
        (f"blend_of.{named}", named) for named in batch.blend_of
    ]


def link(batches: Iterable[Batch], broken: Mapping[str, Problem | None]) -> LinkedBatches:
    """The batches with their relatives.

    `broken` are the files whose entries can't be published, with the error to look at first; they are linked as far as can be.
    """
    batches = list(batches)
    if not any(named_by(batch) or batch.taken for batch in batches):
        return LinkedBatches({batch.file: batch for batch in batches}, {})
    by_id: dict[str, Batch] = {}
    for batch in batches:
        by_id.setdefault(batch.id, batch)
    links = _Links(by_id, broken)
    problems = {batch.file: found for batch in batches if (found := list(links.faults(batch)))}
    links.refused.update(problems)
    while more := {batch.file: found for batch in batches if (found := list(links.resting_on_refused(batch)))}:
        problems.update(more)
        links.refused.update(more)
    linked = {batch.file: batch if batch.file in links.refused else links.linked(batch) for batch in batches}
    for batch in linked.values():
        if batch.file not in problems and "brewed" not in batch.names and batch.relatives:
            found = list(before_brewing(batch))
            if found:
                problems[batch.file] = found
    return LinkedBatches(linked, problems)


@dataclass
class _Links:
    by_id: dict[str, Batch]
    broken: Mapping[str, Problem | None]
    refused: set[str] = field(default_factory=set)

    @cached_property
    def by_link(self) -> dict[tuple[str, str], list[Batch]]:
        """Those that name a batch in one of their fields, by the field and its id, in order of their files."""
        found: dict[tuple[str, str], list[Batch]] = {}
        for each in self.by_id.values():
            for path in _SINGLE:
                if named := getattr(each, path):
                    found.setdefault((path, named), []).append(each)
        return found

    def faults(self, batch: Batch) -> Iterator[Problem]:
        """Everything that is wrong with what a batch names."""
        named = named_by(batch)
        written = [path for path in LINKS if getattr(batch, path)]
        if len(written) > 1:
            message = f"the entry is at once {in_words([f'`{path}`' for path in written])}"
            hint = "Keep the one that says where its wort came from."
            places = (batch.place(path) for path in (written[1], written[0]))
            yield Problem("fields-contradict", message, hint, next(places), expected_by=next(places))
        for path, other in named:
            yield from self._fault(batch, path, other)
        if batch.part_of or batch.blend_of:
            yield from _own_brew_day(batch)
        if batch.taken and not batch.part_of:
            hint = "Add part_of: with the batch it was taken from."
            yield Problem(
                "fields-contradict", "`taken` is the day of a part, and this is none", hint, batch.place("taken")
            )

    def _fault(self, batch: Batch, path: str, named: str) -> Iterator[Problem]:
        place = _named_at(batch, path)
        other = self.by_id.get(named)
        if other is None:
            hint = did_you_mean(named, self.by_id, "Write the id of an entry of this journal.")
            yield Problem("batch-unknown", f"`{_field(path)}` names batch {named}, which isn't there", hint, place)
        elif named == batch.id:
            hint = "Write the id of the batch whose wort it was."
            yield Problem("links-in-ring", f"batch {batch.id} names itself in `{_field(path)}`", hint, place)
        elif ring := self._ring(batch, other):
            message = f"batch {batch.id} is made of itself, by way of {in_words([each.id for each in ring])}"
            last = ring[-1]
            back = next(way for way, name in named_by(last) if name == batch.id)
            hint = "One of these links is wrong."
            yield Problem("links-in-ring", message, hint, place, expected_by=_named_at(last, back))
        elif other.file in self.broken and path != "joins":
            yield _resting_on(other, self.broken[other.file], place)
        elif path == "part_of":
            yield from _unlike(batch, other)

    def resting_on_refused(self, batch: Batch) -> Iterator[Problem]:
        """That a batch rests on one whose own links are wrong; of one that has been told of something, nothing."""
        for path, named in named_by(batch) if batch.file not in self.refused else ():
            other = self.by_id.get(named)
            if other is not None and other.file in self.refused and path != "joins":
                yield _resting_on(other, None, _named_at(batch, path))

    def _ring(self, batch: Batch, other: Batch) -> list[Batch]:
        """The batches from `other` back to `batch`, if its links lead there."""
        ways, seen = [[other]], {other.id}
        while ways:
            way = ways.pop(0)
            for _, named in named_by(way[-1]):
                if named == batch.id:
                    return way
                if named in self.by_id and named not in seen:
                    seen.add(named)
                    ways.append([*way, self.by_id[named]])
        return []

    def linked(self, batch: Batch) -> Batch:
        """A batch with its relatives, the day and the brewhouse it takes from them, and a digest of it all."""
        relatives = Relatives(
            whole=self._above(batch.part_of),
            first=self._above(batch.second_wort_of),
            host=self._found(batch.joins),
            blended=tuple(above for named in batch.blend_of if (above := self._above(named))),
            parts=self._below(batch, "part_of"),
            seconds=self._below(batch, "second_wort_of"),
            guests=self._below(batch, "joins"),
        )
        if not relatives:
            return batch
        named = list(relatives.named())
        digest = digest_of(batch.digest, *(f"{role} {each.id} {each.digest}" for role, each in named))
        facts = digest_of(batch.facts_digest, *(f"{role} {each.id} {each.facts_digest}" for role, each in named))
        if not batch.digest:
            digest = facts = ""
        return replace(_inheriting(batch, relatives), relatives=relatives, digest=digest, facts_digest=facts)

    def _found(self, named: str | None) -> Batch | None:
        return self.by_id.get(named) if named else None

    def _above(self, named: str | None) -> Batch | None:
        found = self._found(named)
        return None if found is None else found if found.file in self.refused else self.linked(found)

    def _below(self, batch: Batch, path: str) -> tuple[Batch, ...]:
        """Those that name a batch so and that nothing keeps from being published, in order of their files."""
        found = self.by_link.get((path, batch.id), ())
        return tuple(each for each in found if each.file not in self.refused and each.file not in self.broken)


def _resting_on(other: Batch, error: Problem | None, place: Place) -> Problem:
    message = f"batch {other.id}, which this one rests on, has an error in its own entry"
    where = error.place if error else None
    return Problem("linked-batch-broken", message, f"Put {other.file} right first.", place, expected_by=where)


def _field(path: str) -> str:
    return path.partition(".")[0]


def _named_at(batch: Batch, path: str) -> Place:
    """Where the id of another batch stands: in a blend it is a name."""
    span = batch.names.get(path) if path.startswith("blend_of.") else None
    return Place(batch.source, span, path) if span else batch.place(path)


def _own_brew_day(batch: Batch) -> Iterator[Problem]:
    """What only a brew has: it stands with the brew, and once."""
    what = f"a part of {batch.part_of}" if batch.part_of else "a blend"
    for name in _BREW_DAY:
        value = getattr(batch, name)
        written = value if isinstance(value, tuple) or value is None else not is_blank(value)
        if written and not (name != "grains" and isinstance(value, tuple) and not value):
            message = f"`{name}` belongs to the brew day, and the entry is {what}"
            whose = f"batch {batch.part_of}" if batch.part_of else "the batches it was blended of"
            hint = f"Write it in the entry of {whose}, once."
            other = batch.place("part_of" if batch.part_of else "blend_of")
            yield Problem("fields-contradict", message, hint, batch.place(name), expected_by=other)


def _unlike(part: Batch, whole: Batch) -> Iterator[Problem]:
    """A day or a brewhouse that a part states and that is not its whole's."""
    for name, words in (("brewed", "was brewed on {}"), ("brewhouse", "was brewed in {}")):
        own, other = getattr(part, name), getattr(whole, name)
        if own is not None and other is not None and own != other:
            message = f"the part {words.format(own)}, and batch {whole.id} {words.format(other)}"
            hint = f"Leave `{name}` out: a part has that of its batch. Or name another batch in `part_of`."
            yield Problem("links-disagree", message, hint, part.place(name), expected_by=whole.place(name))


def _inheriting(batch: Batch, relatives: Relatives) -> Batch:
    """The day and the brewhouse that are not written: a blend's are the latest day and the first batch's brewhouse."""
    made_of = [each for each in (relatives.whole, relatives.first, *relatives.blended) if each is not None]
    days = [each.brewed for each in made_of if each.brewed]
    houses = [each.brewhouse for each in made_of if each.brewhouse]
    return replace(
        batch,
        brewed=batch.brewed or (max(days) if days else None),
        brewhouse=batch.brewhouse or (houses[0] if houses else None),
    )
