"""The numbers behind the trends: every figure as measured, how right expectations were, and where each year's values stand."""

from __future__ import annotations


from journal.frozen import dataclass
from journal.history.story import VERDICT_FROM, HitRate
from journal.measures.wording import plain
from journal.pages.brewhouses import BrewhouseView, brewhouse_views
from journal.pages.charts.over_time import TimePicture
from journal.pages.index import Index
from journal.pages.model import UNBROKEN, Link, Model
from journal.pages.parts.courses import FIGURES, figures_as_got, courses_of
from journal.pages.parts.year_strip import years_of
from journal.pages.paths import year_path
from journal.pages.site.trends import SignalWords, batches_left_out, hits_sentence, signals_of
from journal.pages.counted import count_batches
from journal.pages.words import figure_words


@dataclass(frozen=True)
class HitRow:
    """How often what was foreseen of one figure came about; `share` is empty while there are few."""

    figure: Link
    right: int
    of: int
    share: str


@dataclass(frozen=True)
class NumbersSection:
    """One brewhouse; `name` is empty where there is only one."""

    name: str
    anchor: str
    picture: TimePicture | None
    foreseen: str
    hits: tuple[HitRow, ...]
    signals: tuple[SignalWords, ...]
    left_out: tuple[Link, ...]


@dataclass(frozen=True)
class YearLink:
    """A year's page, and how many batches stand on it."""

    year: Link
    batches: str


@dataclass(frozen=True, kw_only=True)
class NumbersModel(Model):
    """All values over time, a section a brewhouse, and the years whose pages have them one by one, the latest first."""

    sections: tuple[NumbersSection, ...]
    years: tuple[YearLink, ...]


def _hit_row(hit: HitRate) -> HitRow:
    share = f"{plain(100 * hit.right / hit.of, 0)}{UNBROKEN}%" if hit.of >= VERDICT_FROM else ""
    return HitRow(Link(figure_words(hit.figure), f"figures.html#{hit.figure}"), hit.right, hit.of, share)


def _section(index: Index, house: BrewhouseView) -> NumbersSection:
    hits = house.story.hits if house.story else ()
    signals = [signal for view in courses_of(index, house) for signal in signals_of(view)]
    return NumbersSection(
        name=house.name,
        anchor=house.anchor,
        picture=figures_as_got(index, house, FIGURES, "Each figure over time, as measured"),
        foreseen=hits_sentence(hits),
        hits=tuple(_hit_row(hit) for hit in hits) if any(hit.of >= VERDICT_FROM for hit in hits) else (),
        signals=tuple(signals),
        left_out=tuple(index.link(batch) for batch in batches_left_out(index, house)),
    )


def _year(index: Index, year: int) -> YearLink:
    brewed = sum(batch.day.year == year for batch in index.brewed)
    return YearLink(Link(str(year), year_path(year)), count_batches(brewed) if brewed else "planned")


def numbers_model(index: Index) -> NumbersModel:
    """Everything on the page of numbers."""
    return NumbersModel(
        frame=index.frame("All values", "trends", "Every figure as measured, and how right expectations were."),
        sections=tuple(_section(index, house) for house in brewhouse_views(index)),
        years=tuple(_year(index, year) for year in years_of(index)),
    )
