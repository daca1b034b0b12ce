"""The first page: the last beer, the next brew, what needs attention, the years, and how the efficiency stands."""

from __future__ import annotations


from journal.frozen import dataclass
from journal.pages.beer import beer_of
from journal.pages.brewhouses import brewhouse_views
from journal.pages.charts.over_time import TimePicture
from journal.pages.charts.strip import StripAxis
from journal.pages.grist import line_names
from journal.pages.index import Index
from journal.pages.lead import aim
from journal.pages.model import UNBROKEN, Link, Model, When
from journal.pages.numbers import quantity
from journal.pages.parts.attention import Attention, attention
from journal.pages.parts.courses import figures_as_got
from journal.pages.parts.moved import unsettled_moves
from journal.pages.parts.year_strip import YEAR_AXIS, YearStrip, year_strips, years_of
from journal.pages.search.prose import plain_text
from journal.pages.site.what_pays import pays_sentence
from journal.pages.verdict import JUDGED, verdict
from journal.pages.view import BatchView
from journal.pages.words import day
from journal.reading import Batch

#: Letters of the diary that stand here, at most: two lines.
_SAID = 180
#: Years that stand here, the latest ones.
_YEARS = 3
#: What needs attention, the latest; all of it stands on the batches' own pages.
_ATTENTION = 6
#: What moved, the latest.
_MOVED = 2
#: What is said of the last beer after its gravities, and in what words.
_BESIDE_GRAVITY = (("alcohol_by_volume", "alcohol by volume"), ("bitterness", "bitterness"), ("colour", "colour"))


@dataclass(frozen=True)
class BeerNumber:
    """A number of the last beer in its unit, and what it is: seen, the unit alone tells it; heard, it does not."""

    words: str
    text: str


@dataclass(frozen=True)
class LastBatch:
    """The batch brewed last: its beer in a few numbers, its score, and how its diary begins; each empty where not known."""

    batch: Link
    style: str
    brewed: When
    beer: tuple[BeerNumber, ...]
    score: str
    tasted: str
    diary: str


@dataclass(frozen=True)
class ComingBrew:
    """A brew that is planned: its page, its day, and what it is after."""

    batch: Link
    brewed: When
    target: str


@dataclass(frozen=True, kw_only=True)
class HomeModel(Model):
    """The first page. `moved` leads to what may have changed and is to be checked; `more` counts what needs attention besides what is
    listed; `pays` is where the extract goes, and what pays first; `brewhouse` is
    whose these are, where there are several."""

    batches: int
    latest: LastBatch | None
    planned: tuple[ComingBrew, ...]
    moved: tuple[Link, ...]
    attention: tuple[Attention, ...]
    more: int
    years: tuple[YearStrip, ...]
    months: StripAxis
    brewhouse: str
    trend: str
    chart: TimePicture | None
    pays: str


def beer_numbers(index: Index, batch: Batch) -> tuple[BeerNumber, ...]:
    """`1.055 → 1.013`, `5.5 %`, `38 IBU`, `61 EBC`, as far as known, each with what it is."""
    beer = beer_of(index.record, batch)

    def shown(name: str) -> str:
        result = getattr(beer, name)
        return quantity(result.value, 0.0, result.unit, index.system).text if result else ""

    first, last = shown("original_gravity"), shown("final_gravity")
    gravities = f"{first}{UNBROKEN}→ {last}" if first and last else first or (last and f"ended at {last}")
    told = [BeerNumber("gravity", gravities)]
    told += [BeerNumber(words, shown(name)) for name, words in _BESIDE_GRAVITY]
    return tuple(number for number in told if number.text)


def _beginning(prose: str) -> str:
    """The first words of a diary, ended at a sentence where one ends in time, else at a word."""
    text = plain_text(prose)
    if len(text) <= _SAID:
        return text
    cut = text[:_SAID]
    end = max(cut.rfind(mark) for mark in (". ", "? ", "! "))
    return cut[: end + 1] if end > _SAID // 2 else f"{cut[: cut.rfind(' ')]} …"


def _last(index: Index) -> LastBatch | None:
    if not index.brewed:
        return None
    batch = index.brewed[-1]
    beer = beer_of(index.record, batch)
    return LastBatch(
        index.link(batch),
        batch.style or "",
        day(batch.day),
        beer_numbers(index, batch),
        beer.score_text,
        (beer.tasting.words or "") if beer.tasting else "",
        _beginning(batch.prose),
    )


def _next(index: Index, batch: Batch) -> ComingBrew:
    return ComingBrew(index.link(batch), day(batch.day), aim(BatchView(index, batch, line_names(index, batch))))


def home_model(index: Index) -> HomeModel:
    """Everything on the first page."""
    house, odd = brewhouse_views(index)[0], attention(index)
    return HomeModel(
        frame=index.frame(
            index.brewery, "home", "A brewing journal: every batch, and how much of the malt came through."
        ),
        batches=len(index.brewed),
        latest=_last(index),
        planned=tuple(_next(index, batch) for batch in index.batches if batch.planned),
        moved=unsettled_moves(index)[:_MOVED],
        attention=odd[:_ATTENTION],
        more=max(len(odd) - _ATTENTION, 0),
        years=year_strips(index, years_of(index)[:_YEARS]),
        months=YEAR_AXIS,
        brewhouse=house.name,
        trend=verdict(index, house) if index.brewed else "",
        pays=pays_sentence(index, house),
        chart=figures_as_got(index, house, [JUDGED], "Brewhouse efficiency over time"),
    )
