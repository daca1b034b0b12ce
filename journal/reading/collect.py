"""All of a journal's files, read: settings, malts, entries, and every problem on the way."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import cached_property, partial
from pathlib import Path

from journal.frozen import dataclass
from journal.measures.units import IMPERIAL, US
from journal.memory import FORGETFUL, Memory, digest_of
from journal.problems import Place, Problem, Severity, Source, Span, fault_in_words, in_words, internal_fault
from journal.reading import front_matter
from journal.reading.as_litres import with_litres
from journal.reading.brewery import Brewery
from journal.reading.checks import check_entry, nothing_recorded
from journal.reading.contradictions import contradiction
from journal.reading.elsewhere import find_elsewhere
from journal.reading.entry import Batch
from journal.reading.files import ENTRIES, entry_files, name_of_file, read_source
from journal.reading.instruments import report_doubtful
from journal.reading.kinds import ingredient_named, nearest_names
from journal.reading.links import LinkedBatches, link
from journal.reading.located_yaml import Mapping, Node, Scalar, read_yaml
from journal.reading.logs.beside import with_logs
from journal.reading.malts import Malt, Malts
from journal.reading.prose import Reference, check_references, leading_picture, references, too_many_brackets
from journal.reading.spans import Spans
from journal.reading.table import Group, read_fields
from journal.reading.values import Context, Named


@dataclass(frozen=True)
class Entry:
    """One file under entries/: its batch, as far as it could be read, its references, its problems.

    `log_problems` are those of the logs it names: what a logger wrote never keeps a batch from being published.
    """

    file: str
    batch: Batch | None
    references: tuple[Reference, ...]
    problems: tuple[Problem, ...]
    log_problems: tuple[Problem, ...] = ()

    @property
    def broken(self) -> bool:
        """Whether an error of its own keeps it from being published."""
        return self.batch is None or any(p.severity is Severity.ERROR for p in self.problems)


@dataclass(frozen=True)
class Journal:
    """What was read: settings, malts, and every entry in order of file name."""

    root: Path
    brewery: Brewery
    malts: Malts
    entries: tuple[Entry, ...]

    def without(self, batch_id: str, fault: Problem) -> Journal:
        """The journal with one batch set aside as if its entry could not be read, for a fault."""
        entries = (
            replace(entry, problems=(*entry.problems, fault))
            if entry.batch and not entry.broken and entry.batch.id == batch_id
            else entry
            for entry in self.entries
        )
        return replace(self, entries=tuple(entries))

    def with_batch(self, batch: Batch) -> Journal:
        """The journal with another reading of one entry: as its brewer means it, where the entry alone doesn't say it all."""
        entries = (
            replace(entry, batch=batch) if entry.batch and not entry.broken and entry.batch.id == batch.id else entry
            for entry in self.entries
        )
        return replace(self, entries=tuple(entries))

    @cached_property
    def batches(self) -> list[Batch]:
        """The batches without an error, by date of brewing, then by id."""
        whole = [entry.batch for entry in self.entries if entry.batch and not entry.broken]
        return sorted(whole, key=lambda batch: (batch.day, id_order(batch.id)))

    def brewhouse_key(self, batch: Batch) -> str:
        """The brewhouse a batch belongs to: the one it names, or the only one; empty where neither is."""
        return self.brewery.brewhouse_of(batch.brewhouse)[0]

    @cached_property
    def by_brewhouse(self) -> dict[str, list[Batch]]:
        """The batches that are not only planned, in order of brewing, by brewhouse; brewhouses in order of their first batch."""
        found: dict[str, list[Batch]] = {}
        for batch in self.batches:
            if not batch.planned:
                found.setdefault(self.brewhouse_key(batch), []).append(batch)
        return found


def id_order(batch_id: str) -> tuple[tuple[int, int, str], ...]:
    """A key that sorts ids as people do: 9 before 10, 14 before 14-b."""
    parts = batch_id.replace("-", " - ").split()
    return tuple((0, int(part), "") if part.isdigit() else (1, 0, part) for part in parts)


def read_entry(source: Source, gallon: str = "") -> tuple[Batch | None, list[Problem]]:
    """The batch of one entry's text, with the problems of its fields; None where nothing could be read.

    `gallon` is what the brewery says a bare `gal` is: `us`, `imperial`, or nothing.
    """
    offsets, problems = front_matter.split(source)
    if offsets is None:
        return None, problems
    start, end, prose_start = offsets
    root, problems = read_yaml(source, start, end)
    if not isinstance(root, Mapping):
        return None, problems or [_no_fields(source, root, Span(0, 3))]
    context = Context(source, gallon, find_elsewhere)
    values = read_fields(Batch, root, "", context)
    places, names = Spans(context.places), Spans(context.names)
    batch = Batch(**values, source=source, places=places, names=names, prose_start=prose_start)
    return batch, [*problems, *context.problems]


