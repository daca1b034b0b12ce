"""How much of a page there is: a diary is read on a phone, and nobody reads what nobody can find."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from pages.seen import see
from spelling import faults, text_of_page

from journal.pages import Record, Renderer, pages_of
from journal.pages.page import Page
from journal.publishing import understand

pytestmark = pytest.mark.long

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def demo() -> Record:
    return understand(ROOT)


def test_a_batchs_page_is_light(demo: Record) -> None:
    renderer = Renderer()
    planned = {f"batches/{batch.id}.html" for batch in demo.batches if batch.planned}
    for page in pages_of(demo):
        if page.template in {"batch.html.j2", "recipe.html.j2"} and page.path not in planned:
            html = renderer.render(page)
            assert len(html.encode()) <= 60_000, page.path
            assert len(see(html).elements) <= 1_200, page.path


def test_every_number_of_a_batchs_page_leads_to_a_row_of_its_accounts(demo: Record) -> None:
    renderer = Renderer()
    pages = {page.path: page for page in pages_of(demo)}
    seen = {path: see(renderer.render(pages[path])) for path in ("batches/29.html", "accounts/29.html")}
    led = [href.partition("#") for href in seen["batches/29.html"].hrefs if href.startswith("../accounts/29.html#")]
    assert len(led) > 30
    assert {anchor for _, _, anchor in led} <= set(seen["accounts/29.html"].ids)


def test_no_heading_of_a_page_is_there_twice(demo: Record) -> None:
    """But those that the brewer wrote."""
    renderer = Renderer()
    for page in pages_of(demo):
        if page.template in {"batch.html.j2", "accounts.html.j2", "recipe.html.j2"}:
            headings = re.findall(r"<h[1-6][^>]*>(.*?)</h[1-6]>", renderer.render(page), re.DOTALL)
            assert len(set(headings)) == len(headings), page.path


def _a_few_of_each_kind(demo: Record) -> list[Page]:
    """Of each template the first page, the last and one between: every page says what its kind says."""
    kinds: dict[str, list[Page]] = {}
    for page in pages_of(demo):
        kinds.setdefault(page.template, []).append(page)
    return [pages[place] for pages in kinds.values() for place in {0, len(pages) // 2, len(pages) - 1}]


def test_no_page_has_a_word_that_was_replaced(demo: Record) -> None:
    """Both looks have the same templates; what their style sheets say, the house test reads."""
    renderer = Renderer()
    pages = _a_few_of_each_kind(demo)
    assert len({page.template for page in pages}) > 15
    wrong = [f"{page.path}: {at}" for page in pages for at in faults(text_of_page(renderer.render(page)))]
    assert wrong == []


def test_what_a_plus_minus_means_stands_beside_the_first_of_a_page(demo: Record) -> None:
    renderer = Renderer()
    for page in _a_few_of_each_kind(demo):
        text = text_of_page(renderer.render(page).partition("<main")[2].partition("<footer")[0])
        first, said = text.find("±"), text.find("two times in three")
        if first >= 0:
            assert said >= 0, page.path
            assert abs(first - said) < 600, page.path


def test_each_year_has_its_own_values(demo: Record) -> None:
    years = {batch.day.year for batch in demo.batches}
    paths = {page.path for page in pages_of(demo)}
    assert len(years) > 1
    assert {f"years/{year}.html" for year in years} <= paths
