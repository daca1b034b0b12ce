"""Which pages a journal has."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from functools import partial
from importlib import import_module

from journal.memory import digest_of
from journal.pages.index import Index
from journal.pages.keys import page_keys
from journal.pages.model import Model
from journal.pages.page import Page
from journal.pages.parts.year_strip import years_of
from journal.pages.paths import (
    BREWHOUSE_PAGE,
    CAUTIONS_PAGE,
    COMPARE_PAGE,
    FIELDS_PAGE,
    FIGURES_PAGE,
    GALLERY_PAGE,
    HOW_RIGHT_PAGE,
    HOW_TO_PAGE,
    HOW_TO_PAGES,
    MALT_NEEDED_PAGE,
    MALTS_PAGE,
    NUMBERS_PAGE,
    PAYS_PAGE,
    PRACTICE_PAGE,
    SEARCH_PAGE,
    TRENDS_PAGE,
    accounts_path,
    by_path,
    how_to_path,
    recipe_path,
    year_path,
)
from journal.pages.record import Record
from journal.pages.site.accounts import accounts_model
from journal.pages.site.batch import batch_model
from journal.pages.site.batches import batches_model
from journal.pages.site.brewhouse import brewhouse_model
from journal.pages.site.broken import broken_model
from journal.pages.site.by import INDEXED, by_model
from journal.pages.site.compare import compare_model, pairs_of
from journal.pages.site.compare_list import compare_list_model
from journal.pages.site.gallery import gallery_model
from journal.pages.site.home import home_model
from journal.pages.site.malt_needed import malt_needed_model
from journal.pages.site.malts import malts_model
from journal.pages.site.numbers import numbers_model
from journal.pages.site.practice import practice_model
from journal.pages.site.recipe import recipe_model
from journal.pages.site.search import search_model
from journal.pages.site.trends import trends_model
from journal.pages.site.what_pays import what_pays_model
from journal.pages.site.year import year_model


def pages_of(record: Record, today: date | None = None) -> list[Page]:
    """Every page of the site; `today` tells a planned brew from one whose day has gone by."""
    index = Index(record, today)
    return in_order(index, page_keys(index))


def in_order(index: Index, keys: Mapping[str, str]) -> list[Page]:
    """Every page; `keys` as `page_keys` has them, by batch id."""
    batches = _batches(index, keys)
    return [
        *_lists(index),
        *batches,
        *pages_of_broken(index),
        *_findings(index),
        *_comparisons(index, keys),
        *_malts(index),
        *pages_of_settings(index),
    ]


def pages_of_batches(index: Index, keys: Mapping[str, str]) -> list[Page]:
    """The pages that hang on a batch and those before it; `keys` as `page_keys` has them."""
    return [*_batches(index, keys), *_comparisons(index, keys)]


def pages_of_record(index: Index) -> list[Page]:
    """The pages that hang on the record as a whole."""
    # the charts of what the record says are being drawn meanwhile
    return [*_lists(index), *_malts(index), *_findings(index)]


def pages_of_settings(index: Index, key: str = "") -> list[Page]:
    """The pages that say the same of any record and hang on the settings alone; `key` as `settings_key` has it."""
    return [
        Page(FIGURES_PAGE, "figures.html.j2", _later("figures", "catalogue_model", index), key),
        Page(HOW_RIGHT_PAGE, "how-right.html.j2", _later("how_right", "how_right_model", index), key),
        Page(FIELDS_PAGE, "fields.html.j2", _later("fields", "fields_model", index), key),
        Page(HOW_TO_PAGE, "how-to-list.html.j2", _later("how_to", "how_to_list_model", index), key),
        *(
            Page(how_to_path(name), "how-to.html.j2", _later("how_to", "how_to_model", index, name), key)
            for name in HOW_TO_PAGES
        ),
        Page(CAUTIONS_PAGE, "cautions.html.j2", _later("cautions", "cautions_model", index), key),
    ]


def _later(module: str, function: str, *given: object) -> Callable[[], Model]:
    """What makes a model by a module of `site` that is loaded when the page is set: most builds keep these pages."""

    def make() -> Model:
        made = getattr(import_module(f"journal.pages.site.{module}"), function)(*given)
        if not isinstance(made, Model):
            raise TypeError(made)
        return made

    return make


def pages_of_broken(index: Index) -> list[Page]:
    """The pages of entries that can't be published."""
    return [
        Page(index.paths[entry.file], "broken.html.j2", partial(broken_model, index, entry))
        for entry in index.record.broken
    ]


def _batches(index: Index, keys: Mapping[str, str]) -> list[Page]:
    pages = []
    for batch in index.batches:
        key = keys[batch.id]
        pages += [
            Page(index.paths[batch.file], "batch.html.j2", partial(batch_model, index, batch), key),
            Page(accounts_path(batch.id), "accounts.html.j2", partial(accounts_model, index, batch), key),
            Page(recipe_path(batch.id), "recipe.html.j2", partial(recipe_model, index, batch), key),
        ]
    return pages


def _lists(index: Index) -> list[Page]:
    return [
        Page("index.html", "home.html.j2", partial(home_model, index)),
        Page("batches.html", "batches.html.j2", partial(batches_model, index)),
        *(Page(by_path(kind.name), "by.html.j2", partial(by_model, index, kind)) for kind in INDEXED),
        *(Page(year_path(year), "year.html.j2", partial(year_model, index, year)) for year in years_of(index)),
        Page(SEARCH_PAGE, "search.html.j2", partial(search_model, index)),
        Page(GALLERY_PAGE, "gallery.html.j2", partial(gallery_model, index)),
    ]


def _findings(index: Index) -> list[Page]:
    return [
        Page(PAYS_PAGE, "what-pays.html.j2", partial(what_pays_model, index)),
        Page(TRENDS_PAGE, "trends.html.j2", partial(trends_model, index)),
        Page(NUMBERS_PAGE, "numbers.html.j2", partial(numbers_model, index)),
        Page(PRACTICE_PAGE, "practice.html.j2", partial(practice_model, index)),
        Page(BREWHOUSE_PAGE, "brewhouse.html.j2", partial(brewhouse_model, index)),
        Page(COMPARE_PAGE, "compare-list.html.j2", lambda: compare_list_model(index, pairs_of(index))),
    ]


def _malts(index: Index) -> list[Page]:
    return [
        Page(MALTS_PAGE, "malts.html.j2", partial(malts_model, index)),
        Page(MALT_NEEDED_PAGE, "malt-needed.html.j2", partial(malt_needed_model, index)),
    ]


def _comparisons(index: Index, keys: Mapping[str, str]) -> list[Page]:
    """Neighbouring batches side by side, each pair leading to the ones before and after."""
    pages = []
    for house in pairs_of(index):
        around = (None, *house.pairs, None)
        for before, pair, after in zip(around, house.pairs, around[2:], strict=False):
            beside = [each.link.href if each else "" for each in (before, after)]
            key = digest_of(keys[pair.first.id], keys[pair.second.id], *beside)
            pages.append(Page(pair.path, "compare.html.j2", partial(compare_model, index, pair, before, after), key))
    return pages
