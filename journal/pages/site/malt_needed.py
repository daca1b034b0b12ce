"""What all planned brews need, for the one who goes to fetch it: malt and sugar here, the rest by `besides_needed`."""

from __future__ import annotations


from journal.frozen import dataclass
from journal.measures import Measure
from journal.measures.wording import plain
from journal.pages.grist import lot_name, malt_link
from journal.pages.index import Index
from journal.pages.model import Link, Model, When
from journal.pages.parts.sheet.words import weight
from journal.pages.site.besides_needed import ToFetchGroup, besides_needed
from journal.pages.words import day
from journal.reading import Batch
from journal.reading.entry import Addition, Grain, name_of_line
from journal.reading.kinds import ingredient_named
from journal.reading.malts import may_bring_extract, sheet_name
from journal.reading.table import lines_of


@dataclass(frozen=True)
class Brew:
    """A planned brew in the head of the list."""

    batch: Link
    brewed: When


@dataclass(frozen=True)
class Needed:
    """One malt: what each brew needs of it, empty where none, in all, and what that costs where its price is known."""

    malt: Link
    amounts: tuple[str, ...]
    total: str
    cost: str


@dataclass(frozen=True, kw_only=True)
class MaltNeededModel(Model):
    """The malt and sugar that all planned brews need; `cost` of all whose price is known, `remark` on what is not counted.

    `others` are hops, yeast and what else goes in.
    """

    brews: tuple[Brew, ...]
    rows: tuple[Needed, ...]
    total: tuple[str, ...]
    cost: str
    remark: str
    others: tuple[ToFetchGroup, ...]


def _weight(line: Grain | Addition) -> Measure | None:
    return line.weighed if isinstance(line, Addition) else line.weight


def _needs(index: Index, batch: Batch) -> dict[str, float]:
    """kg by malt or sugar, of those that are weighed; priming sugar with it."""
    found: dict[str, float] = {}
    priming = batch.package.priming
    if priming.addition and priming.weight:
        found[_sugar(priming.addition)] = priming.weight.value
    for _, line in lines_of(batch, (Grain, Addition)):
        weight = _weight(line)
        if weight is not None and may_bring_extract(line, index.record.journal.malts):
            named = sheet_name(line, index.record.journal.malts)
            found[named] = found.get(named, 0.0) + weight.value
    return found


def _sugar(named: str) -> str:
    """The name of the kind that a sugar is, whatever the line calls it; its own where it is none."""
    kind = ingredient_named(named)
    return kind.name if kind else named


def _called(index: Index, planned: list[Batch]) -> dict[str, str]:
    """What the brewer calls each malt or sugar that has no sheet, by the name of its kind: all names that the entries have."""
    malts, names = index.record.journal.malts, dict[str, dict[str, None]]()
    for batch in planned:
        for _, line in lines_of(batch, (Grain, Addition)):
            if name_of_line(line):
                names.setdefault(sheet_name(line, malts), {})[name_of_line(line)] = None
        if priming := batch.package.priming.addition:
            names.setdefault(_sugar(priming), {})[priming] = None
    return {named: " or ".join(written) for named, written in names.items() if named not in malts.by_key}


def _price(index: Index, named: str) -> float | None:
    malt = index.record.journal.malts.by_key.get(named)
    return malt.price.value if malt and malt.price else None


def _row(index: Index, named: str, called: str, needs: list[dict[str, float]]) -> Needed:
    whole, price = sum(need.get(named, 0.0) for need in needs), _price(index, named)
    return Needed(
        malt=malt_link(named, called or lot_name(index, named)),
        amounts=tuple(weight(need[named], index.system) if named in need else "" for need in needs),
        total=weight(whole, index.system),
        cost=plain(whole * price, 2) if price is not None else "",
    )


def _remark(index: Index, planned: list[Batch], names: list[str], priced: list[str]) -> str:
    """What the list leaves out."""
    said = []
    unweighed = {
        name_of_line(line)
        for batch in planned
        for _, line in lines_of(batch, (Grain, Addition))
        if may_bring_extract(line, index.record.journal.malts) and _weight(line) is None
    }
    if unweighed:
        said.append(f"Not weighed in its entry, and so not counted: {', '.join(sorted(unweighed))}.")
    if priced and len(priced) < len(names):
        said.append("The cost is of what has a price in malts.yaml.")
    return " ".join(said)


def malt_needed_model(index: Index) -> MaltNeededModel:
    """Malt by malt, the most first: what each planned brew needs, and all of them."""
    planned = [batch for batch in index.batches if batch.planned]
    needs = [_needs(index, batch) for batch in planned]
    names = sorted(
        {named for need in needs for named in need}, key=lambda named: (-sum(n.get(named, 0.0) for n in needs), named)
    )
    called = _called(index, planned)
    priced = [named for named in names if _price(index, named) is not None]
    cost = sum(need.get(named, 0.0) * (_price(index, named) or 0.0) for named in priced for need in needs)
    totals = [sum(need.values()) for need in needs]
    return MaltNeededModel(
        frame=index.frame(
            "What the planned brews need",
            "malts",
            "What to have in the house before the next brews: malt, sugar, hops, yeast and the rest.",
        ),
        brews=tuple(Brew(index.link(batch), day(batch.day)) for batch in planned),
        rows=tuple(_row(index, named, called.get(named, ""), needs) for named in names),
        total=tuple(weight(value, index.system) if value else "" for value in (*totals, sum(totals))) if names else (),
        cost=plain(cost, 2) if priced else "",
        remark=_remark(index, planned, names, priced),
        others=besides_needed(index, planned),
    )