def _no_fields(source: Source, root: Node | None, otherwise: Span) -> Problem:
    hint = "Write one field a line, such as title: Lantern Bitter."
    return Problem("wrong-shape", "there are no fields here", hint, Place(source, root.span if root else otherwise))


def _read_settings(root: Path, name: str) -> tuple[Source | None, Mapping | None, list[Problem]]:
    path = root / ENTRIES / name
    if not path.exists() and not path.is_symlink():
        return None, None, []
    source, problems = read_source(root, path)
    if source is None:
        # a settings file that is there and empty states nothing, which is allowed
        return None, None, [p for p in problems if p.code != "file-empty"]
    node, problems = read_yaml(source)
    if node is not None and not isinstance(node, Mapping) and not problems:
        problems = [_no_fields(source, node, Span(0, 1))]
    return source, node if isinstance(node, Mapping) else None, problems


def read_brewery(root: Path, memory: Memory = FORGETFUL) -> tuple[Brewery, list[Problem]]:
    """entries/brewery.yaml; the defaults where there is none."""
    source, node, problems = _read_settings(root, "brewery.yaml")
    if source is None or node is None:
        return Brewery(), problems
    brewery, more = memory.recall(digest_of("brewery", source.text), lambda: _brewery(source, node))
    return brewery, [*problems, *more]


def _own_gallon(node: Mapping) -> str:
    """What brewery.yaml says of the gallon, wherever in it that stands: its own volumes are read by it."""
    said = {key.text: value.text for key, value in node.pairs if isinstance(value, Scalar)}
    return said.get("gallon", "us" if said.get("units") == "us" else "")


def _brewery(source: Source, node: Mapping) -> tuple[Brewery, list[Problem]]:
    context = Context(source, _own_gallon(node))
    values = read_fields(Brewery, node, "", context)
    brewery = Brewery(**values, source=source, places=context.places)
    report_doubtful(brewery.instruments, context)
    if brewery.units == US and brewery.gallon == IMPERIAL:
        message = "`units: us` shows US gallons on every page, and `gallon: imperial` says that yours is another"
        hint = "Keep one: units: metric with gallon: imperial reads your gallons; or write UK gal where one is meant."
        context.report("fields-contradict", message, hint, context.places["gallon"], "gallon")
    return brewery, context.problems


def read_malts(root: Path, memory: Memory = FORGETFUL) -> tuple[Malts, list[Problem]]:
    """entries/malts.yaml; no malts where there is none."""
    source, node, problems = _read_settings(root, "malts.yaml")
    if source is None or node is None:
        return Malts(), problems
    malts, more = memory.recall(digest_of("malts", source.text), lambda: _malts(source, node))
    return malts, [*problems, *more]


def _malts(source: Source, node: Mapping) -> tuple[Malts, list[Problem]]:
    context = Context(source)
    by_key: dict[str, Malt] = Named(Group(Malt), "malts").read(node, "", context)
    for key, malt in by_key.items():
        if malt.kind is not None and ingredient_named(malt.kind) is None:
            near = in_words(nearest_names(malt.kind), "or")
            hint = f"Did you mean {near}?" if near else "`wortbook fields kind` lists the kinds."
            context.report(
                "kind-unknown", f"no kind is called “{malt.kind}”", hint, context.places[f"{key}.kind"], f"{key}.kind"
            )
        if malt.extract is not None and malt.extract_as_is is not None:
            both = (Place(source, context.places[f"{key}.{name}"]) for name in ("extract_as_is", "extract"))
            context.problems.extend(contradiction(malt, *both))
    return Malts(by_key, source, context.places), context.problems


