"""What a brewer typed, understood; the entry it asks for, written where nothing stands yet."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from functools import partial
from pathlib import Path

from journal.figures.mash_shared import worts_of
from journal.frozen import dataclass
from journal.history.plan import STRONGEST, WEAKEST, Refusal, gravity_wanted
from journal.history.plan.draft import NextBrew, RecordSoFar, draft
from journal.history.plan.from_batch import Unusable
from journal.measures import Fault, Measure, read_gravity, read_measure
from journal.measures.units import TEMPERATURE, VOLUME, MeasureKind
from journal.measures.wording import METRIC, plain
from journal.pages.record import Record
from journal.problems import did_you_mean, in_words
from journal.publishing.begin.bare import bare_entry
from journal.publishing.begin.carried import CarriedOver
from journal.publishing.begin.drafted import DraftHead, entry_of
from journal.publishing.begin.foreseen import foreseen_of
from journal.publishing.begin.grist import read_grist
from journal.publishing.begin.new_file import entry_path, write_new
from journal.publishing.begin.request import Request
from journal.publishing.begin.yaml_lines import YamlLine, align_comments
from journal.publishing.named import batch_named
from journal.publishing.refused import RefusalError, Refused
from journal.reading import Batch, Journal
from journal.reading.kinds import KINDS, ingredient_named

_UNTITLED = "Not named yet"


@dataclass(frozen=True)
class WrittenEntry:
    """The entry that was written."""

    path: Path
    number: str
    planned: bool


def begin(record: Record, request: Request) -> WrittenEntry | Refused:
    """Write the entry that is asked for: like an earlier batch, for a target, or bare.

    The file is new: whatever stands in its way is left as it is, and that is said.
    """
    try:
        return _begin(record, request)
    except RefusalError as refusal:
        return refusal.refused


def _begin(record: Record, request: Request) -> WrittenEntry:
    journal = record.journal
    day = _day(request.on, request.today)
    like = _like(record, request.like)
    brewhouse = _brewhouse(journal, request.brewhouse or (like.brewhouse if like else None) or _latest(journal))
    number = _next_number(entry.batch.batch for entry in journal.entries if entry.batch and entry.batch.batch)
    title = request.title or (like.title if like else None) or _UNTITLED
    stated = brewhouse if len(journal.brewery.brewhouses) > 1 else ""
    if request.grist and like is None and not (request.gravity and request.volume):
        raise RefusalError("--grist needs a target: give --gravity and --volume.")
    if like is None and not (request.gravity or request.volume):
        if request.swaps:
            raise RefusalError("--replace needs a batch to take the grist from: give --like.")
        malt = next(iter(journal.malts.by_key), "pale malt")
        lines = bare_entry(number, title, day.isoformat(), stated, malt)
        return _write(record, number, title, day, lines, planned=False)
    drafted = draft(like, _wish(record, request, day, brewhouse), _past(record, brewhouse))
    if isinstance(drafted, Unusable):
        raise RefusalError(f"{drafted.why}. {drafted.hint}")
    system = journal.brewery.units or METRIC
    if isinstance(drafted, Refusal):
        works = drafted.nearest(system)
        raise RefusalError(f"{drafted.why(system)}." + (f" The nearest that works: {works}." if works else ""))
    head = DraftHead(number, title, day.isoformat(), stated, request.gravity.strip(), request.volume.strip())
    carried = None
    if like is not None:
        figures, malts = record.figures[like.id], journal.malts
        carried = CarriedOver(like, figures, malts, drafted.times, drafted.later.days, system)
    foresee = partial(foreseen_of, record=record, day=day, brewhouse=brewhouse, method=drafted.aim.method)
    return _write(record, number, title, day, entry_of(head, drafted, carried, system, foresee), planned=True)


def _past(record: Record, brewhouse: str) -> RecordSoFar:
    stories = record.history.brewhouses
    gave = {lot.lot: lot.effect for story in stories if story.record.key == brewhouse for lot in story.lots}
    return RecordSoFar(record.journal, record.figures, record.balances, gave)


def _day(text: str, today: date) -> date:
    if not text:
        return today
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise RefusalError(f"“{text}” is no date. Write year-month-day, such as {today.isoformat()}.") from None


def _like(record: Record, batch: str) -> Batch | None:
    if not batch:
        return None
    found = batch_named(batch, record)
    if isinstance(found, Refused):
        raise RefusalError(found.why, misused=found.misused)
    return _whole_brew(found)


def _whole_brew(batch: Batch) -> Batch:
    """The brew that a plan can be made like: of a part that of its batch; refused where there is none of its own."""
    while batch.relatives.whole is not None:
        batch = batch.relatives.whole
    if batch.shares_mash:
        others = in_words([each.id for each in worts_of(batch) if each.id != batch.id])
        raise RefusalError(
            f"batch {batch.id} shares its mash with {others}, and what one wort leaves to the other can't be planned."
            " Take a batch whose mash gave one wort."
        )
    if batch.relatives.blended:
        parts = in_words([each.id for each in batch.relatives.blended], "or")
        raise RefusalError(f"batch {batch.id} is a blend and was never brewed: name {parts} instead.")
    return batch


def _brewhouse(journal: Journal, named: str) -> str:
    houses = journal.brewery.brewhouses
    if not named:
        if len(houses) > 1:
            raise RefusalError(f"brewery.yaml has several brewhouses: say --brewhouse {in_words(list(houses), 'or')}.")
        return next(iter(houses), "")
    if houses and named not in houses:
        message = f"brewery.yaml has no brewhouse {named}; it has {', '.join(houses)}."
        raise RefusalError(f"{message} {did_you_mean(named, houses)}".rstrip())
    return journal.brewery.brewhouse_of(named)[0]


def _latest(journal: Journal) -> str:
    """The brewhouse of the latest batch that names one."""
    return next((batch.brewhouse for batch in reversed(journal.batches) if batch.brewhouse), "")


def _next_number(ids: Iterable[str]) -> str:
    # of 2026-11-porter the year is no number of a batch
    numbers = [int(batch) for batch in ids if batch.isdigit()]
    return str(max(numbers, default=0) + 1)


def _wish(record: Record, request: Request, day: date, brewhouse: str) -> NextBrew:
    volume = _measure(request.volume, VOLUME, "--volume", record.journal.brewery.own_gallon)
    grain = _measure(request.grain_temperature, TEMPERATURE, "--grain-temperature")
    return NextBrew(
        day=day,
        brewhouse=brewhouse,
        gravity=_gravity(request.gravity),
        volume=volume.value if volume else None,
        swaps=tuple(_swap(record.journal, swap) for swap in request.swaps),
        grain_temperature=grain.value if grain else None,
        grist=read_grist(request.grist, record.journal.malts) if request.grist else (),
    )


def _measure(text: str, kind: MeasureKind, option: str, gallon: str = "") -> Measure | None:
    if not text:
        return None
    found = read_measure(text, kind, gallon=gallon)
    if isinstance(found, Fault):
        raise RefusalError(f"{option}: {found.message}. {found.hint}")
    if found.at is not None:
        raise RefusalError(f"{option}: a target is stated at 20 °C. Leave out the temperature.")
    return found


def _gravity(text: str) -> float | None:
    if not text:
        return None
    found = read_gravity(text)
    if isinstance(found, Fault):
        raise RefusalError(f"--gravity: {found.message}. {found.hint}")
    value = gravity_wanted(found)
    if not WEAKEST <= value <= STRONGEST:
        raise RefusalError(
            f"--gravity: {plain(value, 3)} can't be planned. A target lies between {WEAKEST:.3f} and {STRONGEST:.3f}."
        )
    return value


def _swap(journal: Journal, text: str) -> tuple[str, str]:
    old, equals, new = (part.strip() for part in text.partition("="))
    if not (old and equals and new):
        raise RefusalError(f"--replace: “{text}” is no replacement. Write OLD=NEW, such as pale-2511=pale-2604.")
    known = {*journal.malts.by_key, *KINDS}
    if new not in known and ingredient_named(new) is None:
        hint = did_you_mean(new, known, "Put it into malts.yaml, or name a kind; `wortbook fields malt` lists those.")
        raise RefusalError(f"--replace: nothing is known of {new}. {hint}")
    return old, new


def _write(
    record: Record, number: str, title: str, day: date, lines: Iterable[YamlLine], *, planned: bool
) -> WrittenEntry:
    path = entry_path(record.journal, number, title, day)
    refused = write_new(record.journal, path, align_comments(lines))
    if refused:
        raise RefusalError(refused.why, misused=refused.misused)
    return WrittenEntry(path, number, planned)
