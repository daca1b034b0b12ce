"""The malts of a journal: lots with a sheet, kinds without one, and what entries describe; each with its uses and what it gave."""

from __future__ import annotations

from collections.abc import Sequence

from journal.figures.instruments import EXTRACT_BY_SOURCE, malt_deviation
from journal.frozen import dataclass
from journal.history.moved.lots import LotEffect
from journal.measures import Measure
from journal.measures.wording import plain
from journal.pages.brewhouses import brewhouse_views
from journal.pages.grist import lot_name
from journal.pages.index import Index
from journal.pages.numbers import quantity
from journal.problems import in_words
from journal.reading import Batch, MaltValues, resolve
from journal.reading.entry import Addition, Grain, name_of_line
from journal.reading.kinds import ingredient_named
from journal.reading.malts import Malt, may_bring_extract, sheet_name
from journal.reading.table import lines_of

#: A malt that makes up more of the grist than this is what the batch was made of.
_MOST = 0.5
#: A lot in fewer batches than this is not held against its sheet.
_FEWEST = 3


@dataclass(frozen=True)
class MaltUse:
    """One line of a grist or a sugar: in which batch, kg (None where not weighed), and its share of the grist."""

    batch: Batch
    line: Grain | Addition
    path: str
    weight: float | None
    share: float


@dataclass(frozen=True)
class KnownMalt:
    """What is known of a malt before it is drawn: its values, its uses, what it gave against its sheet by brewhouse.

    `facts` are of its sheet; `counts_as` says what its name is taken for.
    """

    named: str
    name: str
    facts: tuple[str, ...]
    values: MaltValues
    uses: Sequence[MaltUse]
    effects: Sequence[tuple[str, LotEffect]]
    counts_as: tuple[str, ...] = ()

    @property
    def mostly(self) -> list[Batch]:
        """The batches that are made mostly of it, in order of brewing."""
        shares: dict[str, float] = {}
        for use in self.uses:
            shares[use.batch.id] = shares.get(use.batch.id, 0.0) + use.share
        return [use.batch for use in self.uses if shares.pop(use.batch.id, 0.0) > _MOST]

    @property
    def extract(self) -> tuple[float, float] | None:
        """Extract of its dry matter by its sheet with the standard uncertainty, per cent; None where it isn't known."""
        stated, moisture = self.values.extract, self.values.moisture
        if stated is not None:
            return 100 * stated.value, 100 * malt_deviation(stated, EXTRACT_BY_SOURCE, share=False)
        as_is = self.values.extract_as_is
        if as_is is None or moisture is None:
            return None
        dry = 1.0 - moisture.value
        return 100 * as_is.value / dry, 100 * malt_deviation(as_is, EXTRACT_BY_SOURCE, share=False) / dry


def _kg(measure: Measure | None) -> float | None:
    return None if measure is None else measure.value


def _uses(index: Index) -> dict[str, list[MaltUse]]:
    """Every use of every malt by its name in the entries, in order of brewing, planned brews included."""
    found: dict[str, list[MaltUse]] = {}
    for batch in index.batches:
        whole = sum(_kg(grain.weight) or 0.0 for grain in batch.grains)
        for path, line in lines_of(batch, (Grain, Addition)):
            if not may_bring_extract(line, index.record.journal.malts):
                continue
            weight = _kg(line.weighed if isinstance(line, Addition) else line.weight)
            share = weight / whole if weight and whole and isinstance(line, Grain) else 0.0
            found.setdefault(sheet_name(line, index.record.journal.malts), []).append(
                MaltUse(batch, line, path, weight, share)
            )
    return found


def _is_kind(named: str, uses: Sequence[MaltUse]) -> bool:
    """Whether the name alone says what the malt gives, as it does where the latest line that has it states no extract."""
    line = uses[-1].line
    return ingredient_named(named) is not None and line.extract is None and line.extract_as_is is None


def _effects(index: Index) -> dict[str, list[tuple[str, LotEffect]]]:
    """By lot, what it gave against its sheet on each brewhouse, the one with most batches first."""
    found: dict[str, list[tuple[str, LotEffect]]] = {}
    for house in brewhouse_views(index):
        for effect in house.story.lots if house.story else ():
            if effect.batches >= _FEWEST:
                found.setdefault(effect.lot, []).append((house.name, effect))
    return found


def _facts(index: Index, malt: Malt) -> tuple[str, ...]:
    facts = [fact for fact in (malt.maltster, malt.kind) if fact]
    if malt.fine_coarse_difference is not None:
        shown = quantity(malt.fine_coarse_difference.value, malt.fine_coarse_difference.sd or 0.0, "1", index.system)
        facts.append(f"fine-coarse difference {shown.text}")
    if malt.price is not None:
        facts.append(f"{plain(malt.price.value, 2)} a kilogram")
    return tuple(facts)


def _as_written(named: str, written: Sequence[str]) -> tuple[str, tuple[str, ...]]:
    """A kind by the name that the brewer has for it, and what it counts as; by its own where the brewer has several."""
    names = list(dict.fromkeys(written))
    if names == [named]:
        return named, ()
    return (names[0], (f"counts as {named}",)) if len(names) == 1 else (named, (f"written as {in_words(names)}",))


def known_malts(index: Index) -> list[tuple[str, str, list[KnownMalt]]]:
    """Every malt, by how it is described."""
    malts, effects = index.record.journal.malts, _effects(index)
    uses = {named: [use for use in found if not use.batch.planned] for named, found in _uses(index).items()}
    everywhere = _uses(index)
    lots = [
        # the lot by itself: what an entry states of it for one batch stands on that batch's page
        KnownMalt(
            key,
            lot_name(index, key),
            _facts(index, malt),
            resolve(Grain(malt=key), "", malts),
            uses.get(key, []),
            effects.get(key, []),
        )
        for key, malt in malts.by_key.items()
    ]
    others = {named: found for named, found in everywhere.items() if named not in malts.by_key}

    def alone(named: str) -> KnownMalt:
        latest = others[named][-1]
        line = Grain(malt=named) if _is_kind(named, others[named]) else latest.line
        name, counts_as = _as_written(named, [name_of_line(use.line) for use in others[named]])
        values = resolve(line, latest.path, malts)
        return KnownMalt(named, name, (), values, uses[named], effects.get(named, []), counts_as)

    kinds = [alone(named) for named in others if _is_kind(named, others[named])]
    described = [alone(named) for named in others if not _is_kind(named, others[named])]
    return [
        ("Lots", "Each as its sheet in malts.yaml has it; what the sheet leaves open is typical of the kind.", lots),
        ("Kinds without a sheet", "Named in entries by kind alone: typical values, common practice.", kinds),
        ("Described in the entries", "The values of the latest batch that used it.", described),
    ]