@dataclass(frozen=True)
class _Reader:
    """Reads the entries of one journal; what hangs on their text and the settings alone is remembered."""

    root: Path
    brewery: Brewery
    malts: Malts
    memory: Memory

    @cached_property
    def settings(self) -> str:
        """A digest of brewery.yaml and malts.yaml."""
        sources = (self.brewery.source, self.malts.source)
        return digest_of(*(source.text if source else "" for source in sources))

    def read(self, paths: Iterable[Path]) -> list[Entry]:
        """The entries at these paths."""
        texts = [(path, *read_source(self.root, path)) for path in paths]
        sources = {path: source for path, source, _ in texts if source is not None}
        digests = {
            path: digest_of("entry", self.settings, source.name, source.text) for path, source in sources.items()
        }
        self.memory.make_ahead(
            (digests[path], partial(self._understood, source, digests[path])) for path, source in sources.items()
        )
        return [
            Entry(name_of_file(self.root, path), None, (), tuple(problems))
            if source is None
            else self._entry(source, digests[path])
            for path, source, problems in texts
        ]

    def _entry(self, source: Source, digest: str) -> Entry:
        try:
            return self._read(source, digest)
        except Exception as error:  # noqa: BLE001  # a fault of ours costs one entry, not the journal
            fault = internal_fault("this entry", fault_in_words(error), place=Place(source, Span(0, 0)))
            return Entry(source.name, None, (), (fault,))

    def _read(self, source: Source, digest: str) -> Entry:
        batch, found, problems = self.memory.recall(digest, lambda: self._understood(source, digest))
        if batch is None:
            return Entry(source.name, None, (), tuple(problems))
        problems = [*problems, *check_references(self.root, found)]
        batch, log_problems = with_logs(self.root, batch, self.memory)
        logs = [log.source.text if log else "" for log in (batch.mash_log, batch.fermentation_log)]
        if any(logs):
            digests = (digest_of(own, *logs) for own in (batch.digest, batch.facts_digest))
            batch = replace(batch, digest=next(digests), facts_digest=next(digests))
        return Entry(source.name, batch, tuple(found), tuple(problems), tuple(log_problems))

    def _understood(self, source: Source, digest: str) -> tuple[Batch | None, list[Reference], list[Problem]]:
        batch, problems = read_entry(source, self.brewery.own_gallon)
        if batch is None:
            return None, [], problems
        facts = digest_of("facts", self.settings, source.name, source.text[: batch.prose_start])
        batch = replace(batch, digest=digest, facts_digest=facts)
        unreadable = too_many_brackets(batch)
        if unreadable is not None:
            return batch, [], [*problems, unreadable]
        problems = [*problems, *check_entry(batch, self.brewery, self.malts)]
        batch = with_litres(batch, self.brewery)
        if not any(problem.severity is Severity.ERROR for problem in problems):
            problems += nothing_recorded(batch)
        return batch, [*leading_picture(batch), *references(batch)], problems


def _repeated(entries: list[Entry]) -> list[Entry]:
    """The entries again, each later one of a repeated id, or of one that differs in capitals alone, with a problem."""
    first: dict[str, Batch] = {}
    alike: dict[str, Batch] = {}
    marked = []
    for entry in entries:
        batch = entry.batch
        if batch is None or not batch.batch:
            marked.append(entry)
            continue
        problem = _like(batch, first.get(batch.id), alike.get(batch.id.casefold()))
        marked.append(replace(entry, problems=(*entry.problems, problem)) if problem else entry)
        first.setdefault(batch.id, batch)
        alike.setdefault(batch.id.casefold(), batch)
    return marked


def _like(batch: Batch, same: Batch | None, alike: Batch | None) -> Problem | None:
    """What is wrong with an id that another batch has, or has but for its capitals."""
    if same is not None:
        message, hint = (
            f"batch {batch.id} is also in {same.file}",
            "Give one of them another id, such as the next number.",
        )
        return Problem("batch-repeated", message, hint, batch.place("batch"), expected_by=same.place("batch"))
    if alike is not None:
        message = f"batch {batch.id} differs from {alike.id} in {alike.file} in capitals alone"
        hint = "Give one of them another id: their pages would lie in one file where capitals don't count."
        return Problem("batch-like-another", message, hint, batch.place("batch"), expected_by=alike.place("batch"))
    return None


def _linked(entries: list[Entry]) -> list[Entry]:
    """The entries again, each batch with those it names and those that name it."""
    broken = {entry.file: _first_error(entry) for entry in entries if entry.broken}
    found = link([entry.batch for entry in entries if entry.batch and entry.batch.batch], broken)
    return [_as_linked(entry, found) for entry in entries]


def _as_linked(entry: Entry, found: LinkedBatches) -> Entry:
    batch, more = found.batches.get(entry.file, entry.batch), found.problems.get(entry.file, ())
    if batch is entry.batch and not more:
        return entry
    return replace(entry, batch=batch, problems=(*entry.problems, *more))


def _first_error(entry: Entry) -> Problem | None:
    return next((problem for problem in entry.problems if problem.severity is Severity.ERROR), None)


def read_journal(root: Path, memory: Memory = FORGETFUL) -> tuple[Journal, list[Problem]]:
    """Everything under `root`/entries, and every problem of settings and entries.

    Never raises for what a brewer wrote.
    """
    if not (root / ENTRIES).is_dir():
        message = f"there is no folder {ENTRIES}/ in {root}"
        hint = (
            "Go to the folder that holds entries/, or let `wortbook begin --start` write a journal to start from here."
        )
        return Journal(root, Brewery(), Malts(), ()), [Problem("journal-missing", message, hint, file=ENTRIES)]
    brewery, brewery_problems = read_brewery(root, memory)
    malts, malt_problems = read_malts(root, memory)
    reader = _Reader(root, brewery, malts, memory)
    entries = _linked(_repeated(reader.read(entry_files(root))))
    problems = [*brewery_problems, *malt_problems]
    for entry in entries:
        problems += [*entry.problems, *entry.log_problems]
    return Journal(root, brewery, malts, tuple(entries)), problems
